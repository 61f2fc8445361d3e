//! The one canonical layout, so that a difference between two versions of a sheet is a difference of facts.
//!
//! Items, blocks and facts keep the order in which they were written. Two spaces a level; one blank line before and
//! after every block, at most one between facts, none after `{` or before `}`; one space where there is any; `+/-`
//! becomes `±`, and the joiners, exponents and micro signs of units are respelled. Digits, words and strings are never
//! touched. A line in error keeps its text byte for byte and is only moved to its place.
//!
//! Nothing here knows what a key means, so that what may be a name is left as it is: `G6.3` keeps its form.

mod blank;
mod line;
mod value;

use crate::syntax::{self, SyntaxErrorKind, Tree};
use crate::text::{self, Edit, Span};

/// A text with git's conflict markers in it is not laid out: which side holds is not ours to say.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Refused {
    /// The first conflict.
    pub conflict: Span,
}

/// The text in its canonical layout.
pub fn format(text: &str) -> Result<String, Refused> {
    let edits = edits(text)?;
    Ok(text::apply(text, &edits).expect("the edits follow one another, line by line"))
}

/// What has to change for the text to be in its canonical layout, in order.
pub fn edits(text: &str) -> Result<Vec<Edit>, Refused> {
    edits_of(text, &syntax::parse(text))
}

/// The same for a text that has been read; `tree` is that of `text`.
pub fn edits_of(text: &str, tree: &Tree) -> Result<Vec<Edit>, Refused> {
    let conflict = tree.errors.iter().find(|error| error.kind == SyntaxErrorKind::ConflictMarkers);
    if let Some(conflict) = conflict {
        return Err(Refused { conflict: conflict.span });
    }
    Ok(Layout::new(text, tree).edits())
}

/// A text that is being laid out.
struct Layout<'t> {
    text: &'t str,
    tree: &'t Tree,
    /// Lines with an error that is of the line itself and not of the blocks around it.
    in_error: Vec<bool>,
    /// Closing braces that close nothing.
    stray: Vec<bool>,
    /// Lines that open a block that is never closed.
    unclosed: Vec<bool>,
}

impl<'t> Layout<'t> {
    fn new(text: &'t str, tree: &'t Tree) -> Self {
        use SyntaxErrorKind::*;
        let in_error = lines_with(tree, |kind| !matches!(kind, UnclosedBlock | FactOutsideBlock | MisplacedBlock));
        let stray = lines_with(tree, |kind| kind == StrayClose);
        let unclosed = lines_with(tree, |kind| kind == UnclosedBlock);
        Self { text, tree, in_error, stray, unclosed }
    }

    fn edits(&self) -> Vec<Edit> {
        let mut edits = Vec::new();
        let mut replace = |span: Span, by: &str| {
            if span.of(self.text) != by {
                edits.push(Edit::replace(span, by));
            }
        };
        let (mut done, mut previous) = (0, None);
        for index in (0..self.tree.lines.len()).filter(|index| !self.is_blank(*index)) {
            let line = &self.tree.lines[index];
            let content = line::content(self.text, line);
            replace(Span::new(done, content.start), &self.lead(previous, index, content));
            if let Some(canonical) = line::canonical(self.text, line).filter(|_| !self.in_error[index]) {
                replace(content, &canonical);
            }
            (done, previous) = (content.end, Some(index));
        }
        let ending = if previous.is_some() { "\n" } else { "" };
        replace(Span::new(done, self.text.len() as u32), ending);
        edits
    }

    /// What is between the line before and the content of this one.
    fn lead(&self, previous: Option<usize>, index: usize, content: Span) -> String {
        let ends = match previous {
            Some(previous) if self.blank_between(previous, index) => "\n\n",
            Some(_) => "\n",
            // At the very start it would become the mark that is dropped.
            None if content.of(self.text).starts_with('\u{feff}') => "\n",
            None => "",
        };
        format!("{ends}{}", self.indent(index, content))
    }

    /// The blanks before a line. What would be a conflict marker at the start of its line stays where it is.
    fn indent(&self, index: usize, content: Span) -> String {
        let line = &self.tree.lines[index];
        let marker = line.depth == 0 && content.of(self.text).starts_with(['<', '|', '=', '>']);
        match marker {
            true => Span::new(line.span.start, content.start).of(self.text).to_owned(),
            false => "  ".repeat(usize::from(line.depth)),
        }
    }
}

/// For each line, whether an error of the wanted kinds begins on it.
fn lines_with(tree: &Tree, wanted: impl Fn(SyntaxErrorKind) -> bool) -> Vec<bool> {
    let mut lines = vec![false; tree.lines.len()];
    let mut at = 0;
    for error in tree.errors.iter().filter(|error| wanted(error.kind)) {
        while tree.lines.get(at + 1).is_some_and(|next| next.span.start <= error.span.start) {
            at += 1;
        }
        if let Some(line) = lines.get_mut(at) {
            *line = true;
        }
    }
    lines
}
