//! What a check has to say, for people and for machines.

use super::rule::Rule;
use crate::book::FileId;
use crate::text::{Edit, Span};
use crate::vocabulary::{Choice, severity::Level};

/// How much a diagnostic weighs.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Severity {
    /// The sheet must not be used.
    Error,
    /// Somebody should look at it before the sheet is used.
    Warning,
    /// Worth knowing.
    Note,
}

impl Severity {
    pub fn word(self) -> &'static str {
        let level = match self {
            Severity::Error => Level::Error,
            Severity::Warning => Level::Warning,
            Severity::Note => Level::Note,
        };
        level.words()
    }
}

/// A span in a file of the book.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Place {
    pub file: FileId,
    pub span: Span,
}

#[derive(Clone, Debug)]
pub struct Diagnostic {
    pub rule: &'static Rule,
    pub severity: Severity,
    /// One sentence: what was found, with the numbers compared. No full stop at its end.
    pub message: String,
    /// What to write instead.
    pub help: Option<String>,
    pub place: Place,
    pub related: Vec<Related>,
    pub fixes: Vec<Fix>,
    /// It speaks of a name that is no longer in use.
    pub is_obsolete: bool,
    /// So many more of this code, in the same file or item, are counted and not worded.
    pub more: usize,
}

/// Another place that the message speaks of.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Related {
    pub place: Place,
    pub message: String,
}

/// An edit that puts it right.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Fix {
    pub title: String,
    pub edits: Vec<FileEdit>,
    /// It chooses for the reader, or leaves a `?` to be filled in: nobody makes it unasked.
    pub is_for_a_person: bool,
}

#[derive(Clone, PartialEq, Eq, Debug)]
pub struct FileEdit {
    pub file: FileId,
    pub edit: Edit,
}

/// A diagnostic as a rule writes it; the registry adds code and severity.
#[derive(Clone, Debug)]
pub struct Draft {
    pub message: String,
    pub help: Option<String>,
    pub place: Place,
    pub related: Vec<Related>,
    pub fixes: Vec<Fix>,
    /// It speaks of a name that is no longer in use.
    pub is_obsolete: bool,
    /// When the rule itself weighs this case otherwise than its default.
    pub severity: Option<Severity>,
}

impl Draft {
    pub fn new(file: FileId, span: Span, message: impl Into<String>) -> Self {
        Self {
            message: message.into(),
            help: None,
            place: Place { file, span },
            related: Vec::new(),
            fixes: Vec::new(),
            is_obsolete: false,
            severity: None,
        }
    }

    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }

    pub fn related(mut self, file: FileId, span: Span, message: impl Into<String>) -> Self {
        self.related.push(Related { place: Place { file, span }, message: message.into() });
        self
    }

    /// A fix of one edit in the file that the message is in.
    pub fn fix(self, title: impl Into<String>, edit: Edit) -> Self {
        let file = self.place.file;
        self.fix_of(title, vec![FileEdit { file, edit }])
    }

    pub fn fix_of(mut self, title: impl Into<String>, edits: Vec<FileEdit>) -> Self {
        self.fixes.push(Fix { title: title.into(), edits, is_for_a_person: false });
        self
    }

    /// One of several things that may be meant.
    pub fn choice(mut self, title: impl Into<String>, edits: Vec<FileEdit>) -> Self {
        self.fixes.push(Fix { title: title.into(), edits, is_for_a_person: true });
        self
    }

    /// It speaks of a name that is no longer in use.
    pub fn obsolete(mut self) -> Self {
        self.is_obsolete = true;
        self
    }

    pub fn weighing(mut self, severity: Severity) -> Self {
        self.severity = Some(severity);
        self
    }
}
