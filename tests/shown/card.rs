//! The bench card: what is on it, that its numbers are those of `show`, that its drawings are to scale, and that no
//! text of a sheet does more than be read.

use crate::support::books;
use crate::support::cards::{cards, example_book, printed, values};
use rotorbook::book::{self, Book, Computing};
use rotorbook::card::{self, Card, Fonts, Paper, Sides, Value};
use rotorbook::check;
use rotorbook::syntax::Kind;

const FAN: &str = "fan wheel 315 on the soft bench";

fn card_of(book: &Book, kind: Kind, name: &str) -> Card {
    let id = book.find(kind, name).unwrap();
    card::card(&Computing::new(book), id, &check::check(book), &printed(), Sides::Both).unwrap()
}

fn setup_text(text: &str) -> String {
    let book = books::book(text);
    let (_, id) = book.names_of(Kind::Setup).next().unwrap();
    card::text(&card::card(&Computing::new(&book), id, &check::check(&book), &printed(), Sides::Both).unwrap())
}

// With a calculator: 3.00 g × 134.2 mm ÷ 46.84 g·mm = 8.595; 1150 rpm × 60 ÷ (80 × 0.985) = 876 rpm;
// 0.00300 kg × 0.1342 m × (2π × 1150 ÷ 60 /s)² = 5.84 N; 12.140 div ∓ 5 % = 11.533 and 12.747.
#[test]
fn the_card_of_a_setup() {
    let book = example_book();
    let setup = Computing::new(&book).setup(book.find(Kind::Setup, FAN).unwrap()).unwrap();
    let code = card::code(&book, &setup);
    // The code changes with whatever the card says.
    insta::assert_snapshot!(card::text(&card_of(&book, Kind::Setup, FAN)).replace(&code, "KTRB-QFXM"));
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
        let texts = values(&card).into_iter().filter_map(|value| match value {
            Value::Text(words) => Some(words.plain()),
            _ => None,
        });
        // Of a vector, the card leaves to `show` how well its angle is known.
        let amounts =
            texts.filter(|text| text.contains(" ± ")).map(|text| text.split(" @ ").next().unwrap().to_owned());
        for text in amounts {
            let known = shown.iter().any(|shown| shown.starts_with(&text))
                || book.files().any(|(_, file)| file.text.contains(&text));
            assert!(known, "{}: {text} stands nowhere else", card.name);
            count += 1;
        }
    }
    assert!(count > 40, "{count}");
}

#[test]
fn cautions_stand_on_both_cards_of_a_setup() {
    for card in cards(&example_book()).iter().filter(|card| card.kind == Kind::Setup) {
        for (n, cautions) in [
            [
                "Guard closed and eyes protected; nobody in the plane of rotation",
                "Coast to a stop and lock out",
                "with its wax or tape",
                "replaces no machine manual, no local rule and no licensed judgement",
            ],
            [
                "Guard closed and eyes protected before the drive starts",
                "Never above the highest safe speed",
                "clear of belt and drive",
                "Coast to a stop and lock out",
            ],
        ]
        .iter()
        .enumerate()
        {
            let side = Card { sides: vec![card.sides[n].clone()], ..card.clone() };
            let text = flat(&card::text(&side)).replace("CAUTION ", "");
            for caution in cautions {
                let has_check_mass = text.contains("with its wax") || !text.contains("must read");
                assert!(
                    text.contains(caution) || caution.contains("wax") && has_check_mass,
                    "{}: {caution}\n{text}",
                    card.name
                );
            }
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
    let opposite = "OPPOSITE where the machine points";
    for (correct, indicates, order, where_to) in [
        ("correct: remove", "indicates: heavy spot", "TAKE OFF", at),
        ("correct: remove", "indicates: light spot", "TAKE OFF", opposite),
        ("correct: add", "indicates: heavy spot", "PUT ON", opposite),
        ("correct: add", "indicates: light spot", "PUT ON", at),
    ] {
        let text = setup_text(&pointing(correct, indicates)).split_whitespace().collect::<Vec<_>>().join(" ");
        let said = format!("{order} {where_to}.");
        assert!(text.contains(&said), "{correct}, {indicates}: {text}");
    }
    let text =
        setup_text(&pointing("correct: remove", "note: \"none\"")).split_whitespace().collect::<Vec<_>>().join(" ");
    let said = "Do not correct: where is not computed, because the sheet does not say whether the machine points";
    assert!(text.contains(said), "{text}");
    assert!(!text.contains("TAKE OFF"), "{text}");
}

#[test]
fn a_plane_without_a_method_has_its_radius_alone() {
    let text = flat(&setup_text(&pointing("correct: remove", "indicates: heavy spot")));
    assert!(text.contains(" radius 100 mm.") && !text.contains("; radius"), "{text}");
}

#[test]
fn a_hole_is_a_line_to_measure_into() {
    let sheet = pointing("correct: remove", "indicates: heavy spot").replace("  tolerance reads: 1 div\n", "");
    let text = setup_text(&sheet).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        text.contains("____________ not computed, because the sheet does not say what the tolerance reads"),
        "{text}"
    );
}

#[test]
fn a_sheet_with_errors_says_so_across_the_top() {
    let sheet = pointing("correct: remove", "indicates: heavy spot").replace("900 rpm", "900 kg");
    let text = setup_text(&sheet);
    let top: String = text.lines().take(6).collect::<Vec<_>>().join("\n");
    assert!(top.contains("!!! THIS SHEET HAS 1 ERROR. Do not use it"), "{text}");
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
        let on = text.find("The mass alone must read").unwrap();
        let off = on + text[on..].find("MASS OFF, counted, and the reading back to where it was").unwrap();
        assert!(text[off..].contains("Run, correct, run again"), "{name}: {text}");
    }
    let text = flat(&card::text(&card_of(&book, Kind::Setup, FAN)));
    assert!(text.contains("ALL MASSES OFF. Count them") && text.contains("Calibration masses: 2"), "{text}");
}

