//! The rotor from the side, to scale along and across: bearings, supports, planes with their radii, mass centre.

use super::labels::{Label, Placed, lines, place, side_by_side};
use super::{Anchor, Drawing, Form, Pen, SIZE, short, wide};
use crate::book::{self, EffectiveBlock, RotorResults, SetupResults, Val};
use crate::card::words::Words;
use crate::sheet::FieldValue;
use crate::units::{self, Amount, Length, Unit};
use crate::vocabulary::{Choice, End, Fact, Pair, keyway, plane, rotor, setup};

const WIDTH: f64 = 180.0;
/// Paper left free on either side of the rotor.
const SIDE: f64 = 12.0;
/// The most paper that the rotor takes across.
const TALL: f64 = 46.0;
const LINE: f64 = SIZE * 1.35;

pub(in crate::card) fn millimetres(length: Length) -> f64 {
    Unit::MILLIMETRE.from_base(length.raw())
}

/// One thing with an axial place.
struct Mark {
    of: String,
    at: f64,
    label: String,
}

struct Found {
    bearings: Vec<Mark>,
    supports: Vec<Mark>,
    centre: Vec<Mark>,
    /// With the radius to the centre of mass of a correction, where it is known.
    planes: Vec<(Mark, Option<f64>)>,
    half_journal: Option<f64>,
    half_largest: Option<f64>,
    /// Drive end and tail end, where keyways tell them.
    drive_end: Option<f64>,
    unit: Unit,
}

/// `Err` says what is missing for a drawing.
pub(in crate::card) fn side_view(rotor: &RotorResults<'_>, setup: Option<&SetupResults<'_>>) -> Result<Drawing, Words> {
    let found = Found::of(rotor, setup);
    if found.planes.is_empty() {
        return Err("no plane of the rotor has an axial place".into());
    }
    Ok(Frame::of(&found).drawing(&found))
}

fn mark(of: String, label: String, value: &Val<Length>) -> Option<Mark> {
    let at = millimetres(value.get()?);
    let shown = book::display_value(value.get()?.raw(), value.unit, 0.0);
    Some(Mark { of, at, label: format!("{label} {shown}") })
}

/// An axial place as the sheet writes it.
fn stated(of: String, label: String, stated: &crate::sheet::Stated) -> Mark {
    let shown = units::plainly(stated.unit.from_base(stated.base));
    Mark { of, at: Unit::MILLIMETRE.from_base(stated.base), label: format!("{label} {shown} {}", stated.unit) }
}

fn half(block: &EffectiveBlock<'_>, fact: Fact<Length>) -> Option<f64> {
    match &block.field(fact)?.field.value {
        FieldValue::Quantity(stated) => Some(Unit::MILLIMETRE.from_base(stated.base) / 2.0),
        _ => None,
    }
}

fn pair<'b>(block: &'b EffectiveBlock<'_>, fact: Fact<Pair<Length>>) -> &'b [crate::sheet::Stated] {
    match block.field(fact).map(|field| &field.field.value) {
        Some(FieldValue::Quantities(places)) => places,
        _ => &[],
    }
}

impl Found {
    fn of(rotor: &RotorResults<'_>, setup: Option<&SetupResults<'_>>) -> Self {
        let block = &rotor.block;
        let bearing = |(place, name): (&crate::sheet::Stated, &str)| {
            stated(format!("bearing {name}"), format!("bearing {name}"), place)
        };
        let support = |(place, name): (&crate::sheet::Stated, &str)| stated(name.to_owned(), name.to_owned(), place);
        let planes = rotor.planes.iter().filter_map(|plane| {
            let FieldValue::Quantity(at) = &plane.block.field(plane::AT)?.field.value else { return None };
            let of = format!("plane {}", plane.name);
            Some((stated(of, short(plane.name), at), plane.radius.get().map(millimetres)))
        });
        let unit = rotor.planes.first().map_or(Unit::MILLIMETRE, |plane| plane.at.unit);
        Self {
            bearings: pair(block, rotor::BEARINGS).iter().zip(["A", "B"]).map(bearing).collect(),
            supports: setup
                .map(|setup| {
                    let places = pair(&setup.block, setup::SUPPORTS_AT).iter();
                    places.zip(["left support", "right support"]).map(support).collect()
                })
                .unwrap_or_default(),
            centre: mark(rotor::MASS_CENTRE.to_string(), rotor::MASS_CENTRE.to_string(), &rotor.mass_centre)
                .into_iter()
                .collect(),
            planes: planes.collect(),
            half_journal: half(block, rotor::JOURNAL_DIAMETER),
            half_largest: half(block, rotor::LARGEST_DIAMETER),
            drive_end: drive_end(rotor),
            unit,
        }
    }

