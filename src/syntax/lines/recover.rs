//! Lines that the grammar does not take: what they were most likely meant to be.

use super::code::Code;
use super::heading::Heading;
use super::quoting::{quote, trim};
use super::{Head, LineKind, Reader, SyntaxErrorKind};
use crate::syntax::grammar::are_words;
use crate::syntax::quoting;
use crate::syntax::{Kind, Shape, value};
use crate::text::Span;

/// How a heading without its brace ends.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Ending {
    Nothing,
    /// Its name has no end.
    Unclosed,
    /// A colon stands where the brace belongs.
    Sign(Span),
}

/// What a line turns on.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Sign {
    Colon,
    Arrow,
    Brace,
}

/// The first `:`, `=>` or `{` outside strings, which decides what a line is.
pub(super) fn first_sign(code: &str) -> Option<(usize, Sign)> {
    let bytes = code.as_bytes();
    let mut quoted = false;
    for (at, byte) in bytes.iter().enumerate() {
        match byte {
            b'"' => quoted = !quoted,
            _ if quoted => {}
            b':' => return Some((at, Sign::Colon)),
            b'=' if bytes.get(at + 1) == Some(&b'>') => return Some((at, Sign::Arrow)),
            b'{' => return Some((at, Sign::Brace)),
            _ => {}
        }
    }
    None
}

