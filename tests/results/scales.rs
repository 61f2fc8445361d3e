//! On which scale an amount is read, in which step, and where that scale ends: one answer for `show`, cards, rules and verdicts.

use std::path::Path;
use std::sync::Arc;

use rotorbook::book::{Book, Computing, SourceFile, text_of};
use rotorbook::card::{self, Sides};
use rotorbook::check;
use rotorbook::syntax::Kind;

use crate::support::books;
use crate::support::cards::printed;

const FAN: &str = "fan wheel 315 on the soft bench";

/// The example book with texts of its files replaced, each by kind and name of an item in it.
fn shop(changes: &[(Kind, &str, &str, &str)]) -> Book {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/tern-quay");
    changes.iter().fold(books::book_in(&folder), |book, (kind, name, from, to)| {
        let file = book.file(book.find(*kind, name).unwrap().file);
        assert!(file.text.contains(from), "{from}");
        let (path, text) = (file.path.clone(), file.text.replacen(from, to, 1));
        book.with_file(Arc::new(SourceFile::read(&*path, text)))
    })
}

fn said(book: &Book, path: &str) -> String {
    let results = books::results(book);
    let found = results.iter().find(|(found, _)| found == path).map(|(_, entry)| text_of(book, entry));
    found.unwrap_or_else(|| panic!("no {path}"))
}

fn run_card(book: &Book) -> String {
    let id = book.find(Kind::Setup, FAN).unwrap();
    card::text(&card::card(&Computing::new(book), id, &check::check(book), &printed(), Sides::Run).unwrap())
}

// 12.1 div are 24.2 marks of 0.5 div and 4.84 of 2.5 div; a fifth of a mark is 0.1 and 0.5 div. The shorter scale is the
// coarser one here.
#[test]
fn an_amount_is_read_on_the_finest_scale_that_reaches_it() {
    let bench = (Kind::Machine, "soft bench");
    let book = shop(&[
        (bench.0, bench.1, "one mark is: 5 div\n      marks: 30", "one mark is: 2.5 div\n      marks: 5"),
        (bench.0, bench.1, "one mark is: 0.5 div\n      marks: 30", "one mark is: 0.5 div\n      marks: 60"),
    ]);
    assert_eq!(said(&book, &format!("setup {FAN} / calibrate rim / scale")), "24.2 mark on fine");
    let card = run_card(&book);
    assert!(card.contains("marks on fine") && !card.contains("marks on coarse"), "{card}");
}

// The only scale ends at 30 marks of 0.5 div, whatever else the readout is said to reach: a needle on its stop shows nothing.
#[test]
fn the_only_scale_ends_where_it_ends_whether_it_is_named_or_not() {
    let folder = |written: &str| {
        let coarse =
            "\n    scale coarse {\n      one mark is: 5 div\n      marks: 30\n      smallest step: 0.2 mark\n    }\n";
        shop(&[
            (Kind::Machine, "soft bench", coarse, ""),
            (Kind::Machine, "soft bench", "    shows: div\n", "    shows: div\n    full scale: 150 div\n"),
            (Kind::Record, "fan wheel 315, 26-0419", "reading left: 0.2 div @", &format!("reading left: {written} @")),
        ])
    };
    for written in ["30 mark on fine", "30 mark"] {
        let reasons = said(&folder(written), "record fan wheel 315, 26-0419 / reasons");
        assert!(reasons.contains("reads to the end of its scale"), "{written}: {reasons}");
    }
    let below = said(&folder("29.8 mark"), "record fan wheel 315, 26-0419 / reasons");
    assert!(!below.contains("reads to the end of its scale"), "{below}");
}

// A fifth of a mark of 0.5 div: limits of 0.86 and 0.85 div are read as 0.8 div, however coarse the readout is elsewhere.
#[test]
fn a_limit_is_rounded_to_the_step_of_the_scale_that_shows_it() {
    let book = shop(&[(Kind::Machine, "soft bench", "    shows: div\n", "    shows: div\n    smallest step: 1 div\n")]);
    let card = run_card(&book);
    let line = card.lines().find(|line| line.contains("Good at")).unwrap_or_else(|| panic!("{card}"));
    assert!(line.contains("0.8 div") && !line.contains("0.85"), "{line}");
}