    fn places(&self) -> impl Iterator<Item = f64> {
        let marks = self.bearings.iter().chain(&self.supports).chain(&self.centre);
        marks.chain(self.planes.iter().map(|(mark, _)| mark)).map(|mark| mark.at)
    }

    fn bounds(&self) -> (f64, f64) {
        let low = self.places().fold(f64::INFINITY, f64::min);
        let high = self.places().fold(f64::NEG_INFINITY, f64::max);
        (low, high)
    }

    fn tallest(&self) -> f64 {
        let radii =
            self.planes.iter().filter_map(|(_, radius)| *radius).chain(self.half_largest).chain(self.half_journal);
        radii.fold(0.0, f64::max)
    }

    /// Whether axial places grow to the left: the drive end is drawn left; where nothing tells it, the left support.
    fn is_turned(&self) -> bool {
        let (low, high) = self.bounds();
        match (self.drive_end, self.supports.as_slice()) {
            (Some(at), _) => at > (low + high) / 2.0,
            (None, [left, right]) => left.at > right.at,
            _ => false,
        }
    }
}

/// The axial place of a keyway that is named after an end.
fn drive_end(rotor: &RotorResults<'_>) -> Option<f64> {
    let at = |end: End| {
        let keyway = rotor.keyways.iter().find(|keyway| keyway.name == end.words())?;
        match &keyway.block.field(keyway::AT)?.field.value {
            FieldValue::Quantity(stated) => Some(Unit::MILLIMETRE.from_base(stated.base)),
            _ => None,
        }
    };
    let middle = || {
        let places: Vec<f64> = rotor.planes.iter().filter_map(|plane| plane.at.get().map(millimetres)).collect();
        places.iter().sum::<f64>() / places.len().max(1) as f64
    };
    at(End::DriveEnd).or_else(|| at(End::TailEnd).map(|tail| 2.0 * middle() - tail))
}

/// Where a millimetre of the rotor lies on the paper.
struct Frame {
    scale: f64,
    turned: bool,
    low: f64,
    high: f64,
    left: f64,
    axis: f64,
    reach: f64,
    above: Vec<Placed>,
    below: Vec<(&'static str, Vec<Placed>)>,
}

impl Frame {
    fn of(found: &Found) -> Self {
        let (low, high) = found.bounds();
        let tallest = found.tallest();
        let long = (high - low).max(tallest / 2.0).max(1.0);
        let along = (WIDTH - 2.0 * SIDE) / long;
        let scale = if tallest > 0.0 { along.min(TALL / (2.0 * tallest)) } else { along };
        let left = (WIDTH - (high - low) * scale) / 2.0;
        let reach = (tallest * scale).max(6.0);
        let mut frame = Self {
            scale,
            turned: found.is_turned(),
            low,
            high,
            left,
            axis: 0.0,
            reach,
            above: Vec::new(),
            below: Vec::new(),
        };
        let planes = found.planes.iter().map(|(mark, _)| Label { at: frame.x(mark.at), text: mark.label.clone() });
        frame.above = side_by_side(planes.collect(), 1.0, WIDTH - 1.0);
        frame.below = vec![
            (rotor::MASS_CENTRE.words(), frame.placed(found.centre.iter())),
            ("bearing", frame.placed(found.bearings.iter())),
            ("support", frame.placed(found.supports.iter())),
        ];
        frame.axis = 2.0 + lines(&frame.above) as f64 * LINE + 4.0 + reach;
        frame
    }

    fn x(&self, at: f64) -> f64 {
        let from_left = if self.turned { self.high - at } else { at - self.low };
        self.left + from_left * self.scale
    }

    fn placed<'m>(&self, marks: impl Iterator<Item = &'m Mark>) -> Vec<Placed> {
        let labels = marks.map(|mark| Label { at: self.x(mark.at), text: mark.label.clone() });
        place(labels.collect(), 1.0, WIDTH - 1.0)
    }

