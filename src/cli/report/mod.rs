//! What `check` found, as people and programs want it.

pub(super) mod excerpt;
pub(super) mod github;
pub(super) mod human;
pub(super) mod json;
pub(super) mod places;
pub(super) mod sarif;

use serde::Serialize;

use super::load::Loaded;
use super::terminal::Paint;
use crate::check::{self, Diagnostic, More, Severity, Told};
use crate::cli::terminal::harmless;
use crate::limits::FINDINGS_FOR_PROGRAMS;

/// A book with what is said of the files that were asked for.
pub(super) struct Checked {
    pub loaded: Loaded,
    pub diagnostics: Vec<Diagnostic>,
}

impl Checked {
    /// What programs are told: everything when they ask for it.
    pub fn for_programs(&self, all: bool) -> Told<'_> {
        check::told(&self.diagnostics, if all { usize::MAX } else { FINDINGS_FOR_PROGRAMS })
    }

    /// `980 more bad-key in a.rotor`
    pub fn more(&self, more: &More) -> String {
        harmless(&format!("{} more {} in {}", more.count, more.rule.code, self.loaded.shown(more.file)))
    }
}

/// How many files and items were asked for, and what was found in them.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Serialize)]
pub(super) struct Summary {
    pub files: usize,
    pub items: usize,
    pub errors: usize,
    pub warnings: usize,
    pub notes: usize,
}

impl Summary {
    pub fn of(checked: &[Checked]) -> Self {
        checked.iter().fold(Self::default(), |sum, one| sum.with(one))
    }

    fn with(self, checked: &Checked) -> Self {
        let count = |severity| {
            let weighing = checked.diagnostics.iter().filter(|diagnostic| diagnostic.severity == severity);
            weighing.map(|diagnostic| 1 + diagnostic.more).sum::<usize>()
        };
        let items = checked.loaded.asked().map(|file| checked.loaded.book.file(file).sheet.items.len());
        Self {
            files: self.files + checked.loaded.count_asked(),
            items: self.items + items.sum::<usize>(),
            errors: self.errors + count(Severity::Error),
            warnings: self.warnings + count(Severity::Warning),
            notes: self.notes + count(Severity::Note),
        }
    }

    /// `2 errors, 1 warning in 14 files`
    pub fn line(&self, paint: Paint) -> String {
        let found: Vec<String> = [
            (self.errors, Severity::Error.word(), Paint::red as fn(Paint, &str) -> String),
            (self.warnings, Severity::Warning.word(), Paint::yellow),
            (self.notes, Severity::Note.word(), Paint::cyan),
        ]
        .into_iter()
        .filter(|(count, ..)| *count > 0)
        .map(|(count, word, painted)| painted(paint, &counted(count, word)))
        .collect();
        let files = counted(self.files, "file");
        match found.is_empty() {
            true => format!("{} in {files}", paint.green("nothing to report")),
            false => format!("{} in {files}", found.join(", ")),
        }
    }
}

/// `1 file`, `2 files`
pub(super) fn counted(count: usize, word: &str) -> String {
    format!("{count} {word}{}", if count == 1 { "" } else { "s" })
}
