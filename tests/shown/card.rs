//! The bench card: what stands on it, that its numbers are those of `show`, that its drawings are to scale, and that no
//! text of a sheet does more than be read.

use crate::support::books;
use crate::support::cards::{cards, example_book, printed, strong_texts};
use rotorbook::book::{self, Book, Computing};
use rotorbook::card::{self, Card};
use rotorbook::check;
use rotorbook::syntax::Kind;

const FAN: &str = "fan wheel 315 on the soft bench";

fn card_of(book: &Book, kind: Kind, name: &str) -> Card {
    let id = book.find(kind, name).unwrap();
    card::card(&Computing::new(book), id, &check::check(book), &printed()).unwrap()
}

fn setup_text(text: &str) -> String {
    let book = books::book(text);
    let (_, id) = book.names_of(Kind::Setup).next().unwrap();
    card::text(&card::card(&Computing::new(&book), id, &check::check(&book), &printed()).unwrap())
}

// With a calculator: 3.00 g × 134.2 mm ÷ 46.84 g·mm = 8.595; 1150 rpm × 60 ÷ (80 × 0.985) = 876 rpm;
// 0.00300 kg × 0.1342 m × (2π × 1150 ÷ 60 /s)² = 5.84 N; 12.140 div ∓ 5 % = 11.533 and 12.747.
#[test]
fn the_card_of_a_setup() {
    insta::assert_snapshot!(card::text(&card_of(&example_book(), Kind::Setup, FAN)));
}

#[test]
fn the_card_of_a_record() {
    insta::assert_snapshot!(card::text(&card_of(&example_book(), Kind::Record, "fan wheel 315, 26-0419")));
}

#[test]
fn every_number_with_an_uncertainty_is_one_that_show_gives() {
    let book = example_book();
    let computing = Computing::new(&book);
    let shown: Vec<String> = book
        .items()
        .flat_map(|id| {
            let computed = computing.item(id);
            let entries = computed.entries().iter();
            // `show` prints what goes into a result too.
            let inputs = entries.clone().filter_map(|entry| entry.derivation.clone()).flat_map(|derivation| {
                let inputs = derivation.inputs.iter();
                let texts = inputs
                    .filter_map(|input| Some(book::display_value(input.base?, input.unit, input.standard_uncertainty)));
                texts.collect::<Vec<_>>()
            });
            entries
                .clone()
                .map(|entry| book::text_of(&book, entry))
                .chain(inputs.collect::<Vec<_>>())
                .collect::<Vec<_>>()
        })
        .collect();
    let mut count = 0;
    for card in cards(&book) {
        for text in strong_texts(&card).into_iter().filter(|text| text.contains(" ± ")) {
            let known = shown.iter().any(|shown| shown.starts_with(&text))
                || book.files().any(|(_, file)| file.text.contains(&text));
            assert!(known, "{}: {text} stands nowhere else", card.name);
            count += 1;
        }
    }
    assert!(count > 300, "{count}");
}

#[test]
fn cautions_stand_on_every_card_of_a_setup() {
    for card in cards(&example_book()).iter().filter(|card| card.kind == Kind::Setup) {
        let text = card::text(card).split_whitespace().collect::<Vec<_>>().join(" ");
        for caution in [
            "Guard closed and eyes protected before the drive starts",
            "Nobody stands in the plane of rotation",
            "Never above the highest safe speed",
            "clear of belt and drive",
            "Weigh each mass with the wax or tape",
            "come off before the reading that counts, CAUTION and before service",
            "Coast to a stop and lock out",
            "replaces no machine manual, no local rule and no licensed judgement",
        ] {
            let words = |text: &str| text.replace("CAUTION ", "");
            assert!(words(&text).contains(&words(caution)), "{}: {caution}\n{text}", card.name);
        }
    }
}

/// A setup whose one plane corrects one way and whose machine points at one spot.
fn pointing(correct: &str, indicates: &str) -> String {
    format!(
        "shop \"s\" {{\n  format: 1\n}}\nmachine \"m\" {{\n  supports: soft\n\n  readout {{\n    shows: div\n    angles: by strobe\n  \
         }}\n}}\nrotor \"r\" {{\n  mass: 5 kg\n  highest service speed: 3000 rpm\n\n  plane hub {{\n    at: 10 mm\n    radius: 100 mm\n    \
         {correct}\n  }}\n\n  tolerance {{\n    total: 50 g·mm\n    planes: one\n  }}\n}}\nsetup \"t\" {{\n  rotor: \"r\"\n  machine: \"m\"\n  \
         balancing speed: 900 rpm\n  channel left: hub\n  {indicates}\n  tolerance reads: 1 div\n}}\n"
    )
}