// The reading of a check mass is that of the mass alone: m·r over the tolerance, times what the tolerance reads. With a
// residual the rotor reads the sum of both; common practice, no source.
#[test]
fn a_check_mass_is_read_as_a_difference() {
    let text = flat(&card::text(&card_of(&example_book(), Kind::Setup, FAN)));
    for said in [
        "Put 3.00 g on rim at radius 141.0 mm, at 0 deg.",
        "11.5 to 12.7 div",
        "Without it ____",
        "difference as vectors ____",
    ] {
        assert!(text.contains(said), "{said}: {text}");
    }
    let check = "  check mass {\n    plane: hub\n    mass: 3.00 g\n    radius: 100.0 mm\n    angle: 0 deg\n  }\n}\n";
    let sheet = pointing("correct: remove", "indicates: heavy spot").replace("angles: by strobe", "angles: none");
    let text = flat(&setup_text(&format!("{}{check}", sheet.strip_suffix("}\n").unwrap())));
    assert!(text.contains("this holds on the balanced sample rotor only"), "{text}");
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

/// The words of the stamps of all sides, and what each page says at its foot.
fn stamps(card: &Card) -> Vec<String> {
    card.sides.iter().map(|side| side.stamp.clone().map(|stamp| stamp.word.into_owned()).unwrap_or_default()).collect()
}

#[test]
fn a_card_with_errors_is_not_to_be_used() {
    let sheet = pointing("correct: remove", "indicates: heavy spot")
        .replace("900 rpm", "900 kg")
        .replace("  machine: \"m\"\n", "  machine: \"m\"\n  status: released\n");
    let book = books::book(&sheet);
    for card in cards(&book).iter().filter(|card| card.kind == Kind::Setup) {
        let page = card::html("card", std::slice::from_ref(card), &printed(), Paper::A4, &Fonts::default());
        assert!(card::text(card).contains("*** NOT TO BE USED *** the sheet has errors"));
        assert!(!page.contains("RELEASED"));
        let pages = card::pages(card, Paper::A4, &Fonts::default());
        let foot = "NOT TO BE USED, page";
        assert_eq!(page.matches(foot).count(), pages.len());
    }
    // A released sheet whose file has an error bars a record that is judged by it as it is now, and none that is bound to
    // its proof.
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/tern-quay");
    let files = rotorbook::disk::walk_book(&root).files.into_iter().map(|path| {
        let read = rotorbook::disk::source(&path, &root);
        let text = read.text.replace("rotor: \"fan wheel 315\"", "rotor: \"fan wheel 315\"\n  balancing sped: 1 rpm");
        std::sync::Arc::new(rotorbook::book::SourceFile::read(&*read.path, text))
    });
    let book = Book::new(files.collect());
    for (kind, name) in [(Kind::Setup, FAN), (Kind::Record, "fan wheel 400, 26-0077")] {
        assert!(stamps(&card_of(&book, kind, name)).iter().all(|word| word == "NOT TO BE USED"), "{name}");
    }
    assert_eq!(stamps(&card_of(&book, Kind::Record, "fan wheel 315, 26-0419")), ["WITHIN"]);
}

#[test]
fn what_is_void_a_preview_or_not_committed_is_marked_on_every_side() {
    let book = example_book();
    let id = book.find(Kind::Setup, FAN).unwrap();
    let with = |printed: card::Printed| card::card(&Computing::new(&book), id, &[], &printed, Sides::Both).unwrap();
    assert_eq!(stamps(&with(printed())), ["RELEASED C", "RELEASED C"]);
    assert_eq!(stamps(&with(card::Printed { preview: true, ..printed() })), ["PREVIEW", "PREVIEW"]);
    assert_eq!(stamps(&with(card::Printed { committed: false, ..printed() })), ["DRAFT", "DRAFT"]);
    let computing = Computing::new(&book);
    let mut void = 0;
    for card in cards(&book).iter().filter(|card| card.kind == Kind::Setup) {
        let id = book.find(Kind::Setup, &card.name).unwrap();
        if !computing.setup(id).unwrap().void_causes.is_empty() {
            void += 1;
            assert_eq!(stamps(card), ["NOT TO BE USED", "NOT TO BE USED"]);
        }
    }
    // The armature's sheet was proven at another speed.
    assert!(void > 0);
}

#[test]
fn a_released_sheet_has_its_run_card_and_a_draft_both() {
    let book = example_book();
    let sides = |name: &str, sides: Sides| -> Vec<&str> {
        let id = book.find(Kind::Setup, name).unwrap();
        let card = card::card(&Computing::new(&book), id, &[], &printed(), sides).unwrap();
        card.sides.iter().map(|side| side.what).collect()
    };
    assert_eq!(sides(FAN, Sides::Usual), ["Run card"]);
    assert_eq!(sides("fan wheel 400 on the soft bench", Sides::Usual), ["Run card", "Set-up card"]);
    assert_eq!(sides(FAN, Sides::SetUp), ["Set-up card"]);
    assert_eq!(sides("fan wheel 400 on the soft bench", Sides::Run), ["Run card"]);
}

#[test]
fn a_caution_of_the_shop_is_never_cut() {
    let caution = format!("{}and only then let go", "hold the cradle ".repeat(60));
    let note = format!("{}end of the note", "as before ".repeat(60));
    let sheet = pointing("correct: remove", &format!("caution: \"{caution}\"\n  note: \"{note}\""));
    let book = books::book(&sheet);
    let (_, id) = book.names_of(Kind::Setup).next().unwrap();
    let card = card::card(&Computing::new(&book), id, &check::check(&book), &printed(), Sides::Both).unwrap();
    assert!(flat(&card::text(&card)).replace("CAUTION ", "").contains(&caution));
    let page = card::html("card", std::slice::from_ref(&card), &printed(), Paper::A4, &Fonts::default());
    for written in [card::text(&card), page] {
        assert!(flat(&written).contains("and only then let go"));
        assert!(!written.contains("end of the note") && flat(&written).contains("more characters are in the sheet"));
    }
}

#[test]
fn links_of_a_booklet_lead_somewhere() {
    let book = example_book();
    let computing = Computing::new(&book);
    let found = check::check(&book);
    let cards: Vec<Card> = card::released(&computing)
        .into_iter()
        .filter_map(|id| card::card(&computing, id, &found, &printed(), Sides::Both))
        .collect();
    let kinds = |kind: Kind| cards.iter().filter(|card| card.kind == kind).count();
    assert!(kinds(Kind::Setup) >= 5 && kinds(Kind::Rotor) >= 5 && kinds(Kind::Record) >= 4);
    let page = card::html("cards", &cards, &printed(), Paper::A4, &Fonts::default());
    let links: Vec<&str> = page.split("href=\"#").skip(1).map(|rest| rest.split('"').next().unwrap()).collect();
    assert!(links.len() > cards.len(), "{}", links.len());
    for link in links {
        assert!(page.contains(&format!("id=\"{link}\"")), "{link}");
    }
}
