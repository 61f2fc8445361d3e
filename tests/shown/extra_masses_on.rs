//! What is put on for the run, such as ring weights: on every card, in the mass on the machine, and asked for at the machine.

use super::cli_balance::{answer, is_whole, result, sheet};
use crate::support::cli::Folder;

const SETUP: &str = "crankshaft twin on the soft bench";

fn twin() -> Folder {
    sheet(include_str!("../data/sheets/extra-masses.rotor"))
}

fn said(folder: &Folder, arguments: &[&str]) -> String {
    folder
        .run_with(arguments)
        .stdout()
        .split_whitespace()
        .filter(|word| *word != ":")
        .collect::<Vec<_>>()
        .join(" ")
        .replace(": ", " ")
}

/// 11.6 kg, a ring of 212 g, two bob weights of 640 g and a half key of 9.2 g are 13.1012 kg; the key that is on in service alone
/// is not on the machine. A sum.
#[test]
fn cards_say_what_is_put_on_and_count_it() {
    let folder = twin();
    for side in ["--run", "--set-up"] {
        let card = said(&folder, &["card", SETUP, side]);
        for words in [
            "bob weight 1 ON in each run 640.0 g ± 0.5 g, radius 30 mm, at 90 deg, axially at 90 mm",
            "ring on journal 2 ON in each run, OFF before service 212 g ± 1 g, radius 1.4 mm",
            "full key in service, tail end OFF in each run, on in service what is read is counted with it 6.1 g",
            "bolts and clamps checked before every start",
        ] {
            assert!(card.contains(words), "{side}: {words}: {card}");
        }
    }
    let card = said(&folder, &["card", SETUP, "--run"]);
    assert!(card.contains("13.1 kg"), "{card}");
    // The ring and the key are read, and are not the rotor's: nobody corrects by a reading alone.
    assert!(card.contains("as `rotorbook balance` works it out") && !card.contains("what is read."), "{card}");
    assert!(card.contains("counted, all on in each run") && card.contains("counted, off before service"), "{card}");
    let rotor = said(&folder, &["card", "crankshaft twin", "--kind", "rotor"]);
    assert!(rotor.contains("bob weight 2 as in service 640.0 g"), "{rotor}");
    let shown = said(&folder, &["show", "crankshaft twin", "--kind", "rotor"]);
    assert!(shown.contains("bob weight 2 640.0 g ± 0.5 g 30 mm 270 deg 150 mm as in service"), "{shown}");
}

/// A bob weight makes 640 g × 30 mm = 19 200 g·mm at 90 deg, of which web 1 has (188 − 90)/(188 − 52), 13 835; the ring is on and
/// puts 212 g × 1.4 mm = 296.8 g·mm at 85 deg there by 24/136, which are 52.4; the key that is on in service alone puts
/// 79.3 g·mm at 0 deg by −80/136, which are −46.6. So 900 at 70 deg counts as 14 631 at 89.0 deg: the sum of (307.8, 845.7),
/// (0, 13 835.3), (−4.6, −52.2) and (−46.6, 0). Levers and vectors.
#[test]
fn what_was_not_on_is_asked_and_written() {
    let folder = twin();
    let ran = answer(&folder, SETUP, "115\n\nbob weight\nbob weight 1\n900 @ 70\n650 @ 300\n");
    is_whole(&folder);
    let said = ran.stdout() + &ran.stderr();
    assert!(said.contains("Extra masses: ring on journal 2, 212 g ± 1 g; bob weight 1, 640.0 g ± 0.5 g;"), "{said}");
    assert!(said.contains("answer with"), "two bob weights have those words: {said}");
    let text = folder.read("records/crankshaft-twin-115.rotor");
    assert!(text.contains("    without: \"bob weight 1\"\n"), "{text}");
    let found = result(&folder, "crankshaft twin, 115", &["run as found", "unbalance web 1"]);
    assert!(found.as_str().is_some_and(|text| text.starts_with("14631 g·mm") && text.contains("@ 89.0")), "{found}");
}

#[test]
fn one_key_says_that_all_are_on() {
    let folder = twin();
    answer(&folder, SETUP, "116\n\n\n900 @ 70\n650 @ 300\n");
    is_whole(&folder);
    let text = folder.read("records/crankshaft-twin-116.rotor");
    assert!(!text.contains("without") && text.contains("650 g·mm @ 300 deg"), "{text}");
}
