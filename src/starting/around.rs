//! What a sheet that is begun refers to: names of the book, and what the shop used last.

use super::draft::unquoted;
use crate::book::{Book, EffectiveBlock, ItemId, effective};
use crate::sheet::{Block, FieldValue};
use crate::syntax::Kind;
use crate::vocabulary::machine::Supports;
use crate::vocabulary::{control, machine, setup};

/// What a sheet starts from: the book it is begun in, and what is known of it before.
#[derive(Clone, Copy, Default)]
pub struct Context<'a> {
    pub book: Option<&'a Book>,
    /// The items it is begun from: rotor and machine of a setup, the setup of a record.
    pub items: &'a [ItemId],
    /// The facts that are stated for it.
    pub stated: &'a [(String, String)],
    /// Whether the first of several rotors or machines is taken; else it is left open which.
    pub takes_first: bool,
}

impl<'a> Context<'a> {
    /// The name of the item that the sheet refers to: the one that is stated, else that of the book.
    fn name(&self, kind: Kind) -> Option<String> {
        if let Some((_, name)) = self.stated.iter().find(|(fact, _)| fact == kind.words()) {
            return Some(unquoted(name).into_owned());
        }
        let book = self.book?;
        if let Some(id) = self.items.iter().find(|id| book.item(**id).kind == kind) {
            return Some(book.item(*id).name_text().to_owned());
        }
        let mut names = book.names_of(kind);
        let first = names.next().map(|(name, _)| name.to_owned());
        first.filter(|_| self.takes_first || names.next().is_none())
    }

    fn id(&self, kind: Kind) -> Option<ItemId> {
        self.book?.find(kind, &self.name(kind)?).ok()
    }

    fn item(&self, kind: Kind) -> Option<&'a Block> {
        self.id(kind).zip(self.book).map(|(id, book)| book.item(id))
    }
}

/// What a setup refers to, of the book where it has it.
pub(super) struct Around {
    pub rotor: Option<String>,
    pub planes: Vec<String>,
    pub machine: Option<String>,
    pub channels: Vec<String>,
    pub controls: Vec<String>,
    /// The set that calibration masses are taken from.
    pub masses: Option<String>,
    /// What the shop lets the tolerance read on this machine.
    pub tolerance_reads: Option<String>,
    /// What the rotor lies on; its own bearings where it stays in place.
    pub supports: Option<Supports>,
}

impl Around {
    pub fn of(context: &Context<'_>) -> Self {
        let rotor = context.item(Kind::Rotor);
        let machine = context.item(Kind::Machine);
        let usual = context.book.zip(context.id(Kind::Machine)).and_then(|(book, machine)| last_on(book, machine));
        let usual = usual.as_ref();
        Self {
            rotor: context.name(Kind::Rotor),
            planes: or_two(rotor.map(|rotor| inner(rotor, Kind::Plane)).unwrap_or_default()),
            machine: context.name(Kind::Machine),
            channels: or_two(machine.map(channels).unwrap_or_default()),
            controls: machine.map_or_else(|| vec!["left strength".to_owned()], set_by_hand),
            masses: context.name(Kind::Masses).or_else(|| match &usual?.field(setup::MASSES)?.field.value {
                FieldValue::Name(name) => Some(name.text.to_string()),
                _ => None,
            }),
            tolerance_reads: context.book.and_then(|book| {
                let field = usual?.field(setup::TOLERANCE_READS)?;
                let is_said = !field.field.value.is_hole();
                is_said.then(|| field.field.value_span.of(&book.file(field.item.file).text).to_owned())
            }),
            supports: machine.and_then(|one| one.choice(machine::SUPPORTS)),
        }
    }
}

/// The last setup on a machine. Of it a new one takes what the shop has chosen, and nothing that was found.
fn last_on(book: &Book, machine: ItemId) -> Option<EffectiveBlock<'_>> {
    book.users().setups(machine).last().map(|id| effective(book, *id).0)
}

/// What a record refers to: the setup that the rotor is worked by.
pub(super) struct Worked {
    pub setup: Option<String>,
    pub channels: Vec<String>,
    /// Whether calibration masses are set up, which must be off in a run.
    pub has_masses: bool,
}

impl Worked {
    pub fn of(context: &Context<'_>) -> Self {
        let block = context.book.zip(context.id(Kind::Setup)).map(|(book, id)| effective(book, id).0);
        let of_setup = |block: &EffectiveBlock<'_>| -> Vec<String> {
            block.named(setup::CHANNEL).map(|(channel, _)| channel.text.to_string()).collect()
        };
        let of_machine = || context.item(Kind::Machine).map(channels);
        Self {
            setup: context.name(Kind::Setup),
            channels: or_two(block.as_ref().map(of_setup).or_else(of_machine).unwrap_or_default()),
            has_masses: block.is_none_or(|block| block.inner(Kind::Calibrate).next().is_some()),
        }
    }
}

fn or_two(found: Vec<String>) -> Vec<String> {
    match found.is_empty() {
        true => vec!["left".to_owned(), "right".to_owned()],
        false => found,
    }
}

pub(super) fn inner(item: &Block, kind: Kind) -> Vec<String> {
    item.inner(kind).map(|block| block.name_text().to_owned()).filter(|name| !name.is_empty()).collect()
}

/// The controls that take nothing which is worked out.
fn set_by_hand(machine: &Block) -> Vec<String> {
    let by_hand = machine.inner(Kind::Control).filter(|control| control.field(control::TAKES).is_none());
    by_hand.map(|block| block.name_text().to_owned()).filter(|name| !name.is_empty()).collect()
}

fn channels(machine: &Block) -> Vec<String> {
    match machine.field(machine::CHANNELS).map(|field| &field.value) {
        Some(FieldValue::Names(names)) => names.iter().map(|name| name.text.to_string()).collect(),
        _ => Vec::new(),
    }
}
