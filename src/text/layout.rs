//! Text in columns and lines of a length that can be read.

use unicode_width::UnicodeWidthStr;

/// Lines are not made longer than this, where a word does not force it.
pub const WIDTH: usize = 100;

/// How many columns a text takes on a terminal: a letter of Chinese, Japanese or Korean takes two, an accent of its own none.
pub fn width(text: &str) -> usize {
    UnicodeWidthStr::width(text)
}

/// The text with spaces up to a width.
pub fn padded(text: &str, to: usize) -> String {
    format!("{text}{}", " ".repeat(to.saturating_sub(width(text))))
}

/// Lines of at most `to` columns, broken at spaces.
pub fn wrapped(text: &str, to: usize) -> Vec<String> {
    let mut lines = vec![String::new()];
    let mut used = 0;
    for word in text.split(' ') {
        let line = lines.last_mut().expect("there is a line from the beginning on");
        let wide = width(word);
        if used == 0 || used + 1 + wide <= to {
            if used > 0 {
                line.push(' ');
                used += 1;
            }
            line.push_str(word);
            used += wide;
        } else {
            lines.push(word.to_owned());
            used = wide;
        }
    }
    lines
}

/// The text after a head, its further lines below its first, in lines of at most `to` columns.
pub fn hanging(head: &str, text: &str, to: usize) -> String {
    let indent = width(head);
    let lines = wrapped(text, to.saturating_sub(indent).max(30));
    format!("{head}{}", lines.join(&format!("\n{}", " ".repeat(indent))))
}

/// Rows in aligned columns, two spaces between them; the last column is not padded.
pub fn columns(rows: &[Vec<String>]) -> Vec<String> {
    let count = rows.iter().map(Vec::len).max().unwrap_or(0);
    let widths: Vec<usize> = (0..count)
        .map(|n| rows.iter().filter_map(|row| row.get(n)).map(|cell| width(cell)).max().unwrap_or(0))
        .collect();
    let row = |row: &Vec<String>| {
        let cells = row.iter().zip(&widths).map(|(cell, width)| padded(cell, *width));
        cells.collect::<Vec<_>>().join("  ").trim_end().to_owned()
    };
    rows.iter().map(row).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_is_broken_at_spaces() {
        assert_eq!(wrapped("one two three", 7), ["one two", "three"]);
        assert_eq!(wrapped("unbreakable", 3), ["unbreakable"]);
        assert_eq!(wrapped("", 3), [""]);
    }

    #[test]
    fn columns_are_aligned() {
        let row = |cells: [&str; 3]| cells.map(str::to_owned).to_vec();
        assert_eq!(columns(&[row(["a", "µµµ", "x"]), row(["bb", "c", ""])]), ["a   µµµ  x", "bb  c"]);
        assert_eq!(columns(&[row(["送風機", "x", ""]), row(["fan", "y", ""])]), ["送風機  x", "fan     y"]);
    }
}
