//! What a check has found in an item and in all it rests on: a card of a sheet with errors says so.

use super::words::Words;
use crate::book::{Book, Computed, FileId, ItemId, JudgedBy, references};
use crate::check::{Diagnostic, Place, Severity};
use crate::sheet::{Block, FieldValue, PinValue};
use crate::syntax::Kind;
use crate::text::Span;

/// How many errors are told; the rest is counted.
const TOLD: usize = 4;

/// An item and all that it names, and what those name.
pub fn rests_on(book: &Book, id: ItemId) -> Vec<ItemId> {
    let mut found = vec![id];
    let mut next = 0;
    while next < found.len() {
        for reference in references(book.item(found[next])) {
            if let Ok(named) = book.find(reference.kind, &reference.name.text)
                && !found.contains(&named)
            {
                found.push(named);
            }
        }
        next += 1;
    }
    found
}

/// How many values are `?` in an item and all that it rests on.
pub fn open_values(book: &Book, id: ItemId) -> usize {
    rests_on(book, id).into_iter().map(|item| open_in(book.item(item))).sum()
}

fn open_in(block: &Block) -> usize {
    let facts = block.fields.iter().filter(|field| field.value == FieldValue::Unknown).count();
    let pins = block.pins.iter().filter(|pin| pin.value == PinValue::Unknown).count();
    facts + pins + block.blocks.iter().map(open_in).sum::<usize>()
}

/// What a card answers for: an item with all that it rests on; of a record that is bound to what it was run by, itself and
/// that alone, for what becomes of a sheet later changes nothing in it.
#[derive(Clone, Debug)]
pub struct Scope {
    pub items: Vec<ItemId>,
    /// The proof that a record is bound to.
    proof: Option<(FileId, Span)>,
    /// How many values are `?`.
    open: usize,
}

impl Scope {
    pub fn of(book: &Book, computed: &Computed<'_>, id: ItemId) -> Self {
        let bound_to = match computed {
            Computed::Record(record) => record.bound_to(),
            _ => None,
        };
        match bound_to {
            Some(JudgedBy::Proof(name)) => Self::of_items(book, vec![id], proof_of(book, id, name)),
            Some(_) => Self::of_items(book, vec![id], None),
            None => Self::of_item(book, id),
        }
    }

    /// Of an item that is bound to nothing.
    pub fn of_item(book: &Book, id: ItemId) -> Self {
        Self::of_items(book, rests_on(book, id), None)
    }

    fn of_items(book: &Book, items: Vec<ItemId>, proof: Option<(FileId, &Block)>) -> Self {
        let open = items.iter().map(|item| book.item(*item)).chain(proof.map(|(_, block)| block)).map(open_in).sum();
        Self { items, proof: proof.map(|(file, block)| (file, block.span)), open }
    }

    pub fn files(&self) -> impl Iterator<Item = FileId> {
        self.items.iter().map(|item| item.file).chain(self.proof.map(|(file, _)| file))
    }

    /// Whether a place lies in it; of the files of its items, also where no item is at all.
    pub fn holds(&self, book: &Book, place: Place) -> bool {
        let meets = |span: Span| span.start <= place.span.start && place.span.start <= span.end;
        let within = |item: &ItemId| item.file == place.file && meets(book.item(*item).span);
        let in_no_item = |item: &ItemId| {
            item.file == place.file && !book.file(item.file).sheet.items.iter().any(|block| meets(block.span))
        };
        let in_proof = self.proof.is_some_and(|(file, span)| file == place.file && meets(span));
        in_proof || self.items.iter().any(|item| within(item) || in_no_item(item))
    }
}

fn proof_of<'b>(book: &'b Book, record: ItemId, name: &str) -> Option<(FileId, &'b Block)> {
    let setups = rests_on(book, record).into_iter().filter(|item| book.item(*item).kind == Kind::Setup);
    let mut proofs = setups.flat_map(|item| book.item(item).inner(Kind::Proof).map(move |proof| (item.file, proof)));
    proofs.find(|(_, proof)| proof.name_text() == name)
}

/// What was found of what a card answers for.
pub(super) struct Checked<'d> {
    /// How many values in them are `?`.
    open: usize,
    errors: Vec<&'d Diagnostic>,
    warnings: usize,
}

impl<'d> Checked<'d> {
    pub fn of(book: &Book, scope: &Scope, found: &'d [Diagnostic]) -> Self {
        let concerning: Vec<&Diagnostic> = found.iter().filter(|found| scope.holds(book, found.place)).collect();
        let of = |severity: Severity| concerning.iter().filter(move |found| found.severity == severity);
        Self {
            open: scope.open,
            errors: of(Severity::Error).copied().collect(),
            warnings: of(Severity::Warning).count(),
        }
    }

    pub fn has_errors(&self) -> bool {
        !self.errors.is_empty()
    }

    pub fn alarms(&self, book: &Book) -> Vec<Words> {
        let open = match self.open {
            0 => None,
            1 => Some("1 VALUE IS STILL OPEN".to_owned()),
            open => Some(format!("{open} VALUES ARE STILL OPEN")),
        };
        let open = open.map(|open| Words::strong(format!("{open}.")).say(" The sheets have `?` there."));
        let count = self.errors.len();
        if count == 0 {
            return open.into_iter().collect();
        }
        let errors = if count == 1 { "1 error".to_owned() } else { format!("{count} errors") };
        let mut alarms = vec![
            Words::strong(format!("THIS SHEET HAS {}.", errors.to_uppercase()))
                .say(" Do not use it until this is corrected."),
        ];
        alarms.extend(self.errors.iter().take(TOLD).map(|error| {
            let file = book.file(error.place.file);
            let line = file.line_index().line_of(error.place.span.start) + 1;
            Words::stated(error.message.clone()).say(" (").state(format!("{}:{line}", file.path)).say(")")
        }));
        if count > TOLD {
            alarms.push(Words::said(format!("and {} more", count - TOLD)));
        }
        alarms.extend(open);
        alarms
    }

    /// `checked: no errors, 2 warnings`
    pub fn summary(&self) -> Words {
        let count = |n: usize, severity: Severity| match (n, severity.word()) {
            (0, what) => format!("no {what}s"),
            (1, what) => format!("1 {what}"),
            (n, what) => format!("{n} {what}s"),
        };
        let (errors, warnings) = (count(self.errors.len(), Severity::Error), count(self.warnings, Severity::Warning));
        match (self.errors.len(), self.warnings) {
            (0, 0) => "checked: no errors or warnings".into(),
            _ => Words::said(format!("checked: {errors}, {warnings}")),
        }
    }
}
