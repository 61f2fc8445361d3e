//! A table as it lies on disk: separated by commas, semicolons or tabs, whichever its first line has most of.

use std::path::Path;

use crate::cli::Failure;
use crate::disk;

pub(super) struct TableOnDisk {
    /// The name of the file, to say where a fact comes from.
    pub file: String,
    pub heads: Vec<String>,
    pub rows: Vec<RowOnDisk>,
}

pub(super) struct RowOnDisk {
    /// As a spreadsheet counts: the heads are row 1.
    pub number: usize,
    pub cells: Vec<String>,
}

pub(super) fn table(path: &Path) -> Result<TableOnDisk, Failure> {
    let failed = |why: String| Failure::new(format!("`{}` cannot be read: {why}", path.display()));
    let bytes = disk::bytes(path).map_err(failed)?;
    let text = String::from_utf8(bytes)
        .map_err(|_| failed("it is not UTF-8".to_owned()).help("save the table as CSV in UTF-8"))?;
    let text = text.strip_prefix('\u{feff}').unwrap_or(&text);
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(separator(text.lines().next().unwrap_or_default()))
        .has_headers(false)
        .flexible(true)
        .from_reader(text.as_bytes());
    let mut rows = Vec::new();
    for (n, record) in reader.records().enumerate() {
        let record = record.map_err(|error| failed(error.to_string()))?;
        let cells: Vec<String> = record.iter().map(cleaned).collect();
        rows.push(RowOnDisk { number: n + 1, cells });
    }
    if rows.is_empty() {
        return Err(failed("it is empty".to_owned()));
    }
    let heads = rows.remove(0).cells;
    rows.retain(|row| row.cells.iter().any(|cell| !cell.is_empty()));
    let file = path.file_name().map(|name| cleaned(&name.to_string_lossy())).unwrap_or_default();
    Ok(TableOnDisk { file, heads, rows })
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
