//! What rules on calibrations share.

use crate::vocabulary::{AnyFact, calibrate, machine, masses};
use std::sync::Arc;

use super::amounts::{amount, shown};
use super::context::ItemContext;
use super::diagnostic::Draft;
use crate::book::{CalibrateResults, EffectiveBlock, EffectiveField, LeftOut, Missing, Val};
use crate::sheet::{Block, FieldValue, Stated};
use crate::units::{self, Amount, Length, Mass, Ratio};

/// The number that the technician sets: the reading; where that is demanded, the mass or radius that gives it.
pub struct ToSet {
    pub fact: AnyFact,
    /// Base amount, unit and standard uncertainty; else why it is a hole.
    pub known: Result<(f64, units::Unit, f64), Arc<Missing>>,
}

impl ToSet {
    /// `None` when mass, radius and reading are all stated.
    pub fn of(calibration: &CalibrateResults<'_>, block: &EffectiveBlock<'_>) -> Option<Self> {
        let (fact, known) = match LeftOut::of(block) {
            LeftOut::Reading => (calibrate::READING.any(), known(&calibration.reading)),
            LeftOut::Mass | LeftOut::MassAndRadius => (calibrate::MASS.any(), known(&calibration.mass)),
            LeftOut::Radius => (calibrate::RADIUS.any(), known(&calibration.radius)),
            LeftOut::Nothing => return None,
        };
        Some(Self { fact, known })
    }
}

fn known<T: Amount>(value: &Val<T>) -> Result<(f64, units::Unit, f64), Arc<Missing>> {
    value.known.clone().map(|known| (known.raw(), value.unit, value.standard_uncertainty()))
}

/// Fewer times the tolerance than this are a warning whatever the shop prefers; common practice, no source.
pub const AT_LEAST: f64 = 3.0;

/// The planes that the sheet calibrates, with their blocks.
pub fn blocks<'b, 'c>(
    context: &ItemContext<'b, 'c>,
) -> impl Iterator<Item = (&'c CalibrateResults<'b>, &'c EffectiveBlock<'b>)> {
    let calibrations = context.setup().map_or(&[][..], |setup| &setup.calibrations);
    calibrations.iter().filter_map(|calibration| Some((calibration, calibration.block.as_ref()?)))
}

/// How many times the tolerance the shop wants a calibration unbalance to be.
pub fn wanted(context: &ItemContext<'_, '_>) -> (f64, f64) {
    let (low, high) = context.book().rules().calibration_unbalance;
    (low.value(), high.value())
}

/// The share of the reading by which the shop lets a calibration be uncertain, k = 2.
pub fn accepted(context: &ItemContext<'_, '_>) -> f64 {
    Ratio::value(context.book().rules().calibration_uncertainty)
}

/// What mass would suit: one of the set, else ten times the tolerance at this radius. `None` without a radius.
pub fn better_mass(calibration: &CalibrateResults<'_>) -> Option<String> {
    if let Some(of_set) = calibration.suggested_mass.as_ref().filter(|mass| mass.is_known()) {
        return Some(format!("take {} from the set", shown(of_set)));
    }
    Some(format!("ten times the tolerance would be {} at this radius", better_mass_written(calibration)?))
}

/// Offers the mass that would suit, where the sheet states one.
pub fn offer_better(
    context: &ItemContext<'_, '_>,
    draft: Draft,
    calibration: &CalibrateResults<'_>,
    block: &EffectiveBlock<'_>,
) -> Draft {
    match (block.field(calibrate::MASS), better_mass_written(calibration)) {
        (Some(mass), Some(better)) => draft.offer_value(context, mass, &better),
        _ => draft,
    }
}

/// The mass that would suit, as it is written in a sheet.
fn better_mass_written(calibration: &CalibrateResults<'_>) -> Option<String> {
    if let Some(of_set) = calibration.suggested_mass.as_ref().filter(|mass| mass.is_known()) {
        return Some(shown(of_set));
    }
    let (tolerance, radius) = (calibration.tolerance.get()?, calibration.radius.get()?);
    let unit = if calibration.mass.is_known() { calibration.mass.unit } else { units::Unit::GRAM };
    Some(amount(tolerance * 10.0 / radius, unit))
}

/// What may be wrong with the mass of one calibration, the most telling first: the first that holds says what mass to
/// take instead, so that four findings do not repeat one advice.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Finding {
    KnownTooPoorly,
    TooSmall,
    NotInSet,
    OutsideShopRange,
}

