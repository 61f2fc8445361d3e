//! The card says of the heavy spot what the sheet decides, and what its records are worked out by.

use crate::support::books::{book, results};
use crate::support::cards::{drawings, printed};
use rotorbook::book::{Book, Computed, Computing, Outcome};
use rotorbook::card;
use rotorbook::check;
use rotorbook::syntax::Kind;

const BASE: &str = include_str!("../data/faulty/base.rotor");

/// The same with a record of one run, in which the hub is read at an angle.
fn with_a_run(sheets: &str, degrees: u32) -> Book {
    book(&format!(
        "{sheets}
record \"wheel 7\" {{
  setup: \"fan wheel 315 on the soft bench\"

  run \"as found\" {{
    speed: 1150 rpm
    calibration masses: off
    reading left: 8.0 div @ {degrees} deg
    reading right: 0.2 div @ 0 deg
  }}
}}
"
    ))
}

/// The book of the faulty sheets with another line in place of `indicates`, and more after the angle of the calibration
/// of the hub.
fn sheet(indicates: &str, hub: &str, more: &str) -> Book {
    let text = BASE.replace("  indicates: heavy spot\n", &format!("{indicates}\n"));
    let text = text.replacen("    angle: 0 deg\n", &format!("    angle: 0 deg\n{hub}\n"), 1);
    let end = text.rfind('}').unwrap();
    with_a_run(&format!("{}{more}\n}}\n", &text[..end]), 40)
}

/// What the card orders for the plane of the hub, in one line.
fn order(book: &Book) -> String {
    let (_, id) = book.names_of(Kind::Setup).next().unwrap();
    let card = card::card(&Computing::new(book), id, &check::check(book), &printed(), card::Sides::Run).unwrap();
    let text = card::text(&card).split_whitespace().collect::<Vec<_>>().join(" ");
    let from = text.find("Plane hub, read on left").unwrap();
    text[from..].split("Plane rim").next().unwrap().trim().to_owned()
}

/// The angle of the heavy spot that the record works out for the hub, to a degree; `None` where it does not.
fn heavy_spot(book: &Book) -> Option<i64> {
    let results = results(book);
    let of_hub = |(path, _): &&(String, rotorbook::book::Entry)| {
        path.contains("record wheel 7") && path.contains("as found") && path.ends_with("unbalance hub")
    };
    let (_, entry) = results.iter().find(of_hub).expect("the run has an unbalance in the hub");
    match entry.outcome {
        Outcome::Vector { angle, .. } => Some(angle.to_degrees().round().rem_euclid(360.0) as i64),
        _ => None,
    }
}

/// The hub is corrected by adding, at the light spot: half a turn from the heavy one. The run shows 40 deg. The mass stood
/// at 0 deg when the machine showed what `shows` says; so the heavy spot is at 40 deg less that. Plain geometry.
#[test]
fn the_calibration_decides_where_the_setup_says_nothing() {
    let at_the_mass = sheet("", "    shows: 0 deg", "");
    assert!(order(&at_the_mass).contains("PUT ON OPPOSITE what is read."));
    assert_eq!(heavy_spot(&at_the_mass), Some(40));

    let opposite = sheet("", "    shows: 180 deg", "");
    assert!(order(&opposite).contains("PUT ON AT what is read."), "{}", order(&opposite));
    assert_eq!(heavy_spot(&opposite), Some(220));

    let between = sheet("", "    shows: 30 deg", "");
    assert!(order(&between).contains("PUT ON 150 deg on from what is read"), "{}", order(&between));
    assert_eq!(heavy_spot(&between), Some(10));
}

#[test]
fn nothing_is_ordered_where_nothing_is_said_or_two_facts_disagree() {
    let unsaid = sheet("", "", "");
    let words = order(&unsaid);
    assert!(words.contains("does not say whether the machine points at the heavy spot or the light spot"), "{words}");
    assert!(words.contains("Do not correct:"), "{words}");
    assert_eq!(heavy_spot(&unsaid), None);

    let contradicted = sheet("  indicates: light spot", "    shows: 0 deg", "");
    let words = order(&contradicted);
    assert!(words.contains("`indicates` and the calibration do not agree on where the heavy spot is"), "{words}");
    assert_eq!(heavy_spot(&contradicted), None);
    assert!(check::check(&contradicted).iter().any(|found| found.rule.code == "heavy-spot-contradicted"));
    // A step of the readout, 5 deg, is no contradiction.
    let a_step_off = sheet("  indicates: heavy spot", "    shows: 5 deg", "");
    assert!(order(&a_step_off).contains("OPPOSITE what is read."));
    assert!(check::check(&a_step_off).iter().all(|found| found.rule.code != "heavy-spot-contradicted"));
}

