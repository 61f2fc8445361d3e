//! What an amount on a readout means: the unbalance of a plane, and back.

use crate::book::derive::Val;
use crate::book::formulas as by;
use crate::book::formulas::Formula;
use crate::book::results::values::entry::{Recorder, Spot};
use crate::book::vectors::{Gathered, Numbers};
use crate::mechanics::Computed;
use crate::mechanics::calibration as physics;
use crate::mechanics::correction::mass_at_radius;
use crate::units::{Amount, Indication, Length, Mass, Unbalance, Unit};
use crate::vocabulary::ResultSpec;
use crate::vocabulary::readout::Shown;
use crate::vocabulary::result;

/// Said of what follows from an unbalance that is read.
pub(in crate::book::results) const SHOWS_NO_UNBALANCE: &str =
    "the machine's readout shows neither divisions nor unbalance nor mass at a set radius";

/// How a readout shows an unbalance.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Mode {
    /// In divisions, of which a plane's tolerance is demanded to read so many.
    Divisions,
    Unbalance,
    /// As the mass at the correction radius, which is keyed in.
    Mass,
}

impl Mode {
    /// Of what a readout shows; what shakes is no unbalance, and only trial runs tell what it means.
    pub const fn of(shown: Shown) -> Option<Self> {
        match shown {
            Shown::Divisions => Some(Mode::Divisions),
            Shown::Unbalance => Some(Mode::Unbalance),
            Shown::MassAtSetRadius => Some(Mode::Mass),
            Shown::Displacement | Shown::Velocity => None,
        }
    }
}

/// The readout as it shows one plane, with what its amounts rest on.
pub(in crate::book::results) struct Reads<'v> {
    pub mode: Mode,
    /// The readout's own.
    pub unit: Unit,
    pub tolerance: &'v Val<Unbalance>,
    pub at_tolerance: &'v Val<Indication>,
    /// The correction radius, as it is keyed in.
    pub radius: &'v Val<Length>,
}

/// One of mass and radius of a calibration, from its reading and the other.
struct Solve<A, T> {
    spec: &'static ResultSpec,
    /// In divisions, in unbalance, in mass.
    formulas: [&'static Formula; 3],
    in_divisions: fn(Indication, A, Unbalance, Indication) -> Computed<T>,
    of_unbalance: fn(Unbalance, A) -> Computed<T>,
}

impl Reads<'_> {
    /// What a mass at a radius reads.
    pub fn reading_of(
        &self,
        recorder: &Recorder<'_>,
        spot: &Spot,
        spec: &'static ResultSpec,
        (mass, radius): (&Val<Mass>, &Val<Length>),
    ) -> Val<Indication> {
        let unit = self.unit;
        match self.mode {
            Mode::Divisions => {
                let inputs = (mass, radius, self.tolerance, self.at_tolerance);
                let f = |(m, r, tolerance, at): (Mass, Length, _, _)| physics::reading_to_set(m * r, tolerance, at);
                recorder.on_the_way(spot, spec, unit, &by::READING_TO_SET, inputs, f)
            }
            Mode::Unbalance => {
                let f = |(m, r): (Mass, Length)| Ok(Indication::showing(m * r));
                recorder.on_the_way(spot, spec, unit, &by::READING_AS_UNBALANCE, (mass, radius), f)
            }
            Mode::Mass => {
                let inputs = (mass, radius, self.radius);
                let f = |(m, r, at): (Mass, Length, _)| physics::indicated_mass(m * r, at).map(Indication::showing);
                recorder.on_the_way(spot, spec, unit, &by::READING_AS_MASS, inputs, f)
            }
        }
    }

    /// The calibration mass that gives a reading at a radius.
    pub fn mass_for(
        &self,
        recorder: &mut Recorder<'_>,
        spot: &Spot,
        reading: &Val<Indication>,
        radius: &Val<Length>,
    ) -> Val<Mass> {
        let solve = Solve {
            spec: &result::CALIBRATION_MASS,
            formulas: [&by::MASS_FOR_READING, &by::MASS_FOR_UNBALANCE, &by::MASS_FOR_SHOWN_MASS],
            in_divisions: physics::mass_for_reading,
            of_unbalance: mass_at_radius,
        };
        self.to_unbalance(recorder, spot, Unit::GRAM, &solve, (reading, radius))
    }

