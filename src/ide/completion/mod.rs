//! What may be typed at a place.

mod context;
mod heads;
mod names;
mod snippet;
mod units;
mod values;

pub use snippet::{escaped as as_snippet, sheet_with_stops, with_stops};

#[cfg(test)]
mod tests;

use context::{Context, Where};

use crate::book::{Computing, FileId};
use crate::text::Span;

/// One thing that may be typed.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Completion {
    pub label: String,
    pub kind: CompletionKind,
    /// A few words beside the label.
    pub detail: Option<String>,
    /// Markdown.
    pub documentation: Option<String>,
    /// What it takes the place of: what is typed already. The cursor lies in it or at its end.
    pub replace: Span,
    /// What is written, for editors that know no snippets.
    pub text: String,
    /// The same as a snippet with tab stops; `None` when there are none.
    pub snippet: Option<String>,
    /// What the editor compares with what is typed; the label when `None`.
    pub filter: Option<String>,
    /// Lower comes first; the order of the list within one rank.
    pub rank: u8,
    /// It is no longer in use.
    pub is_obsolete: bool,
    /// Whether completion should be asked for again once it is accepted.
    pub goes_on: bool,
}

#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum CompletionKind {
    /// A kind of block.
    Block,
    Key,
    Choice,
    Unit,
    /// The name of an item, plane, channel, control or other thing that the book holds.
    Name,
    Grade,
    /// A result that may be pinned.
    Result,
    /// A quantity or another value, ready to be written.
    Value,
}

impl Completion {
    fn new(label: impl Into<String>, kind: CompletionKind, replace: Span, text: impl Into<String>) -> Self {
        Self {
            label: label.into(),
            kind,
            detail: None,
            documentation: None,
            replace,
            text: text.into(),
            snippet: None,
            filter: None,
            rank: 0,
            is_obsolete: false,
            goes_on: false,
        }
    }
}

/// What may be typed at `offset`; empty in comments, and in strings that hold no name.
pub fn completions(computing: &Computing<'_>, file: FileId, offset: u32) -> Vec<Completion> {
    let book = computing.book();
    let source = book.file(file);
    // After a carriage return a line is over, whether or not its line feed has come.
    let is_over = source.text[..offset as usize].ends_with('\r');
    if source.problem.is_some() || is_over {
        return Vec::new();
    }
    let Some(context) = Context::at(computing, file, offset) else { return Vec::new() };
    let mut found = match context.what() {
        Where::Head { typed } => heads::at(&context, typed),
        Where::BlockName { kind, of, name } => heads::block_names(&context, kind, of, name),
        Where::HeadName { key, name } => heads::names_behind(&context, key, name),
        Where::Value { expected, item } => values::at(&context, &expected, item),
        Where::Pin { name, value } => values::pin(&context, &name, value),
        Where::Nothing => Vec::new(),
    };
    found.sort_by_key(|completion| completion.rank);
    found
}
