//! The line that is being written. What is wrong with it is not said before it is left, is saved, or has rested: most of
//! what is half typed is wrong, and he who types knows.

use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use super::Desk;
use crate::book::SourceFile;
use crate::check::{Diagnostic, Severity};
use crate::server::protocol::Url;
use crate::sheet::Block;
use crate::text::Span;

/// A block that is not closed yet is one that is being written, wherever it was opened.
const UNCLOSED: &str = "unclosed-block";

/// What a change has put into a text, in bytes.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Written {
    pub at: u32,
    pub removed: u32,
    pub put: u32,
}

impl Written {
    /// The piece in which two whole texts differ.
    pub fn between(before: &str, after: &str) -> Self {
        let (old, new) = (before.as_bytes(), after.as_bytes());
        let at = old.iter().zip(new).take_while(|(a, b)| a == b).count();
        let same_end = |(a, b): &(&u8, &u8)| a == b;
        let end = old[at..].iter().rev().zip(new[at..].iter().rev()).take_while(same_end).count();
        Self { at: at as u32, removed: (old.len() - at - end) as u32, put: (new.len() - at - end) as u32 }
    }

    pub fn end(self) -> u32 {
        self.at + self.put
    }
}

/// Where somebody writes, and until when that is to be left alone.
#[derive(Debug)]
pub(super) struct Pen {
    path: PathBuf,
    /// From the start of its first line to the end of its last.
    lines: Span,
    /// They were put in together, such as a block with places to fill.
    together: bool,
    pub until: Instant,
}

impl Pen {
    fn after(path: &Path, text: &str, written: Written, before: Option<&Pen>, delay: Duration) -> Self {
        let bytes = text.as_bytes();
        let put = &bytes[written.at as usize..written.end() as usize];
        let is_break = |byte: &u8| matches!(byte, b'\n' | b'\r');
        let is_several = put.iter().any(is_break);
        // The line is left by a line break; an editor may put in the closing brace with it.
        let is_left = put.iter().all(|byte| byte.is_ascii_whitespace() || *byte == b'}');
        let (mut lines, mut together) = match is_several && is_left {
            true => {
                let next = put.iter().position(|byte| *byte == b'\n').unwrap_or_default() as u32;
                (lines_of(bytes, Span::at(written.at + next + 1)), false)
            }
            false => (lines_of(bytes, Span::new(written.at, written.end())), is_several),
        };
        let inside =
            |pen: &&Pen| pen.together && pen.lines.start <= written.at && written.at + written.removed <= pen.lines.end;
        if let Some(pen) = before.filter(|pen| pen.path == path && !is_several).filter(inside) {
            let end = pen.lines.end - written.removed + written.put;
            (lines, together) = (Span::new(pen.lines.start, end), true);
        }
        Self { path: path.to_owned(), lines, together, until: Instant::now() + delay }
    }

    /// Whether what is said stands where somebody writes.
    fn hides(&self, file: &SourceFile, said: &Diagnostic) -> bool {
        let at = said.place.span.start;
        let is_under_the_pen = self.lines.start <= at && at <= self.lines.end;
        is_under_the_pen
            || (said.rule.code == UNCLOSED && at <= self.lines.start)
            || file.sheet.items.iter().any(|item| self.is_heading_of_nothing(item, at))
    }

    /// Whether `at` is in the heading of a block around the pen in which nothing else is written yet.
    fn is_heading_of_nothing(&self, block: &Block, at: u32) -> bool {
        let is_around = block.heading.start <= self.lines.start && self.lines.start <= block.span.end;
        let is_it = block.heading.start <= at && at <= block.heading.end;
        is_around
            && ((is_it && self.is_unwritten(block))
                || block.blocks.iter().any(|inner| self.is_heading_of_nothing(inner, at)))
    }

    fn is_unwritten(&self, block: &Block) -> bool {
        let mut heads = block.fields.iter().map(|field| field.head).chain(block.pins.iter().map(|pin| pin.head));
        heads.all(|head| self.lines.start <= head.start && head.start <= self.lines.end)
            && block.blocks.iter().all(|inner| self.is_unwritten(inner))
    }
}

/// The whole lines that a piece of a text lies in.
fn lines_of(text: &[u8], piece: Span) -> Span {
    let is_break = |byte: &u8| matches!(byte, b'\n' | b'\r');
    let (from, to) = (text.len().min(piece.start as usize), text.len().min(piece.end as usize));
    let start = text[..from].iter().rposition(is_break).map_or(0, |at| at + 1);
    let end = text[to..].iter().position(is_break).map_or(text.len(), |at| to + at);
    Span::new(start as u32, end as u32)
}

