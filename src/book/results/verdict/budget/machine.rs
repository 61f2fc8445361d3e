//! What the machine itself cannot tell: its smallest residual, and a speed that is not quite the right one.

use super::line::{At, Known, Line, Sources, group};
use crate::book::derive::Val;
use crate::book::results::bench::mode::Mode;
use crate::book::results::setup::SetupResults;
use crate::book::results::values::entry::Recorder;
use crate::mechanics::budget::Part;
use crate::mechanics::drive::RIGID_UP_TO;
use crate::mechanics::machine::{lacks_beside_resonance, wrong_above_resonance, wrong_by_power_of_speed};
use crate::units::{Ratio, Speed, Typed, Unbalance};
use crate::vocabulary::machine::{Supports, Works};
use crate::vocabulary::readout::Shown;
use crate::vocabulary::setup::SpeedFoundBy;
use crate::vocabulary::shop::BudgetLine;
use crate::vocabulary::{Choice, machine, rotor, setup};

impl Sources<'_, '_> {
    /// The smallest residual in each plane, as far as it is more than the noise that the other lines show already.
    pub(super) fn machine(&self, at: &At<'_, '_>, noise: &[&Line]) -> Line {
        let name = setup::MACHINE.words();
        let smallest = |plane: usize| {
            let name = self.state.planes[plane].name;
            self.runner.setup.calibration(name)?.smallest_residual.as_ref()?.get()
        };
        let all: Option<Vec<Unbalance>> = at.planes().map(smallest).collect();
        let Some(all) = all else {
            // Repeated runs do not show what a machine adds each time alike; of its own bearings that is part of the rotor.
            let is_repeated = noise.iter().any(|line| line.known == Known::Measured);
            return match self.runner.setup.supports() {
                Some(Supports::InPlace) if is_repeated => {
                    Line::new(name, Known::DoesNotApply, "the rotor runs in place, and repeated runs show the rest")
                }
                _ => Line::new(name, Known::NotKnown, "the machine states no smallest residual"),
            };
        };
        let parts: Vec<Part> =
            at.planes().map(|plane| Part::at_any_angle(at.of_plane(plane, all[plane]), group(4, plane))).collect();
        let square =
            |parts: &mut dyn Iterator<Item = &Part>| parts.map(|part| part.standard.base().powi(2)).sum::<f64>();
        let (own, seen) = (square(&mut parts.iter()), square(&mut noise.iter().flat_map(|line| &line.parts)));
        // The noise of a reading is the same noise: only what is beyond it counts.
        let beyond = if own > seen { ((own - seen) / own).sqrt() } else { 0.0 };
        if beyond == 0.0 {
            return Line::new(name, Known::Stated, "its smallest residual is in what reading and mounting show");
        }
        let less =
            |part: Part| Part { standard: part.standard * beyond, bound: part.bound.map(|b| b * beyond), ..part };
        Line::new(name, Known::Stated, "the smallest residual of the machine, beyond what readings show of it")
            .with(parts.into_iter().map(less))
    }

    /// A run at another speed within the band reads something else.
    pub(super) fn speed(&self, at: &At<'_, '_>) -> Line {
        let setup = self.runner.setup;
        let speeds: Vec<&Val<Speed>> = self.state.runs.iter().map(|run| &self.runs[*run].speed).collect();
        let mode = self.runner.measuring.sheet.mode();
        let part =
            |share: Ratio| at.planes().map(|plane| Part::up_to(at.of_reading(plane, share), group(5, 0))).collect();
        speed_line(setup, matches!(mode, Some(Mode::Unbalance | Mode::Mass)), &speeds, part)
    }

