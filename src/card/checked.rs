//! What a check has found in an item and in all it rests on: a card of a sheet with errors says so.

use super::words::Words;
use crate::book::{Book, ItemId, references};
use crate::check::{Diagnostic, Severity};
use crate::sheet::{Block, FieldValue, PinValue};

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

/// What was found in those items; of their files, also what stands in no item at all.
pub(super) struct Checked<'d> {
    /// How many values in them are `?`.
    open: usize,
    errors: Vec<&'d Diagnostic>,
    warnings: usize,
}

impl<'d> Checked<'d> {
    pub fn of(book: &Book, id: ItemId, found: &'d [Diagnostic]) -> Self {
        let items = rests_on(book, id);
        let concerns = |diagnostic: &&Diagnostic| {
            let place = diagnostic.place;
            let within = |item: &ItemId| {
                let span = book.item(*item).span;
                item.file == place.file && span.start <= place.span.start && place.span.start <= span.end
            };
            let in_no_item = |item: &ItemId| {
                item.file == place.file
                    && !book
                        .file(item.file)
                        .sheet
                        .items
                        .iter()
                        .any(|block| block.span.start <= place.span.start && place.span.start <= block.span.end)
            };
            items.iter().any(|item| within(item) || in_no_item(item))
        };
        let concerning: Vec<&Diagnostic> = found.iter().filter(concerns).collect();
        let of = |severity: Severity| concerning.iter().filter(move |found| found.severity == severity);
        let open = items.iter().map(|item| open_in(book.item(*item))).sum();
        Self { open, errors: of(Severity::Error).copied().collect(), warnings: of(Severity::Warning).count() }
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
                .say(" Do not work by it until they are put right."),
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
        Words::said(format!("checked: {errors}, {warnings}"))
    }
}