    /// The radius at which a calibration mass gives a reading.
    pub fn radius_for(
        &self,
        recorder: &mut Recorder<'_>,
        spot: &Spot,
        unit: Unit,
        reading: &Val<Indication>,
        mass: &Val<Mass>,
    ) -> Val<Length> {
        let solve = Solve {
            spec: &result::CALIBRATION_RADIUS,
            formulas: [&by::RADIUS_FOR_READING, &by::RADIUS_FOR_UNBALANCE, &by::RADIUS_FOR_SHOWN_MASS],
            in_divisions: physics::radius_for_reading,
            of_unbalance: physics::radius_of_mass,
        };
        self.to_unbalance(recorder, spot, unit, &solve, (reading, mass))
    }

    /// By the unbalance that a reading means.
    fn to_unbalance<A: Amount, T: Amount>(
        &self,
        recorder: &mut Recorder<'_>,
        spot: &Spot,
        unit: Unit,
        solve: &Solve<A, T>,
        (reading, given): (&Val<Indication>, &Val<A>),
    ) -> Val<T> {
        let (spec, [in_divisions, in_unbalance, in_mass]) = (solve.spec, solve.formulas);
        match self.mode {
            Mode::Divisions => {
                let inputs = (reading, self.at_tolerance, self.tolerance, given);
                let f = |(reading, at, tolerance, given)| (solve.in_divisions)(reading, given, tolerance, at);
                recorder.work_out(spot, spec, unit, in_divisions, inputs, f)
            }
            Mode::Unbalance => {
                let f = |(reading, given): (Indication, A)| (solve.of_unbalance)(reading.shown(), given);
                recorder.work_out(spot, spec, unit, in_unbalance, (reading, given), f)
            }
            Mode::Mass => {
                let inputs = (reading, self.radius, given);
                let f = |(reading, at, given): (Indication, Length, A)| {
                    (solve.of_unbalance)(reading.shown::<Mass>() * at, given)
                };
                recorder.work_out(spot, spec, unit, in_mass, inputs, f)
            }
        }
    }
}

/// What one unit of a readout means in a plane.
pub(in crate::book::results) enum Worth {
    /// The readout shows unbalance.
    Itself(Option<Box<Gain>>),
    /// It shows the mass at this radius.
    AtRadius(Val<Length>, Option<Box<Gain>>),
    /// So much unbalance.
    Of(Val<Unbalance>),
}

/// What a calibration mass should read on a readout in unbalance or mass, and what the readout was set to with it.
pub(in crate::book::results) struct Gain {
    pub should: Val<Indication>,
    pub set: Val<Indication>,
}

/// The same on its way into a formula.
#[derive(Clone, Copy)]
pub(in crate::book::results) struct WorthAt {
    pub unit: UnitAt,
    /// Of a calibration mass, what it should read and what was set.
    gain: Option<[usize; 2]>,
}

/// What one unit means, before the gain.
#[derive(Clone, Copy)]
pub(in crate::book::results) enum UnitAt {
    Itself,
    Radius(usize),
    Of(usize),
}

impl Worth {
    /// What an amount of the readout is worth; nothing while that is not known.
    pub fn of(&self, reading: Indication) -> Option<Unbalance> {
        Some(match self {
            Worth::Itself(_) => reading.shown(),
            Worth::AtRadius(radius, _) => reading.shown::<Mass>() * radius.get()?,
            Worth::Of(one) => one.get()? * reading.value(),
        })
    }

    pub fn gather(&self, gathered: &mut Gathered) -> WorthAt {
        let (unit, gain) = match self {
            Worth::Itself(gain) => (UnitAt::Itself, gain.as_ref()),
            Worth::AtRadius(radius, gain) => (UnitAt::Radius(gathered.value(radius)), gain.as_ref()),
            Worth::Of(one) => (UnitAt::Of(gathered.value(one)), None),
        };
        let gain = gain.map(|gain| [&gain.should, &gain.set].map(|reading| gathered.silently(reading)));
        WorthAt { unit, gain }
    }
}

impl WorthAt {
    /// The unbalance that an amount on the readout means.
    pub fn unbalance(self, numbers: &Numbers, reading: Indication) -> Unbalance {
        let shown = match self.unit {
            UnitAt::Itself => reading.shown(),
            UnitAt::Radius(at) => reading.shown::<Mass>() * numbers.value::<Length>(at),
            UnitAt::Of(at) => numbers.value::<Unbalance>(at) * reading.value(),
        };
        match self.gain.map(|gain| gain.map(|at| numbers.value::<Indication>(at))) {
            Some([should, set]) => shown * (should / set).value(),
            None => shown,
        }
    }
}
