//! What a starting sheet of each kind begins with.

use super::draft::{Draft, quoted, word};
use crate::book::Book;
use crate::sheet::{Block, FieldValue};
use crate::syntax::Kind;
use crate::vocabulary::setup::Status;
use crate::vocabulary::shop::BudgetLine;
use crate::vocabulary::trial::TrialMassAfter;
use crate::vocabulary::{
    Choice, FORMAT, arbor, balance_error, calibrate, control, instrument, machine, masses, material, plane, readout,
    record, rotor, run, setup, shop, tolerance, trial,
};

/// What a sheet starts from: the book it is begun in, and the facts that are stated for it.
#[derive(Clone, Copy)]
pub struct Context<'a> {
    pub book: Option<&'a Book>,
    pub stated: &'a [(String, String)],
    /// Whether the first of several rotors or machines is taken; else it is left open which.
    pub takes_first: bool,
}

impl Context<'_> {
    /// The name of the item that the sheet refers to: the one that is stated, else that of the book.
    fn name(&self, kind: Kind) -> Option<String> {
        if let Some((_, name)) = self.stated.iter().find(|(fact, _)| fact == kind.words()) {
            return Some(name.trim_matches('"').to_owned());
        }
        let mut names = self.book?.names_of(kind);
        let first = names.next().map(|(name, _)| name.to_owned());
        first.filter(|_| self.takes_first || names.next().is_none())
    }

    fn item(&self, kind: Kind) -> Option<&Block> {
        let book = self.book?;
        book.find(kind, &self.name(kind)?).ok().map(|id| book.item(id))
    }
}

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
                Kind::Record => record(draft, &Around::of(context)),
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
        .open(readout::FULL_SCALE)
        .ask(readout::SMALLEST_STEP)
        .ask(readout::SCATTER)
        .open(readout::ANGLES);
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
        .block(plane("left"))
        .block(plane("right"))
        .block(tolerance)
}

fn setup(draft: Draft, around: &Around) -> Draft {
    let calibrations = around.planes.iter().map(|plane| {
        let calibrate = Draft::named(Kind::Calibrate, plane).open(calibrate::MASS).open(calibrate::RADIUS);
        calibrate.ask(calibrate::ANGLE).ask(calibrate::TAKEN_AS)
    });
    let mut draft = on_machine(draft, around);
    if around.is_in_place {
        for channel in &around.channels {
            draft = draft.ask(format!("{} {}", setup::VIBRATION_LIMIT, word(channel)));
        }
    }
    let draft = draft.ask(setup::INDICATES).open(setup::TOLERANCE_READS);
    set(draft, around).blocks(calibrations).propose_block(error(BudgetLine::Mounting))
}

/// One run as found, then one with a mass in each plane.
fn setup_by_trials(draft: Draft, around: &Around) -> Draft {
    let read = |trial: Draft| {
        let trial = trial.open(trial::SPEED);
        around.channels.iter().fold(trial, |trial, channel| trial.open(format!("{} {}", trial::READING, word(channel))))
    };
    let as_found = read(Draft::named(Kind::Trial, "as found"));
    let with_mass = around.planes.iter().map(|plane| {
        let trial = Draft::named(Kind::Trial, &format!("mass in {plane}")).holds(trial::MASS_IN, word(plane));
        let trial = trial.open(trial::MASS).open(trial::RADIUS).open(trial::ANGLE);
        read(trial.holds(trial::TRIAL_MASS, TrialMassAfter::TakenOff.words()))
    });
    let draft = on_machine(draft, around).ask(setup::INDICATES);
    set(draft, around).block(as_found).blocks(with_mass)
}

/// Which rotor, on which machine, how fast, and which channel reads which plane.
fn on_machine(draft: Draft, around: &Around) -> Draft {
    let mut draft =
        draft.refers(setup::ROTOR, around.rotor.as_deref()).refers(setup::MACHINE, around.machine.as_deref());
    if let Some(masses) = &around.masses {
        draft = draft.holds(setup::MASSES, quoted(masses));
    }
    let draft = draft.holds(setup::STATUS, Status::Draft.words()).open(setup::BALANCING_SPEED).ask(setup::SUPPORTS_AT);
    let read = around.channels.iter().zip(&around.planes);
    read.fold(draft, |draft, (channel, plane)| {
        draft.holds(format!("{} {}", setup::CHANNEL, word(channel)), word(plane))
    })
}

/// What the controls of the machine are set to.
fn set(draft: Draft, around: &Around) -> Draft {
    if around.controls.is_empty() {
        return draft;
    }
    let settings = Draft::new(Kind::Settings);
    let set = |settings: Draft, control: &String| settings.holds(quoted(control), "as found");
    draft.block(around.controls.iter().fold(settings, set))
}

fn record(draft: Draft, around: &Around) -> Draft {
    let mut run = Draft::named(Kind::Run, "before").ask(run::SPEED).open(run::CALIBRATION_MASSES);
    for channel in &around.channels {
        run = run.ask(format!("{} {}", run::READING, word(channel)));
    }
    draft
        .refers(record::SETUP, around.setup.as_deref())
        .ask(record::SERIAL)
        .ask(record::DATE)
        .ask(record::BY)
        .block(run)
}

/// Names that a sheet refers to, of the book where it has them.
struct Around {
    rotor: Option<String>,
    planes: Vec<String>,
    machine: Option<String>,
    channels: Vec<String>,
    controls: Vec<String>,
    setup: Option<String>,
    /// The set that calibration masses are taken from.
    masses: Option<String>,
    /// Whether the machine is the rotor's own place.
    is_in_place: bool,
}

impl Around {
    fn of(context: &Context<'_>) -> Self {
        let rotor = context.item(Kind::Rotor);
        let machine = context.item(Kind::Machine);
        let or_two = |found: Vec<String>| match found.is_empty() {
            true => vec!["left".to_owned(), "right".to_owned()],
            false => found,
        };
        Self {
            rotor: context.name(Kind::Rotor),
            planes: or_two(rotor.map(|rotor| inner(rotor, Kind::Plane)).unwrap_or_default()),
            machine: context.name(Kind::Machine),
            channels: or_two(machine.map(channels).unwrap_or_default()),
            controls: machine.map_or_else(|| vec!["left strength".to_owned()], |machine| inner(machine, Kind::Control)),
            setup: context.name(Kind::Setup),
            masses: context.name(Kind::Masses),
            is_in_place: machine.is_some_and(|one| one.choice(machine::SUPPORTS) == Some(machine::Supports::InPlace)),
        }
    }
}

fn inner(item: &Block, kind: Kind) -> Vec<String> {
    item.inner(kind).map(|block| block.name_text().to_owned()).filter(|name| !name.is_empty()).collect()
}

fn channels(machine: &Block) -> Vec<String> {
    match machine.field(machine::CHANNELS).map(|field| &field.value) {
        Some(FieldValue::Names(names)) => names.iter().map(|name| name.text.to_string()).collect(),
        _ => Vec::new(),
    }
}
