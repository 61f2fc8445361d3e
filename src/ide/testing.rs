//! Books for tests: `#! path` begins a file, `$0` is the cursor, two of them a range.

use std::sync::Arc;

use crate::book::{Book, FileId, SourceFile};
use crate::check::FileEdit;
use crate::text::{self, Edit, Span};

pub(crate) struct Fixture {
    pub book: Book,
    /// The file that holds the cursor; the last one when none does.
    pub file: FileId,
    pub offset: u32,
    /// From the first cursor to the second; empty with one.
    pub range: Span,
}

/// A shop with a bench that reads divisions and a rotor whose figures are round: 80 g·mm permissible, mass centre in the
/// middle of the bearings, planes alike to both sides of it, so that 40 g·mm fall to each; 1 div is then 40 g·mm.
pub(crate) const SHOP: &str = r#"#! book.rotor
shop "Tern Quay Rotor Shop" {
  format: 1

  instrument "fine scale" {
    measures: mass
    range: up to 200 g
    resolution: 0.01 g
  }
}
#! machines/bench.rotor
machine "soft bench" {
  supports: soft
  channels: left, right

  readout {
    shows: div
    angles: none

    scale fine {
      one mark is: 0.5 div
      marks: 40
    }
  }

  control dial {
    range: 0 to 500
  }

  control "needle side" {
    positions: left, right
    note: "left first"
  }
}
#! masses.rotor
masses "brass set" {
  values: 1.00 g, 2.00 g, 4.00 g, 10.00 g
  uncertainty: 0.004 g
}
#! rotors/wheel.rotor
rotor wheel {
  mass: 4 kg
  mass centre: 100 mm
  bearings: 0 mm, 200 mm
  highest service speed: 3000 rpm
  plane hub {
    at: 50 mm
    radius: 100 mm
  }
  plane "outer rim" {
    at: 150 mm
    radius: 120 mm
  }
  tolerance {
    total: 80 g·mm
  }
}
"#;

/// The lines that every setup of the wheel begins with.
pub(crate) const SETUP: &str = r#"#! setups/wheel.rotor
setup "wheel on the soft bench" {
  rotor: wheel
  machine: "soft bench"
  balancing speed: 1000 rpm
  channel left: hub
  channel right: "outer rim"
  tolerance reads: 1 div
"#;

/// Files in a row, each after a line `#! path`; text before the first is `sheet.rotor`.
pub(crate) fn fixture(text: &str) -> Fixture {
    let mut files: Vec<(String, String)> = Vec::new();
    for line in text.split_inclusive('\n') {
        match line.strip_prefix("#! ") {
            Some(path) => files.push((path.trim().to_owned(), String::new())),
            None if files.is_empty() => files.push(("sheet.rotor".to_owned(), line.to_owned())),
            None => files.last_mut().unwrap().1.push_str(line),
        }
    }
    let mut cursor = None;
    let mut sources = Vec::new();
    for (path, mut text) in files {
        let mut offsets = Vec::new();
        while let Some(at) = text.find("$0") {
            text.replace_range(at..at + 2, "");
            offsets.push(at as u32);
        }
        if let (Some(first), Some(last)) = (offsets.first(), offsets.last()) {
            cursor = Some((path.clone(), Span::new(*first, *last)));
        }
        sources.push(Arc::new(SourceFile::read(path, text)));
    }
    let last = sources.last().unwrap().path.to_string();
    let book = Book::new(sources);
    let (path, range) = cursor.unwrap_or((last, Span::at(0)));
    let file = book.file_at(&path).unwrap();
    Fixture { book, file, offset: range.start, range }
}

impl Fixture {
    pub fn text(&self) -> &str {
        &self.book.file(self.file).text
    }

    /// The text of the file with edits in it.
    pub fn edited(&self, edits: &[Edit]) -> String {
        text::apply(self.text(), edits).unwrap()
    }

    /// Every file that the edits change, after them, under its path.
    pub fn edited_files(&self, edits: &[FileEdit]) -> String {
        let mut out = String::new();
        for (id, source) in self.book.files() {
            let of_file: Vec<Edit> =
                edits.iter().filter(|edit| edit.file == id).map(|edit| edit.edit.clone()).collect();
            if !of_file.is_empty() {
                out.push_str(&format!("#! {}\n{}", source.path, text::apply(&source.text, &of_file).unwrap()));
            }
        }
        out
    }

    /// The lines that changed, with `-` and `+` before them.
    pub fn changes(&self, edits: &[FileEdit]) -> String {
        let mut out = String::new();
        for (id, source) in self.book.files() {
            let of_file: Vec<Edit> =
                edits.iter().filter(|edit| edit.file == id).map(|edit| edit.edit.clone()).collect();
            if of_file.is_empty() {
                continue;
            }
            let new = text::apply(&source.text, &of_file).unwrap();
            out.push_str(&format!("#! {}\n", source.path));
            let diff = similar::TextDiff::from_lines(&*source.text, &*new);
            for change in diff.iter_all_changes() {
                let sign = match change.tag() {
                    similar::ChangeTag::Delete => '-',
                    similar::ChangeTag::Insert => '+',
                    similar::ChangeTag::Equal => continue,
                };
                out.push_str(&format!("{sign}{}\n", change.value().trim_end()));
            }
        }
        out
    }
}

/// The line that holds a span, with the span underlined.
pub(crate) fn underlined(text: &str, span: Span) -> String {
    let start = text[..span.start as usize].rfind('\n').map_or(0, |at| at + 1);
    let end = text[span.end as usize..].find('\n').map_or(text.len(), |at| span.end as usize + at);
    let before = text[start..span.start as usize].chars().count();
    let width = span.of(text).chars().count().max(1);
    format!("{}\n{}{}", &text[start..end], " ".repeat(before), "^".repeat(width))
}

/// The line that holds an offset, without its indentation.
pub(crate) fn line_of(text: &str, at: u32) -> &str {
    let start = text[..at as usize].rfind('\n').map_or(0, |at| at + 1);
    let end = text[at as usize..].find('\n').map_or(text.len(), |end| at as usize + end);
    text[start..end].trim()
}
