//! A table as it lies on disk: separated by commas, semicolons or tabs, whichever its line of headings has most of.

use std::path::Path;

use crate::cli::Failure;
use crate::disk;

pub(super) struct TableOnDisk {
    /// The name of the file, to say where a fact comes from.
    pub file: String,
    pub heads: Vec<String>,
    /// What comes before the headings: a title.
    pub above: Vec<RowOnDisk>,
    pub rows: Vec<RowOnDisk>,
    /// Whether it is not UTF-8, so that its letters beyond ASCII are guessed.
    pub is_guessed: bool,
}

pub(super) struct RowOnDisk {
    /// The line of the file that it starts on, from 1.
    pub line: usize,
    /// The line that it ends on: a later one where a cell in quotes holds the ends of lines.
    pub last_line: usize,
    /// Whether a quote is still open where the file ends.
    pub is_open: bool,
    pub cells: Vec<String>,
}

/// The headings are in the first row that has all that are wanted, else in the first.
pub(super) fn table(path: &Path, wanted: &[&str]) -> Result<TableOnDisk, Failure> {
    let failed = |why: String| Failure::new(format!("`{}` cannot be read: {why}", path.display()));
    let bytes = disk::bytes(path).map_err(failed)?;
    let (text, is_guessed) = match String::from_utf8(bytes) {
        Ok(text) => (text, false),
        Err(error) => (windows_1252(error.as_bytes()), true),
    };
    let text = text.strip_prefix('\u{feff}').unwrap_or(&text);
    let has_wanted = |line: &&str| wanted.iter().all(|head| line.contains(head));
    let headings = text.lines().find(has_wanted).or(text.lines().next());
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(separator(headings.unwrap_or_default()))
        .has_headers(false)
        .flexible(true)
        .from_reader(text.as_bytes());
    let mut rows = Vec::new();
    let end = if text.contains('\n') { b'\n' } else { b'\r' };
    let mut lines = Lines { text, end, at: 0, line: 1 };
    let mut from = 0;
    let mut record = csv::StringRecord::new();
    while reader.read_record(&mut record).map_err(|error| failed(error.to_string()))? {
        let to = (reader.position().byte() as usize).min(text.len());
        // Empty lines before a row are skipped with it.
        let skipped = text[from..to].bytes().take_while(|byte| matches!(byte, b'\n' | b'\r')).count();
        let written = text[from + skipped..to].trim_end_matches(['\n', '\r']);
        let line = lines.of(from + skipped);
        let last_line = lines.of(from + skipped + written.len());
        let is_open = to == text.len() && written.matches('"').count() % 2 == 1;
        rows.push(RowOnDisk { line, last_line, is_open, cells: record.iter().map(cleaned).collect() });
        from = to;
    }
    if rows.is_empty() {
        return Err(failed("it is empty".to_owned()));
    }
    let is_heading = |row: &RowOnDisk| wanted.iter().all(|head| row.cells.iter().any(|cell| cell == head));
    let at = rows.iter().position(is_heading).unwrap_or(0);
    let mut above: Vec<RowOnDisk> = rows.drain(..at).collect();
    let heads = rows.remove(0).cells;
    [&mut above, &mut rows]
        .into_iter()
        .for_each(|rows| rows.retain(|row| row.cells.iter().any(|cell| !cell.is_empty())));
    let file = path.file_name().map(|name| cleaned(&name.to_string_lossy())).unwrap_or_default();
    Ok(TableOnDisk { file, heads, above, rows, is_guessed })
}

/// As most spreadsheets write what they do not write as UTF-8 (the table of bytes 80 to 9F from memory).
fn windows_1252(bytes: &[u8]) -> String {
    const UPPER: [char; 32] = [
        '€', '\u{81}', '‚', 'ƒ', '„', '…', '†', '‡', 'ˆ', '‰', 'Š', '‹', 'Œ', '\u{8d}', 'Ž', '\u{8f}', '\u{90}', '‘',
        '’', '“', '”', '•', '–', '—', '˜', '™', 'š', '›', 'œ', '\u{9d}', 'ž', 'Ÿ',
    ];
    let letter = |byte: &u8| match byte {
        0x80..=0x9f => UPPER[usize::from(byte - 0x80)],
        _ => char::from(*byte),
    };
    bytes.iter().map(letter).collect()
}

/// Counts lines forward through a text.
struct Lines<'t> {
    text: &'t str,
    end: u8,
    at: usize,
    line: usize,
}

impl Lines<'_> {
    /// The line, from 1, of a place that is no earlier than the one before.
    fn of(&mut self, at: usize) -> usize {
        self.line += self.text[self.at..at].bytes().filter(|byte| *byte == self.end).count();
        self.at = at;
        self.line
    }
}

fn separator(line: &str) -> u8 {
    let count = |separator: u8| line.bytes().filter(|byte| *byte == separator).count();
    [b',', b';', b'\t'].into_iter().rev().max_by_key(|separator| count(*separator)).unwrap_or(b',')
}

/// A cell on one line, spaces at its ends and doubled ones taken out.
fn cleaned(cell: &str) -> String {
    let plain: String = cell.chars().map(|c| if c.is_control() || c == '\u{a0}' { ' ' } else { c }).collect();
    plain.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_separator_is_the_one_that_is_there() {
        assert_eq!(separator("name;n [rpm];m [g]"), b';');
        assert_eq!(separator("name,n [rpm]"), b',');
        assert_eq!(separator("name\tn\tm, weighed"), b'\t');
        assert_eq!(separator("name"), b',');
    }

    #[test]
    fn cells_stand_on_one_line() {
        assert_eq!(cleaned(" two\r\nlines\u{a0} of  it "), "two lines of it");
    }
}
