//! Stated facts and pinned results.

use super::code::Code;
use super::heading::Heading;
use super::quoting::trim;
use super::recover::Ending;
use super::{LineKind, Raw, Reader, Rule, SyntaxErrorKind};
use crate::syntax::{Fact, Head, Pin, Shape, Value, value};
use crate::text::Span;

impl Reader<'_> {
    pub(super) fn fact(&mut self, raw: Raw) {
        let head = self.head(&raw);
        let sign = Span::new(raw.mark, raw.mark + if raw.rule == Rule::pin { 2 } else { 1 });
        let code = Code::split(self.text, sign.end, raw.line.end);
        if code.last(self.text) == Some(b'{') && self.heading_with_colon(&raw, &head, sign, &code) {
            return;
        }
        let bare = raw.rule == Rule::fact && code.span.is_empty();
        let comment = code.comment.map(|comment| comment.start);
        if bare && self.heading_without_brace(raw.line, head.span, comment, Ending::Sign(sign)) {
            return;
        }
        let index = self.lines.len() as u32;
        let depth = self.nest.depth();
        if depth == 0 && !self.follows_line_outside() {
            self.error(head.span, SyntaxErrorKind::FactOutsideBlock, None);
        }
        self.nest.line(index);
        let value = self.value(&raw, &code);
        let kind = match raw.rule {
            Rule::pin => LineKind::Pin(Pin { head, arrow: sign, value }),
            _ => LineKind::Fact(Fact { head, colon: sign, value }),
        };
        self.push(raw.line, kind, code.comment, depth);
    }

    /// Whether the last line with anything on it is outside every block too, so that there is one cause for both.
    fn follows_line_outside(&self) -> bool {
        let above = self.lines.iter().rev().find(|line| !matches!(line.kind, LineKind::Blank | LineKind::Comment));
        above.is_some_and(|line| {
            let outside =
                matches!(line.kind, LineKind::Fact(_) | LineKind::Pin(_) | LineKind::Unfinished(_) | LineKind::Junk);
            outside && line.depth == 0
        })
    }

    /// The value without the braces that may come after it by mistake.
    fn value(&mut self, raw: &Raw, code: &Code) -> Value {
        let mut span = code.span;
        if code.last(self.text) == Some(b'{') {
            let brace = Span::new(span.end - 1, span.end);
            span = trim(self.text, Span::new(span.start, brace.start));
            let replace = (Span::new(span.end, brace.end), String::new());
            self.error(brace, SyntaxErrorKind::TextAfterValue, Some(replace));
        } else if let Some((count, start)) = self.trailing_braces(code) {
            self.close_behind(raw.line, count, Span::new(start, span.end));
            span = trim(self.text, Span::new(span.start, start));
            if span.is_empty() {
                return Value { span, shape: Shape::Nothing };
            }
        }
        value::read(self.text, span, &mut self.errors)
    }

    /// `plane hub: {` and `plane: hub {`; `false` when the line is a fact all the same.
    fn heading_with_colon(&mut self, raw: &Raw, head: &Head, sign: Span, code: &Code) -> bool {
        let brace = Span::new(code.span.end - 1, code.span.end);
        let behind = trim(self.text, Span::new(code.span.start, brace.start));
        let mut heading = Heading::read(self.text, head.span);
        if !behind.is_empty() {
            let fits = heading.kind.is_some_and(|(kind, _)| self.nest.fits(kind));
            if !fits || heading.name.is_some() {
                return false;
            }
            heading.read_name(self.text, behind);
        }
        if heading.kind.is_some() {
            let name = heading.error.take().and_then(|error| error.replace);
            self.error(sign, SyntaxErrorKind::HeadingShape, Some(self.without_sign(sign, name)));
        }
        self.open_block(raw.line, heading, brace, Span::at(brace.end), code.comment);
        true
    }
    /// The heading without its colon; `name` is what its name must be replaced by, if it must.
    fn without_sign(&self, sign: Span, name: Option<(Span, String)>) -> (Span, String) {
        match name {
            Some((span, quoted)) if span.start >= sign.end => {
                (sign.to(span), format!("{}{quoted}", Span::new(sign.end, span.start).of(self.text)))
            }
            Some((span, quoted)) if span.end <= sign.start => (span.to(sign), quoted),
            _ => (sign, String::new()),
        }
    }
}
