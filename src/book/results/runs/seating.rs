//! How a rotor probably sits on its arbor: what a run reads, beside what it would read in another position.

use super::correction::CorrectionResults;
use super::index::IndexResults;
use super::run::{RunResults, Runner};
use super::step::OneStep;
use crate::book::derive::Val;
use crate::book::results::values::entry::Recorder;
use crate::book::results::values::render::display_value;
use crate::book::vectors::VectorVal;
use crate::mechanics::fits::{unbalance_of_clearance, unbalance_of_eccentricity};
use crate::units::{Amount, Angle, Length, SpecificUnbalance, Typed, Unbalance, Unit, Vector};
use crate::vocabulary::run::{self, AnglesFrom};
use crate::vocabulary::{Fact, arbor};

/// A run that reads as if the rotor sat otherwise on its arbor than it says.
pub struct SeatInDoubt {
    /// By its number in the record.
    pub run: usize,
    /// How far the rotor is turned on the arbor by the run, and by what it reads.
    pub told: Angle,
    pub likelier: Angle,
}

impl SeatInDoubt {
    pub fn words(&self, name: &str) -> String {
        let [told, likelier] = [self.told, self.likelier].map(degrees);
        format!(
            "run `{name}` reads as if the rotor sat turned by {likelier} on its arbor, and not by {told}: look how it sits, \
             and correct `{}`; or run it again, turned half a turn",
            run::TURNED_ON_ARBOR_BY
        )
    }

    /// `180 deg`
    pub fn likelier(&self) -> String {
        degrees(self.likelier)
    }
}

fn degrees(angle: Angle) -> String {
    let degrees = Angle::degrees(angle.in_degrees().rem_euclid(360.0));
    display_value(degrees.raw(), Unit::DEGREE, 0.0)
}

/// How well masses and angles are made as they are written, as a standard uncertainty, and how much of it another plane reads.
/// Source: common practice, no source.
const MADE_TO: f64 = 0.05;

/// A position explains a run clearly better where it does so by this difference of the squares, each in units of its standard
/// uncertainty: two standard uncertainties. Source: common practice, no source.
const CLEARLY: f64 = 4.0;