#[test]
fn a_proof_that_shows_the_other_spot_stops_the_card() {
    let proof = "
  proof \"2026-03-09\" {
    date: 2026-03-09
    start reading left: 0.0 div

    separation hub {
      mass: 2.00 g
      radius: 134.2 mm
      angle: 90 deg
      reading left: 7.0 div @ 270 deg
    }
  }";
    let disproved = sheet("  indicates: heavy spot", "", proof);
    let words = order(&disproved);
    assert!(words.contains("the proof shows the heavy spot half a turn from where the sheet puts it"), "{words}");
    let agrees = sheet("  indicates: light spot", "", proof);
    assert!(order(&agrees).contains("PUT ON AT what is read."));
}

#[test]
fn trial_runs_tell_where_the_machine_does_not() {
    let trials = "
  trial \"as found\" {
    speed: 1150 rpm
    reading left: 8.0 div @ 40 deg
    reading right: 4.0 div @ 10 deg
  }

  trial \"mass in the hub\" {
    mass in: hub
    mass: 3.00 g
    radius: 134.2 mm
    angle: 0 deg
    trial mass: taken off
    speed: 1150 rpm
    reading left: 16.0 div @ 60 deg
    reading right: 4.1 div @ 12 deg
  }

  trial \"mass in the rim\" {
    mass in: rim
    mass: 3.00 g
    radius: 141.0 mm
    angle: 0 deg
    trial mass: taken off
    speed: 1150 rpm
    reading left: 8.2 div @ 41 deg
    reading right: 12.0 div @ 50 deg
  }";
    let words = order(&sheet("", "", trials));
    assert!(words.contains("PUT ON where the record shows, from the trial runs"), "{words}");
    assert!(!words.contains("Do not correct"), "{words}");
}

/// The readout reads 45 deg. Where it counts with rotation, that is 45 deg with rotation from the zero mark, else 315, however
/// the rotor's own angles count. The mass goes on there where the machine points at the light spot, else half a turn on; places
/// stand every 45 deg with rotation, place 1 at the mark. Plain geometry.
#[test]
fn card_and_record_name_the_same_place_however_angles_count() {
    let cases = [
        ("with rotation", "heavy spot", 6),
        ("with rotation", "light spot", 2),
        ("against rotation", "heavy spot", 4),
        ("against rotation", "light spot", 8),
    ];
    for rotor in ["with rotation", "against rotation"] {
        for (readout, indicates, place) in cases {
            let strobe = "    angles: by strobe\n    angle step: 5 deg\n    strobe shows: number at pointer\n    \
                          pointer at: 12:00\n    pointer seen from: drive end\n";
            let measured = format!("    angles: measured\n    angle step: 5 deg\n    angles count: {readout}\n");
            let text = BASE.replace("  angles count: with rotation\n", &format!("  angles count: {rotor}\n"));
            let text = text.replace(strobe, &measured);
            let text = text.replace("  indicates: heavy spot\n", &format!("  indicates: {indicates}\n"));
            assert_eq!(text.matches("angles count: ").count(), 2);
            let book = with_a_run(&text, 45);
            let case = format!("rotor {rotor}, readout {readout}, {indicates}");
            let computing = Computing::new(&book);
            let (_, id) = book.names_of(Kind::Record).next().unwrap();
            let Computed::Record(record) = computing.item(id) else { panic!("no record") };
            let work = card::called_for(&record).into_iter().find(|work| work.plane == "hub").unwrap();
            assert!(work.order.ends_with(&format!("at place {place}")), "{case}: {}", work.order);

            let (_, id) = book.names_of(Kind::Setup).next().unwrap();
            let card = card::card(&computing, id, &check::check(&book), &printed(), card::Sides::Run).unwrap();
            let shapes = drawings(&card).into_iter().flat_map(|drawing| &drawing.shapes);
            let of_place = format!("read for place {place}");
            let read = shapes.filter(|shape| shape.of == of_place).find_map(|shape| match &shape.form {
                card::Form::Text { text, .. } => Some(text.to_string()),
                _ => None,
            });
            assert_eq!(read.as_deref(), Some("45"), "{case}");

            let order = order(&book);
            let words = match (rotor == readout, indicates) {
                (true, "heavy spot") => "PUT ON OPPOSITE what is read.",
                (true, _) => "PUT ON AT what is read.",
                (false, "heavy spot") => {
                    "PUT ON AT 180 deg less what is read, because the readout counts the other way."
                }
                (false, _) => "PUT ON AT 360 deg less what is read, because the readout counts the other way.",
            };
            assert!(order.contains(words), "{case}: {order}");
        }
    }
}
