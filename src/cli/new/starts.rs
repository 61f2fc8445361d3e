//! What a starting sheet of each kind begins with. Facts whose wrong guess would hurt are asked for, not shown.

use super::sheet::{Draft, quoted, word};
use crate::book::Book;
use crate::sheet::{Block, FieldValue};
use crate::syntax::Kind;
use crate::vocabulary::setup::Status;
use crate::vocabulary::shop::BudgetLine;
use crate::vocabulary::{
    Choice, FORMAT, arbor, balance_error, calibrate, control, instrument, machine, masses, material, plane, readout,
    record, rotor, run, setup, shop, tolerance,
};

/// What a sheet starts from: the book it is begun in, and the facts that are stated for it.
pub(super) struct Context<'a> {
    pub book: Option<&'a Book>,
    pub stated: &'a [(String, String)],
}

impl Context<'_> {
    /// The name of the item that the sheet refers to: the one that is stated, else the first of the book.
    fn name(&self, kind: Kind) -> Option<String> {
        let stated = self.stated.iter().find(|(fact, _)| fact == kind.words());
        let first = self.book.and_then(|book| book.names_of(kind).next());
        match (stated, first) {
            (Some((_, name)), _) => Some(name.trim_matches('"').to_owned()),
            (None, Some((name, _))) => Some(name.to_owned()),
            (None, None) => None,
        }
    }

    fn item(&self, kind: Kind) -> Option<&Block> {
        let book = self.book?;
        book.find(kind, &self.name(kind)?).ok().map(|id| book.item(id))
    }
}

/// A sheet of this kind; what it refers to is taken from the book where there is one.
pub(super) fn start(kind: Kind, name: &str, context: &Context<'_>) -> Draft {
    let draft = Draft::named(kind, name);
    match kind {
        Kind::Shop => shop(draft),
        Kind::Material => draft.open(material::DENSITY).ask(material::SOURCE),
        Kind::Masses => draft.open(masses::VALUES).open(masses::UNCERTAINTY),
        Kind::Machine => machine(draft),
        Kind::Arbor => arbor(draft),
        Kind::Rotor => rotor(draft),
        Kind::Setup => setup(draft, &Around::of(context)),
        Kind::Record => record(draft, &Around::of(context)),
        _ => draft,
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
    let mut draft =
        draft.refers(setup::ROTOR, around.rotor.as_deref()).refers(setup::MACHINE, around.machine.as_deref());
    if let Some(masses) = &around.masses {
        draft = draft.holds(setup::MASSES, quoted(masses));
    }
    let mut draft =
        draft.holds(setup::STATUS, Status::Draft.words()).open(setup::BALANCING_SPEED).ask(setup::SUPPORTS_AT);
    for (channel, plane) in around.channels.iter().zip(&around.planes) {
        draft = draft.holds(format!("{} {}", setup::CHANNEL, word(channel)), word(plane));
    }
    let mut settings = Draft::new(Kind::Settings);
    for control in &around.controls {
        settings = settings.holds(quoted(control), "as found");
    }
    let calibrations = around.planes.iter().map(|plane| {
        let calibrate = Draft::named(Kind::Calibrate, plane).open(calibrate::MASS).open(calibrate::RADIUS);
        calibrate.ask(calibrate::ANGLE).ask(calibrate::TAKEN_AS)
    });
    if around.is_in_place {
        for channel in &around.channels {
            draft = draft.ask(format!("{} {}", setup::VIBRATION_LIMIT, word(channel)));
        }
    }
    let draft = draft.ask(setup::INDICATES).open(setup::TOLERANCE_READS);
    let draft = if around.controls.is_empty() { draft } else { draft.block(settings) };
    draft.blocks(calibrations).propose_block(error(BudgetLine::Mounting))
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
