//! Drawings as lines, circles and words in millimetres of paper, x to the right and y down.

mod bars;
mod end_view;
mod labels;
mod polar;
mod side_view;

pub use bars::Bar;
pub(super) use bars::bars;
pub(super) use end_view::{Lookup, PLACE, READ_FOR, end_view};
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

impl Drawing {
    /// Whether it shows the same, whatever the last digit of a place on paper is, and whatever was drawn first.
    pub fn is_drawn_like(&self, other: &Self) -> bool {
        let is_like = |a: &Shape, b: &Shape| a.of == b.of && a.form.is_like(&b.form);
        if self.shapes.len() != other.shapes.len() {
            return false;
        }
        // Most shapes are the same in the same place; only the others are searched for.
        let (own, mut others): (Vec<&Shape>, Vec<&Shape>) =
            self.shapes.iter().zip(&other.shapes).filter(|(a, b)| !is_like(a, b)).unzip();
        own.into_iter().all(|a| {
            let at = others.iter().position(|b| is_like(a, b));
            at.map(|at| others.swap_remove(at)).is_some()
        })
    }

    /// Every shape that is something of the sheet, with its places to a hundredth of a millimetre, as a text: what is written
    /// beside them takes more or less room in other units. What was drawn first does not count.
    pub fn told_in_full(&self) -> String {
        let is_told = |shape: &&Shape| !shape.of.is_empty() && !matches!(shape.form, Form::Text { .. });
        let shape = |shape: &Shape| format!("{}: {:.2?}", shape.of, shape.form).replace("-0.00", "0.00");
        let mut told: Vec<String> = self.shapes.iter().filter(is_told).map(shape).collect();
        told.sort_unstable();
        told.join("; ")
    }
}

#[derive(Clone, PartialEq, Debug)]
pub struct Shape {
    /// What it means, where it is something of the sheet: `plane hub`.
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
        /// Whether lines after it are kept off its letters.
        halo: bool,
    },
}

impl Form {
    fn is_like(&self, other: &Self) -> bool {
        /// Finer than a printer draws, in millimetres.
        const SAME: f64 = 0.01;
        let near = |a: &f64, b: &f64| (a - b).abs() < SAME;
        let points = |a: &[[f64; 2]], b: &[[f64; 2]]| {
            a.len() == b.len() && a.as_flattened().iter().zip(b.as_flattened()).all(|(a, b)| near(a, b))
        };
        use Form as F;
        match (self, other) {
            (F::Line { from: a, to: b, pen: p }, F::Line { from: c, to: d, pen: q }) => {
                p == q && points(&[*a, *b], &[*c, *d])
            }
            (
                F::Rectangle { at: a, width: w, height: h, pen: p },
                F::Rectangle { at: b, width: v, height: i, pen: q },
            ) => p == q && points(&[*a], &[*b]) && near(w, v) && near(h, i),
            (F::Circle { at: a, radius: r, pen: p, filled: f }, F::Circle { at: b, radius: s, pen: q, filled: g }) => {
                (p, f) == (q, g) && points(&[*a], &[*b]) && near(r, s)
            }
            (F::Outline { points: a, pen: p, filled: f }, F::Outline { points: b, pen: q, filled: g }) => {
                (p, f) == (q, g) && points(a, b)
            }
            (F::Path { points: a, pen: p }, F::Path { points: b, pen: q }) => p == q && points(a, b),
            (F::Text { at: a, text: t, .. }, F::Text { at: b, text: u, .. }) => t == u && points(&[*a], &[*b]),
            _ => false,
        }
    }

    /// The same, so many times as large, and then moved.
    fn placed(self, by: f64, [x, y]: [f64; 2]) -> Self {
        let point = |[a, b]: [f64; 2]| [a * by + x, b * by + y];
        let all = |points: Vec<[f64; 2]>| points.into_iter().map(point).collect();
        match self {
            Form::Line { from, to, pen } => Form::Line { from: point(from), to: point(to), pen },
            Form::Rectangle { at, width, height, pen } => {
                Form::Rectangle { at: point(at), width: width * by, height: height * by, pen }
            }
            Form::Circle { at, radius, pen, filled } => {
                Form::Circle { at: point(at), radius: radius * by, pen, filled }
            }
            Form::Outline { points, pen, filled } => Form::Outline { points: all(points), pen, filled },
            Form::Path { points, pen } => Form::Path { points: all(points), pen },
            Form::Text { at, anchor, size, text, strong, halo } => {
                Form::Text { at: point(at), anchor, size: size * by, text, strong, halo }
            }
        }
    }
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Pen {
    Heavy,
    Normal,
    Thin,
    Dashed,
    /// Dashes and dots: an axis.
    Axis,
    /// As heavy as a frame can be, in dashes.
    Broken,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Anchor {
    Start,
    Middle,
    End,
}

/// Height of words in drawings.
pub(super) const SIZE: f64 = 3.2;

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

    pub(super) fn add(&mut self, of: impl Into<String>, form: Form) {
        self.shapes.push(Shape { of: of.into(), form });
    }

    pub(super) fn line(&mut self, of: &str, from: [f64; 2], to: [f64; 2], pen: Pen) {
        self.add(of, Form::Line { from, to, pen });
    }

    fn circle(&mut self, of: &str, at: [f64; 2], radius: f64, pen: Pen) {
        self.add(of, Form::Circle { at, radius, pen, filled: false });
    }

    fn dot(&mut self, of: &str, at: [f64; 2], radius: f64) {
        self.add(of, Form::Circle { at, radius, pen: Pen::Thin, filled: true });
    }

    fn text(&mut self, of: &str, at: [f64; 2], anchor: Anchor, text: impl Into<String>) {
        self.words(of, (at, anchor), SIZE, text.into(), false);
    }

    fn strong(&mut self, of: &str, at: [f64; 2], anchor: Anchor, text: impl Into<String>) {
        self.words(of, (at, anchor), SIZE, text.into(), true);
    }

    fn words(&mut self, of: &str, (at, anchor): ([f64; 2], Anchor), size: f64, text: String, strong: bool) {
        self.add(of, Form::Text { at, anchor, size, text, strong, halo: true });
    }

    /// An open frame.
    pub(super) fn frame(&mut self, [x, y]: [f64; 2], width: f64, height: f64, pen: Pen) {
        let points = vec![[x, y], [x + width, y], [x + width, y + height], [x, y + height], [x, y]];
        self.add("", Form::Path { points, pen });
    }

    /// Another drawing in this one, which grows with it.
    pub(super) fn put(&mut self, [x, y]: [f64; 2], drawing: Drawing) {
        self.height = self.height.max(y + drawing.height);
        let moved = drawing.shapes.into_iter().map(|shape| Shape { form: shape.form.placed(1.0, [x, y]), ..shape });
        self.shapes.extend(moved);
    }

    /// The same in another size.
    pub(super) fn scaled(&self, by: f64) -> Drawing {
        let shapes = self
            .shapes
            .iter()
            .map(|shape| Shape { form: shape.form.clone().placed(by, [0.0, 0.0]), of: shape.of.clone() });
        Drawing {
            width: self.width * by,
            height: self.height * by,
            shapes: shapes.collect(),
            told: self.told.clone(),
            scale: self.scale.map(|scale| scale * by),
        }
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
