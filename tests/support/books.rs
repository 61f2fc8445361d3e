//! Enter through text, leave through results.

use std::sync::Arc;

use rotorbook::book::{Book, Computing, Entry, Outcome, SourceFile};
use rotorbook::units::Unit;

/// A book of one file.
pub fn book(text: &str) -> Book {
    Book::new(vec![Arc::new(SourceFile::read("book.rotor", text))])
}

/// The same of a text that must be read without an error.
pub fn readable(text: &str) -> Book {
    let book = book(text);
    for (_, file) in book.files() {
        assert!(file.errors.is_empty(), "{:?}\n{text}", file.errors);
        assert!(file.sheet.problems.is_empty(), "{:?}\n{text}", file.sheet.problems);
    }
    book
}

/// A book of several files.
pub fn book_of<'a>(files: impl IntoIterator<Item = (&'a str, &'a str)>) -> Book {
    Book::new(files.into_iter().map(|(path, text)| Arc::new(SourceFile::read(path, text))).collect())
}

/// The book in a folder.
pub fn book_in(folder: &std::path::Path) -> Book {
    let files = rotorbook::disk::walk_book(folder).files;
    Book::new(files.iter().map(|path| Arc::new(rotorbook::disk::source(path, folder))).collect())
}

/// Every result of a book, each under `kind name / block / result`.
pub fn results(book: &Book) -> Vec<(String, Entry)> {
    let computing = Computing::new(book);
    let mut results = Vec::new();
    for id in book.items() {
        let item = book.item(id);
        for entry in computing.item(id).entries() {
            let blocks: String = entry.path.blocks().map(|block| format!("{block} / ")).collect();
            let path = format!("{} {} / {blocks}{}", item.kind, item.name_text(), entry.name());
            results.push((path, entry.clone()));
        }
    }
    results
}

/// One result as amount and expanded uncertainty, both in this unit.
pub fn amount(book: &Book, path: &str, unit: &str) -> (f64, f64) {
    amount_among(&results(book), path, unit)
}

/// The same of results that are worked out already.
pub fn amount_among(results: &[(String, Entry)], path: &str, unit: &str) -> (f64, f64) {
    let unit = Unit::parse(unit).expect("the test names a unit");
    let Some((_, entry)) = results.iter().find(|(found, _)| found == path) else {
        let paths: Vec<&String> = results.iter().map(|(path, _)| path).collect();
        panic!("no result {path}; there are {paths:#?}");
    };
    match entry.outcome {
        Outcome::Amount { base, standard, .. } => (unit.from_base(base), 2.0 * standard / unit.factor()),
        ref other => panic!("{path} is no amount: {other:?}"),
    }
}
