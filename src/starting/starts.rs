//! What a starting sheet of each kind begins with.

pub use super::around::Context;
use super::around::{Around, Worked};
use super::draft::Draft;
use crate::sheet::quote;
use crate::syntax::{self, Kind};
use crate::vocabulary::machine::Supports;
use crate::vocabulary::setup::Status;
use crate::vocabulary::shop::BudgetLine;
use crate::vocabulary::trial::TrialMassAfter;
use crate::vocabulary::{
    Choice, FORMAT, arbor, balance_error, calibrate, check_mass, control, instrument, machine, masses, material, plane,
    readout, record, rotor, run, setup, shop, tolerance, trial,
};

/// What can be begun.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Start {
    Item(Kind),
    /// A setup whose planes are read by trial runs, where nothing is calibrated.
    SetupByTrials,
}

impl Start {
    pub const ALL: [Self; 9] = [
        Self::Item(Kind::Rotor),
        Self::Item(Kind::Setup),
        Self::SetupByTrials,
        Self::Item(Kind::Record),
        Self::Item(Kind::Machine),
        Self::Item(Kind::Masses),
        Self::Item(Kind::Arbor),
        Self::Item(Kind::Material),
        Self::Item(Kind::Shop),
    ];

    /// As a person would say it: `setup by trial runs`.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Item(Kind::Masses) => "set of masses",
            Self::Item(kind) => kind.words(),
            Self::SetupByTrials => "setup by trial runs",
        }
    }

    pub const fn kind(self) -> Kind {
        match self {
            Self::Item(kind) => kind,
            Self::SetupByTrials => Kind::Setup,
        }
    }

    /// The sheet to begin with; what it refers to is taken from the book where there is one.
    pub fn draft(self, name: &str, context: &Context<'_>) -> Draft {
        let draft = Draft::named(self.kind(), name);
        match self {
            Self::SetupByTrials => setup_by_trials(draft, &Around::of(context)),
            Self::Item(kind) => match kind {
                Kind::Shop => shop(draft),
                Kind::Material => draft.open(material::DENSITY).ask(material::SOURCE),
                Kind::Masses => draft.open(masses::VALUES).open(masses::UNCERTAINTY),
                Kind::Machine => machine(draft),
                Kind::Arbor => arbor(draft),
                Kind::Rotor => rotor(draft),
                Kind::Setup => setup(draft, &Around::of(context)),
                Kind::Record => record(draft, &Worked::of(context)),
                _ => draft,
            },
        }
    }
}

fn shop(draft: Draft) -> Draft {
    let scale = Draft::named(Kind::Instrument, "bench scale")
        .open(instrument::MEASURES)
        .open(instrument::RANGE)
        .open(instrument::RESOLUTION);
    let needs = BudgetLine::ASKED_FOR.map(Choice::words).join(", ");
    draft.holds(shop::FORMAT, FORMAT.to_string()).open(shop::SHOW_IN).propose(shop::VERDICT_NEEDS, needs).block(scale)
}

fn machine(draft: Draft) -> Draft {
    let readout = Draft::new(Kind::Readout)
        .open(readout::SHOWS)
        .ask(readout::UNIT)
        .open(readout::FULL_SCALE)
        .ask(readout::SMALLEST_STEP)
        .ask(readout::SCATTER)
        .open(readout::ANGLES)
        .ask(readout::STROBE_SHOWS)
        .ask(readout::ANGLES_COUNT);
    let control = Draft::named(Kind::Control, "left strength").open(control::RANGE);
    draft
        .open(machine::SUPPORTS)
        .ask(machine::WORKS)
        .ask(machine::DRIVE)
        .open(machine::ROTOR_MASS)
        .ask(machine::SWING)
        .ask(machine::BETWEEN_SUPPORTS)
        .open(machine::BALANCING_SPEED)
        .holds(machine::CHANNELS, "left, right")
        .ask(machine::MINIMUM_ACHIEVABLE_RESIDUAL_UNBALANCE)
        .ask(machine::TESTED)
        .block(readout)
        .block(control)
        .propose_block(error(BudgetLine::Drive))
}

/// What somebody found that a line of the budget comes to.
fn error(line: BudgetLine) -> Draft {
    Draft::named(Kind::BalanceError, line.words()).open(balance_error::AMOUNT).open(balance_error::SOURCE)
}

fn arbor(draft: Draft) -> Draft {
    draft
        .open(arbor::MASS)
        .ask(arbor::UNBALANCE_LEFT)
        .ask(arbor::UNBALANCE_RIGHT)
        .ask(arbor::RUNOUT)
        .ask(arbor::DATE)
        .ask(arbor::FIT_CLEARANCE)
        .ask(arbor::CENTRING_REPEATABILITY)
        .open(arbor::ZERO_ANGLE)
}

fn rotor(draft: Draft) -> Draft {
    let plane = |name: &str| {
        let plane = Draft::named(Kind::Plane, name).open(plane::AT).open(plane::RADIUS);
        plane.ask(plane::CORRECT).ask(plane::METHOD)
    };
    let tolerance = Draft::new(Kind::Tolerance).open(tolerance::GRADE).ask(tolerance::PLANES).open(tolerance::SOURCE);
    draft
        .ask(rotor::DRAWING)
        .open(rotor::MASS)
        .open(rotor::MASS_CENTRE)
        .open(rotor::DATUM)
        .open(rotor::BEARINGS)
        .open(rotor::HIGHEST_SERVICE_SPEED)
        .open(rotor::HIGHEST_SAFE_SPEED)
        .ask(rotor::FIRST_BENDING_CRITICAL)
        .open(rotor::ZERO_ANGLE)
        .ask(rotor::ANGLES_COUNT)
        .ask(rotor::ROTATION)
        .block(plane("left"))
        .block(plane("right"))
        .block(tolerance)
}

