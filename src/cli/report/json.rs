//! `check --format json`: one document a book, each on a line of its own; `grammar/json/check.schema.json` says what each
//! field means.

use serde::Serialize;

use super::places::{Extent, Places};
use super::{Checked, Summary};
use crate::book::{Book, FileId};
use crate::check::{Diagnostic, Fix, Place};
use crate::cli::paths;
use crate::cli::terminal::Terminal;

/// Rises whenever a program that reads the document would have to be changed.
const VERSION: u32 = 1;

#[derive(Serialize)]
struct Document<'b> {
    version: u32,
    book: String,
    summary: Summary,
    diagnostics: Vec<Entry<'b>>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    more: Vec<MoreEntry<'b>>,
}

#[derive(Serialize)]
struct MoreEntry<'b> {
    code: &'static str,
    file: &'b str,
    count: usize,
}

#[derive(Serialize)]
struct Entry<'b> {
    code: &'static str,
    severity: &'static str,
    message: &'b str,
    help: Option<&'b str>,
    file: &'b str,
    span: Extent,
    related: Vec<RelatedEntry<'b>>,
    fixes: Vec<FixEntry<'b>>,
}

#[derive(Serialize)]
struct RelatedEntry<'b> {
    message: &'b str,
    file: &'b str,
    span: Extent,
}

#[derive(Serialize)]
struct FixEntry<'b> {
    title: &'b str,
    edits: Vec<EditEntry<'b>>,
}

#[derive(Serialize)]
struct EditEntry<'b> {
    file: &'b str,
    span: Extent,
    text: &'b str,
}

pub(in crate::cli) fn write(terminal: &mut Terminal, checked: &[Checked], all: bool) {
    for checked in checked {
        let book = &checked.loaded.book;
        let places = Places::new(book);
        let told = checked.for_programs(all);
        let more = told.more.iter().map(|more| MoreEntry {
            code: more.rule.code,
            file: path(book, more.file),
            count: more.count,
        });
        let document = Document {
            version: VERSION,
            book: paths::shown(&checked.loaded.root),
            summary: Summary::of(std::slice::from_ref(checked)),
            diagnostics: told.shown.into_iter().map(|diagnostic| entry(book, &places, diagnostic)).collect(),
            more: more.collect(),
        };
        terminal.json(&document);
    }
}

fn entry<'b>(book: &'b Book, places: &Places<'b>, diagnostic: &'b Diagnostic) -> Entry<'b> {
    let related = diagnostic.related.iter().map(|related| RelatedEntry {
        message: &related.message,
        file: path(book, related.place.file),
        span: places.extent(related.place),
    });
    Entry {
        code: diagnostic.rule.code,
        severity: diagnostic.severity.word(),
        message: &diagnostic.message,
        help: diagnostic.help.as_deref(),
        file: path(book, diagnostic.place.file),
        span: places.extent(diagnostic.place),
        related: related.collect(),
        fixes: diagnostic.fixes.iter().map(|fix| fix_entry(book, places, fix)).collect(),
    }
}

fn fix_entry<'b>(book: &'b Book, places: &Places<'b>, fix: &'b Fix) -> FixEntry<'b> {
    let edits = fix.edits.iter().map(|edit| EditEntry {
        file: path(book, edit.file),
        span: places.extent(Place { file: edit.file, span: edit.edit.span }),
        text: &edit.edit.text,
    });
    FixEntry { title: &fix.title, edits: edits.collect() }
}

fn path(book: &Book, file: FileId) -> &str {
    &book.file(file).path
}
