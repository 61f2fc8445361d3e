//! What binds a record to its proof changes nothing while the sheet is the one that was proven.

use std::sync::Arc;

use rotorbook::book::{Book, SourceFile};
use rotorbook::text::{Edit, Span, apply};

use crate::shelf::{Said, books, records};

/// The book without the line of a record that names its proof.
fn unbound(book: &Book, record: &str) -> Option<Book> {
    let id = records(book).into_iter().find(|id| book.item(*id).name_text() == record)?;
    let line = book.item(id).fields.iter().find(|field| field.key.name == "proof")?;
    let file = book.file(id.file);
    let text = apply(&file.text, &[Edit::delete(Span::new(line.head.start, line.value_span.end))]).unwrap();
    Some(book.with_file(Arc::new(SourceFile::read(&*file.path, text))))
}

#[test]
fn the_binding_line_changes_nothing_while_the_sheet_is_the_same() {
    let mut count = 0;
    for (name, book) in books() {
        for id in records(&book) {
            let record = book.item(id).name_text();
            let Some(other) = unbound(&book, record) else { continue };
            let (bound, free) = (Said::of(&book, record), Said::of(&other, record));
            let (bound, free) = (bound.unwrap(), free.unwrap());
            assert_eq!(bound.verdict, free.verdict, "{name} / {record}");
            for (a, b) in bound.rows.iter().zip(&free.rows) {
                // The proof keeps limits with the digits that are written.
                let same = |a: f64, b: f64| (a - b).abs() <= 2e-3 * b;
                let all = same(a.measured, b.measured) && same(a.uncertainty, b.uncertainty) && same(a.limit, b.limit);
                assert!(all && a.word == b.word && a.name == b.name, "{name} / {record}: {a:?} and {b:?}");
            }
            count += 1;
        }
    }
    assert!(count >= 4, "only {count} records are bound");
}
