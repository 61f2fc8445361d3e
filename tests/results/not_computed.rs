//! Every result that is left out says why: of the example book, with its lines taken away in turn.

use std::collections::BTreeSet;
use std::path::Path;
use std::sync::Arc;

use rotorbook::book::{Book, Computed, Computing, EffectiveBlock, Entry, ItemId, Outcome, SourceFile, why};
use rotorbook::check::{self, ItemContext, PinState};
use rotorbook::syntax::Kind;
use rotorbook::vocabulary::{self, ResultSpec, result};

use crate::support::books::book;

/// Results of a block that are worked out, with an amount or a reason, wherever the block stands.
fn always_there(spec: &ResultSpec) -> bool {
    [
        &result::PERMISSIBLE,
        &result::PERMISSIBLE_SPECIFIC,
        &result::EQUIVALENT_GRADE,
        &result::STATIC_LIMIT,
        &result::PLANE_TOLERANCE,
    ]
    .contains(&spec)
}

/// The results of a block and those inside it: each is an entry or left out for a reason. Returns those left out.
fn look(book: &Book, computed: &Computed<'_>, block: &EffectiveBlock<'_>, left_out: &mut Vec<&'static ResultSpec>) {
    for spec in vocabulary::results_of(block.kind) {
        let here = |entry: &&Entry| entry.path == block.path && entry.is(spec);
        let mut reasons = computed.not_computed().iter().filter(|one| one.path == block.path && one.spec == spec);
        if let Some(Outcome::Missing(missing)) = computed.entries().iter().find(here).map(|entry| &entry.outcome) {
            assert!(!why(book, missing).is_empty());
            left_out.push(spec);
        }
        match reasons.next() {
            Some(one) => {
                assert!(!one.why.words(book).is_empty());
                left_out.push(spec);
            }
            None => {
                let blocks: Vec<String> = block.path.blocks().map(ToString::to_string).collect();
                let has = computed.entries().iter().any(|entry| here(&entry));
                assert!(has, "`{}` of {} {blocks:?} has neither a value nor a reason", spec.name, block.kind);
            }
        }
    }
    for inner in &block.blocks {
        look(book, computed, inner, left_out);
    }
}

fn look_at(computing: &Computing<'_>, id: ItemId, left_out: &mut Vec<&'static ResultSpec>) {
    let computed = computing.item(id);
    if !matches!(computed, Computed::Facts(_)) {
        look(computing.book(), &computed, computed.effective(), left_out);
    }
}

/// Leaves out one fact in so many, of each file from another one on, and asks that every result was left out somewhere.
fn leave_out(one_in: usize) {
    let folder = Path::new("examples/tern-quay");
    let paths = rotorbook::disk::walk_book(folder).files;
    let files: Vec<Arc<SourceFile>> =
        paths.iter().map(|path| Arc::new(rotorbook::disk::source(path, folder))).collect();
    let whole = Book::new(files.clone());
    let mut left_out = Vec::new();
    let computing = Computing::new(&whole);
    whole.items().for_each(|id| look_at(&computing, id, &mut left_out));
    for (n, file) in files.iter().enumerate().filter(|(_, file)| file.path.contains('/')) {
        let lines: Vec<&str> = file.text.lines().collect();
        for gone in (0..lines.len()).filter(|line| lines[*line].contains(": ")).skip(n % one_in).step_by(one_in) {
            let text: String = lines
                .iter()
                .enumerate()
                .filter(|(line, _)| *line != gone)
                .map(|(_, text)| format!("{text}\n"))
                .collect();
            let mut changed = files.clone();
            changed[n] = Arc::new(SourceFile::read(&*file.path, text));
            let book = Book::new(changed);
            let computing = Computing::without_explanations(&book);
            book.items().filter(|id| id.file.0 as usize == n).for_each(|id| look_at(&computing, id, &mut left_out));
        }
    }
    let seen: BTreeSet<(Kind, &str)> = left_out.iter().map(|spec| (spec.block, spec.name)).collect();
    let never: Vec<_> = vocabulary::results()
        .filter(|spec| !seen.contains(&(spec.block, spec.name)) && !always_there(spec))
        .map(|spec| (spec.block, spec.name))
        .collect();
    assert!(never.is_empty(), "{never:?} were never left out");
}

