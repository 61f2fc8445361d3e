//! Each order of work is an answer to what was done: said back in its own words, it is the same correction.

use rotorbook::asking::{Begun, Question, Step, next_of_record};
use rotorbook::book::{Book, Computed, Computing, VectorVal};
use rotorbook::syntax::Kind;
use rotorbook::text;
use rotorbook::units::{Unbalance, Vector};

use crate::support::books;
use crate::what_was_done::{self, BOOK};

const CLIPS: &str = "    radius: 100 mm\n    correct: add\n    method: clamping\n";
const AT_EIGHT: &str = "    places: 8 from 0 deg\n    places numbered: with rotation\n";
const AT_SEVEN: &str = "    places: 7 from 10 deg\n    places numbered: with rotation\n";
const HOLES: &str = "    correct: remove\n    method: drilling\n    surface diameter: 200 mm\n    hole diameter: 10 mm\n    \
                     depth: up to 12 mm\n    material: \"carbon steel bar\"\n";
const AXIAL: &str = "    correct: remove\n    method: drilling\n    direction: axial\n    pitch diameter: 180 mm\n    \
                     hole diameter: 8 mm\n    point angle: 118 deg\n    depth: up to 10 mm\n    material: \"carbon steel bar\"\n";
const FLAT: &str = "    correct: remove\n    method: milling\n    surface diameter: 200 mm\n    width: 20 mm\n    \
                    depth: up to 3 mm\n    material: \"carbon steel bar\"\n";
const ARC: &str = "    correct: remove\n    method: grinding\n    surface diameter: 200 mm\n    width: 12 mm\n    \
                   full arc: 60 deg\n    depth: up to 2 mm\n    material: \"carbon steel bar\"\n";
const SEVERAL: &str = "    holes at most: 3\n    hole spacing at least: 14 mm\n";
const BARRED: &str = "    barred: 30 deg to 60 deg, 190 deg to 215 deg\n";
const MOST: &str = "    most per place: 5 g\n";

fn planes() -> Vec<String> {
    let of = |parts: &[&str]| parts.concat();
    vec![
        of(&[CLIPS]),
        of(&[CLIPS, BARRED]),
        of(&[CLIPS, "    mass each: 1.6 g\n"]),
        of(&[CLIPS, AT_EIGHT]),
        of(&[CLIPS, AT_SEVEN, MOST]),
        of(&[CLIPS, AT_EIGHT, MOST, "    mass each: 0.4 g\n"]),
        of(&[HOLES]),
        of(&[HOLES, SEVERAL]),
        of(&[HOLES, SEVERAL, BARRED]),
        of(&[HOLES, AT_SEVEN]),
        of(&[AXIAL]),
        of(&[AXIAL, SEVERAL]),
        of(&[AXIAL, AT_EIGHT]),
        of(&[FLAT]),
        of(&[FLAT, BARRED]),
        of(&[ARC]),
        of(&[
            "    correct: either\n    method: sliding weights\n    radius: 100 mm\n    mass each: 8 g\n    weights: 2\n    \
              weight length: 15 mm\n",
        ]),
    ]
}