#[test]
fn the_side_to_correct_is_said_in_words() {
    let at = "where the machine points";
    let opposite = "HALF A TURN from where the machine points";
    for (correct, indicates, order, where_to) in [
        ("correct: remove", "indicates: heavy spot", "REMOVE at the HEAVY spot", at),
        ("correct: remove", "indicates: light spot", "REMOVE at the HEAVY spot", opposite),
        ("correct: add", "indicates: heavy spot", "ADD at the LIGHT spot", opposite),
        ("correct: add", "indicates: light spot", "ADD at the LIGHT spot", at),
    ] {
        let text = setup_text(&pointing(correct, indicates)).split_whitespace().collect::<Vec<_>>().join(" ");
        let said = format!("{order}, {where_to}.");
        assert!(text.contains(&said), "{correct}, {indicates}: {text}");
    }
    let text =
        setup_text(&pointing("correct: remove", "note: \"none\"")).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains("not computed, because the sheet does not say whether the machine points"), "{text}");
    assert!(!text.contains("REMOVE at"), "{text}");
}

#[test]
fn a_hole_is_a_line_to_measure_into() {
    let sheet = pointing("correct: remove", "indicates: heavy spot").replace("  tolerance reads: 1 div\n", "");
    let text = setup_text(&sheet).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains("____________ not computed, because `tolerance reads` in setup \"t\" is missing"), "{text}");
}

#[test]
fn a_sheet_with_errors_says_so_across_the_top() {
    let sheet = pointing("correct: remove", "indicates: heavy spot").replace("900 rpm", "900 kg");
    let text = setup_text(&sheet);
    let top: String = text.lines().take(6).collect::<Vec<_>>().join("\n");
    assert!(top.contains("!!! THIS SHEET HAS 1 ERROR. Do not work by it"), "{text}");
    // What the rotor lacks is an error of the sheet too.
    let sheet = pointing("correct: remove", "indicates: heavy spot").replace("mass: 5 kg", "mass: 5 mm");
    assert!(setup_text(&sheet).contains("!!! THIS SHEET HAS"));
    let clean = card::text(&card_of(&example_book(), Kind::Setup, FAN));
    assert!(!clean.contains("!!!") || clean.contains("!![ ]"), "{clean}");
    assert!(!clean.contains("THIS SHEET HAS"));
}

/// A text on one line.
fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_check_mass_comes_off_again() {
    let book = example_book();
    for name in ["grinding spindle 30 on the stiff bench", "pump impeller 125 on the stiff bench", FAN] {
        let text = flat(&card::text(&card_of(&book, Kind::Setup, name)));
        let on = text.find("Check mass in plane").unwrap();
        let off =
            on + text[on..].find("ALL MASSES OFF. Count them: put on and taken off must agree. Check mass").unwrap();
        let back = off + text[off..].find("Back to the start").unwrap();
        assert!(text[back..].contains("CORRECT"), "{name}: {text}");
    }
    let text = flat(&card::text(&card_of(&book, Kind::Setup, FAN)));
    assert!(text.contains("Calibration masses : 2 Together with the check mass: 3"), "{text}");
}

// The reading of a check mass is that of the mass alone: m·r over the tolerance, times what the tolerance reads. With a
// residual the rotor reads the sum of both; common practice, no source.
#[test]
fn a_check_mass_is_read_as_a_difference() {
    let text = flat(&card::text(&card_of(&example_book(), Kind::Setup, FAN)));
    for said in [
        "read without it, put it on, read with it; the difference of the two as vectors must be within the band",
        "Without it, reads right: ____",
        "With it, reads right : ____",
        "Difference as vectors : ____",
    ] {
        assert!(text.contains(said), "{said}: {text}");
    }
    let check = "  check mass {\n    plane: hub\n    mass: 3.00 g\n    radius: 100.0 mm\n    angle: 0 deg\n  }\n}\n";
    let sheet = pointing("correct: remove", "indicates: heavy spot").replace("angles: by strobe", "angles: none");
    let text = flat(&setup_text(&format!("{}{check}", sheet.strip_suffix("}\n").unwrap())));
    assert!(text.contains("it holds on the balanced sample rotor only"), "{text}");
    assert!(!text.contains("as vectors"), "{text}");
}

#[test]
fn a_reading_taken_twice_has_two_lines() {
    let calibrate = |taken: &str| {
        let block =
            format!("  calibrate hub {{\n    mass: 3.00 g\n    angle: 0 deg\n    taken as: {taken}\n  }}\n}}\n");
        let sheet = pointing("correct: remove", "indicates: heavy spot");
        flat(&setup_text(&format!("{}{block}", sheet.strip_suffix("}\n").unwrap())))
    };
    let text = calibrate("vector difference");
    assert!(text.contains("Without it, reads left") && text.contains("With it, reads left"), "{text}");
    let text = calibrate("mean of two opposite positions");
    assert!(text.contains("As put on, reads left") && text.contains("Half a turn on, reads left"), "{text}");
    assert!(calibrate("one position").contains("Reads left"));
}

