//! The bench card: what a technician needs at the machine, on paper.
//!
//! A card is made as plain structs from the results of an item ([`card`]), then written as a page ([`html`]), as text
//! for a terminal ([`text`]) or as its drawing alone ([`svg`]). Numbers are those of `show`, by the same printers; what
//! is not computed is a line to measure into, with the reason. Nothing here knows the day or the state of the files:
//! they are handed in as [`Printed`].

mod cautions;
mod checked;
mod document;
mod drawing;
mod foot;
mod html;
mod record;
mod rotor;
mod setup;
mod sketch;
mod style;
mod svg;
mod text;
mod values;
mod words;

pub use checked::rests_on;
pub use document::{Card, Figure, Part, Row, Section, Stamp, Step, Table, Value};
pub use drawing::{Drawing, Form, Shape};
pub use html::{Paper, booklet, page};
pub use svg::standalone as svg;
pub use text::text;
pub use words::{Piece, Words};

use crate::book::{Computed, Computing, ItemId};
use crate::check::Diagnostic;
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::vocabulary;
use checked::Checked;

/// When a card was printed, and from what.
#[derive(Clone, Debug)]
pub struct Printed {
    /// `2026-11-25`
    pub on: String,
    /// The commit and whether the files are as committed, or that there is none.
    pub state: String,
    /// Whether it is made of texts that may not be saved.
    pub preview: bool,
}

/// The card of a rotor, a setup or a record; `None` for an item of another kind. `found` is what a check found in the
/// book, or at least in the files of all that it rests on ([`rests_on`]).
pub fn card(computing: &Computing<'_>, id: ItemId, found: &[Diagnostic], printed: &Printed) -> Option<Card> {
    let book = computing.book();
    let checked = Checked::of(book, id, found);
    let (mut card, is_void) = match computing.item(id) {
        Computed::Setup(setup) => (setup::card(book, &setup, &checked, printed), !setup.void_causes.is_empty()),
        Computed::Record(record) => (record::card(book, &record, &checked, printed), false),
        Computed::Rotor(rotor) => (rotor::card(book, &rotor, &checked, printed), false),
        Computed::Facts(_) => return None,
    };
    card.preview = printed.preview;
    if let Some(stamp) = Stamp::instead(card.stamp.as_ref(), checked.has_errors(), is_void, printed.preview) {
        card.stamp = Some(stamp);
    }
    Some(card)
}

/// What a booklet of the released sheets holds: each released setup, then their rotors, then the records made by them.
pub fn released(computing: &Computing<'_>) -> Vec<ItemId> {
    let book = computing.book();
    let setups: Vec<ItemId> = book
        .items()
        .filter(|id| book.item(*id).kind == Kind::Setup)
        .filter(|id| computing.setup(*id).is_some_and(|setup| setup.is_released()))
        .collect();
    let rotor = |id: &ItemId| computing.setup(*id)?.rotor.as_ref().map(|rotor| rotor.id);
    let mut rotors: Vec<ItemId> = setups.iter().filter_map(rotor).collect();
    rotors.sort();
    rotors.dedup();
    let is_made_by = |id: &ItemId| {
        let item = book.item(*id);
        let setup = item.field(vocabulary::record::SETUP).map(|field| &field.value);
        matches!(setup, Some(FieldValue::Name(name)) if book.find(Kind::Setup, &name.text).is_ok_and(|by| setups.contains(&by)))
    };
    let records = book.items().filter(|id| book.item(*id).kind == Kind::Record).filter(is_made_by);
    let records: Vec<ItemId> = records.collect();
    setups.into_iter().chain(rotors).chain(records).collect()
}
