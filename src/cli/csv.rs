//! Rows as CSV (RFC 4180), with LF at the end of each.
//!
//! A spreadsheet takes a cell that begins with `=`, `+`, `-` or `@` for a formula and works it out. Unless such a cell is
//! a number, an apostrophe comes before it here, which spreadsheets read as "this is text". Control characters are
//! replaced as on a terminal.

use super::terminal::harmless;

/// A document with a head and rows of as many cells.
pub(super) fn document<const N: usize>(head: &[&str; N], rows: impl Iterator<Item = [String; N]>) -> String {
    let head = head.iter().map(|cell| (*cell).to_owned()).collect();
    self::rows(std::iter::once(head).chain(rows.map(|row| row.to_vec())))
}

/// Rows of as many cells each.
pub(super) fn rows(mut rows: impl Iterator<Item = Vec<String>>) -> String {
    let mut writer = csv::Writer::from_writer(Vec::new());
    let written = rows.all(|row| writer.write_record(row.iter().map(|cell| text(cell))).is_ok());
    debug_assert!(written, "every row has as many cells as the head");
    let bytes = writer.into_inner().unwrap_or_default();
    String::from_utf8_lossy(&bytes).into_owned()
}

/// A cell that is read as what it says.
fn text(cell: &str) -> String {
    let cell = harmless(cell).replace('\t', " ");
    let begins_formula =
        cell.trim_start().starts_with(['=', '+', '-', '@', '\u{ff1d}', '\u{ff0b}', '\u{ff0d}', '\u{ff20}']);
    let is_number = cell.parse::<f64>().is_ok_and(f64::is_finite);
    if begins_formula && !is_number { format!("'{cell}") } else { cell }
}

#[cfg(test)]
mod tests {
    #[test]
    fn no_cell_is_a_formula() {
        for formula in ["=1+1", "+1 kg", "-2 g·mm", "@SUM(A1)", " =1", "-inf", "\t=1", "\r=1"] {
            let cell = super::text(formula);
            assert!(cell.starts_with('\'') || cell.starts_with('\u{fffd}'), "{cell:?}");
        }
        for plain in ["-2.5", "+1e3", "12 g", "a=b", "", "−3 g"] {
            assert_eq!(super::text(plain), plain);
        }
        assert_eq!(super::text("a\u{1b}]0;b"), "a\u{fffd}]0;b");
    }

    #[test]
    fn what_would_end_a_cell_is_quoted() {
        let rows = [["a, \"b\"".to_owned(), "µm".to_owned()]];
        assert_eq!(super::document(&["x", "y"], rows.into_iter()), "x,y\n\"a, \"\"b\"\"\",µm\n");
    }
}
