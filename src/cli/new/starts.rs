//! What a starting sheet of each kind begins with. Facts whose wrong guess would hurt are asked for, not shown.

use super::sheet::{Draft, quoted, word};
use crate::book::Book;
use crate::sheet::{Block, FieldValue};
use crate::syntax::Kind;
use crate::vocabulary::instrument::Measures;
use crate::vocabulary::machine::Supports;
use crate::vocabulary::readout::{AngleDisplay, Shown};
use crate::vocabulary::run::CalibrationMasses;
use crate::vocabulary::setup::Status;
use crate::vocabulary::{
    Choice, FORMAT, arbor, calibrate, control, instrument, machine, masses, material, plane, readout, record, rotor,
    run, setup, shop, tolerance,
};

/// What a sheet starts from: the book it is begun in, and the facts that are stated for it.
pub(super) struct Context<'a> {
    pub book: Option<&'a Book>,
    pub stated: &'a [(String, String)],
}

impl Context<'_> {
    /// The name of the item that the sheet refers to: the one that is stated, else the first of the book.
    fn name(&self, kind: Kind) -> String {
        let stated = self.stated.iter().find(|(fact, _)| fact == kind.words());
        let first = self.book.and_then(|book| book.names_of(kind).next());
        match (stated, first) {
            (Some((_, name)), _) => name.trim_matches('"').to_owned(),
            (None, Some((name, _))) => name.to_owned(),
            (None, None) => format!("new {kind}"),
        }
    }

    fn item(&self, kind: Kind) -> Option<&Block> {
        let book = self.book?;
        book.find(kind, &self.name(kind)).ok().map(|id| book.item(id))
    }
}

/// A sheet of this kind; what it refers to is taken from the book where there is one.
pub(super) fn start(kind: Kind, name: &str, context: &Context<'_>) -> Draft {
    let draft = Draft::named(kind, name);
    match kind {
        Kind::Shop => shop(draft),
        Kind::Material => draft.example(material::DENSITY, "2.70 g/cm³ ± 0.05 g/cm³").ask(material::SOURCE),
        Kind::Masses => draft.example(masses::VALUES, "1.00 g, 2.00 g, 5.00 g").example(masses::UNCERTAINTY, "0.01 g"),
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
        .example(instrument::MEASURES, Measures::Mass.words())
        .example(instrument::RANGE, "0 g to 500 g")
        .example(instrument::RESOLUTION, "0.01 g");
    draft.holds(shop::FORMAT, FORMAT.to_string()).example(shop::UNBALANCE_UNIT, "g·mm").block(scale)
}

fn machine(draft: Draft) -> Draft {
    let readout = Draft::new(Kind::Readout)
        .example(readout::SHOWS, Shown::Divisions.words())
        .example(readout::FULL_SCALE, "30 div")
        .ask(readout::SMALLEST_STEP)
        .example(readout::ANGLES, AngleDisplay::NotShown.words());
    let control = Draft::named(Kind::Control, "gain").example(control::RANGE, "0 to 999");
    draft
        .example(machine::SUPPORTS, Supports::Soft.words())
        .ask(machine::WORKS)
        .ask(machine::DRIVE)
        .example(machine::ROTOR_MASS, "0.5 kg to 50 kg")
        .ask(machine::SWING)
        .ask(machine::BETWEEN_SUPPORTS)
        .example(machine::BALANCING_SPEED, "400 rpm to 3000 rpm")
        .example(machine::CHANNELS, "left, right")
        .ask(machine::MINIMUM_ACHIEVABLE_RESIDUAL_UNBALANCE)
        .block(readout)
        .block(control)
}

fn arbor(draft: Draft) -> Draft {
    draft
        .example(arbor::MASS, "3.00 kg")
        .ask(arbor::UNBALANCE_LEFT)
        .ask(arbor::UNBALANCE_RIGHT)
        .ask(arbor::DATE)
        .ask(arbor::CENTRING_REPEATABILITY)
        .example(arbor::ZERO_ANGLE, quoted("scribed line on the flange"))
}

fn rotor(draft: Draft) -> Draft {
    let plane = |name: &str, at: &str| {
        let plane = Draft::named(Kind::Plane, name).example(plane::AT, at).example(plane::RADIUS, "120 mm");
        plane.ask(plane::CORRECT).ask(plane::METHOD)
    };
    let tolerance = Draft::new(Kind::Tolerance)
        .example(tolerance::GRADE, "G 6.3")
        .example(tolerance::SOURCE, quoted("drawing note"));
    draft
        .ask(rotor::DRAWING)
        .example(rotor::MASS, "12.0 kg")
        .example(rotor::MASS_CENTRE, "150 mm")
        .example(rotor::DATUM, quoted("shoulder of the drive-end bearing"))
        .example(rotor::BEARINGS, "0 mm, 300 mm")
        .example(rotor::HIGHEST_SERVICE_SPEED, "3000 rpm")
        .example(rotor::HIGHEST_SAFE_SPEED, "3600 rpm")
        .example(rotor::ZERO_ANGLE, quoted("keyway"))
        .ask(rotor::ANGLES_COUNT)
        .block(plane("left", "60 mm"))
        .block(plane("right", "240 mm"))
        .block(tolerance)
}

fn setup(draft: Draft, around: &Around) -> Draft {
    let mut draft = draft
        .example(setup::ROTOR, quoted(&around.rotor))
        .example(setup::MACHINE, quoted(&around.machine))
        .holds(setup::STATUS, Status::Draft.words())
        .example(setup::BALANCING_SPEED, "1000 rpm")
        .ask(setup::SUPPORTS_AT);
    for (channel, plane) in around.channels.iter().zip(&around.planes) {
        draft = draft.example(format!("{} {}", setup::CHANNEL, word(channel)), word(plane));
    }
    let mut settings = Draft::new(Kind::Settings);
    for control in &around.controls {
        settings = settings.holds(quoted(control), "as found");
    }
    let calibrations = around.planes.iter().map(|plane| {
        let calibrate = Draft::named(Kind::Calibrate, plane)
            .example(calibrate::MASS, "10.00 g")
            .example(calibrate::RADIUS, "120 mm");
        calibrate.ask(calibrate::ANGLE).ask(calibrate::TAKEN_AS)
    });
    let draft = draft.ask(setup::INDICATES).example(setup::TOLERANCE_READS, "1 div");
    let draft = if around.controls.is_empty() { draft } else { draft.block(settings) };
    draft.blocks(calibrations)
}

fn record(draft: Draft, around: &Around) -> Draft {
    let mut run = Draft::named(Kind::Run, "before")
        .ask(run::SPEED)
        .example(run::CALIBRATION_MASSES, CalibrationMasses::Off.words());
    for channel in &around.channels {
        run = run.ask(format!("{} {}", run::READING, word(channel)));
    }
    draft.example(record::SETUP, quoted(&around.setup)).ask(record::SERIAL).ask(record::DATE).ask(record::BY).block(run)
}

/// Names that a sheet refers to: of the book where it has them, else of the other starting sheets.
struct Around {
    rotor: String,
    planes: Vec<String>,
    machine: String,
    channels: Vec<String>,
    controls: Vec<String>,
    setup: String,
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
            controls: machine.map_or_else(|| vec!["gain".to_owned()], |machine| inner(machine, Kind::Control)),
            setup: context.name(Kind::Setup),
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
