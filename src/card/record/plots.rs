//! Each plane round the axis: its runs as arrows, the corrections laid on them, the circle of its tolerance.

use super::Sheet;
use super::runs::{in_unit, letter, number};
use crate::book::{Found, Seen};
use crate::card::document::{Figure, Part, Section};
use crate::card::drawing::{Plot, PlotVector, components, edge_above, polar};
use crate::card::words::Words;
use crate::mechanics::strobe::Round;
use crate::units::{Amount, Unit, Vector};

pub(super) fn section(sheet: &Sheet<'_, '_>) -> Option<Section> {
    let names: Vec<&str> = sheet.record.runs.first()?.planes.iter().map(|plane| plane.name).collect();
    let figures: Vec<Figure> = names.into_iter().flat_map(|plane| figures(sheet, plane)).collect();
    if figures.is_empty() {
        return None;
    }
    let words = Words::said(
        "Numbers: heavy spot as each run shows it. Letters: what a correction does. Heavy circle: tolerance.",
    );
    Some(Section::new("Plots").part(Part::Figures(figures)).text(words))
}

fn figures(sheet: &Sheet<'_, '_>, plane: &str) -> Vec<Figure> {
    let setup = sheet.record.setup.as_deref();
    let rotor = setup.and_then(|setup| setup.rotor.as_deref());
    let of_plane = rotor.and_then(|rotor| rotor.plane(plane));
    let clockwise = rotor.is_some_and(|rotor| Seen::of(&rotor.block).is_ok_and(|seen| seen.grows == Round::Clockwise));
    let unit = of_plane.map_or(Unit::GRAM_MILLIMETRE, |plane| plane.tolerance.unit);
    let tolerance = of_plane.and_then(|plane| plane.tolerance.get()).map(|tolerance| in_unit(tolerance, unit));
    let (vectors, amounts) = drawn(sheet, plane, unit);
    let far = |[x, y]: [f64; 2]| x.hypot(y);
    let tips = vectors.iter().flat_map(|vector| [far(vector.from), far(vector.to)]);
    let largest = tips.chain(amounts.iter().map(|(_, amount)| *amount)).chain(tolerance).fold(0.0, f64::max);
    if vectors.is_empty() && amounts.is_empty() {
        return Vec::new();
    }
    let plot = |vectors, amounts, edge, told: String| Plot {
        told,
        clockwise,
        tolerance,
        unit: unit.to_string(),
        vectors,
        amounts,
        edge,
    };
    let edge = edge_above(largest * 1.04);
    let told = format!("Unbalance round the axis, plane {plane}");
    let title = Words::said("Plane ").stress(plane);
    vec![Figure { title, drawing: polar(&plot(vectors, amounts, edge, told)), below: Vec::new() }]
}

fn drawn(sheet: &Sheet<'_, '_>, plane: &str, unit: Unit) -> (Vec<PlotVector>, Vec<(String, f64)>) {
    let record = sheet.record;
    let (mut vectors, mut amounts) = (Vec::new(), Vec::new());
    let on_plot =
        |vector: Vector<crate::units::Unbalance>| components(in_unit(vector.amount(), unit), vector.angle().raw());
    for (n, run) in record.runs.iter().enumerate() {
        match run.plane(plane).map(|plane| &plane.unbalance) {
            Some(Found::Vector(vector)) => {
                if let Some(vector) = vector.get() {
                    let to = on_plot(vector);
                    vectors.push(PlotVector { name: number(n), from: [0.0, 0.0], to, is_correction: false });
                }
            }
            Some(Found::Amount(amount)) => {
                amounts.extend(amount.get().map(|amount| (number(n), in_unit(amount, unit))))
            }
            None => {}
        }
    }
    for (n, correction) in record.corrections.iter().enumerate().filter(|(_, one)| one.plane == plane) {
        let (Some(from), Some(done)) = (&correction.called_for, &correction.done) else { continue };
        let (Some(from), Some(done)) = (from.get(), done.get()) else { continue };
        let (from, done) = (on_plot(from), on_plot(done));
        let to = [from[0] + done[0], from[1] + done[1]];
        vectors.push(PlotVector { name: letter(n), from, to, is_correction: true });
    }
    (vectors, amounts)
}