/// The runs that rest on what earlier or later runs told of the arbor, and read as if the rotor sat otherwise.
pub(in crate::book::results) fn of<'b>(
    recorder: &Recorder<'b>,
    runner: &Runner<'_, 'b>,
    runs: &[RunResults<'b>],
    corrections: &[CorrectionResults<'b>],
    indexes: &[Option<IndexResults<'b>>],
) -> Vec<SeatInDoubt> {
    let is_told_itself = |n: &usize| indexes.iter().flatten().any(|index| index.runs.contains(n));
    let doubt = |n: usize| {
        let own: Vec<usize> =
            (0..corrections.len()).filter(|one| corrections[*one].written_after == Some(n - 1)).collect();
        let step = OneStep { runner, from: &runs[n - 1], to: &runs[n], corrections, own: &own };
        Seating { step, mounting: mounting(recorder, runner) }.doubt(n)
    };
    (1..runs.len()).filter(|n| !is_told_itself(n)).filter_map(doubt).collect()
}

struct Seating<'a, 'b> {
    step: OneStep<'a, 'b>,
    /// How far one mounting may lie from the next, as a standard uncertainty.
    mounting: Unbalance,
}

impl<'b> Seating<'_, 'b> {
    fn doubt(&self, run: usize) -> Option<SeatInDoubt> {
        let seat = |run: &RunResults<'b>| run.turned.as_ref().and_then(Val::get);
        let (before, told) = (seat(self.step.from)?, seat(self.step.to)?);
        let others = [told + Angle::degrees(180.0), before];
        let others = others.into_iter().filter(|other| !is_same(*other, told));
        let as_told = self.misfit(told)?;
        let fits = |other: Angle| Some((other, self.misfit(other)?)).filter(|(_, misfit)| misfit.is_explained);
        let (likelier, misfit) = others.filter_map(fits).min_by(|a, b| a.1.squares.total_cmp(&b.1.squares))?;
        (as_told.squares - misfit.squares > CLEARLY).then_some(SeatInDoubt { run, told, likelier })
    }

    /// How far the run lies from what the run before and the corrections let expect, if the rotor sat turned by this angle.
    fn misfit(&self, seat: Angle) -> Option<Misfit> {
        let (step, put_on) = (&self.step, self.step.put_on()?);
        let turned_further = seat - step.to.turned.as_ref()?.get()?;
        let whole: Unbalance = put_on.iter().map(|put| put.amount()).sum();
        let mut misfit = Misfit { squares: 0.0, is_explained: true };
        for (n, (before, put_on)) in step.from.planes.iter().zip(put_on).enumerate() {
            let expected = before.rotor.as_ref()?.get()? + put_on;
            let off = (self.rotor(n, turned_further)? - expected).amount();
            let (own, others) = (put_on.amount(), whole - put_on.amount());
            let parts = [
                step.uncertainty_of_change(n) * 0.5,
                Unbalance::from_base(step.standard_of_masses(before.name)),
                own * MADE_TO,
                others * MADE_TO,
                self.mounting,
            ];
            let square: f64 = parts.iter().map(|part| part.base().powi(2)).sum();
            misfit.squares += off.base().powi(2) / square.max(f64::MIN_POSITIVE);
            misfit.is_explained &= off <= step.may_be_off(n, own, others);
        }
        Some(misfit)
    }

    /// The rotor's own unbalance in a plane, if the rotor sat turned so much further than the run says. An angle that counts from
    /// the rotor's zero stays, and the arbor's share turns; one that counts from the arbor's is another angle of the rotor.
    fn rotor(&self, plane: usize, turned_further: Angle) -> Option<Vector<Unbalance>> {
        let found = &self.step.to.planes[plane];
        let own = found.rotor.as_ref()?.get()?;
        let whole = found.unbalance.vector().and_then(VectorVal::get)?;
        Some(match self.step.to.block.choice(run::ANGLES_FROM)? {
            AnglesFrom::Rotor => whole - (whole - own).rotate(-turned_further),
            AnglesFrom::Arbor => own.rotate(-turned_further),
        })
    }
}

struct Misfit {
    /// The sum over all planes of its squares, each in units of its standard uncertainty.
    squares: f64,
    /// Whether each plane is as near as readings, masses and the tolerance let it be.
    is_explained: bool,
}

fn is_same(one: Angle, other: Angle) -> bool {
    let apart = one - other;
    apart.sin().abs() < 1e-6 && apart.cos() > 0.0
}

/// By clearance and centring of the arbor, at any angle.
fn mounting<'b>(recorder: &Recorder<'b>, runner: &Runner<'_, 'b>) -> Unbalance {
    let setup = runner.setup;
    let mass = setup.rotor.as_ref().and_then(|rotor| rotor.mass.get());
    let Some((arbor, mass)) = setup.arbor.as_ref().zip(mass) else { return Unbalance::ZERO };
    let length = |fact: Fact<Length>| {
        let length: Val<Length> = recorder.facts.quantity(arbor, fact);
        length.get()
    };
    let clearance = length(arbor::FIT_CLEARANCE).and_then(|clearance| unbalance_of_clearance(mass, clearance).ok());
    let centring = length(arbor::CENTRING_REPEATABILITY)
        .and_then(|off| unbalance_of_eccentricity(mass, SpecificUnbalance::from_base(off.base())).ok());
    let parts = [clearance, centring].into_iter().flatten();
    // Each of the two mountings may lie anywhere on its circle: of either the standard is the radius ÷ √2.
    Unbalance::from_base(parts.map(|part| part.base().powi(2)).sum::<f64>().sqrt())
}
