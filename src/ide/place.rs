//! What is at a place: the line, the blocks around it, and the fact or pin on it.
//!
//! Found in the tree, so that a block that is not closed yet and a line that is half typed have a place too; the facts
//! of the sheet are looked up from there.

use crate::book::{Book, FileId, ItemId, SourceFile};
use crate::sheet::{self, Block, Expected, Field, HeadOf, Pin};
use crate::syntax::{Head, Kind, Line, LineKind, Open, Tree};
use crate::text::Span;
use crate::vocabulary::BlockSpec;

/// A line of a file.
#[derive(Clone, Copy)]
pub(super) struct Place<'b> {
    pub file: FileId,
    pub source: &'b SourceFile,
    pub tree: &'b Tree,
    /// Index into the tree's lines.
    pub index: usize,
    pub line: &'b Line,
}

impl<'b> Place<'b> {
    /// The line that `offset` lies on; at a line end, the line that ends there.
    pub fn at(book: &'b Book, file: FileId, offset: u32) -> Option<Self> {
        let source = book.file(file);
        let tree = source.tree();
        let after = tree.lines.partition_point(|line| line.span.start <= offset);
        let index = after.checked_sub(1)?;
        Some(Self { file, source, tree, index, line: &tree.lines[index] })
    }

    pub fn text(&self, span: Span) -> &'b str {
        span.of(&self.source.text)
    }

    /// Whether `offset` lies in the comment of the line; at its end a comment is still being typed.
    pub fn in_comment(&self, offset: u32) -> bool {
        self.line.comment.is_some_and(|comment| comment.start < offset)
    }

    /// The blocks around the line, the outermost first; `None` when one of them is of no known kind. The line that opens
    /// a block, and the one that closes it, lie outside it.
    pub fn around(&self) -> Option<Vec<&'b Open>> {
        let mut depth = self.line.depth;
        let mut around = Vec::with_capacity(usize::from(depth));
        let mut index = self.index;
        while depth > 0 {
            index = index.checked_sub(1)?;
            let line = &self.tree.lines[index];
            let means_something = !matches!(line.kind, LineKind::Blank | LineKind::Comment | LineKind::Conflict);
            if line.depth < depth && means_something {
                let LineKind::Open(open) = &line.kind else { return None };
                around.push(open);
                depth = line.depth;
            }
        }
        around.reverse();
        Some(around)
    }

    /// The item and its blocks down to the one that the line is in; for a heading, down to the block it opens.
    pub fn blocks(&self) -> Option<Blocks<'b>> {
        let mut opens = self.around()?;
        if let LineKind::Open(open) = &self.line.kind {
            opens.push(open);
        }
        let items = &self.source.sheet.items;
        let mut opens = opens.into_iter();
        let first = opens.next()?;
        let index = items.iter().position(|item| begins_at(item, first))?;
        let mut path = vec![&items[index]];
        for open in opens {
            let within: &'b Block = path[path.len() - 1];
            path.push(within.blocks.iter().find(|block| begins_at(block, open))?);
        }
        Some(Blocks { item: ItemId { file: self.file, index: index as u32 }, path })
    }

    /// The fact on the line, as the sheet has read it.
    pub fn field(&self) -> Option<(&'b Block, &'b Field)> {
        let LineKind::Fact(fact) = &self.line.kind else { return None };
        let block = self.blocks()?.innermost();
        Some((block, block.fields.iter().find(|field| field.head == fact.head.span)?))
    }

    /// The pin on the line.
    pub fn pin(&self) -> Option<(&'b Block, &'b Pin)> {
        let LineKind::Pin(pin) = &self.line.kind else { return None };
        let block = self.blocks()?.innermost();
        Some((block, block.pins.iter().find(|other| other.head == pin.head.span)?))
    }
}

fn begins_at(block: &Block, open: &Open) -> bool {
    block.span.start == open.kind_span.start
}

/// An item, and the blocks in it down to the one that is meant.
pub(super) struct Blocks<'b> {
    pub item: ItemId,
    /// Never empty; the item itself comes first.
    pub path: Vec<&'b Block>,
}

impl<'b> Blocks<'b> {
    pub fn innermost(&self) -> &'b Block {
        self.path[self.path.len() - 1]
    }
}

/// The key that a head is, in a block of this kind, whatever comes after the colon; also one that still lacks its name.
pub(super) fn expected(source: &SourceFile, spec: &'static BlockSpec, head: &Head) -> Option<Expected> {
    match sheet::read_head(&source.text, spec, head, |name| is_plane_around(source, head.span, name)) {
        HeadOf::Fact(expected) => Some(expected),
        HeadOf::NeedsName(key) => Some(Expected { key, value: key.value, name: None }),
        HeadOf::NeedsQuotes | HeadOf::Unknown => None,
    }
}

/// Whether the item around a line has a plane of this name.
fn is_plane_around(source: &SourceFile, line: Span, name: &str) -> bool {
    let items = &source.sheet.items;
    let after = items.partition_point(|item| item.span.start <= line.start);
    let around = after.checked_sub(1).map(|index| &items[index]);
    around.is_some_and(|item| item.inner(Kind::Plane).any(|plane| plane.name_text() == name))
}

/// Words with one space between them.
pub(super) fn collapsed(words: &str) -> String {
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Whether a span holds an offset, or ends at it.
pub(super) fn covers(span: Span, offset: u32) -> bool {
    span.start <= offset && offset <= span.end
}