/// The mass that would suit, for the one finding that is to name it.
pub fn advice(
    context: &ItemContext<'_, '_>,
    calibration: &CalibrateResults<'_>,
    block: &EffectiveBlock<'_>,
    asking: Finding,
) -> Option<String> {
    let first = if names_a_better_one(context, calibration, block) {
        Finding::KnownTooPoorly
    } else if is_too_small(context, calibration) {
        Finding::TooSmall
    } else if set_without(context, block).is_some() {
        Finding::NotInSet
    } else {
        Finding::OutsideShopRange
    };
    if first == asking { better_mass(calibration) } else { None }
}

/// Whether the mass is known worse than the shop accepts, and the set has a heavier one that suits.
fn names_a_better_one(
    context: &ItemContext<'_, '_>,
    calibration: &CalibrateResults<'_>,
    block: &EffectiveBlock<'_>,
) -> bool {
    let Some((_, mass)) = stated(block, &[calibrate::MASS.any()]) else { return false };
    calibration.mass.expanded_uncertainty() / mass.base > accepted(context)
        && heavier_of_set(calibration, mass).is_some()
}

/// The mass of the set that suits the plane, where it is heavier than the one stated.
pub fn heavier_of_set<'c>(calibration: &'c CalibrateResults<'_>, mass: &Stated) -> Option<&'c Val<Mass>> {
    calibration.suggested_mass.as_ref().filter(|set| set.get().is_some_and(|set| set.raw() > mass.base))
}

/// Whether the calibration unbalance is too few times the tolerance, whatever the shop prefers.
pub fn is_too_small(context: &ItemContext<'_, '_>, calibration: &CalibrateResults<'_>) -> bool {
    let lowest = wanted(context).0.min(AT_LEAST);
    calibration.times_tolerance.get().is_some_and(|times| times.value() < lowest * (1.0 - 1e-9))
}

/// The setup's set of masses, when the mass stated here cannot be put together from it.
pub fn set_without<'b>(context: &ItemContext<'b, '_>, block: &EffectiveBlock<'_>) -> Option<&'b Block> {
    let set = context.book().item(context.setup()?.masses?);
    let FieldValue::Quantities(values) = &set.field(masses::VALUES)?.value else { return None };
    let (_, mass) = stated(block, &[calibrate::MASS.any()])?;
    (!can_be_put_together(values, mass.base, mass.half_step, most_pieces(values.len()))).then_some(set)
}

/// Nobody stacks more than three on one clamp; from a long list nobody tries every three.
fn most_pieces(of: usize) -> u32 {
    match of {
        0..=64 => 3,
        65..=1000 => 2,
        _ => 1,
    }
}

/// Whether up to `pieces` masses of the set, each once, make this mass within half a step.
fn can_be_put_together(values: &[Stated], mass: f64, half_step: f64, pieces: u32) -> bool {
    if mass.abs() <= half_step + 1e-9 * mass.abs() {
        return true;
    }
    if pieces == 0 || mass < 0.0 {
        return false;
    }
    (0..values.len()).any(|n| can_be_put_together(&values[n + 1..], mass - values[n].base, half_step, pieces - 1))
}

/// The first of these facts that a block has, where it is a quantity.
pub fn stated<'b>(block: &EffectiveBlock<'b>, facts: &[AnyFact]) -> Option<(EffectiveField<'b>, &'b Stated)> {
    let field = facts.iter().find_map(|fact| block.field(*fact))?;
    let FieldValue::Quantity(stated) = &field.field.value else { return None };
    Some((field, stated))
}

/// The coarsest step of a scale by which an amount is known to a share of itself with k = 2, in the amount's unit: a
/// step of 1, 0.1, 0.01 …, of which half is a rectangular bound (GUM 4.3.7, from memory).
pub fn step_needed(stated: &Stated, share: f64) -> String {
    let step = stated.unit.from_base(share * stated.base.abs() * 3f64.sqrt());
    let step = 10f64.powf(step.log10().floor());
    format!("{} {}", units::plainly(step), stated.unit)
}

/// The least amount that is known to a share of itself when it is read in the steps that this one was read in.
pub fn least_at_this_step(half_step: f64, share: f64) -> f64 {
    2.0 * half_step / (3f64.sqrt() * share)
}

/// Half of the largest distance across the bed; `None` when the machine does not state its swing.
pub fn half_swing<'b>(context: &ItemContext<'b, '_>) -> Option<(Length, EffectiveField<'b>)> {
    let (_, field) = super::machine_limits::machine_fact(context, machine::SWING)?;
    let FieldValue::Quantity(swing) = &field.field.value else { return None };
    Some((Length::metres(swing.base / 2.0), field))
}
