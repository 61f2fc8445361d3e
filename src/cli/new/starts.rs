//! What a starting sheet of each kind begins with. Facts whose wrong guess would hurt are asked for, not shown.

use super::sheet::{Draft, quoted, word};
use crate::book::Book;
use crate::sheet::{Block, FieldValue};
use crate::syntax::Kind;
use crate::vocabulary::{FORMAT, machine};

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
        Kind::Material => draft.example("density", "2.70 g/cm³ ± 0.05 g/cm³").ask("source"),
        Kind::Masses => draft.example("values", "1.00 g, 2.00 g, 5.00 g").example("uncertainty", "0.01 g"),
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
        .example("measures", "mass")
        .example("range", "0 g to 500 g")
        .example("resolution", "0.01 g");
    draft.holds("format", FORMAT.to_string()).example("unbalance unit", "g·mm").block(scale)
}

fn machine(draft: Draft) -> Draft {
    let readout = Draft::new(Kind::Readout)
        .example("shows", "div")
        .example("full scale", "30 div")
        .ask("smallest step")
        .example("angles", "none");
    let control = Draft::named(Kind::Control, "gain").example("range", "0 to 999");
    draft
        .example("supports", "soft")
        .ask("works")
        .ask("drive")
        .example("rotor mass", "0.5 kg to 50 kg")
        .ask("swing")
        .ask("between supports")
        .example("balancing speed", "400 rpm to 3000 rpm")
        .example("channels", "left, right")
        .ask("minimum achievable residual unbalance")
        .block(readout)
        .block(control)
}

fn arbor(draft: Draft) -> Draft {
    draft
        .example("mass", "3.00 kg")
        .ask("unbalance left")
        .ask("unbalance right")
        .ask("date")
        .ask("centring repeatability")
        .example("zero angle", quoted("scribed line on the flange"))
}

fn rotor(draft: Draft) -> Draft {
    let plane = |name: &str, at: &str| {
        let plane = Draft::named(Kind::Plane, name).example("at", at).example("radius", "120 mm");
        plane.ask("correct").ask("method")
    };
    let tolerance = Draft::new(Kind::Tolerance).example("grade", "G 6.3").example("source", quoted("drawing note"));
    draft
        .ask("drawing")
        .example("mass", "12.0 kg")
        .example("mass centre", "150 mm")
        .example("datum", quoted("shoulder of the drive-end bearing"))
        .example("bearings", "0 mm, 300 mm")
        .example("highest service speed", "3000 rpm")
        .example("highest safe speed", "3600 rpm")
        .example("zero angle", quoted("keyway"))
        .ask("angles count")
        .block(plane("left", "60 mm"))
        .block(plane("right", "240 mm"))
        .block(tolerance)
}

fn setup(draft: Draft, around: &Around) -> Draft {
    let mut draft = draft
        .example("rotor", quoted(&around.rotor))
        .example("machine", quoted(&around.machine))
        .holds("status", "draft")
        .example("balancing speed", "1000 rpm")
        .ask("supports at");
    for (channel, plane) in around.channels.iter().zip(&around.planes) {
        draft = draft.example(&format!("channel {}", word(channel)), word(plane));
    }
    let mut settings = Draft::new(Kind::Settings);
    for control in &around.controls {
        settings = settings.holds(&quoted(control), "as found");
    }
    let calibrations = around.planes.iter().map(|plane| {
        let calibrate = Draft::named(Kind::Calibrate, plane).example("mass", "10.00 g").example("radius", "120 mm");
        calibrate.ask("angle").ask("taken as")
    });
    let draft = draft.ask("indicates").example("tolerance reads", "1 div");
    let draft = if around.controls.is_empty() { draft } else { draft.block(settings) };
    draft.blocks(calibrations)
}

fn record(draft: Draft, around: &Around) -> Draft {
    let mut run = Draft::named(Kind::Run, "before").ask("speed").example("calibration masses", "off");
    for channel in &around.channels {
        run = run.ask(&format!("reading {}", word(channel)));
    }
    draft.example("setup", quoted(&around.setup)).ask("serial").ask("date").ask("by").block(run)
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
