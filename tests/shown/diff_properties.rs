//! What a comparison of two books may and may not say.

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::Arc;

use crate::support::books;
use rotorbook::book::{Book, Entry, FileId, Outcome, SourceFile, head_of, heading};
use rotorbook::diff::{ItemChange, MovedHow, compare, same_outcome};
use rotorbook::sheet::{Block, FieldValue};
use rotorbook::syntax::Kind;
use rotorbook::text::{Edit, Span, apply};
use rotorbook::vocabulary::result;
use rotorbook::vocabulary::setup::{self, Status};

fn example() -> Book {
    books::book_in(&Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/tern-quay"))
}

/// The same book with every file read again, so that nothing is known to be the same.
fn read_anew(book: &Book, change: impl Fn(FileId, &SourceFile) -> String) -> Book {
    let files = book.files().map(|(id, file)| Arc::new(SourceFile::read(&*file.path, change(id, file))));
    Book::new(files.collect())
}

#[test]
fn a_book_does_not_differ_from_itself() {
    let book = example();
    assert!(compare(&book, &book).is_empty());
    assert!(compare(&book, &read_anew(&book, |_, file| file.text.to_string())).is_empty());
}

#[test]
fn layout_is_no_difference() {
    let book = example();
    let loose = |_: FileId, file: &SourceFile| {
        let lines = file.text.lines().map(|line| format!("   {}   # remark\n\n", line.replace(": ", ":   ")));
        lines.collect::<String>()
    };
    let other = read_anew(&book, loose);
    assert!(other.files().all(|(_, file)| file.errors.is_empty()));
    let diff = compare(&book, &other);
    // Spaces within a text are part of it.
    let facts =
        diff.items.iter().flat_map(|item| &item.facts).filter(|fact| !fact.old.as_deref().unwrap().contains(": "));
    assert_eq!(facts.count(), 0, "{:#?}", diff.items);
}

#[test]
fn facts_and_items_in_another_order_are_no_difference() {
    let book = example();
    let other = read_anew(&book, |_, file| {
        let mut edits = Vec::new();
        for item in &file.sheet.items {
            swap_facts(item, &file.text, &mut edits);
        }
        apply(&file.text, &edits).unwrap()
    });
    let items = compare(&book, &other).items;
    assert!(items.iter().all(|item| item.facts.is_empty()), "{items:#?}");
}

/// Each two facts of a block change their places, as far as their keys are not one.
fn swap_facts(block: &Block, text: &str, edits: &mut Vec<Edit>) {
    for two in block.fields.chunks_exact(2) {
        if two[0].key.name == two[1].key.name && two[0].key.repeats {
            continue;
        }
        let whole = |n: usize| Span::new(two[n].head.start, two[n].value_span.end);
        let (first, second) = (whole(0), whole(1));
        edits.push(Edit::replace(first, second.of(text).to_owned()));
        edits.push(Edit::replace(second, first.of(text).to_owned()));
    }
    block.blocks.iter().for_each(|inner| swap_facts(inner, text, edits));
}

/// One fact of the book, and what it is to read instead.
struct Mutation {
    file: FileId,
    item: (String, String),
    path: Vec<String>,
    span: Span,
    value: String,
}

fn mutations(book: &Book) -> Vec<Mutation> {
    let mut all = Vec::new();
    for id in book.items() {
        let item = book.item(id);
        let name = (item.kind.to_string(), item.name_text().to_owned());
        gather(item, id.file, &book.file(id.file).text, &name, &mut Vec::new(), &mut all);
    }
    all
}

fn gather(
    block: &Block,
    file: FileId,
    text: &str,
    item: &(String, String),
    path: &mut Vec<String>,
    all: &mut Vec<Mutation>,
) {
    for field in &block.fields {
        let written = field.value_span.of(text);
        let value = match &field.value {
            FieldValue::Quantity(stated) if written.contains('±') || stated.base == 0.0 => continue,
            FieldValue::Quantity(_) => format!("({written}) * 1.01"),
            FieldValue::Text(_) => format!("{} too\"", written.strip_suffix('"').unwrap()),
            FieldValue::Grade(_) => "G 40".to_owned(),
            FieldValue::Name(_) => "\"not in the book\"".to_owned(),
            FieldValue::Reading(_) | FieldValue::Weighing(_) | FieldValue::Quantities(_) => match raised(written) {
                Some(raised) => raised,
                None => continue,
            },
            _ => continue,
        };
        let path = path.iter().cloned().chain([head_of(field)]).collect();
        all.push(Mutation { file, item: item.clone(), path, span: field.value_span, value });
    }
    for inner in &block.blocks {
        path.push(heading(inner));
        gather(inner, file, text, item, path, all);
        path.pop();
    }
}

/// The first digit that can be is raised by one.
fn raised(written: &str) -> Option<String> {
    let at = written.find(|c: char| ('1'..='8').contains(&c))?;
    let digit = written[at..].chars().next()?.to_digit(10)?;
    Some(format!("{}{}{}", &written[..at], digit + 1, &written[at + 1..]))
}

/// Every result of a book, by item and path; several of one path in their order.
fn all_results(book: &Book) -> BTreeMap<String, Vec<Entry>> {
    let mut results: BTreeMap<String, Vec<Entry>> = BTreeMap::new();
    for (path, entry) in books::results(book) {
        results.entry(path).or_default().push(entry);
    }
    results
}

/// What both books in full say has moved, but what follows from it on the card of a sheet that is not released.
fn truly_moved(before: &BTreeMap<String, Vec<Entry>>, book: &Book) -> Vec<String> {
    let after = all_results(book);
    let drafts = book.items().map(|id| book.item(id)).filter(|item| item.kind == Kind::Setup);
    let drafts = drafts.filter(|item| item.choice(setup::STATUS) != Some(Status::Released));
    let drafts: Vec<String> = drafts.map(|item| format!("setup {} / ", item.name_text())).collect();
    let is_of_card = |path: &str| {
        let name = path.rsplit(" / ").next().unwrap();
        let is_one = name.starts_with(result::LIMIT_TO_READ.name) || name == result::DIVISION_TABLE.name;
        is_one && drafts.iter().any(|draft| path.starts_with(&**draft))
    };
    let mut moved = Vec::new();
    let paths: std::collections::BTreeSet<&String> = before.keys().chain(after.keys()).collect();
    for path in paths.into_iter().filter(|path| !is_of_card(path)) {
        let none = Vec::new();
        let (old, new) = (before.get(path).unwrap_or(&none), after.get(path).unwrap_or(&none));
        for n in 0..old.len().max(new.len()) {
            let same = match (old.get(n), new.get(n)) {
                (Some(old), Some(new)) => {
                    let missing = |entry: &Entry| matches!(entry.outcome, Outcome::Missing(_));
                    same_outcome(&old.outcome, &new.outcome) || missing(old) && missing(new)
                }
                (Some(one), None) | (None, Some(one)) => matches!(one.outcome, Outcome::Missing(_)),
                (None, None) => true,
            };
            if !same {
                moved.push(path.clone());
            }
        }
    }
    moved
}

fn holds(book: &Book, before: &BTreeMap<String, Vec<Entry>>, mutation: &Mutation) {
    let other = read_anew(book, |id, file| match id == mutation.file {
        true => apply(&file.text, &[Edit::replace(mutation.span, mutation.value.clone())]).unwrap(),
        false => file.text.to_string(),
    });
    let what = format!("{:?} {:?} → {}", mutation.item, mutation.path, mutation.value);
    let file = other.file(mutation.file);
    assert!(file.errors.is_empty(), "{what}: {:?}", file.errors);
    let diff = compare(book, &other);
    assert_eq!(diff.items.len(), 1, "{what}: {:#?}", diff.items);
    let item = &diff.items[0];
    assert_eq!((item.item.kind.to_string(), item.item.name.clone()), mutation.item, "{what}");
    assert_eq!(item.change, ItemChange::Changed, "{what}");
    assert_eq!(item.facts.iter().map(|fact| &fact.path).collect::<Vec<_>>(), [&mutation.path], "{what}");
    let told = item.results.iter().filter(|moved| moved.how != MovedHow::Pin);
    let mut told: Vec<String> =
        told.map(|moved| format!("{} {} / {}", moved.item.kind, moved.item.name, moved.path.join(" / "))).collect();
    told.sort();
    let mut truly = truly_moved(before, &other);
    truly.sort();
    assert_eq!(told, truly, "{what}");
}

fn every_nth(step: usize) {
    let book = example();
    let before = all_results(&book);
    let all = mutations(&book);
    assert!(all.len() > 600, "only {} facts can be changed", all.len());
    for mutation in all.iter().step_by(step) {
        holds(&book, &before, mutation);
    }
}

#[test]
fn a_changed_fact_shows_itself_and_what_depends_on_it_and_no_more() {
    every_nth(97);
}

#[test]
#[ignore = "takes minutes: every fact of the example book"]
fn every_changed_fact_shows_itself_and_what_depends_on_it_and_no_more() {
    every_nth(1);
}
