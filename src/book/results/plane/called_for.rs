//! The mass that an unbalance calls for in its plane.

use super::PlaneResults;
use crate::book::derive::Val;
use crate::book::formulas as by;
use crate::book::origin::Missing;
use crate::book::results::values::entry::{Meaning, Recorder, Spot, origin};
use crate::book::vectors::{Gathered, Produced, VectorVal};
use crate::mechanics::correction::mass_at_radius;
use crate::units::{Angle, Length, Mass, Unbalance, Unit, Vector};
use crate::vocabulary::plane::CorrectBy;
use crate::vocabulary::{ResultSpec, plane};
use std::sync::Arc;

/// What a plane does about an unbalance: add, remove, or either. No plane is guessed to do one or the other.
pub(in crate::book::results) fn meaning_of(plane: &PlaneResults<'_>) -> Result<Meaning, Arc<Missing>> {
    Ok(match plane.block.stated_choice(plane::CORRECT)? {
        CorrectBy::Remove => Meaning::ToRemove,
        CorrectBy::Add => Meaning::ToAdd,
        CorrectBy::Either => Meaning::ToAddOrRemoveOpposite,
    })
}

/// The mass that corrects an unbalance at a radius: at the light spot when it is added, at the heavy spot when it is
/// taken off.
pub(in crate::book::results) fn mass_for(
    recorder: &Recorder<'_>,
    spot: &Spot,
    spec: &'static ResultSpec,
    meaning: Meaning,
    unbalance: &VectorVal<Unbalance>,
    radius: &Val<Length>,
) -> VectorVal<Mass> {
    let mut gathered = Gathered::new();
    let (at, r) = (gathered.vector(unbalance), gathered.value(radius));
    let removes = meaning == Meaning::ToRemove;
    let formula = if removes { &by::MASS_TO_REMOVE } else { &by::MASS_TO_ADD };
    let outputs = gathered.work_out(recorder.explained(formula), |numbers| {
        let (unbalance, radius) = (numbers.vector::<Unbalance>(at), numbers.value::<Length>(r));
        let mass = mass_at_radius(unbalance.amount(), radius)?;
        let angle = if removes { unbalance.angle() } else { unbalance.angle() + Angle::degrees(180.0) };
        Ok(Produced::vector(Vector::from_polar(mass, angle)))
    });
    outputs.vector(0, origin(spot, spec), recorder.facts.shop.shown(Unit::GRAM))
}
