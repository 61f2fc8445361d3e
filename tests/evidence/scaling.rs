//! A book with its limits moved, and with one of its facts taken away.

use std::sync::Arc;

use rotorbook::book::{Book, FileId, SourceFile};
use rotorbook::sheet::{Block, Field, FieldValue};
use rotorbook::syntax::Kind;
use rotorbook::text::{Edit, Span, apply};

/// All limits of a book, stated and kept, times a factor; `None` where one follows a rule that has no number of its own.
pub fn scaled(book: &Book, factor: f64) -> Option<Book> {
    let mut files = Vec::new();
    for (_, file) in book.files() {
        let mut edits = Vec::new();
        for item in &file.sheet.items {
            limits_of(item, &file.text, factor, &mut edits)?;
        }
        files.push(Arc::new(SourceFile::read(&*file.path, apply(&file.text, &edits).unwrap())));
    }
    Some(Book::new(files))
}

fn limits_of(block: &Block, text: &str, factor: f64, edits: &mut Vec<Edit>) -> Option<()> {
    for field in &block.fields {
        let name = field.key.name;
        let is_limit = match block.kind {
            Kind::Tolerance => match name {
                "rule" => return None,
                "couple about" => false,
                _ => true,
            },
            Kind::SimilarPart => name == "total",
            Kind::ProvenWith | Kind::AsRun => name.starts_with("limit") && name != "limit couple about",
            _ => false,
        };
        if is_limit {
            let value = &text[field.value_span.range()];
            match &field.value {
                FieldValue::Grade(grade) => {
                    edits.push(Edit::replace(field.value_span, format!("G {:.12}", grade * factor)));
                }
                FieldValue::Quantity(_) => edits.push(Edit::replace(field.value_span, times(value, factor))),
                _ => {}
            }
        }
    }
    block.blocks.iter().try_for_each(|inner| limits_of(inner, text, factor, edits))
}

/// `46.3 g·mm ± 0.1 g·mm (k=2)` with both amounts times a factor.
fn times(value: &str, factor: f64) -> String {
    let amount = |part: &str| {
        let (number, unit) = part.trim().split_once(' ').unwrap_or_else(|| panic!("{value}"));
        format!("{:.12} {unit}", number.parse::<f64>().unwrap_or_else(|_| panic!("{value}")) * factor)
    };
    let parts: Vec<String> = value.split('±').map(amount).collect();
    parts.join(" ± ")
}

/// A fact of a rotor, a machine, an arbor or a setup that is neither a limit nor something that was run.
#[derive(Clone, Copy, Debug)]
pub struct Taken<'b> {
    pub file: FileId,
    pub item: Kind,
    pub block: Kind,
    pub field: &'b Field,
}

impl Taken<'_> {
    pub fn name(&self) -> String {
        let of = self.field.name.as_ref().map_or_else(String::new, |name| format!(" {}", name.text));
        format!("{} / {}: {}{of}", self.item, self.block, self.field.key.name)
    }

    /// The book without it.
    pub fn away(&self, book: &Book) -> Book {
        let file = book.file(self.file);
        let start = self.field.head.start;
        let after = &file.text[self.field.value_span.end as usize..];
        // With the comment after it, up to the end of its line.
        let rest = after.find('\n').unwrap_or(after.len());
        let end = self.field.value_span.end + rest as u32;
        let text = apply(&file.text, &[Edit::delete(Span::new(start, end))]).unwrap();
        book.with_file(Arc::new(SourceFile::read(&*file.path, text)))
    }
}

/// All of them. Limits, proofs and runs are no part: without one of these another question is asked.
pub fn facts(book: &Book) -> Vec<Taken<'_>> {
    let mut found = Vec::new();
    for (file, source) in book.files() {
        for item in &source.sheet.items {
            if matches!(item.kind, Kind::Rotor | Kind::Machine | Kind::Arbor | Kind::Setup) {
                of_block(file, item.kind, item, &mut found);
            }
        }
    }
    found
}

fn of_block<'b>(file: FileId, item: Kind, block: &'b Block, found: &mut Vec<Taken<'b>>) {
    if matches!(block.kind, Kind::Tolerance | Kind::SimilarPart | Kind::Proof | Kind::Trial) {
        return;
    }
    let own = block.fields.iter().filter(|field| !matches!(field.value, FieldValue::Text(_)));
    found.extend(own.map(|field| Taken { file, item, block: block.kind, field }));
    for inner in &block.blocks {
        of_block(file, item, inner, found);
    }
}
