//! Closing braces: on a line of their own, as they should be, and after other things.

use super::code::Code;
use super::{LineKind, Raw, Reader, SyntaxErrorKind};
use crate::text::Span;

/// How many braces `code` closes more than it opens, outside strings.
pub(super) fn surplus(code: &str) -> i64 {
    let mut quoted = false;
    let mut surplus = 0;
    for byte in code.bytes() {
        match byte {
            b'"' => quoted = !quoted,
            b'}' if !quoted => surplus += 1,
            b'{' if !quoted => surplus -= 1,
            _ => {}
        }
    }
    surplus
}

/// The start of the last `}`s of `code`, at most `count` of them with blanks between.
fn start_of_braces(code: &str, count: i64) -> usize {
    let mut start = code.len();
    let mut left = count;
    for (at, byte) in code.bytes().enumerate().rev() {
        match byte {
            b'}' if left > 0 => (start, left) = (at, left - 1),
            b' ' | b'\t' => {}
            _ => break,
        }
    }
    start
}

impl Reader<'_> {
    pub(super) fn close(&mut self, raw: Raw) {
        let brace = Span::new(raw.mark, raw.mark + 1);
        let code = Code::split(self.text, brace.end, raw.line.end);
        if code.last(self.text) == Some(b'{') {
            return self.close_and_open(raw, code);
        }
        let index = self.lines.len() as u32;
        let closed = self.nest.close(Some(index), brace.end);
        self.push(raw.line, LineKind::Close(brace), code.comment, self.nest.depth());
        if !closed {
            self.nest.line(index);
            self.error(brace, SyntaxErrorKind::StrayClose, None);
        } else if !code.span.is_empty() {
            self.text_behind_close(raw.line, brace, &code);
        }
    }

    /// `} }`, `} end`
    fn text_behind_close(&mut self, line: Span, brace: Span, code: &Code) {
        let more = surplus(code.span.of(self.text));
        self.close_more(more, code.span.end);
        let only_braces = code.span.of(self.text).bytes().all(|byte| matches!(byte, b'}' | b' ' | b'\t'));
        let replace = only_braces.then(|| (Span::new(brace.end, code.span.end), self.one_a_line(line, more)));
        self.error(code.span, SyntaxErrorKind::TextAroundClose, replace);
    }

    /// Closes up to `count` blocks at braces after something else.
    pub(super) fn close_more(&mut self, count: i64, end: u32) {
        for _ in 0..count {
            if !self.nest.close(None, end) {
                return;
            }
        }
    }

    /// `count` closing braces on lines of their own, each one step further left than the one before.
    fn one_a_line(&self, line: Span, count: i64) -> String {
        let indent = self.indent(line).len();
        (1..=count as usize).map(|step| format!("\n{}}}", " ".repeat(indent.saturating_sub(2 * step)))).collect()
    }

    /// The blanks at the start of a line.
    pub(super) fn indent(&self, line: Span) -> &str {
        let text = line.of(self.text);
        &text[..text.len() - text.trim_start_matches([' ', '\t']).len()]
    }

    /// `} plane rim {`: both are done.
    fn close_and_open(&mut self, raw: Raw, code: Code) {
        self.close_more(1, raw.mark + 1);
        let replace = (Span::new(raw.mark + 1, code.span.start), format!("\n{}", self.indent(raw.line)));
        self.error(code.span, SyntaxErrorKind::TextAroundClose, Some(replace));
        self.opener(raw.line, code);
    }

    /// Takes the closing braces off the end of `code` that nothing on the line opened; how many, and where they begin.
    pub(super) fn trailing_braces(&mut self, code: &Code) -> Option<(i64, u32)> {
        if code.last(self.text) != Some(b'}') {
            return None;
        }
        let text = code.span.of(self.text);
        let count = surplus(text);
        (count > 0).then(|| (count, code.span.start + start_of_braces(text, count) as u32))
    }

    /// Closes the blocks that braces after other text close.
    pub(super) fn close_behind(&mut self, line: Span, count: i64, braces: Span) {
        if self.nest.depth() == 0 {
            return self.error(braces, SyntaxErrorKind::StrayClose, Some((braces, String::new())));
        }
        let text = &self.text[..braces.start as usize];
        let from = text.trim_end_matches([' ', '\t']).len() as u32;
        let replace = (Span::new(from, braces.end), self.one_a_line(line, count));
        self.error(braces, SyntaxErrorKind::TextAroundClose, Some(replace));
        self.close_more(count, braces.end);
    }
}
