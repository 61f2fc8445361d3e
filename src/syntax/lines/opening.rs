//! Lines that open a block.

use super::braces::surplus;
use super::code::Code;
use super::heading::Heading;
use super::quoting::trim;
use super::recover::{Sign, first_sign};
use super::{LineKind, Raw, Reader, SyntaxErrorKind};
use crate::syntax::{Kind, Open};
use crate::text::Span;

impl Reader<'_> {
    /// A heading in order up to its brace.
    pub(super) fn open(&mut self, raw: Raw) {
        let brace = Span::new(raw.mark, raw.mark + 1);
        let code = Code::split(self.text, brace.end, raw.line.end);
        let heading = Heading::read(self.text, self.head(&raw).span);
        self.open_block(raw.line, heading, brace, code.span, code.comment);
    }

    /// A heading of any kind at the start of `code`, which holds a brace outside strings.
    pub(super) fn opener(&mut self, line: Span, code: Code) {
        let at = match first_sign(code.span.of(self.text)) {
            Some((at, Sign::Brace)) => at as u32,
            _ => code.span.len() - 1,
        };
        let brace = Span::new(code.span.start + at, code.span.start + at + 1);
        let heading = Heading::read(self.text, Span::new(code.span.start, brace.start));
        self.open_block(line, heading, brace, trim(self.text, Span::new(brace.end, code.span.end)), code.comment);
    }

    /// Opens a block at `brace`; `behind` is what else is on the line.
    pub(super) fn open_block(
        &mut self,
        line: Span,
        heading: Heading,
        brace: Span,
        behind: Span,
        comment: Option<Span>,
    ) {
        let mut error = heading.error;
        if let Some(error) = error.as_mut().filter(|error| error.span.is_empty()) {
            error.span = brace;
        }
        self.errors.extend(error);
        let index = self.lines.len() as u32;
        let (kind, depth) = match heading.kind {
            None => {
                let depth = self.nest.depth();
                self.open_in_nest(None, index, heading.span, brace);
                (LineKind::Junk, depth)
            }
            Some((kind, kind_span)) => {
                let placed = self.nest.make_room(kind, &mut self.lines);
                let depth = self.nest.depth();
                let opened = self.open_in_nest(Some(kind), index, kind_span, brace);
                if opened && !placed {
                    self.error(kind_span, SyntaxErrorKind::MisplacedBlock, None);
                }
                let open = LineKind::Open(Open { kind, kind_span, name: heading.name, brace });
                (if opened { open } else { LineKind::Junk }, depth)
            }
        };
        self.push(line, kind, comment, depth);
        self.text_after_brace(line, brace, behind);
    }

    fn open_in_nest(&mut self, kind: Option<Kind>, index: u32, start: Span, brace: Span) -> bool {
        let opened = self.nest.open(kind, index, start.start, brace);
        if !opened {
            self.nest.line(index);
            self.error(start, SyntaxErrorKind::TooDeep, None);
        }
        opened
    }

    /// `plane hub { at: 3 mm`, `plane hub { }`: the text is not read, the braces in it count.
    fn text_after_brace(&mut self, line: Span, brace: Span, behind: Span) {
        let written = behind.of(self.text);
        if written.is_empty() {
            return;
        }
        let closed = surplus(written) > 0;
        if closed {
            self.close_more(1, behind.end);
        }
        let fact = written.strip_suffix('}').filter(|_| closed).unwrap_or(written).trim();
        let replace = (!fact.contains(['{', '}'])).then(|| {
            let indent = self.indent(line);
            let fact: String = one_a_line(fact).map(|fact| format!("\n{indent}  {fact}")).collect();
            let close = if closed { format!("\n{indent}}}") } else { String::new() };
            (Span::new(brace.end, behind.end), fact + &close)
        });
        self.error(behind, SyntaxErrorKind::TextAfterBrace, replace);
    }
}

/// `at: 3 mm; radius: 4 mm`: the facts, parted by semicolons or, where each piece is one, by commas.
fn one_a_line(facts: &str) -> impl Iterator<Item = &str> {
    let sign = [';', ','].into_iter().find(|sign| {
        let pieces = facts.split(*sign).map(str::trim).filter(|piece| !piece.is_empty());
        !facts.contains('"')
            && facts.contains(*sign)
            && pieces.clone().count() > 0
            && pieces.clone().all(|p| p.contains(':'))
    });
    let pieces: Vec<&str> = sign.map_or_else(|| vec![facts], |sign| facts.split(sign).collect());
    pieces.into_iter().map(str::trim).filter(|fact| !fact.is_empty())
}
