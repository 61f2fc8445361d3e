//! A calibration mass taken from the shop's set.

use super::{Action, ActionKind, Asked};
use crate::book::{CalibrateResults, Computed, SetupResults};
use crate::ide::lines;
use crate::sheet::{Block, FieldValue, Stated};
use crate::syntax::Kind;
use crate::text::Edit;
use crate::units::{self, Amount, Ratio};
use crate::vocabulary::{calibrate, masses};

/// So many masses are proposed: the one that suits best, and those beside it.
const MOST: usize = 3;

pub(super) fn at(asked: &Asked<'_, '_>) -> Vec<Action> {
    found(asked).unwrap_or_default()
}

fn found(asked: &Asked<'_, '_>) -> Option<Vec<Action>> {
    let blocks = asked.place.blocks()?;
    let block = blocks.innermost();
    if block.kind != Kind::Calibrate {
        return None;
    }
    let field = block.field(calibrate::MASS);
    let on_it = asked.place.field().is_some_and(|(_, field)| field.key.is(calibrate::MASS));
    let on_heading =
        asked.place.line.span.start <= block.heading.start && block.heading.end <= asked.place.line.span.end;
    // With mass, radius and reading left as they are, one of them is worked out from the others.
    let may_have_one = on_heading && field.is_none() && block.field(calibrate::READING).is_none();
    if !(on_it || may_have_one) {
        return None;
    }
    let Computed::Setup(setup) = asked.computed()? else { return None };
    let calibration = setup.calibration(block.name_text())?;
    let action = |chosen: Chosen| {
        let title = format!("Take {} from the set: {} × tolerance", chosen.written, units::number(chosen.times, None));
        let edit = match field {
            Some(field) => Edit::replace(field.value_span, chosen.written),
            None => lines::into_block(asked.place.source, block, &[format!("{}: {}", calibrate::MASS, chosen.written)]),
        };
        asked.action(ActionKind::Rewrite, title, vec![edit])
    };
    Some(suiting(asked, setup, calibration, field.map(|field| &field.value))?.into_iter().map(action).collect())
}

struct Chosen {
    written: String,
    times: f64,
}

/// The masses of the set that make the calibration the multiple of the tolerance that the shop wants, the one nearest to
/// ten times first; not the one that stands there.
fn suiting(
    asked: &Asked<'_, '_>,
    setup: &SetupResults<'_>,
    calibration: &CalibrateResults<'_>,
    stands: Option<&FieldValue>,
) -> Option<Vec<Chosen>> {
    let book = asked.computing.book();
    let set = setup.masses?;
    let (radius, tolerance) = (radius(setup, calibration)?, calibration.tolerance.get()?);
    let (low, high) = book.rules().calibration_unbalance;
    let (values, written) = masses_of(book.item(set), &book.file(set.file).text)?;
    let stands = match stands {
        Some(FieldValue::Quantity(stated)) => Some(stated.base),
        _ => None,
    };
    let mut chosen: Vec<Chosen> = values
        .iter()
        .zip(written)
        .filter(|(mass, _)| stands.is_none_or(|stands| (mass.base - stands).abs() > 1e-9 * mass.base))
        .map(|(mass, written)| Chosen { written, times: mass.base * radius / tolerance.raw() })
        .filter(|chosen| (Ratio::value(low)..=Ratio::value(high)).contains(&chosen.times))
        .collect();
    let away = |chosen: &Chosen| (chosen.times / 10.0).ln().abs();
    chosen.sort_by(|a, b| away(a).total_cmp(&away(b)));
    chosen.truncate(MOST);
    Some(chosen)
}

/// The radius of the calibration; where it is not given, that of the plane.
fn radius(setup: &SetupResults<'_>, calibration: &CalibrateResults<'_>) -> Option<f64> {
    let stated = calibration.radius.get();
    let of_plane = || setup.rotor.as_ref()?.plane(calibration.plane)?.radius.get();
    stated.or_else(of_plane).map(Amount::raw)
}

/// The masses of a set, each with how it is written there.
pub(in crate::ide) fn masses_of<'b>(set: &'b Block, text: &str) -> Option<(&'b [Stated], Vec<String>)> {
    let field = set.field(masses::VALUES)?;
    let FieldValue::Quantities(values) = &field.value else { return None };
    let written: Vec<String> = field.value_span.of(text).split(',').map(|written| written.trim().to_owned()).collect();
    (written.len() == values.len()).then_some((&values[..], written))
}