/// The book, and the order of its record with the question that it is.
fn asked<R>(text: &str, with: impl FnOnce(&Book, &Question<'_>) -> R) -> R {
    let book = books::book_of([BOOK, ("sheets.rotor", text)]);
    let computing = Computing::new(&book);
    let id = book.find(Kind::Record, "job").unwrap();
    let Computed::Record(results) = computing.item(id) else { panic!("no record") };
    let setup = results.setup.as_deref().unwrap();
    let begun = Begun { computing: &computing, record: id, results: &results, setup, left_out: &[], put_on: &[] };
    with(&book, &next_of_record(&begun).unwrap())
}

/// The text of the record after an answer.
fn answered(text: &str, given: &str) -> String {
    asked(text, |book, question| match question.answered(book, given) {
        Ok(Step::Writes { file, edits }) => text::apply(&book.file(file).text, &edits).unwrap(),
        Ok(_) => text.to_owned(),
        Err(refused) => panic!("{given}: {}", refused.0),
    })
}

/// What the corrections after the last run did together.
fn done(text: &str) -> Vector<Unbalance> {
    let book = books::book_of([BOOK, ("sheets.rotor", text)]);
    let computing = Computing::new(&book);
    let Computed::Record(results) = computing.item(book.find(Kind::Record, "job").unwrap()) else {
        panic!("no record")
    };
    let last = results.runs.len().checked_sub(1);
    let own = results.corrections.iter().filter(|one| one.written_after == last);
    own.map(|one| one.done.as_ref().and_then(VectorVal::get).expect("done is known")).sum()
}

fn with_run(text: &str, name: &str, weights: &str, amount: f64, angle: f64) -> String {
    let record = text.trim_end().strip_suffix('}').unwrap();
    format!(
        "{record}  run \"{name}\" {{\n    speed: 900 rpm\n{weights}    reading left: {amount} g·mm @ {angle} deg\n  }}\n}}\n"
    )
}

/// The order where there is one, said back and done as called for.
fn round_trip(text: &str) -> Option<String> {
    let order = asked(text, |_, question| {
        let order = question.asks.strip_prefix("Plane rim: ")?.strip_suffix(". Done")?;
        (!order.contains("not computed")).then(|| order.to_owned())
    })?;
    let said_back = answered(text, &order);
    if order.contains("NOTHING") {
        assert_eq!(said_back, text, "{order}");
        return Some(order);
    }
    if order.contains("TURN WEIGHT") {
        assert_eq!(said_back, answered(text, ""), "{order}");
        return Some(order);
    }
    let (own, called_for) = (done(&said_back), done(&answered(text, "")));
    let off = ((own - called_for).amount() / called_for.amount()).value();
    assert!(off < 0.015, "{order}: {off}\n{said_back}\n{}", answered(text, ""));
    Some(order)
}

/// How many holes an order asks for: `DRILL 8 mm deep at 288, 296 deg`.
fn holes_of(order: &str) -> usize {
    let angles = |part: &str| part.split(" deg").next().unwrap_or_default().split(',').count();
    order.split("deep at ").skip(1).map(angles).sum()
}

#[test]
fn every_order_is_an_answer_in_its_own_words() {
    let mut orders = Vec::new();
    for plane in planes() {
        let weights = if plane.contains("sliding") { "    weights at rim: 90 deg, 270 deg\n" } else { "" };
        let record = "\nrecord job {\n  setup: sheet\n  date: 2026-08-03\n}\n";
        let begun = what_was_done::sheets(&plane, "", record);
        for (amount, angle) in [(55.0, 0.0), (130.0, 45.0), (400.0, 97.5), (900.0, 203.0), (2400.0, 341.0)] {
            let found = with_run(&begun, "as found", weights, amount, angle);
            let Some(order) = round_trip(&found) else { continue };
            let is_turned = order.contains("TURN WEIGHT");
            orders.push(order);
            if is_turned {
                continue;
            }
            // What was put on for it may come off again for the opposite.
            let corrected = answered(&found, "");
            let again = with_run(&corrected, "corrected", weights, amount * 0.8, (angle + 180.0) % 360.0);
            let next = round_trip(&again);
            if plane.contains(SEVERAL) {
                let order = next.as_deref().unwrap_or_default();
                assert!(holes_of(order) <= 3, "earlier holes are in the way of some, and give room to none: {order}");
            }
            orders.extend(next);
        }
    }
    for words in
        ["DRILL", "MILL", "GRIND", "PUT ON", "TAKE OFF", "deep at place", " × ", "TURN WEIGHT 1 TO", "the point only"]
    {
        assert!(orders.iter().any(|order| order.contains(words)), "{words}: {orders:#?}");
    }
    assert!(orders.len() > 100, "{}", orders.len());
}

/// Of pieces, half a one is the least; beside another mass, nobody weighs out next to nothing of the tolerance.
#[test]
fn nothing_is_ordered_that_no_hand_makes() {
    let record = "\nrecord job {\n  setup: sheet\n  date: 2026-08-03\n}\n";
    let order = |plane: &[&str], amount: f64, angle: f64| {
        let begun = what_was_done::sheets(&plane.concat(), "", record);
        round_trip(&with_run(&begun, "as found", "", amount, angle)).unwrap()
    };
    // A piece makes 160 g·mm, half of it 80.
    let few = order(&[CLIPS, AT_EIGHT, "    mass each: 1.6 g\n"], 60.0, 180.0);
    assert_eq!(few, "PUT ON NOTHING: it is less than half a piece");
    // A twentieth of a degree beside place 1: half a gram-millimetre of the 400 would go to place 2, and 50 are allowed.
    let crumb = order(&[CLIPS, AT_EIGHT], 400.0, 180.05);
    assert!(crumb.starts_with("PUT ON 4") && crumb.ends_with("at place 1"), "{crumb}");
}