    fn drawing(&self, found: &Found) -> Drawing {
        let told = "The rotor from the side, to scale: bearings, supports, correction planes and mass centre";
        let mut drawing = Drawing::new(WIDTH, 0.0, told);
        drawing.scale = Some(self.scale);
        self.body(&mut drawing, found);
        self.planes(&mut drawing, found);
        let bottom = self.under(&mut drawing, found);
        self.foot(&mut drawing, found, bottom);
        drawing
    }

    fn body(&self, drawing: &mut Drawing, found: &Found) {
        let (from, to) = (self.left - 8.0, self.left + (self.high - self.low) * self.scale + 8.0);
        drawing.line("axis", [from, self.axis], [to, self.axis], Pen::Axis);
        if let (Some(half), [a, b]) = (found.half_journal, found.bearings.as_slice()) {
            let (a, b) = (self.x(a.at), self.x(b.at));
            let (left, right) = (a.min(b) - 3.0, a.max(b) + 3.0);
            let half = half * self.scale;
            let at = [left, self.axis - half];
            let form = Form::Rectangle { at, width: right - left, height: 2.0 * half, pen: Pen::Thin };
            drawing.add("journals", form);
            self.overhang(drawing, found, [left, right], half);
        }
        if let Some(half) = found.half_largest {
            let planes: Vec<f64> = found.planes.iter().map(|(mark, _)| self.x(mark.at)).collect();
            let left = planes.iter().fold(f64::INFINITY, |a, b| a.min(*b)) - 5.0;
            let right = planes.iter().fold(f64::NEG_INFINITY, |a, b| a.max(*b)) + 5.0;
            for side in [-1.0, 1.0] {
                let y = self.axis + side * half * self.scale;
                drawing.line(rotor::LARGEST_DIAMETER.words(), [left, y], [right, y], Pen::Dashed);
            }
        }
    }

    /// The shaft beyond the bearings, out to the planes that hang there.
    fn overhang(&self, drawing: &mut Drawing, found: &Found, [left, right]: [f64; 2], half: f64) {
        let planes: Vec<f64> = found.planes.iter().map(|(mark, _)| self.x(mark.at)).collect();
        let first = planes.iter().fold(left, |a, b| a.min(*b));
        let last = planes.iter().fold(right, |a, b| a.max(*b));
        for (from, to) in [(first, left), (right, last)] {
            if to > from {
                let at = [from, self.axis - half];
                let form = Form::Rectangle { at, width: to - from, height: 2.0 * half, pen: Pen::Thin };
                drawing.add("shaft", form);
            }
        }
    }

    fn planes(&self, drawing: &mut Drawing, found: &Found) {
        for label in &self.above {
            let y = self.label_above(label.line);
            let top = self.axis - self.reach;
            drawing.line("", [label.middle, y + 1.0], [label.at, top - 1.0], Pen::Thin);
            drawing.line("", [label.at, top - 1.0], [label.at, top], Pen::Thin);
        }
        for (mark, radius) in &found.planes {
            let x = self.x(mark.at);
            match radius {
                Some(radius) => {
                    let reach = radius * self.scale;
                    drawing.line(&mark.of, [x, self.axis - reach], [x, self.axis + reach], Pen::Heavy);
                    drawing.dot(&mark.of, [x, self.axis - reach], 1.1);
                    drawing.dot(&mark.of, [x, self.axis + reach], 1.1);
                }
                None => drawing.line(&mark.of, [x, self.axis - self.reach], [x, self.axis + self.reach], Pen::Dashed),
            }
        }
        for label in &self.above {
            let at = [label.middle, self.label_above(label.line)];
            drawing.strong("", at, Anchor::Middle, label.text.clone());
        }
    }

    fn label_above(&self, line: usize) -> f64 {
        2.0 + (lines(&self.above) - line) as f64 * LINE - 0.8
    }