impl Desk {
    /// Somebody has written into an open document.
    pub(super) fn write_at(&mut self, path: &Path, written: Option<Written>) {
        self.written_at = Some(Instant::now());
        let delay = self.settings.error_delay;
        let left = match written {
            _ if delay.is_zero() => self.pen.take(),
            None => self.pen.take(),
            Some(written) => {
                let Some(document) = self.documents.get_mut(path) else { return };
                let pen = Pen::after(path, &document.shared().0, written, self.pen.as_ref(), delay);
                self.pen.replace(pen)
            }
        };
        // What was held back in the same document is told with the change.
        if let Some(left) = left.filter(|left| left.path != path) {
            self.tell_held_back(left);
        }
    }

    /// What was written is saved: all may be said of it.
    pub(super) fn saved(&mut self, url: &Url) {
        self.read_changes();
        if let Some(path) = self.paths.get(url).cloned() {
            self.saved_beside(&path);
        }
        if let Some(path) = self.paths.get(url)
            && let Some(pen) = self.pen.take_if(|pen| pen.path == *path)
        {
            self.tell_held_back(pen);
        }
    }

    /// Whether the line that is being written cannot be read yet.
    pub(super) fn is_line_half_written(&self) -> bool {
        let Some(pen) = &self.pen else { return false };
        let Some((open, file)) = self.find(&pen.path).and_then(|(key, file)| Some((self.books.get(&key)?, file)))
        else {
            return false;
        };
        let source = open.book().file(file);
        let found = open.judged.diagnostics(file);
        found.iter().any(|said| said.severity == Severity::Error && pen.hides(source, said))
    }

    /// Says what was held back, once the pen has rested.
    pub(super) fn rest(&mut self) {
        if let Some(pen) = self.pen.take_if(|pen| pen.until <= Instant::now()) {
            self.tell_held_back(pen);
        }
    }

    fn tell_held_back(&mut self, pen: Pen) {
        let Some((key, file)) = self.find(&pen.path) else { return };
        let Some(open) = self.books.get(&key) else { return };
        // What is not judged yet is told when it has been judged.
        if !open.judged.is_stale(file) && open.is_whole() {
            let source = open.book().file(file);
            if open.judged.diagnostics(file).iter().any(|said| pen.hides(source, said)) {
                self.publish(&key, file, false);
            }
        }
    }

    /// Leaves out what stands where somebody writes.
    pub(super) fn hold_back(&self, path: &Path, source: &SourceFile, found: &mut Vec<Diagnostic>) {
        if let Some(pen) = self.pen.as_ref().filter(|pen| pen.path == path) {
            found.retain(|said| !pen.hides(source, said));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pen(text: &str, written: Written, before: Option<&Pen>) -> Pen {
        Pen::after(Path::new("/a.rotor"), text, written, before, Duration::from_secs(1))
    }

    fn lines<'t>(text: &'t str, pen: &Pen) -> &'t str {
        pen.lines.of(text)
    }

    #[test]
    fn a_key_is_written_on_its_line() {
        let text = "rotor \"a\" {\n  mas\n}\n";
        assert_eq!(lines(text, &pen(text, Written { at: 16, removed: 0, put: 1 }, None)), "  mas");
        // The last key was taken back.
        assert_eq!(lines(text, &pen(text, Written { at: 17, removed: 1, put: 0 }, None)), "  mas");
    }

    #[test]
    fn a_line_break_leaves_the_line() {
        let text = "rotor \"a\" {\n  \n}\n";
        assert_eq!(lines(text, &pen(text, Written { at: 11, removed: 0, put: 3 }, None)), "  ");
        // With the brace that an editor puts in.
        assert_eq!(lines(text, &pen(text, Written { at: 11, removed: 0, put: 5 }, None)), "  ");
    }

    #[test]
    fn what_is_put_in_together_stays_together_while_it_is_filled_in() {
        let text = "plane a {\n  at: \n  radius: \n}\n";
        let block = Written { at: 0, removed: 0, put: text.len() as u32 - 1 };
        let before = pen(text, block, None);
        assert_eq!(lines(text, &before), text.trim_end());
        let text = "plane a {\n  at: 3\n  radius: \n}\n";
        let filling = pen(text, Written { at: 16, removed: 0, put: 1 }, Some(&before));
        assert_eq!(lines(text, &filling), text.trim_end());
        let text = "plane a {\n  at: 3\n  radius: \n}\n\n";
        let behind = pen(text, Written { at: 31, removed: 0, put: 1 }, Some(&filling));
        assert_eq!(lines(text, &behind), "");
    }

    #[test]
    fn whole_texts_are_compared() {
        let written = |before, after| Written::between(before, after);
        assert_eq!(written("mass: 3 kg", "mass: 3.5 kg"), Written { at: 7, removed: 0, put: 2 });
        assert_eq!(written("aaa", "aa"), Written { at: 2, removed: 1, put: 0 });
        assert_eq!(written("µ", "¶"), Written { at: 1, removed: 1, put: 1 });
    }
}
