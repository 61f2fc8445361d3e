//! What a division is worth: how the dial was set, and what the proof found of it.

use super::classes::{Class, of_class};
use super::line::{At, Known, Line, Sources, group};
use super::proven::acting;
use crate::book::results::bench::mode::Mode;
use crate::book::results::calibration::calibrate::CalibrateResults;
use crate::book::results::values::entry::Recorder;
use crate::mechanics::budget::Part;
use crate::units::{Ratio, Typed, Unbalance};
use crate::vocabulary::shop::BudgetLine;
use crate::vocabulary::{Choice, calibrate, machine, proof};

pub(super) const BY_RECORD: &str = "corrections and the runs after them";

/// Whether it says mass and radius itself.
fn states_its_unbalance(calibration: &CalibrateResults<'_>) -> bool {
    calibration.block.as_ref().is_some_and(|block| {
        let radius = block.says(calibrate::RADIUS) || block.says(calibrate::DIAMETER);
        radius && block.says(calibrate::MASS)
    })
}

impl<'b> Sources<'_, 'b> {
    /// Setting the dial, and what is left of the calibration besides.
    pub(super) fn calibration(&self, recorder: &Recorder<'b>, at: &At<'_, 'b>) -> [Line; 2] {
        let names = [BudgetLine::DialSetting, BudgetLine::Calibration].map(Choice::words);
        if self.runner.measuring.resting_on().is_some() {
            let [dial, calibration] =
                names.map(|name| Line::new(name, Known::DoesNotApply, "trials tell what a reading is worth"));
            if self.runner.measuring.trials().is_some() {
                return [dial, calibration];
            }
            // Large amounts tell it, and nothing shows that a small one goes by the same.
            let why =
                "runs without angles tell what a reading is worth, and no proof shows that it holds for a small one";
            return [dial, Line { known: Known::NotKnown, why: why.into(), ..calibration }];
        }
        let proven = at.planes().all(|plane| self.own_error(plane).is_some());
        if !proven && let Some(parts) = self.own_by_record(at) {
            let [dial, calibration] = names.map(|name| Line::new(name, Known::Measured, BY_RECORD));
            return [dial, calibration.with(parts)];
        }
        [self.dial_setting(at, proven), self.of_proof(recorder, at, proven)]
    }

    fn dial_setting(&self, at: &At<'_, '_>, proven: bool) -> Line {
        let name = BudgetLine::DialSetting.words();
        if self.runner.measuring.sheet.mode() != Some(Mode::Divisions) {
            return Line::new(name, Known::DoesNotApply, "the readout needs no dial to be set");
        }
        if proven {
            return Line::new(name, Known::Measured, "the masses of the proof have it in what they read");
        }
        let steps: Option<Vec<Ratio>> = at.planes().map(|plane| self.step_of_setting(plane)).collect();
        let all =
            |says: fn(&CalibrateResults<'b>) -> bool| at.planes().all(|plane| self.set_to(plane).is_some_and(says));
        let line = match () {
            () if !all(|calibration| calibration.stated_reading.is_some()) => {
                Line::new(name, Known::NotKnown, "no `reading` says what it was set to")
            }
            // Worked out from the reading and the tolerance, they say what was to be set, not what was.
            () if !all(states_its_unbalance) => {
                Line::new(name, Known::NotKnown, "no `mass` and `radius` say what it was set with")
            }
            () => Line::new(name, Known::Stated, "the step of the scale on which it was set"),
        };
        let part = |plane: usize| Some(Part::up_to(at.of_reading(plane, steps.as_ref()?[plane]), group(15, plane)));
        line.with(at.planes().filter_map(part))
    }

    fn set_to(&self, plane: usize) -> Option<&CalibrateResults<'b>> {
        self.runner.setup.calibration(self.state.planes[plane].name)
    }

    /// Half the step in which a calibration was set, as a share of its reading: of the reading as it is stated, else of the
    /// finest scale that shows what it has to be.
    fn step_of_setting(&self, plane: usize) -> Option<Ratio> {
        let calibration = self.set_to(plane)?;
        let sheet = &self.runner.measuring.sheet;
        let (set, step) = match &calibration.stated_reading {
            Some(stated) => (stated.get()?, sheet.step_of(calibration.block.as_ref()?.field(calibrate::READING)?)?),
            None => (calibration.reading.get()?, sheet.finest_step(calibration.reading.get()?)?),
        };
        (set.value() > 0.0).then(|| step * 0.5 / set)
    }

    /// Own reading, linearity and return to the start, each by the proof.
    fn of_proof(&self, recorder: &Recorder<'b>, at: &At<'_, 'b>, proven: bool) -> Line {
        let name = BudgetLine::Calibration.words();
        if !proven {
            let standard = of_class(recorder.facts.book, &at.judged.measured.contributions, Class::Calibration);
            let line = match self.runner.setup.is_on_stand() {
                true => Line::new(name, Known::DoesNotApply, "on a static stand the mass itself is the reading"),
                false => Line::new(name, Known::NotKnown, "no proof shows what a mass reads in each plane"),
            };
            return line.with([Part::known_to(Unbalance::from_base(standard), group(16, 0))]);
        }
        let mut parts: Vec<Part> = at.planes().filter_map(|plane| self.own_reading(at, plane)).collect();
        let linearity: Option<Vec<Part>> = at.planes().map(|plane| self.linearity(at, plane)).collect();
        let back = self.proven(recorder).start_and_back.as_ref().and_then(|[start, back]| {
            let moved = acting(at.row, back)? - acting(at.row, start)?;
            Some(Part::up_to(moved.amount(), group(19, 0)))
        });
        let machine = self.runner.setup.machine.as_ref();
        let lacks = match (&linearity, &back) {
            (None, _) => Some("the proof has no second mass"),
            (_, None) => Some("the proof does not say what is read with all masses off again"),
            _ if self.runner.setup.block.newest_proof().is_some_and(|proof| proof.is_open(proof::DATE)) => {
                Some("it is left open when the proof was made")
            }
            _ if machine.is_some_and(|machine| machine.block.is_open(machine::SERVICED)) => {
                Some("it is left open when the machine was serviced")
            }
            (Some(_), Some(_)) => None,
        };
        parts.extend(linearity.into_iter().flatten());
        parts.extend(back);
        parts.extend(self.drift(at));
        let known = if lacks.is_some() { Known::NotKnown } else { Known::Measured };
        Line::new(name, known, lacks.unwrap_or("own reading, linearity and return to the start in the proof"))
            .with(parts)
    }

    /// By corrections and the runs after them.
    pub(super) fn own_by_record(&self, at: &At<'_, '_>) -> Option<Vec<Part>> {
        let own = |plane: usize| Some(Part::up_to(at.of_reading(plane, self.by_record.own(plane)?), group(17, plane)));
        at.planes().map(own).collect()
    }

    /// What corrections of a plane showed in the others.
    pub(super) fn others_by_record(&self, at: &At<'_, '_>) -> Option<Vec<Part>> {
        let seen = |plane: usize| {
            let others = at.planes().filter(|other| *other != plane);
            let in_other = |other: usize| {
                let share = self.by_record.of_other(plane, other)?;
                Some(at.of_plane(other, at.amounts[plane] * share.value()))
            };
            Some(Part::up_to(others.map(in_other).sum::<Option<Unbalance>>()?, group(20, plane)))
        };
        at.planes().map(seen).collect()
    }

    /// What has become of the dials since the proof: as the check mass showed until the day of the record; beyond the time
    /// for which a check holds, also what it is allowed.
    fn drift(&self, at: &At<'_, '_>) -> Option<Part> {
        let check = self.runner.setup.check_mass.as_ref()?;
        let until: Vec<_> =
            check.checked.iter().filter(|checked| self.day.is_none_or(|day| checked.day <= day)).collect();
        let shown = until.iter().filter_map(|checked| checked.drift.get()).map(|drift| drift.value().abs());
        let shown = shown.reduce(f64::max);
        let holds = until.last().is_some_and(|latest| self.day.is_some_and(|day| check.holds(latest.day, day)));
        let allowed = || Some((check.band()? / check.reading.get()?).value());
        let allowed = if holds { None } else { allowed() };
        let share = shown.into_iter().chain(allowed).reduce(f64::max)?;
        let share = Ratio::new(share);
        Some(Part::up_to(at.planes().map(|plane| at.of_reading(plane, share)).sum(), group(27, 0)))
    }

    fn own_reading(&self, at: &At<'_, '_>, plane: usize) -> Option<Part> {
        let error = self.own_error(plane)?;
        let (off, known_to) = (error.get()?.value().abs(), error.standard_uncertainty());
        let standard = at.of_reading(plane, Ratio::new((off / 3f64.sqrt()).hypot(known_to)));
        let bound = Some(at.of_reading(plane, Ratio::new(off + 2.0 * known_to)));
        Some(Part { standard, bound, ..Part::known_to(standard, group(17, plane)) })
    }

    /// By the second mass of the plane; where it has none, by the worst of the others.
    fn linearity(&self, at: &At<'_, '_>, plane: usize) -> Option<Part> {
        let all = &self.proof()?.linearities;
        let own = all.iter().filter(|one| one.plane == self.state.planes[plane].name);
        let departure = |one: &crate::book::results::setup::proof::LinearityResults<'_>| {
            one.departure.as_ref().and_then(|departure| departure.get()).map(|departure| departure.value().abs())
        };
        let worst =
            own.filter_map(departure).reduce(f64::max).or_else(|| all.iter().filter_map(departure).reduce(f64::max))?;
        Some(Part::up_to(at.of_reading(plane, Ratio::new(worst)), group(18, plane)))
    }

    /// What a mass in one plane shows in the others.
    pub(super) fn interference(&self, at: &At<'_, '_>) -> Line {
        let name = BudgetLine::Interference.words();
        if at.amounts.len() < 2 {
            return Line::new(name, Known::DoesNotApply, "one plane is read");
        }
        if self.runner.measuring.resting_on().is_some() {
            return Line::new(name, Known::DoesNotApply, "trials tell what each channel reads of each plane");
        }
        let share = |plane: usize| self.separation(plane)?.interference.as_ref()?.get();
        let shares: Option<Vec<Ratio>> = at.planes().map(share).collect();
        let Some(shares) = shares else {
            if let Some(parts) = self.others_by_record(at) {
                return Line::new(name, Known::Measured, BY_RECORD).with(parts);
            }
            return Line::new(name, Known::NotKnown, "no proof shows what a mass in one plane reads in the others");
        };
        let part = |plane: usize| {
            let others = at.planes().filter(|other| *other != plane);
            let seen = at.amounts[plane] * shares[plane].value().abs();
            Part::up_to(others.map(|other| at.of_plane(other, seen)).sum(), group(20, plane))
        };
        Line::new(name, Known::Measured, "what the masses of the proof show in the other plane")
            .with(at.planes().map(part))
    }
}
