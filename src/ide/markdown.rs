//! Texts of a sheet within Markdown: they stand there as they are written, and do nothing.

use crate::text::{harmless, is_harmful};

/// A text in running words. Every sign that could begin a mark, a link, a picture or a tag is written with a backslash.
pub(super) fn plain(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut characters = text.chars().peekable();
    while let Some(character) = characters.next() {
        let is_mark = match character {
            '\\' | '`' | '*' | '_' | '[' | ']' | '<' | '>' | '!' | '|' | '&' | '~' | '#' => true,
            // Between words a colon is one, and within a word the beginning of an address.
            ':' | '@' => characters.peek().is_some_and(|next| !next.is_whitespace()),
            '.' => out.to_ascii_lowercase().ends_with("www"),
            _ => false,
        };
        if is_mark {
            out.push('\\');
        }
        match character {
            '\n' | '\r' | '\t' => out.push(' '),
            _ if is_harmful(character) => out.push('\u{fffd}'),
            _ => out.push(character),
        }
    }
    out
}

/// A sentence of the program's own with code marks in it, around what may be anything.
pub(super) fn sentence(text: &str) -> String {
    let pieces: Vec<&str> = text.split('`').collect();
    let closed = pieces.len() - usize::from(pieces.len().is_multiple_of(2));
    let written = pieces.iter().enumerate().map(|(n, piece)| match n {
        _ if n >= closed => plain(&format!("`{piece}")),
        _ if n % 2 == 1 => code(piece),
        _ => plain(piece),
    });
    written.collect()
}

/// A text as code, as it stands.
pub(super) fn code(text: &str) -> String {
    let text = harmless(&text.replace(['\n', '\r', '\t'], " "));
    let longest = text.split(|character| character != '`').map(str::len).max().unwrap_or(0);
    match longest {
        0 => format!("`{text}`"),
        _ => {
            let fence = "`".repeat(longest + 1);
            format!("{fence} {text} {fence}")
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hostile_texts_are_plain() {
        assert_eq!(plain("a ![p](http://b/c.png)"), "a \\!\\[p\\](http\\://b/c.png)");
        assert_eq!(plain("<img src=x> www.tern.example a@b.c"), "\\<img src=x\\> www\\.tern.example a\\@b.c");
        assert_eq!(plain("**x**\u{1b}[1m\n# y"), "\\*\\*x\\*\\*\u{fffd}\\[1m \\# y");
        assert_eq!(
            plain("802 g·mm @ 40.0 deg: \"fan wheel 315\", near-side"),
            "802 g·mm @ 40.0 deg: \"fan wheel 315\", near-side"
        );
    }

    #[test]
    fn a_sentence_keeps_its_code() {
        assert_eq!(sentence("`mass` in rotor \"<b>\" is missing"), "`mass` in rotor \"\\<b\\>\" is missing");
        assert_eq!(sentence("`a` of ` b"), "`a` of \\` b");
    }

    #[test]
    fn code_cannot_be_left() {
        assert_eq!(code("a"), "`a`");
        assert_eq!(code("a `` <b>"), "``` a `` <b> ```");
    }
}
