//! Orders beside what a plane has already: a cut that goes deeper, masses beside a full place, holes that run into each other.
//! Right answers by hand.

use rotorbook::book::Computing;
use rotorbook::card;
use rotorbook::syntax::Kind;

use super::what_was_done::{sheets, shop};
use crate::support::books;
use crate::support::cli::Folder;

const GROUND: &str = "    correct: remove\n    method: grinding\n    material: \"carbon steel bar\"\n    surface radius: 100 mm\n    \
                      width: 10 mm\n    full arc: 40 deg\n    depth: up to 2 mm\n";
const DRILLED: &str = "    correct: remove\n    method: drilling\n    material: \"carbon steel bar\"\n    surface radius: 100 mm\n    \
                       hole diameter: 8 mm\n    depth: up to 12 mm\n    hole spacing at least: 12 mm\n";
const RING: &str = "    correct: add\n    method: clamping\n    radius: 100 mm\n    most per place: 80 g\n";

fn run(name: &str, reading: &str) -> String {
    format!("  run {name} {{\n    speed: 900 rpm\n    reading left: {reading}\n  }}\n")
}

fn did(facts: &str) -> String {
    format!("  correction rim {{\n    {facts}\n  }}\n")
}

fn job(blocks: &str) -> String {
    format!("\nrecord job {{\n  setup: sheet\n  date: 2026-08-03\n{blocks}}}\n")
}

fn card(folder: &Folder) -> String {
    folder.run_with(&["card", "job"]).stdout().split_whitespace().collect::<Vec<_>>().join(" ")
}

/// 400 g·mm more than the 107.18 of 0.2 mm are 0.954 mm in all, made as 0.95: 0.75 mm deeper. `tests/results/deeper.rs` has the
/// geometry.
#[test]
fn an_arc_is_ordered_deeper() {
    let blocks = run("found", "107 g·mm @ 332 deg")
        + &did("angle: 332 deg\n    depth: 0.20 mm")
        + &run("then", "400 g·mm @ 332 deg");
    let card = card(&shop(GROUND, "", &job(&blocks)));
    assert!(card.contains("GRIND 0.75 mm deeper at 332 deg, to 0.95 mm"), "{card}");
}

/// 109.73 g·mm are what a hole takes between 5 and 8 mm; the chips of it weigh 1.18 g. Done as ordered, the record states the
/// whole depth.
#[test]
fn a_hole_is_ordered_deeper_and_written_down_by_its_whole_depth() {
    let blocks = run("found", "221 g·mm @ 40 deg")
        + &did("angle: 40 deg\n    depth: 5.0 mm")
        + &run("then", "110 g·mm @ 40 deg");
    let folder = shop(DRILLED, "", &job(&blocks));
    let said = card(&folder);
    assert!(said.contains("DRILL the hole at 40 deg deeper, to 8 mm"), "{said}");
    assert!(said.contains("The chips weigh 1.18 g"), "{said}");
    let book = books::readable(&sheets(DRILLED, "", &job(&blocks)));
    let computing = Computing::new(&book);
    let record = computing.record(book.find(Kind::Record, "job").unwrap()).unwrap();
    let [order] = &card::called_for(&record)[..] else { panic!("one plane") };
    let [lines] = &order.blocks[..] else { panic!("{:?}", order.blocks) };
    assert_eq!(lines[1..], ["angle: 40 deg", "depth: 8 mm"]);
    assert!(lines[0].starts_with("remove: 1.18"), "{lines:?}");
}

/// 20 g more at 100 deg, where 80 are on: 20 ÷ (2·cos 10) = 10.15 g to either side.
#[test]
fn masses_go_beside_a_full_place() {
    let blocks = run("found", "8000 g·mm @ 280 deg")
        + &did("add: 80 g\n    angle: 100 deg")
        + &run("then", "2000 g·mm @ 280 deg");
    let said = card(&shop(RING, "", &job(&blocks)));
    assert!(
        said.contains("PUT ON 10.2 g at 90 deg, 10.2 g at 110 deg")
            || said.contains("PUT ON 10.2 g at 110 deg, 10.2 g at 90 deg"),
        "{said}"
    );
    assert!(said.contains("Masses keep 10 deg apart: the plane does not state `weight length`."), "{said}");
    assert!(!said.contains("takes no more"), "{said}");
}

/// Places at 0, 120 and 240 deg take 8 g each; 8 g are on at place 1, and 7.9 g at place 3. Of 15 g at 300 deg 0.1 g more fit at
/// place 3, 60 deg off: √(14.95² + 0.087²) = 14.95 g of 15 would be left, and nobody does that. Of 6 g there, 2 g more leave
/// √(14² + 1.73²) = 14.1 g, 94 %: that is ordered.
#[test]
fn an_order_that_leaves_nearly_all_of_it_is_none() {
    let plane = "    radius: 100 mm\n    correct: add\n    method: clamping\n    places: 3 from 0 deg\n    \
                 places numbered: with rotation\n    most per place: 8 g\n";
    let order = |on: &str| {
        let blocks = run("found", "800 g·mm @ 120 deg")
            + &did(&format!("add place 1: 8.00 g\n    add place 3: {on} g"))
            + &run("then", "1500 g·mm @ 120 deg");
        card(&shop(plane, "", &job(&blocks)))
    };
    let said = order("7.90");
    assert!(said.contains("PUT ON NOTHING: the plane takes no more"), "{said}");
    let said = order("6.00");
    assert!(said.contains("PUT ON 2 g at place 3"), "{said}");
}

/// Holes of 8 mm 11 mm deep at 38 and 42 deg are 2·100·sin 2 = 6.98 mm apart where they go in and 2·89·sin 2 = 6.21 mm at their
/// bottoms: what they leave is not known.
#[test]
fn what_holes_leave_that_run_into_each_other_is_not_known() {
    let holes = |other: &str| {
        let blocks = run("found", "800 g·mm @ 40 deg")
            + &did("angle: 38 deg\n    depth: 11.0 mm")
            + &did(&format!("after: found\n    angle: {other} deg\n    depth: 11.0 mm"));
        let book = books::readable(&sheets(DRILLED, "", &job(&blocks)));
        let computing = Computing::new(&book);
        let record = computing.record(book.find(Kind::Record, "job").unwrap()).unwrap();
        let found = rotorbook::check::check(&book);
        let said =
            found.iter().find(|one| one.rule.code == "holes-drilled-too-near").map(|one| one.message.to_string());
        (card::left_by_corrections(&record, "rim").unwrap().0, said)
    };
    let (left, said) = holes("42");
    assert!(left.starts_with("What this leaves in plane rim is not known"), "{left}");
    let said = said.unwrap();
    assert!(said.contains("6.98 mm apart where they go in and 6.21 mm at their bottoms"), "{said}");
    // 9 deg apart they are 2·89·sin 4.5 = 13.97 mm from each other, more than 12.
    let (left, said) = holes("47");
    assert!(left.starts_with("By calculation, this leaves"), "{left}");
    assert_eq!(said, None);
}
