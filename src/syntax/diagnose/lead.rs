//! Words and signs that people put before a number.

use super::{SyntaxError, SyntaxErrorKind, error, mended};
use crate::text::Span;

/// `max 6 mm`, `ca. 3 g`, `Ø 120 mm`, `n = 1150 rpm`: the value is the number after.
pub(in crate::syntax) fn word_before_number(text: &str, span: Span) -> Option<SyntaxError> {
    let written = span.of(text);
    let length = written.find(|c: char| c.is_ascii_digit())?;
    let (lead, number) = written.split_at(length);
    let phrase = lead.trim_end_matches([' ', '\t', '.', '=', ':', '-']).to_lowercase();
    let lead = Span::new(span.start, span.start + length as u32);
    let sign = |sign: char| text[lead.range()].trim_end().ends_with(sign);
    let bare = if text[..span.start as usize].ends_with([':', '>']) { " " } else { "" };
    let amount = number.contains([' ', '\t', '"', '%', '°']);
    match &*phrase {
        "g" if sign('=') || sign('-') || sign(':') => Some(mended(span, SyntaxErrorKind::GradeSpelling, lead, "G ")),
        "ø" | "⌀" | "∅" | "dia" | "diameter" => Some(mended(span, SyntaxErrorKind::BadValue, lead, bare)),
        "r" | "radius" if amount && !sign(':') && text[lead.range()].ends_with([' ', '\t', '.']) => {
            Some(mended(span, SyntaxErrorKind::BadValue, lead, bare))
        }
        word if sign('=') && !word.contains([' ', '\t']) => Some(mended(span, SyntaxErrorKind::BadValue, lead, bare)),
        _ if !amount || sign(':') => None,
        "max" | "maximum" | "at most" | "not more than" | "no more than" | "less than" | "below" | "under" | "till"
        | "until" => Some(mended(span, SyntaxErrorKind::BadRange, lead, "up to ")),
        "min" | "minimum" | "at least" | "not less than" | "no less than" | "more than" | "above" | "over" => {
            Some(mended(span, SyntaxErrorKind::BadRange, lead, "from "))
        }
        "ca" | "c" | "circa" | "approx" | "approximately" | "about" | "abt" | "around" | "roughly" | "some" => {
            Some(error(span, SyntaxErrorKind::BadValue))
        }
        _ => None,
    }
}
