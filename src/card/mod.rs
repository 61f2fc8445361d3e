//! The bench card: what a technician needs at the machine, on paper.
//!
//! A card is made as plain blocks from the results of an item ([`card`]), set on pages once ([`pages`]), and written as
//! SVG, PDF, HTML or text ([`svg`], [`pdf`], [`html`], [`text`]). Numbers are those of `show`, by the same printers; what
//! is not computed is a line to measure into, with the reason. Nothing here knows the day, the state of the files or the
//! fonts of the system: they are handed in as [`Printed`] and [`Fonts`].

mod carriers;
mod cautions;
mod changes;
mod checked;
mod code;
mod depths;
mod document;
mod drawing;
mod foot;
mod page;
mod readable;
mod record;
mod rehearsed;
mod rotor;
mod setup;
mod sketch;
mod values;
mod words;

pub use carriers::{beside, drawings, html, page_of_comparisons, pdf, svg, text};
pub use changes::{CardChange, CardChangeKind, FOOT, NameNow, NameOn, STAMP, changes};
pub use checked::{Scope, open_values, rests_on};
pub use code::{Coded, code, coded};
pub use depths::mass_of_point;
pub use document::{
    BARRED, Card, Column, Figure, Number, Part, Row, Section, Side, Stamp, Standing, Step, Table, Value,
};
pub use drawing::{Anchor, Bar, Drawing, Form, Pen, Shape};
pub use page::{FontFile, Fonts, Page, Paper, pages};
pub use record::{
    CalledFor, HalfTurn, angles_of_places, called_for, half_turn, left_by_corrections, like_mass, off_the_places,
    seat_in_doubt, stop, turn_weights, weights_called_for,
};
pub use rehearsed::{Rehearsed, with_rehearsal};
pub use values::POINT_ONLY;
pub use words::{Piece, Rank, Words};

use crate::book::{Book, Computed, Computing, FileId, ItemId, RecordResults, SetupResults};
use crate::check::{self, Diagnostic, Severity};
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
    /// Whether all that the card rests on is committed as it is.
    pub committed: bool,
    /// Whether it is made of texts that may not be saved.
    pub preview: bool,
}

/// Which sides of a setup.
#[derive(Clone, Copy, PartialEq, Eq, Default, Debug)]
pub enum Sides {
    /// The run card of a released sheet; both of any other.
    #[default]
    Usual,
    Run,
    SetUp,
    Both,
}

/// The card of a rotor, a setup or a record; `None` for an item of another kind. `found` is what a check found in the
/// book, or at least in the files of all that it rests on ([`rests_on`]); of that, what concerns the card ([`Scope`]).
pub fn card(
    computing: &Computing<'_>,
    id: ItemId,
    found: &[Diagnostic],
    printed: &Printed,
    sides: Sides,
) -> Option<Card> {
    let (book, computed) = (computing.book(), computing.item(id));
    let code = match &computed {
        Computed::Setup(setup) => code(book, setup),
        _ => String::new(),
    };
    card_of(book, &computed, id, found, (printed, &code), sides)
}

/// The same of what is worked out already.
fn card_of(
    book: &Book,
    computed: &Computed<'_>,
    id: ItemId,
    found: &[Diagnostic],
    (printed, code): (&Printed, &str),
    sides: Sides,
) -> Option<Card> {
    let checked = Checked::of(book, &Scope::of(book, computed, id), found);
    Some(match computed {
        Computed::Setup(setup) => setup::card(book, setup, &checked, (printed, code), sides),
        Computed::Record(record) => record::card(book, record, &checked, printed),
        Computed::Rotor(rotor) => rotor::card(book, rotor, &checked, printed),
        Computed::Facts(_) => return None,
    })
}

/// Whether people may go by a card, in the word of its stamp; of a record its verdict, unless something weighs more. `None`
/// where a card has no stamp.
pub fn standing(
    book: &Book,
    computed: &Computed<'_>,
    id: ItemId,
    found: &[Diagnostic],
    printed: &Printed,
) -> Option<Standing> {
    let checked = Checked::of(book, &Scope::of(book, computed, id), found);
    match computed {
        Computed::Setup(setup) => Some(Standing::Stamped(setup::stamp(book, setup, &checked, printed))),
        Computed::Record(record) => record::standing(book, record, &checked, printed),
        Computed::Rotor(_) => rotor::stamp(&checked, printed).map(Standing::Stamped),
        Computed::Facts(_) => None,
    }
}

