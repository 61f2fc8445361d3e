//! Drawings as lines, circles and words in millimetres of paper, x to the right and y down.

mod end_view;
mod labels;
mod polar;
mod side_view;

pub(super) use end_view::end_view;
pub(super) use polar::{Plot, Vector as PlotVector, components, edge_above, polar};
pub(super) use side_view::side_view;

/// A drawing of `width` × `height` millimetres.
#[derive(Clone, PartialEq, Debug)]
pub struct Drawing {
    pub width: f64,
    pub height: f64,
    pub shapes: Vec<Shape>,
    /// What it shows, in words, for those who cannot see it.
    pub told: String,
    /// How many millimetres of paper one millimetre of the rotor takes; `None` where it is not drawn to scale.
    pub scale: Option<f64>,
}

#[derive(Clone, PartialEq, Debug)]
pub struct Shape {
    /// What it stands for, where it is something of the sheet: `plane hub`.
    pub of: String,
    pub form: Form,
}

#[derive(Clone, PartialEq, Debug)]
pub enum Form {
    Line {
        from: [f64; 2],
        to: [f64; 2],
        pen: Pen,
    },
    Rectangle {
        at: [f64; 2],
        width: f64,
        height: f64,
        pen: Pen,
    },
    Circle {
        at: [f64; 2],
        radius: f64,
        pen: Pen,
        filled: bool,
    },
    /// A closed outline.
    Outline {
        points: Vec<[f64; 2]>,
        pen: Pen,
        filled: bool,
    },
    /// An open line through points.
    Path {
        points: Vec<[f64; 2]>,
        pen: Pen,
    },
    Text {
        at: [f64; 2],
        anchor: Anchor,
        size: f64,
        text: String,
        strong: bool,
    },
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Pen {
    Heavy,
    Normal,
    Thin,
    Dashed,
    /// Dashes and dots: an axis.
    Axis,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Anchor {
    Start,
    Middle,
    End,
}

/// Height of words in drawings.
pub(super) const SIZE: f64 = 3.6;

/// How wide a letter is taken to be, as a share of its height; generous, because a page is set in the font that is there.
const WIDE: f64 = 0.64;
/// The same of characters beyond the Latin, Greek and Cyrillic ones.
const WIDER: f64 = 1.1;

pub(super) fn wide(text: &str) -> f64 {
    text.chars().map(|character| if u32::from(character) < 0x500 { WIDE } else { WIDER }).sum::<f64>() * SIZE
}

/// The names of a sheet may be as long as they like; a drawing has room for this many characters.
pub(super) fn short(text: &str) -> String {
    const MOST: usize = 24;
    match text.chars().count() > MOST {
        true => text.chars().take(MOST - 1).chain(['…']).collect(),
        false => text.to_owned(),
    }
}

impl Drawing {
    pub(super) fn new(width: f64, height: f64, told: impl Into<String>) -> Self {
        Self { width, height, shapes: Vec::new(), told: told.into(), scale: None }
    }

    fn add(&mut self, of: impl Into<String>, form: Form) {
        self.shapes.push(Shape { of: of.into(), form });
    }

    fn line(&mut self, of: &str, from: [f64; 2], to: [f64; 2], pen: Pen) {
        self.add(of, Form::Line { from, to, pen });
    }

    fn circle(&mut self, of: &str, at: [f64; 2], radius: f64, pen: Pen) {
        self.add(of, Form::Circle { at, radius, pen, filled: false });
    }

    fn dot(&mut self, of: &str, at: [f64; 2], radius: f64) {
        self.add(of, Form::Circle { at, radius, pen: Pen::Thin, filled: true });
    }

    fn text(&mut self, of: &str, at: [f64; 2], anchor: Anchor, text: impl Into<String>) {
        self.add(of, Form::Text { at, anchor, size: SIZE, text: text.into(), strong: false });
    }

    fn strong(&mut self, of: &str, at: [f64; 2], anchor: Anchor, text: impl Into<String>) {
        self.add(of, Form::Text { at, anchor, size: SIZE, text: text.into(), strong: true });
    }

    /// A line with a head at its end.
    fn arrow(&mut self, of: &str, from: [f64; 2], to: [f64; 2], pen: Pen) {
        self.line(of, from, to, pen);
        self.head(of, from, to);
    }

    fn head(&mut self, of: &str, from: [f64; 2], to: [f64; 2]) {
        let (x, y) = (to[0] - from[0], to[1] - from[1]);
        let length = x.hypot(y);
        if length < 1e-9 {
            return;
        }
        let (x, y) = (x / length, y / length);
        let size = 2.2_f64.min(length);
        let back = [to[0] - size * x, to[1] - size * y];
        let half = size * 0.4;
        let points = vec![to, [back[0] - half * y, back[1] + half * x], [back[0] + half * y, back[1] - half * x]];
        self.add(of, Form::Outline { points, pen: Pen::Thin, filled: true });
    }
}
