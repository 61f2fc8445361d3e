//! Rows as CSV (RFC 4180), with LF at the end of each.

/// A document with a head and rows of as many cells.
pub(super) fn document<const N: usize>(head: &[&str; N], rows: impl Iterator<Item = [String; N]>) -> String {
    let head = head.iter().map(|cell| (*cell).to_owned()).collect();
    self::rows(std::iter::once(head).chain(rows.map(|row| row.to_vec())))
}

/// Rows of as many cells each.
pub(super) fn rows(mut rows: impl Iterator<Item = Vec<String>>) -> String {
    let mut writer = csv::Writer::from_writer(Vec::new());
    let written = rows.all(|row| writer.write_record(&row).is_ok());
    debug_assert!(written, "every row has as many cells as the head");
    let bytes = writer.into_inner().unwrap_or_default();
    String::from_utf8_lossy(&bytes).into_owned()
}

#[cfg(test)]
mod tests {
    #[test]
    fn what_would_end_a_cell_is_quoted() {
        let rows = [["a, \"b\"".to_owned(), "µm".to_owned()]];
        assert_eq!(super::document(&["x", "y"], rows.into_iter()), "x,y\n\"a, \"\"b\"\"\",µm\n");
    }
}