fn setup(draft: Draft, around: &Around) -> Draft {
    // In its own bearings a rotor is worked by trial runs: there is nothing to set with a calibration mass.
    if around.supports == Some(Supports::InPlace) {
        return setup_by_trials(draft, around);
    }
    // A machine with hard supports is set by dimensions; a check mass shows whether they are right.
    if around.supports == Some(Supports::Hard) && around.planes.len() <= 2 {
        let plane = around.planes.first().map_or("?".to_owned(), |plane| quote::as_value(plane));
        let check = Draft::new(Kind::CheckMass).holds(check_mass::PLANE, plane).open(check_mass::MASS);
        let check = check.open(check_mass::RADIUS).open(check_mass::WITHIN);
        let draft = on_machine(draft, around).ask(setup::INDICATES);
        return set(draft, around).propose_block(check).propose_block(error(BudgetLine::Mounting));
    }
    let calibrations = around.planes.iter().map(|plane| calibrate(plane));
    let draft = on_machine(draft, around).ask(setup::INDICATES);
    let draft = match &around.tolerance_reads {
        Some(usual) => draft.holds(setup::TOLERANCE_READS, usual),
        None => draft.open(setup::TOLERANCE_READS),
    };
    set(draft, around).blocks(calibrations).propose_block(error(BudgetLine::Mounting))
}

/// What is set up in a plane.
pub(super) fn calibrate(plane: &str) -> Draft {
    let calibrate = Draft::named(Kind::Calibrate, plane).open(calibrate::MASS).open(calibrate::RADIUS);
    calibrate.ask(calibrate::ANGLE).ask(calibrate::TAKEN_AS)
}

/// The head of a fact that each channel has: `reading left`.
pub(super) fn of_channel(block: Kind, key: &str, channel: &str) -> String {
    format!("{key} {}", quote::after_key(block, key, channel))
}

/// One run as found, then one with a mass in each plane.
fn setup_by_trials(draft: Draft, around: &Around) -> Draft {
    let read = |trial: Draft| {
        let trial = trial.open(trial::SPEED);
        let head = |channel: &String| of_channel(Kind::Trial, trial::READING.words(), channel);
        around.channels.iter().fold(trial, |trial, channel| trial.open(head(channel)))
    };
    let as_found = read(Draft::named(Kind::Trial, "as found"));
    let with_mass = around.planes.iter().map(|plane| {
        let trial =
            Draft::named(Kind::Trial, &format!("mass in {plane}")).holds(trial::MASS_IN, quote::as_value(plane));
        let trial = trial.open(trial::MASS).open(trial::RADIUS).open(trial::ANGLE);
        read(trial.holds(trial::TRIAL_MASS, TrialMassAfter::TakenOff.words()))
    });
    let mut draft = on_machine(draft, around);
    if around.supports == Some(Supports::InPlace) {
        for channel in &around.channels {
            draft = draft.ask(of_channel(Kind::Setup, setup::VIBRATION_LIMIT.words(), channel));
        }
    }
    let draft = draft.ask(setup::INDICATES);
    set(draft, around).block(as_found).blocks(with_mass)
}

/// Which rotor, on which machine, how fast, and which channel reads which plane.
fn on_machine(draft: Draft, around: &Around) -> Draft {
    let mut draft =
        draft.refers(setup::ROTOR, around.rotor.as_deref()).refers(setup::MACHINE, around.machine.as_deref());
    if let Some(masses) = &around.masses {
        draft = draft.holds(setup::MASSES, syntax::quote(masses));
    }
    let draft = draft.holds(setup::STATUS, Status::Draft.words()).open(setup::BALANCING_SPEED);
    let draft = match around.supports {
        Some(Supports::Hard) => draft.open(setup::SUPPORTS_AT),
        _ => draft.ask(setup::SUPPORTS_AT),
    };
    // With as many planes as channels, each channel reads the plane that comes as far from the left as it does.
    let are_as_many = around.channels.len() == around.planes.len();
    around.channels.iter().enumerate().fold(draft, |draft, (n, channel)| {
        let head = of_channel(Kind::Setup, setup::CHANNEL.words(), channel);
        match around.planes.get(n).filter(|_| are_as_many) {
            Some(plane) => draft.holds(head, quote::as_value(plane)),
            None => draft.open(head),
        }
    })
}

/// What the controls of the machine are set to.
fn set(draft: Draft, around: &Around) -> Draft {
    if around.controls.is_empty() {
        return draft;
    }
    let settings = Draft::new(Kind::Settings);
    let set = |settings: Draft, control: &String| settings.open(quote::as_head(Kind::Settings, control));
    draft.block(around.controls.iter().fold(settings, set))
}

fn record(draft: Draft, worked: &Worked) -> Draft {
    let mut run = Draft::named(Kind::Run, "as found").open(run::SPEED);
    if worked.has_masses {
        run = run.open(run::CALIBRATION_MASSES);
    }
    for channel in &worked.channels {
        run = run.open(of_channel(Kind::Run, run::READING.words(), channel));
    }
    draft
        .refers(record::SETUP, worked.setup.as_deref())
        .open(record::SERIAL)
        .open(record::DATE)
        .open(record::BY)
        .block(run)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_of_item_can_be_begun() {
        for kind in Kind::ITEMS {
            assert!(Start::ALL.contains(&Start::Item(kind)), "{kind}");
            let begun = Start::Item(kind).draft("x", &Context::default()).complete().text();
            assert!(begun.lines().count() > 2, "{begun}");
        }
    }
}
