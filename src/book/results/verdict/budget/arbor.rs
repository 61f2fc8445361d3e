//! What an arbor puts in: told by indexing, or as it is stated.

use super::line::{At, Indexing, Known, Line, Sources, group};
use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::results::runs::index::IndexedPlane;
use crate::book::results::values::entry::Recorder;
use crate::mechanics::budget::Part;
use crate::mechanics::fits::{eccentricity_of_runout, unbalance_of_eccentricity};
use crate::mechanics::limits::Acting;
use crate::sheet::FieldValue;
use crate::units::{Length, Unbalance};
use crate::vocabulary::machine::Supports;
use crate::vocabulary::shop::BudgetLine;
use crate::vocabulary::{Choice, Fact, UnbalanceVector, arbor, setup};

impl<'b> Sources<'_, 'b> {
    pub(super) fn arbor(&self, recorder: &Recorder<'b>, at: &At<'_, 'b>) -> Line {
        let name = BudgetLine::Arbor.words();
        let Some(arbor) = &self.runner.setup.arbor else {
            let setup = self.runner.setup;
            let has_journals = setup.rotor.as_ref().is_some_and(|rotor| !rotor.bearings[0].is_left_out());
            return match has_journals || setup.supports() == Some(Supports::InPlace) {
                true => Line::new(name, Known::DoesNotApply, "the rotor runs without an arbor"),
                false => Line::new(name, Known::NotKnown, "the rotor states no bearings, and the setup no arbor"),
            };
        };
        if let Some(index) = self.index {
            let planes = match index {
                Indexing::Told(index) | Indexing::Earlier(index) => &index.planes[..],
                Indexing::HalfATurn => &[],
            };
            let scatter = |(n, plane): (usize, &IndexedPlane<'b>)| {
                let scatter = plane.scatter.as_ref()?.get()?;
                Some(Part::up_to(at.of_plane(n, scatter), group(23, n)))
            };
            let parts = planes.iter().enumerate().filter_map(scatter);
            return Line::new(name, Known::Measured, "runs with the rotor turned on it tell it apart").with(parts);
        }
        let mut parts = self.own_unbalance(recorder, arbor, at);
        parts.extend(self.runout(recorder, arbor, at));
        // What one of them is says nothing of the others.
        let sides = [arbor::UNBALANCE_LEFT, arbor::UNBALANCE_RIGHT];
        let line = match () {
            () if sides.iter().any(|side| !arbor.says(*side)) => {
                Line::new(name, Known::NotKnown, "it does not state its unbalance at both sides, and was not indexed")
            }
            () if !arbor.says(arbor::RUNOUT) => {
                Line::new(name, Known::NotKnown, "it states no runout, and was not indexed")
            }
            () if [arbor::FIT_CLEARANCE, arbor::CENTRING_REPEATABILITY].iter().any(|fit| arbor.is_open(*fit)) => {
                Line::new(name, Known::NotKnown, "how well it centres is left open")
            }
            () => Line::new(name, Known::Stated, "its own unbalance and runout"),
        };
        line.with(parts)
    }

    /// Its unbalance at its two sides turns with the rotor, at no known angle to it.
    fn own_unbalance(&self, recorder: &Recorder<'b>, arbor: &EffectiveBlock<'b>, at: &At<'_, 'b>) -> Vec<Part> {
        let side = |(n, fact): (usize, Fact<UnbalanceVector>)| {
            let field = arbor.field(fact)?;
            let FieldValue::Reading(reading) = &field.field.value else { return None };
            let origin = recorder.facts.origin(arbor, fact, Some(field));
            let amount: Val<Unbalance> = recorder.facts.stated(arbor, field, &reading.amount, origin);
            let support: Val<Length> = recorder.facts.nth(&self.runner.setup.block, setup::SUPPORTS_AT, n);
            // Without supports each end is taken to act whole on its own plane or bearing.
            let elsewhere = match at.judged.acting {
                Some(Acting::AtBearing(own, _) | Acting::InPlane(own)) => own.min(1) != n,
                _ => false,
            };
            let acts = !(elsewhere && support.get().is_none());
            acts.then(|| Some(Part::at_any_angle(at.of_place(support.get(), amount.get()?), group(24, n))))?
        };
        [arbor::UNBALANCE_LEFT, arbor::UNBALANCE_RIGHT].into_iter().enumerate().filter_map(side).collect()
    }

    fn runout(&self, recorder: &Recorder<'b>, arbor: &EffectiveBlock<'b>, at: &At<'_, 'b>) -> Option<Part> {
        let runout: Val<Length> = recorder.facts.quantity(arbor, arbor::RUNOUT);
        let rotor = self.runner.setup.rotor.as_ref()?;
        let unbalance =
            unbalance_of_eccentricity(rotor.mass.get()?, eccentricity_of_runout(runout.get()?).ok()?).ok()?;
        Some(Part::at_any_angle(at.of_place(rotor.mass_centre.get(), unbalance), group(25, 0)))
    }
}
