//! Strings: `"…"` with `""` for a quote inside.

use super::Name;
use crate::text::Span;

/// Where the string at the start of `span` ends, just after its closing quote; `None` when it is not closed there.
pub(super) fn end_of_string(text: &str, span: Span) -> Option<u32> {
    let bytes = &text.as_bytes()[span.range()];
    let mut at = 1;
    loop {
        at += bytes.get(at..)?.iter().position(|byte| *byte == b'"')? + 1;
        if bytes.get(at) != Some(&b'"') {
            return Some(span.start + at as u32);
        }
        at += 1;
    }
}

/// The name that the quotes at `span` hold; the closing quote may be missing.
pub(super) fn quoted(text: &str, span: Span, closed: bool) -> Name {
    let inside = Span::new(span.start + 1, span.end - u32::from(closed)).of(text);
    let text = if inside.contains("\"\"") { inside.replace("\"\"", "\"").into() } else { inside.into() };
    Name { span, text, quoted: true }
}

/// A name without quotes.
pub(super) fn bare(text: &str, span: Span) -> Name {
    Name { span, text: span.of(text).into(), quoted: false }
}

/// `text` as a string of the format.
pub fn quote(text: &str) -> String {
    format!("\"{}\"", text.replace('"', "\"\""))
}

/// `span` without blanks at its ends.
pub(super) fn trim(text: &str, span: Span) -> Span {
    let bytes = text.as_bytes();
    let blank = |at: u32| matches!(bytes[at as usize], b' ' | b'\t');
    let Span { mut start, mut end } = span;
    while end > start && blank(end - 1) {
        end -= 1;
    }
    while start < end && blank(start) {
        start += 1;
    }
    Span::new(start, end)
}

/// `o'clock` as people write it, or something like it.
pub(in crate::syntax) fn is_o_clock(written: &str) -> bool {
    let letters = written.chars().filter(|c| !matches!(c, '\'' | '’' | '`' | '´' | '′' | ' '));
    letters.flat_map(char::to_lowercase).eq("oclock".chars())
}

/// What is between one pair of typographic quotes.
pub(in crate::syntax) fn straightened(written: &str) -> Option<&str> {
    let quotes = ['“', '”', '„', '‟', '«', '»'];
    let inside = written.strip_prefix(quotes)?.strip_suffix(quotes)?;
    (!inside.contains(quotes)).then_some(inside)
}
