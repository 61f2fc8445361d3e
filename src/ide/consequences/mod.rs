//! What the text as it stands moves, beside what it was at the last commit or save.
//!
//! The books have been compared already; here it is told: after the line that was changed, above the items that have
//! changed or moved, and for those who ask, with before and after in every sheet that is reached. Places are found by
//! what stands there, so that they hold while more is typed.

mod revision;
#[cfg(test)]
mod tests;
mod words;

pub use revision::revisions;

use super::Hint;
use super::hints::HintKind;
use super::item_near;
use crate::book::{Book, FileId, head_of, heading};
use crate::check::Place;
use crate::diff::{BookDiff, ItemChange, ItemDiff, ItemName};
use crate::sheet::Block;
use crate::text::Span;

/// What is said of a pin that has to be renewed: the results that moved say it themselves.
pub const STALE_PIN: &str = "pinned-result-stale";

/// Two states of a book, compared.
#[derive(Debug)]
pub struct Consequences {
    /// What it is compared with: `commit 1a2b3c4`, `the last save`.
    pub since: String,
    pub diff: BookDiff,
    /// What was said before and is no longer.
    pub mended: Vec<Mended>,
}

/// An error or warning that is gone.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Mended {
    /// The file that it was said of.
    pub file: String,
    pub code: &'static str,
    pub message: String,
}

/// Words above a heading.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Since {
    /// The heading.
    pub span: Span,
    /// `since commit 1a2b3c4: 2 facts, 1 alert`
    pub title: String,
    /// The headings of what has moved.
    pub places: Vec<Place>,
}

impl Consequences {
    /// What changed of an item and is there on both sides.
    fn of(&self, item: &ItemName) -> Option<&ItemDiff> {
        let is_there = |diff: &&ItemDiff| !matches!(diff.change, ItemChange::Added | ItemChange::Removed);
        self.diff.items.iter().find(|diff| diff.item == *item).filter(is_there)
    }
}

/// Hints after the changed lines of a file. Of several in one item it comes after the one that was written last, where
/// `written` lies in one of them.
pub fn consequence_hints(book: &Book, file: FileId, found: &Consequences, written: Option<u32>) -> Vec<Hint> {
    let source = book.file(file);
    let hint = |item: &Block| {
        let name = ItemName::of_block(item);
        let diff = found.of(&name)?;
        let label = words::label(diff)?;
        let at = changed_line(&source.text, item, diff, written)?;
        let tooltip = words::table(found, &[diff], words::FEW);
        let target = diff.results.iter().find(|moved| moved.item != name).and_then(|moved| place(book, &moved.item));
        Some(Hint { at, label, kind: HintKind::Moved, tooltip, edits: Vec::new(), target })
    };
    source.sheet.items.iter().filter_map(hint).collect()
}

/// The end of the line that an item's consequences are shown after.
fn changed_line(text: &str, item: &Block, diff: &ItemDiff, written: Option<u32>) -> Option<u32> {
    let lines: Vec<Span> = changed_spans(item, diff).collect();
    let start_of = |at: u32| text[..at as usize].rfind('\n').map_or(0, |at| at + 1);
    let is_written = |span: &&Span| written.is_some_and(|at| start_of(at) == start_of(span.start));
    let written = written.filter(|at| text.is_char_boundary(*at as usize) && (*at as usize) <= text.len());
    let line = written.and_then(|_| lines.iter().find(is_written)).or(lines.last());
    line.map(|span| span.end).or_else(|| diff.facts.first().map(|_| item.heading.end))
}

/// Where the changed facts of an item stand.
fn changed_spans<'d>(item: &'d Block, diff: &'d ItemDiff) -> impl Iterator<Item = Span> + 'd {
    diff.changed_facts().filter(|fact| fact.new.is_some()).filter_map(|fact| span_of(item, &fact.path))
}

/// The fact at a path of headings and a head, or the heading of the block there.
fn span_of(item: &Block, path: &[String]) -> Option<Span> {
    let (head, blocks) = path.split_last()?;
    let mut block = item;
    for step in blocks {
        block = block.blocks.iter().find(|inner| heading(inner) == *step)?;
    }
    let field = block.fields.iter().find(|field| head_of(field) == *head);
    let inner = || block.blocks.iter().find(|inner| heading(inner) == *head).map(|inner| inner.heading);
    field.map(|field| field.head.to(field.value_span)).or_else(inner)
}

fn place(book: &Book, item: &ItemName) -> Option<Place> {
    let id = book.find(item.kind, &item.name).ok()?;
    Some(Place { file: id.file, span: book.item(id).heading })
}

/// Above each item of a file that has changed or moved, how far.
pub fn since(book: &Book, file: FileId, found: &Consequences) -> Vec<Since> {
    let lens = |item: &Block| {
        let name = ItemName::of_block(item);
        let title = words::above(found, &name)?;
        let reached = found.of(&name).into_iter().flat_map(|diff| &diff.results).map(|moved| &moved.item);
        let mut places: Vec<Place> = reached.filter_map(|item| place(book, item)).collect();
        places.dedup();
        Some(Since { span: item.heading, title, places })
    };
    book.file(file).sheet.items.iter().filter_map(lens).collect()
}

/// Before and after of all that an item moves and of what moved it, as Markdown; `None` where nothing did.
pub fn consequences(book: &Book, file: FileId, offset: u32, found: &Consequences) -> Option<String> {
    let id = item_near(book, file, offset, |_| true)?;
    let name = ItemName::of(book, id);
    let concerned: Vec<&ItemDiff> = found.diff.items.iter().filter(|diff| concerns(diff, &name)).collect();
    (!concerned.is_empty()).then(|| words::table(found, &concerned, usize::MAX))
}

/// The same in a few lines, for one who points at a changed line or the heading of a changed item.
pub fn consequences_here(book: &Book, file: FileId, offset: u32, found: &Consequences) -> Option<String> {
    let id = item_near(book, file, offset, |_| true)?;
    let item = book.item(id);
    let name = ItemName::of(book, id);
    let on = |span: Span| span.start <= offset && offset <= span.end;
    let concerned: Vec<&ItemDiff> = match on(item.heading) {
        true => found.diff.items.iter().filter(|diff| concerns(diff, &name)).collect(),
        false => found.of(&name).into_iter().filter(|diff| changed_spans(item, diff).any(on)).collect(),
    };
    (!concerned.is_empty()).then(|| words::table(found, &concerned, words::FEW))
}

fn concerns(diff: &ItemDiff, name: &ItemName) -> bool {
    diff.item == *name || diff.results.iter().any(|moved| moved.item == *name)
}
