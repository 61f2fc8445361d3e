//! One plane from the end: zero mark, arrow of rotation, numbered places and barred ranges, to scale.

use std::f64::consts::TAU;

use super::side_view::millimetres;
use super::{Anchor, Drawing, Form, Pen, SIZE, short};
use crate::book::{self, EffectiveBlock, PlaneResults, RotorResults, Seen};
use crate::card::words::Words;
use crate::mechanics::strobe::Round;
use crate::sheet::FieldValue;
use crate::units::{Amount, Length, Unit};
use crate::vocabulary::{Choice, End, Fact, plane, rotor};

const WIDTH: f64 = 50.0;
const HEIGHT: f64 = 45.0;
const OUTER: f64 = 14.5;
const MIDDLE: [f64; 2] = [WIDTH / 2.0, HEIGHT / 2.0];

/// What the numbered places of a drawing are called, and what is read for each of them.
pub(in crate::card) const PLACE: &str = "place ";
pub(in crate::card) const READ_FOR: &str = "read for ";

/// What a hand reads, where there is room for it.
const LARGE: f64 = 5.6;

/// What the number of a place takes of the circle on which the numbers are.
const NUMBER: f64 = 3.6;

/// How far inside the places their numbers are.
const FAR_INSIDE: f64 = 4.4;
const NEAR_INSIDE: f64 = 3.2;

/// Where an angle of the rotor points on paper, its zero at the top.
fn towards(seen: Seen, radians: f64) -> [f64; 2] {
    let clockwise = if seen.grows == Round::Clockwise { radians } else { -radians };
    [clockwise.sin(), -clockwise.cos()]
}

pub(super) fn at(middle: [f64; 2], towards: [f64; 2], radius: f64) -> [f64; 2] {
    [middle[0] + radius * towards[0], middle[1] + radius * towards[1]]
}

/// What is read where each place of a plane is the one to correct at, by number.
pub(in crate::card) struct Lookup(pub Vec<String>);

/// Seen from the given end of the rotor, or without one from the end that its sheet names. `Err` says what the drawing lacks.
pub(in crate::card) fn end_view(
    rotor: &RotorResults<'_>,
    plane: &PlaneResults<'_>,
    from: Option<End>,
    lookup: Option<&Lookup>,
) -> Result<Drawing, Words> {
    let seen = Seen::of(&rotor.block)
        .map_err(|missing| Words::said(format!("`{}` of the rotor is missing", missing.origin.name)))?;
    let seen = from.map_or(seen, |from| seen.from_end(from));
    let radius = plane.radius.get().map(millimetres).ok_or("the correction radius of the plane is not known")?;
    let length =
        |block: &EffectiveBlock<'_>, fact: Fact<Length>| match block.field(fact).map(|field| &field.field.value) {
            Some(FieldValue::Quantity(stated)) => Unit::MILLIMETRE.from_base(stated.base),
            _ => 0.0,
        };
    let surface = length(&plane.block, plane::SURFACE_DIAMETER) / 2.0;
    let surface = surface.max(length(&plane.block, plane::SURFACE_RADIUS));
    let outline =
        [surface, length(&rotor.block, rotor::LARGEST_DIAMETER) / 2.0, radius].into_iter().fold(0.0, f64::max);
    if outline <= 0.0 {
        return Err("the correction radius of the plane is nothing".into());
    }
    let told = format!("Plane {} from the {}, to scale", short(plane.name), seen.from.words());
    let mut drawing = Drawing::new(WIDTH, HEIGHT, told);
    let scale = OUTER / outline;
    drawing.scale = Some(scale);
    let view = View { seen, radius: radius * scale, plane };
    view.outline(&mut drawing, (surface > 0.0).then_some(surface * scale));
    view.barred(&mut drawing);
    view.places(&mut drawing);
    view.marks(&mut drawing, lookup.is_none());
    if let Some(lookup) = lookup {
        view.lookup(&mut drawing, lookup);
    }
    Ok(drawing)
}

struct View<'a, 'b> {
    seen: Seen,
    /// To the centre of mass of a correction, on paper.
    radius: f64,
    plane: &'a PlaneResults<'b>,
}

impl View<'_, '_> {
    fn towards(&self, radians: f64) -> [f64; 2] {
        towards(self.seen, radians)
    }

    fn outline(&self, drawing: &mut Drawing, surface: Option<f64>) {
        drawing.circle("outline", MIDDLE, OUTER, Pen::Normal);
        if let Some(surface) = surface.filter(|surface| *surface < OUTER - 0.3) {
            drawing.circle("surface", MIDDLE, surface, Pen::Thin);
        }
        drawing.circle(plane::RADIUS.words(), MIDDLE, self.radius, Pen::Dashed);
        for (from, to) in [([-2.0, 0.0], [2.0, 0.0]), ([0.0, -2.0], [0.0, 2.0])] {
            let end = |by: [f64; 2]| [MIDDLE[0] + by[0], MIDDLE[1] + by[1]];
            drawing.line("", end(from), end(to), Pen::Thin);
        }
    }

