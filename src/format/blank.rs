//! Where blank lines stand: between blocks, and between facts where they were written.

use super::Layout;
use crate::syntax::LineKind;

impl Layout<'_> {
    pub(super) fn is_blank(&self, index: usize) -> bool {
        self.tree.lines[index].kind == LineKind::Blank
    }

    /// Whether a blank line belongs between two lines that have nothing but blank lines between them.
    pub(super) fn blank_between(&self, previous: usize, index: usize) -> bool {
        if self.opens(previous) || self.closes(index) || self.is_brace_of_heading(index) {
            return false;
        }
        let written = previous + 1 < index;
        let comment_above = self.tree.lines[previous].kind == LineKind::Comment;
        written || self.ends_block(previous) || (!comment_above && self.leads_to_block(index))
    }

    /// Whether the line is a heading, or a comment that belongs to one.
    fn leads_to_block(&self, index: usize) -> bool {
        let comments = self.tree.lines[index..].iter().take_while(|line| line.kind == LineKind::Comment).count();
        let at = index + comments;
        let heading = self.tree.lines.get(at).is_some_and(|line| matches!(line.kind, LineKind::Open(_)));
        heading || self.opens(at) || self.is_brace_of_heading(at + 1)
    }

    /// Whether the line is the brace of the heading on the line before.
    fn is_brace_of_heading(&self, index: usize) -> bool {
        let line = self.tree.lines.get(index);
        line.is_some_and(|line| matches!(&line.kind, LineKind::Open(open) if open.kind_span.start < line.span.start))
    }

    /// Blocks open after the line, just before the next one does anything; `None` at the end of the text.
    fn level_behind(&self, index: usize) -> Option<u16> {
        let next = (index + 1..self.tree.lines.len()).find(|next| !self.is_blank(*next))?;
        Some(self.tree.lines[next].depth + u16::from(self.closes(next)))
    }

    /// Whether the line opens a block that goes on after it, be its kind known or not.
    fn opens(&self, index: usize) -> bool {
        let Some(line) = self.tree.lines.get(index) else { return false };
        let closing = matches!(line.kind, LineKind::Close(_));
        !closing && self.level_behind(index).map_or(self.unclosed[index], |level| level > line.depth)
    }

    /// Whether the line is a brace that closes a block.
    fn closes(&self, index: usize) -> bool {
        matches!(self.tree.lines[index].kind, LineKind::Close(_)) && !self.stray[index]
    }

    /// Whether a block ends with the line, at a brace of its own or after other text.
    fn ends_block(&self, index: usize) -> bool {
        let line = &self.tree.lines[index];
        let opened = u16::from(matches!(line.kind, LineKind::Open(_)));
        let closed_behind = self.level_behind(index).is_some_and(|level| level < line.depth + opened);
        self.closes(index) || closed_behind
    }
}