impl Reader<'_> {
    pub(super) fn recover(&mut self, line: Span) {
        let code = Code::split(self.text, line.start, line.end);
        match first_sign(code.span.of(self.text)) {
            Some((0, Sign::Brace)) if code.span.len() == 1 && self.brace_below_heading(line, &code) => {}
            Some((_, Sign::Brace)) => self.opener(line, code),
            Some((at, sign)) => self.bad_key(line, &code, code.span.start + at as u32, sign),
            None if code.unclosed.is_some() && self.heading_with_unclosed_name(line, &code) => {}
            None if code.unclosed.is_some() && self.heading_without_brace(line, code.span, None, Ending::Unclosed) => {}
            None => self.no_sign(line, code),
        }
    }

    /// A `{` alone below a line that would be a heading with it.
    fn brace_below_heading(&mut self, line: Span, code: &Code) -> bool {
        let Some(above) = self.lines.last() else { return false };
        let LineKind::Unfinished(head) = &above.kind else { return false };
        let (head, comment) = (head.span, above.comment);
        let heading = Heading::read(self.text, head);
        let whole = self.errors.pop_if(|error| error.kind == SyntaxErrorKind::UnfinishedLine && error.span == head);
        if heading.kind.is_none() || heading.error.is_some() || whole.is_none() {
            self.errors.extend(whole);
            return false;
        }
        let replace = comment.is_none().then(|| (Span::new(head.end, code.span.end), " {".to_owned()));
        self.error(code.span, SyntaxErrorKind::HeadingShape, replace);
        self.open_block(line, heading, code.span, Span::at(code.span.end), code.comment);
        true
    }

    /// `rotor "fan wheel {`: the brace was not meant to be in the name.
    fn heading_with_unclosed_name(&mut self, line: Span, code: &Code) -> bool {
        let Some(quote) = code.unclosed else { return false };
        if !code.span.of(self.text).ends_with('{') || quote == code.span.end - 1 {
            return false;
        }
        let brace = Span::new(code.span.end - 1, code.span.end);
        let heading = Heading::read(self.text, Span::new(code.span.start, brace.start));
        let Some(name) = heading.name.as_ref().filter(|name| name.span.start == quote) else {
            return self.heading_with_closing_quote(line, code, quote, brace);
        };
        let replace = (Span::new(name.span.end, brace.start), "\" ".to_owned());
        self.error(name.span, SyntaxErrorKind::UnclosedQuote, Some(replace));
        self.open_block(line, heading, brace, Span::at(brace.end), code.comment);
        true
    }

    /// `rotor fan" {`: the quote before the name is missing.
    fn heading_with_closing_quote(&mut self, line: Span, code: &Code, quote: u32, brace: Span) -> bool {
        let heading = Heading::read(self.text, Span::new(code.span.start, quote));
        let between = Span::new(quote + 1, brace.start).of(self.text);
        let Some(name) = heading.name.as_ref().filter(|_| between.trim().is_empty()) else { return false };
        if heading.kind.is_none() {
            return false;
        }
        let replace = (Span::at(name.span.start), "\"".to_owned());
        self.error(name.span.to(Span::at(quote + 1)), SyntaxErrorKind::UnclosedQuote, Some(replace));
        let heading = Heading { error: None, ..heading };
        self.open_block(line, heading, brace, Span::at(brace.end), code.comment);
        true
    }

    /// A heading without its brace, which shows in the line below lying further in.
    pub(super) fn heading_without_brace(
        &mut self,
        line: Span,
        code: Span,
        comment: Option<u32>,
        ending: Ending,
    ) -> bool {
        let heading = Heading::read(self.text, code);
        let Some((kind, _)) = heading.kind.filter(|(kind, _)| self.nest.fits(*kind)) else { return false };
        if heading.error.is_some() || !self.next_lies_in(line, kind) {
            return false;
        }
        let end = Span::at(code.end);
        let (kind, place, instead) = match ending {
            Ending::Unclosed => (SyntaxErrorKind::UnclosedQuote, end, "\" {"),
            Ending::Nothing => (SyntaxErrorKind::HeadingShape, end, " {"),
            Ending::Sign(sign) => (SyntaxErrorKind::HeadingShape, end.to(sign), " {"),
        };
        self.error(code, kind, Some((place, instead.to_owned())));
        let end = Span::at(code.end);
        self.open_block(line, heading, end, end, comment.map(|start| Span::new(start, line.end)));
        true
    }

    /// Whether the next line that is not blank and no comment is indented more than `line`, and is something that may
    /// are in a block of `kind`: a fact, or the heading of an inner block.
    fn next_lies_in(&self, line: Span, kind: Kind) -> bool {
        let below = self.text[line.end as usize..].split('\n').skip(1).map(|below| below.trim_ascii_end());
        let Some(below) = below.into_iter().find(|below| !below.trim_start().is_empty() && !is_comment(below)) else {
            return false;
        };
        let code = below.trim_start_matches([' ', '\t']);
        let further_in = below.len() - code.len() > self.indent(line).len();
        further_in
            && match first_sign(code) {
                Some((0, _)) | None => false,
                Some((at, Sign::Brace)) => {
                    let inner = Heading::read(code, Span::new(0, at as u32)).kind;
                    inner.is_some_and(|(inner, _)| inner.stands_in(Some(kind)))
                }
                Some(_) => Code::split(code, 0, code.len() as u32).last(code) != Some(b'{'),
            }
    }

    fn bad_key(&mut self, line: Span, code: &Code, sign: u32, what: Sign) {
        let head = trim(self.text, Span::new(code.span.start, sign));
        let written = head.of(self.text);
        let length = if what == Sign::Arrow { 2 } else { 1 };
        let (kind, replace) = match written {
            "" => (SyntaxErrorKind::BadKey, None),
            _ if curly(written) => (SyntaxErrorKind::CurlyQuotes, straightened(head, written)),
            _ => {
                let behind = trim(self.text, Span::new(sign + length, code.span.end));
                let quoted = (!written.contains('"')).then(|| (head, quote(written)));
                (SyntaxErrorKind::BadKey, self.unit_in_key(head, behind).or(quoted))
            }
        };
        let span = if head.is_empty() { Span::new(sign, sign + length) } else { head };
        self.error(span, kind, replace);
        self.close_and_plain(line, LineKind::Junk, code);
    }

    /// `max depth (mm): 3` for `max depth: 3 mm`
    fn unit_in_key(&self, head: Span, behind: Span) -> Option<(Span, String)> {
        let (key, unit) = head.of(self.text).strip_suffix([')', ']'])?.split_once(['(', '['])?;
        let mut errors = Vec::new();
        let number = value::read(self.text, behind, &mut errors);
        let plain = matches!(number.shape, Shape::Amount(_)) && errors.is_empty() && are_words(key);
        let sign = self.text[head.end as usize..behind.start as usize].trim();
        plain.then(|| (head.to(behind), format!("{}{sign} {} {unit}", key.trim_end(), behind.of(self.text))))
    }

    /// No `:`, `=>` or `{`: words to be completed, or nothing known.
    fn no_sign(&mut self, line: Span, code: Code) {
        let head = self.leading_head(code.span);
        if let Some(quote) = code.unclosed {
            self.error(Span::new(quote, code.span.end), SyntaxErrorKind::UnclosedQuote, None);
        } else if head.is_some() {
            self.error(code.span, SyntaxErrorKind::UnfinishedLine, self.sign_for(head.as_ref(), code.span));
        } else if !code.span.is_empty() {
            self.error(code.span, SyntaxErrorKind::JunkLine, None);
        }
        let kind = head.map_or(LineKind::Junk, LineKind::Unfinished);
        self.close_and_plain(line, kind, &code);
    }

    /// The words, or the name, at the start of a line.
    fn leading_head(&self, code: Span) -> Option<Head> {
        let written = code.of(self.text);
        if written.starts_with('"') {
            let span = Span::new(code.start, quoting::end_of_string(self.text, code)?);
            return Some(Head { span, words: None, name: Some(quoting::quoted(self.text, span, true)) });
        }
        let mut end = 0;
        for word in written.split_inclusive([' ', '\t']) {
            let bare = word.trim_end_matches([' ', '\t']);
            if !bare.is_empty() && !are_words(bare) {
                break;
            }
            end += word.len();
        }
        let words = trim(self.text, Span::new(code.start, code.start + end as u32));
        (!words.is_empty()).then_some(Head { span: words, words: Some(words), name: None })
    }

    /// `mass 4 kg` and `mass = 4 kg` lack a colon.
    fn sign_for(&self, head: Option<&Head>, code: Span) -> Option<(Span, String)> {
        let head = head?.span;
        let rest = Span::new(head.end, code.end);
        let behind = trim(self.text, rest);
        match behind.of(self.text).as_bytes() {
            [b'0'..=b'9' | b'"', ..] => Some((Span::at(head.end), ":".to_owned())),
            [b'=', ..] => Some((Span::new(head.end, behind.start + 1), ":".to_owned())),
            _ => None,
        }
    }

    /// A line that means nothing, but for the braces that may stand at its end.
    fn close_and_plain(&mut self, line: Span, kind: LineKind, code: &Code) {
        let depth = self.nest.depth();
        self.nest.line(self.lines.len() as u32);
        if let Some((count, _)) = self.trailing_braces(code) {
            self.close_more(count, code.span.end);
        }
        self.push(line, kind, code.comment, depth);
    }
}

fn is_comment(line: &str) -> bool {
    line.trim_start_matches([' ', '\t']).starts_with('#')
}

/// Whether `text` is in quotes that are not the plain ones.
pub(super) fn curly(text: &str) -> bool {
    text.starts_with(['“', '”', '„', '‟', '«', '»'])
}

/// The same in plain quotes, when there is one pair.
fn straightened(span: Span, written: &str) -> Option<(Span, String)> {
    crate::syntax::quoting::straightened(written).map(|plain| (span, quote(plain)))
}
