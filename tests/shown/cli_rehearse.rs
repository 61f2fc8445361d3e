//! `rehearse`: what it says, that a seed says it again, changes side by side.

use crate::support::cli::{Folder, Ran};

const TERN_QUAY: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/examples/tern-quay");
const FAN: &str = "fan wheel 315 on the soft bench";

fn rehearse(setup: &str, more: &[&str]) -> Ran {
    let mut arguments = vec!["rehearse", setup, "--book", TERN_QUAY, "--rotors", "20", "--seed", "7"];
    arguments.extend(more);
    Folder::with(&[]).run_with(&arguments)
}

#[test]
fn a_rehearsal_says_what_will_be_within_and_what_it_was_drawn_from() {
    let said = rehearse(FAN, &[]).ends(0).stdout();
    let words = said.split_whitespace().collect::<Vec<_>>().join(" ");
    for part in [
        "20 rotors rehearsed, laid in twice before they are judged, seed 7",
        "are within after",
        "corrections rotors truly within said within",
        "True unbalance in the end, as a share of the limit that governs:",
        "Drawn by chance, as no sheet says it:",
        "unbalance as found: 2 to 20 times the tolerance of each plane",
        "Drawn as the sheets say:",
        "gain, angle and interference: as the masses of the proof read, within their steps",
    ] {
        assert!(words.contains(part), "{part}: {said}");
    }
    assert!(said.lines().all(|line| line.chars().count() <= 100), "{said}");
    assert_eq!(said, rehearse(FAN, &[]).stdout());
}

#[test]
fn a_document_for_programs_has_the_same_numbers() {
    let document = rehearse(FAN, &["--format", "json", "--as-found", "3 to 4"]).ends(0).json();
    assert_eq!(document["seed"], 7);
    let one = &document["rehearsals"][0];
    let rows = one["rows"].as_array().unwrap();
    let rotors: u64 = rows.iter().map(|row| row["rotors"].as_u64().unwrap()).sum();
    assert_eq!(rotors, 20);
    let bars: u64 = one["histogram"].as_array().unwrap().iter().map(|bar| bar.as_u64().unwrap()).sum();
    assert_eq!(bars, 20);
    let shares: Vec<f64> = one["within_after"].as_array().unwrap().iter().map(|v| v.as_f64().unwrap()).collect();
    assert!(shares.windows(2).all(|two| two[0] <= two[1]), "{shares:?}");
}

/// A needle that is read ten times as coarsely leaves more rotors over; more mountings are told beside.
#[test]
fn changes_are_told_side_by_side() {
    let coarse = "machine / readout / scale fine / smallest step = 2 mark";
    let changes = ["--what-if", coarse, "--what-if", "mountings = 3", "--as-found", "4 to 12"];
    let said = rehearse(FAN, &changes).ends(0).stdout();
    assert!(said.contains("1: machine / readout / scale fine / smallest step = 2 mark"), "{said}");
    assert!(said.contains("as it is") && said.contains("with 1") && said.contains("with 2"), "{said}");
    let json = [&changes[..], &["--format", "json"]].concat();
    let document = rehearse(FAN, &json).ends(0).json();
    let over = |n: usize| {
        let bars: Vec<u64> = document["rehearsals"][n]["histogram"]
            .as_array()
            .unwrap()
            .iter()
            .map(|bar| bar.as_u64().unwrap())
            .collect();
        let sum: u64 = bars.iter().enumerate().map(|(n, count)| n as u64 * count).sum();
        sum
    };
    assert!(over(1) > over(0), "{document}");
    assert_eq!(document["rehearsals"][2]["mountings"], 3);
}

#[test]
fn what_cannot_be_rehearsed_says_why() {
    rehearse("slinger disc 300 on the swing cradle", &[]).is_misuse("trial runs by amounts alone cannot be rehearsed");
    rehearse(FAN, &["--what-if", "finer"]).is_misuse("`finer` is not a change of a fact");
    rehearse(FAN, &["--what-if", "rotor / plane rim / places = lots"]).is_misuse("is not a fact of plane rim");
    rehearse(FAN, &["--what-if", "rotor / plane tip / at = 3 mm"]).is_misuse("has no block `plane tip` of its own");
    rehearse(FAN, &["--as-found", "many"]).is_misuse("write it as `2 to 20`");
}