#[test]
fn what_is_left_out_of_the_example_book_says_why() {
    leave_out(3);
}

#[test]
#[ignore = "every fact: two minutes without optimisation"]
fn whatever_is_left_out_of_the_example_book_says_why() {
    leave_out(1);
}

/// Blocks with nothing in them, and items that name nothing that the book holds.
#[test]
fn what_is_left_out_of_empty_blocks_says_why() {
    let empty = "rotor bare {\n  plane hub {\n  }\n  tolerance {\n  }\n  keyway drive {\n  }\n  made of part {\n  }\n}\n\
                 machine bench {\n  readout {\n  }\n}\n\
                 setup lost {\n  rotor: none\n  machine: none\n  calibrate hub {\n  }\n  trial one {\n  }\n  proof p {\n\
                 \x20   separation hub {\n    }\n    linearity hub {\n    }\n  }\n  check mass {\n  }\n}\n\
                 setup found {\n  rotor: bare\n  machine: bench\n  channel left: hub\n  calibrate hub {\n  }\n  trial one {\n\
                 \x20 }\n  proof p {\n    separation hub {\n    }\n    linearity hub {\n    }\n  }\n  check mass {\n  }\n}\n\
                 record lost {\n  run a {\n  }\n  correction hub {\n  }\n  traverse hub {\n  }\n}\n\
                 record of {\n  setup: lost\n  run a {\n  }\n  correction hub {\n  }\n  run b {\n  }\n  traverse hub {\n  }\n}\n\
                 record found {\n  setup: found\n  run a {\n  }\n  correction hub {\n  }\n  run b {\n  }\n  traverse hub {\n  }\n}\n\
                 record none {\n  setup: found\n}\n";
    let book = book(empty);
    let computing = Computing::new(&book);
    book.items().for_each(|id| look_at(&computing, id, &mut Vec::new()));
}

/// The reason of the only pin in a book.
fn why_of_pin(text: &str) -> String {
    let book = book(text);
    let computing = Computing::new(&book);
    let mut found = Vec::new();
    for id in book.items() {
        let computed = computing.item(id);
        let context = ItemContext { computing: &computing, id, block: book.item(id), computed: &computed };
        found.extend(check::pins(&context).into_iter().map(|(_, state)| state));
    }
    match &found[..] {
        [PinState::NotComputed { why, .. }] => why.clone(),
        other => panic!("{other:?}"),
    }
}

/// A readout in divisions, a drilled plane without any radius: the radius is what is missing, not the divisions.
#[test]
fn a_pin_names_what_is_missing() {
    let sheet = |plane: &str, pin: &str| {
        format!(
            "machine bench {{\n  supports: soft\n  readout {{\n    shows: div\n    angles: none\n  }}\n}}\n\
             rotor wheel {{\n  plane hub {{\n    at: 0 mm\n{plane}  }}\n  tolerance {{\n    hub: 10 g·mm\n  }}\n}}\n\
             setup s {{\n  rotor: wheel\n  machine: bench\n  balancing speed: 1150 rpm\n  tolerance reads: 1 div\n\
             \x20 calibrate hub {{\n    mass: 3 g\n    radius: 30 mm\n    {pin}\n  }}\n}}\n"
        )
    };
    let drilled = "    method: drilling\n    hole diameter: 8 mm\n";
    let why = why_of_pin(&sheet(drilled, "one division as mass => 1 g"));
    assert!(why.contains("radius") && why.contains("plane hub") && !why.contains("division"), "{why}");
    let why = why_of_pin(&sheet(drilled, "one division as pieces => 1"));
    assert!(why.contains("`mass each`"), "{why}");
    let why = why_of_pin(&sheet("    radius: 50 mm\n", "mass => 1 g").replace("    mass: 3 g\n", ""));
    assert_eq!(why, "`reading` is missing");
}