/// The same as far as the sheets alone tell it, whatever is committed.
pub fn standing_once_committed(computing: &Computing<'_>, computed: &Computed<'_>, id: ItemId) -> Option<Standing> {
    standing(computing.book(), computed, id, &errors(computing, id), &COMPARED).map(Standing::once_committed)
}

/// A card that nobody prints.
const COMPARED: Printed = Printed { on: String::new(), state: String::new(), committed: true, preview: false };

/// The card of an item as it is compared with that of another version: both of its sides, whoever printed it and whatever a
/// check finds.
pub fn to_compare(book: &Book, computed: &Computed<'_>, id: ItemId) -> Option<Card> {
    card_of(book, computed, id, &[], (&COMPARED, ""), Sides::Both)
}

/// The same of a setup.
fn setup_to_compare(book: &Book, setup: &SetupResults<'_>) -> Card {
    let checked = Checked::of(book, &Scope::of_item(book, setup.id), &[]);
    setup::card(book, setup, &checked, (&COMPARED, ""), Sides::Both)
}

/// A certificate of records: of one on a side, of several as a table. `None` without a record.
pub fn certificate(computing: &Computing<'_>, ids: &[ItemId], found: &[Diagnostic], printed: &Printed) -> Option<Card> {
    let book = computing.book();
    let record = |id: &ItemId| {
        let computed = computing.item(*id);
        let checked = Checked::of(book, &Scope::of(book, &computed, *id), found);
        match computed {
            Computed::Record(record) => Some((*record, checked)),
            _ => None,
        }
    };
    let (records, checked): (Vec<RecordResults<'_>>, Vec<Checked<'_>>) = ids.iter().filter_map(record).unzip();
    match records.as_slice() {
        [] => None,
        [one] => Some(record::certificate::of_one(book, one, &checked[0], printed)),
        all => record::certificate::of_batch(book, &all.iter().collect::<Vec<_>>(), &checked, printed),
    }
}

/// The controls of the machine of which a setup has nothing to set: whatever the last rotor left is still there.
pub fn open_settings(book: &Book, setup: &SetupResults<'_>) -> Vec<String> {
    setup::open_settings(book, setup)
}

/// What belongs to the machine and the rotor before work begins, in the words of the run card, in lines for a terminal.
pub fn cautions(book: &Book, setup: &SetupResults<'_>) -> Vec<String> {
    carriers::lines(&[Section::new("").cautions(cautions::at_work(book, setup))])
}

/// What is laid in and set before the first run, in the words of the run card, in lines for a terminal.
pub fn before_first_run(book: &Book, setup: &SetupResults<'_>) -> Vec<String> {
    carriers::lines(&setup::before_first_run(book, setup))
}

/// The errors that a card of an item would begin with.
pub fn errors(computing: &Computing<'_>, id: ItemId) -> Vec<Diagnostic> {
    let book = computing.book();
    let scope = Scope::of(book, &computing.item(id), id);
    let mut files: Vec<FileId> = scope.files().collect();
    files.sort();
    files.dedup();
    let of_files = files.into_iter().flat_map(|file| check::check_facts(book, file));
    let found = of_files.chain(scope.items.iter().flat_map(|item| check::check_item(computing, *item)));
    found.filter(|one| one.severity == Severity::Error && scope.holds(book, one.place)).collect()
}

/// What a record calls for now and its verdict, in the words of its card, in lines for a terminal.
pub fn summary(book: &Book, record: &RecordResults<'_>) -> Vec<String> {
    carriers::lines(&record::summary(book, record))
}

/// What a record calls for now, its verdict, its runs and corrections, in lines for a terminal.
pub fn record_on_a_screen(book: &Book, record: &RecordResults<'_>) -> Vec<String> {
    carriers::lines(&record::on_a_screen(book, record))
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