    /// Near its first bending critical speed a rotor bends towards its unbalance: what acts at bearings then is not what two
    /// planes of a rigid rotor make of it, neither as it was read nor in service.
    pub(super) fn bending(&self, recorder: &Recorder<'_>) -> Line {
        let name = BudgetLine::Bending.words();
        let setup = self.runner.setup;
        let Some(rotor) = &setup.rotor else {
            return Line::new(name, Known::NotKnown, "the setup names no rotor");
        };
        let critical: Val<Speed> = recorder.facts.quantity(&rotor.block, rotor::FIRST_BENDING_CRITICAL);
        if critical.is_left_out() {
            return Line::new(name, Known::ByDefault, "no first bending critical is stated: a rigid rotor");
        }
        let speeds = [&setup.balancing_speed, &rotor.service_speed].into_iter().filter_map(Val::get);
        let highest = speeds.reduce(Speed::max);
        match highest.zip(critical.get()).map(|(highest, critical)| (highest / critical).value() <= RIGID_UP_TO) {
            Some(true) => Line::new(name, Known::DoesNotApply, "all speeds are well below its first bending critical"),
            Some(false) => {
                let why =
                    "a speed near or above its first bending critical: the rotor bends, and is judged as a rigid one";
                Line::new(name, Known::NotKnown, why)
            }
            None => Line::new(name, Known::NotKnown, "no speed is known beside its first bending critical"),
        }
    }
}

/// What runs at other speeds than the balancing speed read otherwise, as a share of what they read. `shows_unbalance` where
/// the readout allows for the speed below resonance.
pub(in crate::book::results::verdict) fn speed_line(
    setup: &SetupResults<'_>,
    shows_unbalance: bool,
    speeds: &[&Val<Speed>],
    parts: impl Fn(Ratio) -> Vec<Part>,
) -> Line {
    let name = BudgetLine::Speed.words();
    if setup.is_on_stand() {
        return Line::new(name, Known::DoesNotApply, "on a static stand the rotor rolls to rest");
    }
    let works = setup.machine.as_ref().and_then(|machine| machine.block.choice(machine::WORKS));
    let Some(works) = works else {
        return Line::new(name, Known::NotKnown, "the machine does not say where it works");
    };
    let departure = |speed: &&Val<Speed>| {
        let share = (speed.get()? / setup.balancing_speed.get()?).value() - 1.0;
        Some(Ratio::new(share))
    };
    let Some(departures) = speeds.iter().map(departure).collect::<Option<Vec<Ratio>>>() else {
        return Line::new(name, Known::NotKnown, "a run does not say its speed");
    };
    let departs = departures.iter().any(|departure| departure.value().abs() > SAME_SPEED);
    let shows = setup.machine.as_ref().and_then(|machine| machine.readout.as_ref()?.shows);
    let power = if shows == Some(Shown::Velocity) { 3 } else { 2 };
    let by_peak = setup.block.choice(setup::SPEED_FOUND_BY) == Some(SpeedFoundBy::Peak);
    let why = match works {
        Works::AboveResonance if departs => {
            if !setup.resonance_ratio.is_known() {
                let why = "a run is at another speed, and no `resonance found at` says how much that changes a reading";
                return Line::new(name, Known::NotKnown, why);
            }
            "near a resonance the reading goes by the speed"
        }
        Works::AboveResonance => return Line::new(name, Known::DoesNotApply, "each run is at the balancing speed"),
        Works::AtResonance if by_peak => return Line::new(name, Known::DoesNotApply, "each run is at the peak"),
        Works::BelowResonance if shows_unbalance => {
            return Line::new(name, Known::DoesNotApply, "the readout allows for the speed");
        }
        Works::AtResonance => "beside its peak the reading is too small",
        Works::BelowResonance if power == 3 => "below resonance a velocity goes by the third power of the speed",
        Works::BelowResonance => "below resonance the reading goes by the square of the speed",
    };
    let share = |departure: &Ratio| match works {
        Works::AtResonance => Some(lacks_beside_resonance(*departure)),
        Works::BelowResonance => Some(wrong_by_power_of_speed(*departure, power)),
        Works::AboveResonance => wrong_above_resonance(setup.resonance_ratio.get()?, *departure).ok(),
    };
    let shares: Option<Vec<Ratio>> = departures.iter().map(share).collect();
    match shares {
        Some(shares) => {
            let worst = shares.into_iter().map(Ratio::value).fold(0.0, f64::max);
            Line::new(name, Known::ByDefault, why).with(parts(Ratio::new(worst)))
        }
        None => Line::new(name, Known::NotKnown, "a run is at or below the resonance that was found"),
    }
}

/// A speed that differs by less is the same.
const SAME_SPEED: f64 = 1e-9;
