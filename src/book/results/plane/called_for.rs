//! The mass that an unbalance calls for in its plane.

use super::PlaneResults;
use super::carried::Carried;
use super::cutting::chips;
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

/// The radius at which what is done about an unbalance makes it: of a plane that is cut, as its chips do.
pub(in crate::book::results) fn radius_for(
    recorder: &Recorder<'_>,
    plane: &PlaneResults<'_>,
    carried: &Carried,
    (meaning, unbalance): (Meaning, &VectorVal<Unbalance>),
) -> Val<Length> {
    let wanted = unbalance.get().filter(|_| meaning == Meaning::ToRemove);
    at_cut(plane, wanted.and_then(|wanted| chips(&recorder.facts, plane, carried, wanted)).map(|(_, radius)| radius))
}

/// The radius of what is cut, else that of the plane. How well it is known is how well the plane's is.
pub(in crate::book::results) fn at_cut(plane: &PlaneResults<'_>, radius: Option<Length>) -> Val<Length> {
    match radius {
        Some(radius) => Val { known: Ok(radius), derivation: None, ..plane.radius.clone() },
        None => plane.radius.clone(),
    }
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
