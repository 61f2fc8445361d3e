//! One rule: its code, what it weighs, its page, and what it looks at.

use super::context::{FileContext, ItemContext, Sink};
use super::diagnostic::{Draft, Severity};
use super::slip::Slip;
use crate::book::{Book, FileProblem};
use crate::sheet::{FactProblem, FactProblemOf};
use crate::syntax::{Kind, SyntaxErrorKind};

/// One diagnostic: its code, how much it weighs, its page, and what finds it.
pub struct Rule {
    /// Speaking, and it reads well after "turn off": `mass-known-too-poorly`.
    pub code: &'static str,
    pub severity: Severity,
    /// Whether what it finds can hurt somebody once the drive starts: nothing is run before it is corrected.
    pub is_harmful: bool,
    /// A line for lists, and the heading of the page.
    pub title: &'static str,
    /// The page: what it flags, why it matters at the bench, an example, how to put it right, its source.
    pub page: &'static str,
    /// The version of this program in which the code was new.
    pub since: &'static str,
    pub run: Run,
}

impl std::fmt::Debug for Rule {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.code)
    }
}

impl PartialEq for Rule {
    fn eq(&self, other: &Self) -> bool {
        self.code == other.code
    }
}

/// What a rule says of one error of the parser.
pub type Say = fn(&Slip<'_>) -> Draft;

/// What a rule says of one problem of a fact; `None` where nothing needs to be said.
pub type SayOfFact = fn(&FileContext<'_>, &FactProblem) -> Option<Draft>;

/// What a rule looks at.
pub enum Run {
    /// A file that is no text, or that could not be read; `None` when the problem belongs to another rule.
    File(fn(&FileContext<'_>, &FileProblem) -> Option<Draft>),
    /// One kind of thing that the parser could not take.
    Syntax(SyntaxErrorKind, Say),
    /// One kind of problem of a fact in its own file.
    Fact(FactProblemOf, SayOfFact),
    /// An item of one of these kinds, with what is computed of it.
    Item(&'static [Kind], Judge),
    /// Two versions of a book; `diff` finds it.
    Versions,
    /// The whole book at once.
    Book(fn(&Book, &mut Sink)),
}

/// What judges an item.
pub type Judge = fn(&ItemContext<'_, '_>, &mut Sink);