#[test]
fn a_card_with_errors_is_not_to_be_used() {
    let errors = "NOT TO BE USED: ERRORS";
    let sheet = pointing("correct: remove", "indicates: heavy spot")
        .replace("900 rpm", "900 kg")
        .replace("  machine: \"m\"\n", "  machine: \"m\"\n  status: released\n");
    let book = books::book(&sheet);
    for card in cards(&book).iter().filter(|card| card.kind == Kind::Setup) {
        let page = card::page(card, None);
        assert!(card::text(card).contains(&format!("*** {errors} ***")));
        assert!(!page.contains("RELEASED"), "{page}");
        let foot = page.lines().find(|line| line.starts_with("@page paper-1")).unwrap();
        assert!(foot.contains("NOT TO BE USED\\00003a  ERRORS"), "{foot}");
    }
    // A released sheet whose file has an error: the record made by it says no more WITHIN.
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/tern-quay");
    let files = rotorbook::disk::walk_book(&root).files.into_iter().map(|path| {
        let read = rotorbook::disk::source(&path, &root);
        let text = read.text.replace("rotor: \"fan wheel 315\"", "rotor: \"fan wheel 315\"\n  balancing sped: 1 rpm");
        std::sync::Arc::new(rotorbook::book::SourceFile::read(&*read.path, text))
    });
    let book = Book::new(files.collect());
    for (kind, name) in [(Kind::Setup, FAN), (Kind::Record, "fan wheel 315, 26-0419")] {
        assert_eq!(card_of(&book, kind, name).stamp.unwrap().word, errors);
    }
}

#[test]
fn a_void_calibration_and_a_preview_are_marked() {
    let book = example_book();
    let id = book.find(Kind::Setup, FAN).unwrap();
    let preview = card::Printed { preview: true, ..printed() };
    let card = card::card(&Computing::new(&book), id, &check::check(&book), &preview).unwrap();
    let page = card::page(&card, None);
    assert!(page.contains("<b>PREVIEW</b>") && page.contains("\"PREVIEW\\00002c  \""), "{page:.9000}");
    let computing = Computing::new(&book);
    let mut void = 0;
    for card in cards(&book).iter().filter(|card| card.kind == Kind::Setup) {
        let id = book.find(Kind::Setup, &card.name).unwrap();
        if !computing.setup(id).unwrap().void_causes.is_empty() {
            void += 1;
            assert_eq!(card.stamp.as_ref().unwrap().word, "CALIBRATION VOID — NOT TO BE USED");
        }
    }
    // The armature's sheet was proven at another speed.
    assert!(void > 0);
}

#[test]
fn a_caution_of_the_shop_is_never_cut() {
    let caution = format!("{}and only then let go", "hold the cradle ".repeat(60));
    let note = format!("{}end of the note", "as before ".repeat(60));
    let sheet = pointing("correct: remove", &format!("caution: \"{caution}\"\n  note: \"{note}\""));
    let book = books::book(&sheet);
    let (_, id) = book.names_of(Kind::Setup).next().unwrap();
    let card = card::card(&Computing::new(&book), id, &check::check(&book), &printed()).unwrap();
    assert!(flat(&card::text(&card)).replace("CAUTION ", "").contains(&caution));
    for written in [card::text(&card), card::page(&card, None)] {
        assert!(flat(&written).contains("and only then let go"));
        assert!(!written.contains("end of the note") && flat(&written).contains("more characters stand in the sheet"));
    }
}

#[test]
fn links_of_a_booklet_lead_somewhere() {
    let book = example_book();
    let computing = Computing::new(&book);
    let found = check::check(&book);
    let cards: Vec<Card> = card::released(&computing)
        .into_iter()
        .filter_map(|id| card::card(&computing, id, &found, &printed()))
        .collect();
    let kinds = |kind: Kind| cards.iter().filter(|card| card.kind == kind).count();
    assert!(kinds(Kind::Setup) >= 5 && kinds(Kind::Rotor) >= 5 && kinds(Kind::Record) >= 4);
    let page = card::booklet("cards", &cards, &printed(), None);
    let links: Vec<&str> = page.split("href=\"#").skip(1).map(|rest| rest.split('"').next().unwrap()).collect();
    assert!(links.len() > 2 * cards.len(), "{}", links.len());
    for link in links {
        assert!(page.contains(&format!("id=\"{link}\"")), "{link}");
    }
}
