//! Characters that cannot be seen or told from others: control characters, bidirectional marks, spaces that are not the
//! plain one, and the wide forms of plain letters.

use super::{SyntaxError, SyntaxErrorKind};
use crate::text::Span;

/// Whether a byte may begin a hidden character. Line ends are none.
fn suspicious(byte: u8) -> bool {
    matches!(byte, 0..=9 | 11..=31 | 0x7f | 0xc2 | 0xd8 | 0xe1..=0xe3 | 0xef)
}

/// Whether `text` may hold a hidden character; quick, and seldom wrong.
pub(super) fn possible(text: &[u8]) -> bool {
    let mut bytes = text.iter().enumerate();
    bytes.any(|(at, byte)| {
        suspicious(*byte)
            && match byte {
                0xc2 => text.get(at + 1).is_some_and(|next| matches!(next, 0x80..=0xa0 | 0xad)),
                b'\r' => text.get(at + 1) != Some(&b'\n'),
                _ => true,
            }
    })
}

/// Never to be seen in any text: control characters, marks that change the direction of writing, characters without width.
fn is_hidden(character: char) -> bool {
    character.is_control()
        || matches!(character, '\u{ad}' | '\u{61c}' | '\u{180e}' | '\u{feff}')
        || matches!(character, '\u{200b}' | '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}')
}

/// Spaces that look like the plain one, in places where only the plain one parts words.
fn is_odd_space(character: char) -> bool {
    matches!(character, '\u{a0}' | '\u{1680}' | '\u{2000}'..='\u{200a}' | '\u{202f}' | '\u{205f}' | '\u{3000}')
}

/// The plain letter that a wide one means: Unicode, "Halfwidth and Fullwidth Forms".
fn plain(character: char) -> Option<char> {
    let is_wide = matches!(character, '\u{ff01}'..='\u{ff5e}');
    char::from_u32(character as u32 - 0xfee0 * u32::from(is_wide)).filter(|_| is_wide)
}

/// The first hidden character of a line, with what should be in its place.
///
/// In strings and comments odd spaces are text. A tab parts words outside strings and is a control character inside.
pub(super) fn find(text: &str, line: Span, comment: Option<Span>) -> Option<SyntaxError> {
    let mut quoted = false;
    for (at, character) in line.of(text).char_indices() {
        let start = line.start + at as u32;
        let in_comment = comment.is_some_and(|comment| comment.start <= start);
        quoted ^= character == '"' && !in_comment;
        let prose = quoted || in_comment;
        let hidden = is_hidden(character) && (character != '\t' || (quoted && !in_comment));
        if hidden || (!prose && is_odd_space(character)) {
            return Some(error(start, character, prose));
        }
        if !prose && plain(character).is_some() {
            return Some(full_width(text, Span::new(start, comment.map_or(line.end, |comment| comment.start))));
        }
    }
    None
}

/// All wide letters up to the next string, for they seldom come alone.
fn full_width(text: &str, rest: Span) -> SyntaxError {
    let code = rest.of(text).split('"').next().unwrap_or_default();
    let last = code.char_indices().rfind(|(_, character)| plain(*character).is_some());
    let end = last.map_or(0, |(at, character)| at + character.len_utf8());
    let instead = code[..end].chars().map(|character| match character {
        '\u{3000}' => ' ',
        other => plain(other).unwrap_or(other),
    });
    let span = Span::new(rest.start, rest.start + end as u32);
    SyntaxError { span, kind: SyntaxErrorKind::FullWidthCharacter, replace: Some((span, instead.collect())) }
}

fn error(start: u32, character: char, prose: bool) -> SyntaxError {
    let span = Span::new(start, start + character.len_utf8() as u32);
    let kind = if prose { SyntaxErrorKind::HiddenCharacter } else { SyntaxErrorKind::ControlCharacter };
    let instead = if character == '\t' || is_odd_space(character) { " " } else { "" };
    SyntaxError { span, kind, replace: Some((span, instead.to_owned())) }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(line: &str) -> Option<(u32, SyntaxErrorKind)> {
        assert!(find(line, Span::new(0, line.len() as u32), None).is_none() || possible(line.as_bytes()), "{line:?}");
        find(line, Span::new(0, line.len() as u32), None).map(|error| (error.span.start, error.kind))
    }

    #[test]
    fn a_tab_parts_words_but_is_no_text() {
        assert_eq!(found("\tmass:\t4 kg"), None);
        assert_eq!(found("note: \"a\tb\""), Some((8, SyntaxErrorKind::HiddenCharacter)));
    }

    #[test]
    fn a_no_break_space_is_text_but_parts_no_words() {
        assert_eq!(found("note: \"4\u{a0}kg\""), None);
        assert_eq!(found("mass: 4\u{a0}kg"), Some((7, SyntaxErrorKind::ControlCharacter)));
    }

    #[test]
    fn wide_letters_are_plain_ones_up_to_the_next_string() {
        let line = "mass： ４.８２　kg ＃";
        let error = find(line, Span::new(0, line.len() as u32), None).unwrap();
        assert_eq!(error.kind, SyntaxErrorKind::FullWidthCharacter);
        let (span, instead) = error.replace.unwrap();
        assert_eq!((span.of(line), &*instead), ("： ４.８２　kg ＃", ": 4.82 kg #"));
        assert_eq!(found("note: \"：\" # ８"), Some((14, SyntaxErrorKind::FullWidthCharacter)));
        let comment = Some(Span::new(12, 17));
        assert!(find("note: \"：\" # ８", Span::new(0, 17), comment).is_none());
    }

    #[test]
    fn every_hidden_character_is_thought_possible() {
        for character in (0..=0x10ffff).filter_map(char::from_u32).filter(|c| !matches!(c, '\n' | '\r')) {
            if is_hidden(character) || is_odd_space(character) || plain(character).is_some() {
                assert!(possible(character.to_string().as_bytes()), "{character:?}");
            }
        }
    }
}
