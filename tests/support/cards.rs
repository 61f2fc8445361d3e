//! Cards of the example book, and of one that means harm.

use std::path::Path;
use std::sync::Arc;

use rotorbook::book::{Book, Computing, SourceFile};
use rotorbook::card::{self, Card, Drawing, Part, Printed, Section, Side, Sides, Value};
use rotorbook::{check, disk};

pub fn example_book() -> Book {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/tern-quay");
    let files = disk::walk_book(&root).files;
    Book::new(files.iter().map(|path| Arc::new(disk::source(path, &root))).collect())
}

pub fn printed() -> Printed {
    let state = "commit 0123456789".to_owned();
    Printed { on: "2026-11-12".to_owned(), state, committed: true, preview: false }
}

/// The cards of all items that have one, with all their sides.
pub fn cards(book: &Book) -> Vec<Card> {
    let computing = Computing::new(book);
    let found = check::check(book);
    book.items().filter_map(|id| card::card(&computing, id, &found, &printed(), Sides::Both)).collect()
}

/// All sections of a side, those in columns too.
pub fn sections(side: &Side) -> Vec<&Section> {
    let mut found: Vec<&Section> = side.sections.iter().collect();
    let mut next = 0;
    while next < found.len() {
        for part in &found[next].parts {
            if let Part::Columns(columns) = part {
                found.extend(columns.iter().flat_map(|column| &column.sections));
            }
        }
        next += 1;
    }
    found
}

/// All values of a card.
pub fn values(card: &Card) -> Vec<&Value> {
    let parts = card.sides.iter().flat_map(sections).flat_map(|section| &section.parts);
    parts
        .flat_map(|part| match part {
            Part::Rows(rows) | Part::Fields(rows) => rows.iter().map(|row| &row.value).collect::<Vec<_>>(),
            Part::Table(table) | Part::Beside(table, _) => table.rows.iter().flatten().collect(),
            Part::Steps(steps) => steps.iter().flat_map(|step| &step.rows).map(|row| &row.value).collect(),
            Part::Numbers(numbers) => numbers.iter().map(|number| &number.value).collect(),
            _ => Vec::new(),
        })
        .collect()
}

/// All drawings of a card.
pub fn drawings(card: &Card) -> Vec<&Drawing> {
    let parts = card.sides.iter().flat_map(sections).flat_map(|section| &section.parts);
    parts
        .flat_map(|part| match part {
            Part::Figures(figures) => figures.iter().map(|figure| &figure.drawing).collect::<Vec<_>>(),
            Part::Beside(_, figure) => vec![&figure.drawing],
            _ => Vec::new(),
        })
        .collect()
}

/// Texts that would do more than be read, wherever a page or a terminal let them.
pub fn harmful() -> Vec<String> {
    vec![
        "<script>alert(1)</script>".to_owned(),
        "]]><script src=//x.example/a.js></script>".to_owned(),
        "\"\"><img src=x onerror=alert(1)>".to_owned(),
        "' onmouseover='alert(1)".to_owned(),
        "</style></svg></title><iframe src=http://x.example>".to_owned(),
        "&lt;b&gt; &#60;script&#62;".to_owned(),
        "a\u{202e}kcab\u{202c} \u{200f}\u{2066}x".to_owned(),
        "מאוורר 315 مروحة".to_owned(),
        "{{7*7}} ${7*7} \\3c script".to_owned(),
        "x".repeat(2_000),
        "long words ".repeat(180),
    ]
}

/// A book that holds this text wherever a book may hold a text.
pub fn book_with(text: &str) -> Book {
    let text = text.replace('\n', " ");
    let sheet = format!(
        r#"shop "{text} shop" {{
  format: 1
}}
machine "{text} machine" {{
  supports: soft
  channels: "{text} l", "{text} r"

  readout {{
    shows: div
    angles: by strobe
    full scale: 100 div
  }}

  control "{text} control" {{
    range: 0 to 100
    note: "{text}"
  }}
}}
rotor "{text} rotor" {{
  drawing: "{text}"
  mass: 5 kg
  mass centre: 100 mm
  datum: "{text}"
  bearings: 0 mm, 200 mm
  highest service speed: 3000 rpm
  highest safe speed: 4000 rpm
  zero angle: "{text}"
  angles count: with rotation
  rotation: clockwise seen from drive end
  note: "{text}"

  plane "{text} 1" {{
    at: 50 mm
    radius: 100 mm
    correct: remove
    method: drilling
    material: "{text}"
    note: "{text}"
  }}

  plane "{text} 2" {{
    at: 150 mm
    radius: 100 mm
    correct: add
    method: clamping
    places: 8 from 0 deg
    places numbered: with rotation
    barred: 80 deg to 110 deg
  }}

  keyway "{text}" {{
    at: 0 mm
    key: half key
    mark: "{text}"
  }}

  tolerance {{
    grade: G 6.3
    source: "{text}"
    edition: "{text}"
  }}
}}
setup "{text} setup" {{
  rotor: "{text} rotor"
  machine: "{text} machine"
  status: released
  revision: "{text}"
  by: "{text}"
  balancing speed: 900 rpm
  supports at: 0 mm, 200 mm
  channel "{text} l": "{text} 1"
  channel "{text} r": "{text} 2"
  indicates: heavy spot
  tolerance reads: 1 div
  caution: "{text}"
  note: "{text}"
  belt runs on: 60 <script>
  speed found by: "{text}"

  settings {{
    "{text} control": 5
    "{text} other": "{text}"
  }}

  calibrate "{text} 1" {{
    mass: 3.00 g
    radius: 100.0 mm
    angle: 0 deg
  }}

  calibrate "{text} 2" {{
    mass: 3.00 g
    radius: 100.0 mm
    angle: 0 deg
  }}
}}
record "{text} record" {{
  setup: "{text} setup"
  serial: "{text}"
  by: "{text}"

  run "{text} run" {{
    speed: 900 rpm
    calibration masses: off
    reading "{text} l": 10.0 div @ 30 deg
    reading "{text} r": 8.0 div @ 200 deg
  }}

  correction "{text} 1" {{
    remove: 1.00 g
    angle: 30 deg
  }}
}}
"#
    );
    Book::new(vec![Arc::new(SourceFile::read("book.rotor", sheet))])
}