    /// Struck out from the axis to the outline, with heavy edges.
    fn barred(&self, drawing: &mut Drawing) {
        const STEP: f64 = 4.0;
        for range in book::barred(&self.plane.block) {
            let from = range.from.raw();
            let wide = (range.to.raw() - from).rem_euclid(TAU);
            let strokes = (wide.to_degrees() / STEP).floor() as usize;
            for n in 0..=strokes {
                let towards = self.towards(from + (n as f64 * STEP).to_radians());
                drawing.line(
                    plane::BARRED.words(),
                    at(MIDDLE, towards, OUTER * 0.62),
                    at(MIDDLE, towards, OUTER),
                    Pen::Thin,
                );
            }
            for edge in [from, from + wide] {
                let towards = self.towards(edge);
                drawing.line(
                    plane::BARRED.words(),
                    at(MIDDLE, towards, OUTER * 0.55),
                    at(MIDDLE, towards, OUTER),
                    Pen::Heavy,
                );
            }
        }
    }

    fn places(&self, drawing: &mut Drawing) {
        let Some(places) = &self.plane.places else { return };
        // Numbers are outside the places where there is room, and not closer than they can be read.
        let apart_at = |beside: f64| TAU * beside / places.angles.len() as f64;
        let beside = match self.radius + 7.5 < OUTER {
            true => self.radius + 4.0,
            // Nearer to the places where only that leaves room for all of them.
            false if apart_at(self.radius - FAR_INSIDE) < NUMBER => self.radius - NEAR_INSIDE,
            false => self.radius - FAR_INSIDE,
        };
        let apart = apart_at(beside);
        let every = (NUMBER / apart.max(0.1)).ceil() as usize;
        let size = (apart * 0.62).clamp(SIZE, LARGE);
        for (n, angle) in places.angles.iter().enumerate() {
            let towards = self.towards(angle.raw());
            let middle = at(MIDDLE, towards, self.radius);
            let name = format!("{PLACE}{}", n + 1);
            drawing.circle(&name, middle, 1.3, Pen::Normal);
            if !places.free.contains(&n) {
                for (a, b) in [([-1.3, -1.3], [1.3, 1.3]), ([-1.3, 1.3], [1.3, -1.3])] {
                    let end = |by: [f64; 2]| [middle[0] + by[0], middle[1] + by[1]];
                    drawing.line(&name, end(a), end(b), Pen::Normal);
                }
            }
            if places.numbered && n % every == 0 {
                let number = at(MIDDLE, towards, beside);
                let at = [number[0], number[1] + size * 0.35];
                drawing.words(&name, (at, Anchor::Middle), size, (n + 1).to_string(), true);
            }
        }
    }

    /// The zero mark, the quarters of the turn, and the arrow of rotation.
    fn marks(&self, drawing: &mut Drawing, with_angles: bool) {
        let tip = [MIDDLE[0], MIDDLE[1] - OUTER];
        let points = vec![tip, [tip[0] - 1.9, tip[1] - 3.4], [tip[0] + 1.9, tip[1] - 3.4]];
        drawing.add("zero mark", Form::Outline { points, pen: Pen::Thin, filled: true });
        for quarter in 0..4 {
            let towards = self.towards(f64::from(quarter) * TAU / 4.0);
            if quarter > 0 {
                drawing.line("", at(MIDDLE, towards, OUTER), at(MIDDLE, towards, OUTER + 1.4), Pen::Normal);
            }
            if !with_angles {
                continue;
            }
            let far = if quarter == 0 { OUTER + 4.6 } else { OUTER + 2.6 };
            let [x, y] = at(MIDDLE, towards, far);
            let (anchor, down) = match (towards[0].round() as i8, towards[1].round() as i8) {
                (1, _) => (Anchor::Start, SIZE * 0.35),
                (-1, _) => (Anchor::End, SIZE * 0.35),
                (_, 1) => (Anchor::Middle, SIZE * 0.75),
                _ => (Anchor::Middle, 0.0),
            };
            drawing.text("", [x, y + down], anchor, format!("{}", quarter * 90));
        }
        self.arrow(drawing);
    }

    /// What is read, outside the place that it leads to; not closer than it can be read.
    fn lookup(&self, drawing: &mut Drawing, Lookup(read): &Lookup) {
        const FAR: f64 = OUTER + 4.6;
        let Some(places) = &self.plane.places else { return };
        let apart = TAU * FAR / places.angles.len() as f64;
        let every = (7.0 / apart.max(0.1)).ceil() as usize;
        let size = (apart * 0.36).clamp(SIZE, 4.8);
        for (n, (angle, read)) in places.angles.iter().zip(read).enumerate().filter(|(n, _)| n % every == 0) {
            let [x, y] = at(MIDDLE, self.towards(angle.raw()), FAR);
            // The zero mark and the arrow of rotation stand at the top.
            let up = if (x - MIDDLE[0]).abs() < 3.0 && y < MIDDLE[1] { -1.8 } else { 0.0 };
            let at = [x, y + size * 0.35 + up];
            drawing.words(&format!("{READ_FOR}{PLACE}{}", n + 1), (at, Anchor::Middle), size, read.clone(), false);
        }
    }

    fn arrow(&self, drawing: &mut Drawing) {
        let side = if self.seen.turns == Round::Clockwise { 1.0 } else { -1.0 };
        let bow = (0..=12).map(|n| side * (18.0 + f64::from(n) * 4.2).to_radians());
        let points: Vec<[f64; 2]> = bow.map(|angle| at(MIDDLE, [angle.sin(), -angle.cos()], OUTER + 6.8)).collect();
        let (before, end) = (points[points.len() - 2], points[points.len() - 1]);
        drawing.add(rotor::ROTATION.words(), Form::Path { points, pen: Pen::Normal });
        let on = [end[0] + (end[0] - before[0]), end[1] + (end[1] - before[1])];
        drawing.head(rotor::ROTATION.words(), before, on);
    }
}
