//! Characters that do more than be read.

/// A text as it may be shown: control and bidirectional characters would drive the terminal, or turn what stands beside.
pub fn harmless(text: &str) -> String {
    text.chars().map(|character| if is_harmful(character) { '\u{fffd}' } else { character }).collect()
}

/// A name or path within a line: no character of it ends the line either.
pub fn in_a_line(text: &str) -> String {
    let one = |character: char| if character.is_control() || is_harmful(character) { '\u{fffd}' } else { character };
    text.chars().map(one).collect()
}

/// Whether a character moves the cursor, rings the bell or turns the direction of what follows.
pub fn is_harmful(character: char) -> bool {
    let bidirectional =
        matches!(character, '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    bidirectional || (character.is_control() && !matches!(character, '\n' | '\t'))
}

/// The first character that no line of a sheet can hold.
pub fn unreadable(text: &str) -> Option<char> {
    text.chars().find(|character| is_harmful(*character) || character.is_control())
}

/// Cuts a text to about so many bytes, and marks where.
pub fn cut(text: &mut String, most: usize) {
    if text.len() > most {
        let end = (0..=most).rev().find(|end| text.is_char_boundary(*end));
        text.truncate(end.unwrap_or(0));
        text.push('…');
    }
}
