//! The nesting of blocks: a stack of our own, of limited height, so that no text can exhaust the stack of calls.

use super::{Block, Kind, Line, LineKind, Node, SyntaxError, SyntaxErrorKind};
use crate::text::Span;

/// Blocks open at one time. The deepest arrangement that means anything is four.
pub(super) const DEEPEST: usize = 64;

/// A block that is open.
struct Frame {
    /// `None` when the words before the brace are no kind: then nothing in it means anything.
    kind: Option<Kind>,
    line: u32,
    start: u32,
    brace: Span,
    children: Vec<Node>,
}

/// The blocks open at a line.
#[derive(Default)]
pub(super) struct Nest {
    frames: Vec<Frame>,
    top: Vec<Node>,
    /// Openings beyond [`DEEPEST`] that wait for their braces.
    beyond: u32,
    pub errors: Vec<SyntaxError>,
}

impl Nest {
    pub fn depth(&self) -> usize {
        self.frames.len()
    }

    /// Whether a block of `kind` may stand here as things are.
    pub fn fits(&self, kind: Kind) -> bool {
        match self.frames.last() {
            None => kind.is_item(),
            Some(frame) => frame.kind.is_some_and(|around| kind.stands_in(Some(around))),
        }
    }

    /// A line that means itself.
    pub fn line(&mut self, index: u32) {
        let meaningless = self.beyond > 0 || self.frames.last().is_some_and(|frame| frame.kind.is_none());
        if !meaningless {
            self.push(Node::Line(index));
        }
    }

    fn push(&mut self, node: Node) {
        self.frames.last_mut().map_or(&mut self.top, |frame| &mut frame.children).push(node);
    }

    /// Closes the blocks that may not hold a block of `kind`; `true` when one that may is open, or none is needed.
    ///
    /// An item closes all. An inner block closes up to the nearest block that may hold it; where none is open it closes
    /// nothing, and in a block of unknown kind it is left where it is.
    pub fn make_room(&mut self, kind: Kind, lines: &mut [Line]) -> bool {
        if kind.is_item() {
            self.beyond = 0;
            self.abandon_to(0, lines);
            return true;
        }
        if self.beyond > 0 {
            return true;
        }
        for (at, frame) in self.frames.iter().enumerate().rev() {
            match frame.kind {
                None => return true,
                Some(around) if kind.stands_in(Some(around)) => {
                    self.abandon_to(at + 1, lines);
                    return true;
                }
                Some(_) => {}
            }
        }
        false
    }

    /// Opens a block; `false` when it lies too deep, so that its heading is no more than a line.
    pub fn open(&mut self, kind: Option<Kind>, line: u32, start: u32, brace: Span) -> bool {
        if self.frames.len() == DEEPEST {
            self.beyond += 1;
            return false;
        }
        self.frames.push(Frame { kind, line, start, brace, children: Vec::new() });
        true
    }

    /// Closes the innermost block at a brace that ends at `end`; `line` is that of a brace standing for itself.
    /// `false` when no block is open.
    pub fn close(&mut self, line: Option<u32>, end: u32) -> bool {
        if self.beyond > 0 {
            self.beyond -= 1;
            return true;
        }
        let Some(frame) = self.frames.pop() else { return false };
        self.finish(frame, line, end);
        true
    }

    fn finish(&mut self, frame: Frame, close: Option<u32>, end: u32) {
        let within_unknown = self.frames.last().is_some_and(|outer| outer.kind.is_none());
        if frame.kind.is_some() && !within_unknown {
            let span = Span::new(frame.start, end);
            self.push(Node::Block(Block { open: frame.line, children: frame.children, close, span }));
        }
    }

    /// Closes all blocks but the outermost `height`, whose braces never came, in front of a heading. Blank lines and
    /// comments before it go with it, for a comment belongs to what follows.
    fn abandon_to(&mut self, height: usize, lines: &mut [Line]) {
        let mut leading = Vec::new();
        if let Some(frame) = self.frames.get_mut(height..).and_then(|above| above.last_mut()) {
            while let Some(Node::Line(index)) = frame.children.last()
                && matches!(lines[*index as usize].kind, LineKind::Blank | LineKind::Comment)
            {
                lines[*index as usize].depth = height as u16;
                leading.extend(frame.children.pop());
            }
        }
        self.abandon(height, lines);
        leading.into_iter().rev().for_each(|node| self.push(node));
    }

    fn abandon(&mut self, height: usize, lines: &[Line]) {
        while self.frames.len() > height {
            let Some(frame) = self.frames.pop() else { return };
            self.errors.push(SyntaxError { span: frame.brace, kind: SyntaxErrorKind::UnclosedBlock, replace: None });
            let end = end_of(&frame, lines);
            self.finish(frame, None, end);
        }
    }

    /// The end of the text: what is open stays unclosed.
    pub fn end(mut self, lines: &[Line]) -> (Vec<Node>, Vec<SyntaxError>) {
        self.abandon(0, lines);
        (self.top, self.errors)
    }
}

/// The end of the last line of an unclosed block that is not blank.
fn end_of(frame: &Frame, lines: &[Line]) -> u32 {
    let last = frame.children.iter().rev().find_map(|node| match node {
        Node::Block(block) => Some(block.span.end),
        Node::Line(index) => {
            let line = &lines[*index as usize];
            (line.kind != LineKind::Blank).then_some(line.span.end)
        }
    });
    last.unwrap_or(lines[frame.line as usize].span.end)
}
