//! Every record that the project has: those of the example book and of the sheets of `tests/data`, and how each is judged.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use rotorbook::book::{Book, Computing, DoesNotCount, ItemId, Judged, SourceFile};
use rotorbook::mechanics::verdict::Verdict;
use rotorbook::syntax::Kind;
use rotorbook::units::Amount;

use crate::support::books;

/// The example book, and each sheet of `tests/data/sheets` as a book of its own.
pub fn books() -> Vec<(String, Book)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut sheets: Vec<PathBuf> =
        std::fs::read_dir(root.join("tests/data/sheets")).unwrap().map(|entry| entry.unwrap().path()).collect();
    sheets.sort();
    let read = |path: PathBuf| {
        let text = std::fs::read_to_string(&path).unwrap();
        let name = path.file_stem().unwrap().to_string_lossy().into_owned();
        (name, Book::new(vec![Arc::new(SourceFile::read("book.rotor", text))]))
    };
    let example = ("tern-quay".to_owned(), books::book_in(&root.join("examples/tern-quay")));
    std::iter::once(example).chain(sheets.into_iter().map(read)).collect()
}

pub fn records(book: &Book) -> Vec<ItemId> {
    book.items().filter(|id| book.item(*id).kind == Kind::Record).collect()
}

/// One row of a verdict, in base units.
#[derive(Clone, PartialEq, Debug)]
pub struct RowSaid {
    pub name: String,
    pub measured: f64,
    pub uncertainty: f64,
    pub limit: f64,
    pub word: Option<Verdict>,
    /// The lines of its budget that nothing is known of.
    pub not_known: Vec<String>,
}

/// A verdict as it was reached.
#[derive(Clone, PartialEq, Debug)]
pub struct Said {
    pub verdict: Verdict,
    pub rows: Vec<RowSaid>,
    /// Something makes all readings count for nothing.
    pub nothing_counts: bool,
    pub reasons: Vec<String>,
}

impl Said {
    /// As the record of this name is judged in a book; nothing without a verdict.
    pub fn of(book: &Book, name: &str) -> Option<Self> {
        let id = book.find(Kind::Record, name).ok()?;
        let computing = Computing::without_explanations(book);
        let verdict = computing.record(id)?.verdict?;
        // A reading at the end of its scale is a least amount: what is over by it is over, and no other word follows.
        if verdict.does_not_count.iter().any(|one| one.why == DoesNotCount::ReadingAtEndOfScale) {
            return None;
        }
        let counts = |one: &rotorbook::book::NotCounted| one.why == DoesNotCount::NotKnown;
        Some(Self {
            verdict: verdict.verdict,
            rows: verdict.judged.iter().map(row).collect(),
            nothing_counts: !verdict.does_not_count.iter().all(counts),
            reasons: verdict.reasons,
        })
    }

    pub fn row(&self, name: &str) -> Option<&RowSaid> {
        self.rows.iter().find(|row| row.name == name)
    }

    /// The row that is nearest to its limit, or farthest beyond it, and can be worked out.
    pub fn governing(&self) -> Option<&RowSaid> {
        let known = self.rows.iter().filter(|row| row.measured.is_finite() && row.limit > 0.0 && row.uncertainty > 0.0);
        known.max_by(|a, b| (a.measured / a.limit).total_cmp(&(b.measured / b.limit)))
    }
}

fn row(one: &Judged) -> RowSaid {
    let known = |value: Option<f64>| value.unwrap_or(f64::NAN);
    RowSaid {
        name: one.name(),
        measured: known(one.measured.get().map(Amount::raw)),
        uncertainty: known(one.uncertainty.map(Amount::raw)),
        limit: known(one.limit.get().map(Amount::raw)),
        word: one.verdict,
        not_known: one.budget.not_assessed().map(str::to_owned).collect(),
    }
}