    /// What hangs under the axis; the foot of it.
    fn under(&self, drawing: &mut Drawing, found: &Found) -> f64 {
        let mut top = self.axis + self.reach + 2.0;
        let mut words: Vec<([f64; 2], String)> = Vec::new();
        for (what, placed) in &self.below {
            let base = if *what == "support" && !placed.is_empty() { top + 3.0 } else { top };
            for label in placed {
                let y = base + (label.line + 1) as f64 * LINE - 0.8;
                leader(drawing, label.at, self.axis, y - SIZE, &words);
                words.push(([label.middle, y], label.text.clone()));
            }
            top = base + lines(placed) as f64 * LINE;
        }
        for mark in &found.supports {
            let (x, y) = (self.x(mark.at), self.axis + self.reach + 2.0 + self.height_before("support"));
            let form = Form::Rectangle { at: [x - 3.0, y], width: 6.0, height: 2.6, pen: Pen::Normal };
            drawing.add(mark.of.clone(), form);
        }
        for mark in &found.bearings {
            let x = self.x(mark.at);
            let points = vec![[x, self.axis], [x - 2.6, self.axis + 4.4], [x + 2.6, self.axis + 4.4]];
            drawing.add(mark.of.clone(), Form::Outline { points, pen: Pen::Normal, filled: false });
        }
        for mark in &found.centre {
            self.mass_centre(drawing, mark);
        }
        for (at, text) in words {
            drawing.text("", at, Anchor::Middle, text);
        }
        top
    }

    fn height_before(&self, what: &str) -> f64 {
        let before = self.below.iter().take_while(|(name, _)| *name != what);
        before.map(|(_, placed)| lines(placed) as f64 * LINE).sum()
    }

    /// A circle with two opposite quarters filled.
    fn mass_centre(&self, drawing: &mut Drawing, mark: &Mark) {
        const RADIUS: f64 = 2.2;
        let at = [self.x(mark.at), self.axis];
        drawing.circle(&mark.of, at, RADIUS, Pen::Normal);
        for quarter in [0.0, std::f64::consts::PI] {
            let arc = (0..=8).map(|n| quarter + f64::from(n) / 8.0 * std::f64::consts::FRAC_PI_2);
            let arc = arc.map(|angle| [at[0] + RADIUS * angle.cos(), at[1] + RADIUS * angle.sin()]);
            let points = std::iter::once(at).chain(arc).collect();
            drawing.add(mark.of.clone(), Form::Outline { points, pen: Pen::Thin, filled: true });
        }
    }

    /// The bar that tells the scale on any copy, and the ends.
    fn foot(&self, drawing: &mut Drawing, found: &Found, top: f64) {
        let y = top + LINE + 2.0;
        let unit = found.unit;
        let per_unit = Unit::MILLIMETRE.from_base(unit.to_base(1.0)) * self.scale;
        let long = round(45.0 / per_unit);
        let (from, to) = ((WIDTH - long * per_unit) / 2.0, (WIDTH + long * per_unit) / 2.0);
        drawing.line("scale bar", [from, y], [to, y], Pen::Heavy);
        for x in [from, to] {
            drawing.line("", [x, y - 1.4], [x, y + 1.4], Pen::Normal);
        }
        let text = format!("{} {unit}", units::plainly(long));
        drawing.text("", [WIDTH / 2.0, y + LINE], Anchor::Middle, text);
        if found.drive_end.is_some() {
            drawing.strong("", [1.0, y], Anchor::Start, End::DriveEnd.words());
            drawing.strong("", [WIDTH - 1.0, y], Anchor::End, End::TailEnd.words());
        }
        drawing.height = y + LINE + 1.5;
    }
}

/// A line down from the axis, broken where words are in its way.
fn leader(drawing: &mut Drawing, x: f64, from: f64, to: f64, words: &[([f64; 2], String)]) {
    let mut top = from;
    let mut across: Vec<f64> = words
        .iter()
        .filter(|([middle, _], text)| (middle - x).abs() < wide(text) / 2.0 + 0.5)
        .map(|([_, y], _)| *y)
        .collect();
    across.sort_by(f64::total_cmp);
    for y in across {
        drawing.line("", [x, top], [x, y - SIZE], Pen::Thin);
        top = y + 1.0;
    }
    if top < to {
        drawing.line("", [x, top], [x, to], Pen::Thin);
    }
}

/// The nearest of 1, 2, 5, 10 … below.
fn round(amount: f64) -> f64 {
    let power = 10f64.powf(amount.log10().floor());
    [5.0, 2.0, 1.0].into_iter().find(|digit| amount >= digit * power).unwrap_or(1.0) * power
}
