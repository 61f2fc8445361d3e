//! `rehearse`: what it says, that a seed says it again, changes side by side.

use rotorbook::book::Computing;
use rotorbook::card::{self, Bar, Rehearsed, Sides};
use rotorbook::syntax::Kind;

use crate::support::cli::{Folder, Ran};
use crate::support::{books, cards};

const TERN_QUAY: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/examples/tern-quay");
const FAN: &str = "fan wheel 315 on the soft bench";

fn rehearse(setup: &str, more: &[&str]) -> Ran {
    let mut arguments = vec!["rehearse", setup, "--book", TERN_QUAY, "--seed", "7"];
    if !more.contains(&"--rotors") {
        arguments.extend(["--rotors", "20"]);
    }
    arguments.extend(more);
    Folder::with(&[]).run_with(&arguments)
}

#[test]
fn a_rehearsal_says_what_will_be_within_and_what_it_was_drawn_from() {
    let said = rehearse(FAN, &[]).ends(0).stdout();
    let words = said.split_whitespace().collect::<Vec<_>>().join(" ");
    for part in [
        "20 rotors rehearsed, mounted twice before each is judged, seed 7",
        "are truly within in the end (± ",
        "Their records show it for ",
        "corrections rotors truly within said within",
        "True final unbalance, as a share of the governing limit:",
        "Drawn from assumed ranges, because no sheet states it:",
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
    let sum = |what: &str| rows.iter().map(|row| row[what].as_u64().unwrap()).sum::<u64>();
    let over = one["truly_over"].as_u64().unwrap();
    assert_eq!(
        [one["truly_within"].as_f64().unwrap() * 20.0, over as f64],
        [sum("truly_within") as f64, 20.0 - sum("truly_within") as f64]
    );
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
fn the_set_up_card_tells_a_rehearsal_where_it_is_asked_for() {
    let book = books::book_in(std::path::Path::new(TERN_QUAY));
    let id = book.find(Kind::Setup, FAN).unwrap();
    let mut card = card::card(&Computing::new(&book), id, &[], &cards::printed(), Sides::SetUp).unwrap();
    assert!(!card::text(&card).contains("Rehearsed"));
    let bar = |label: &str, count, is_open| Bar { label: label.to_owned(), count, is_open };
    let rehearsed = Rehearsed {
        sentences: vec!["97 % are truly within in the end.".to_owned()],
        bars: vec![bar("0.0 to 0.1", 5, false), bar("1.0 to 1.1", 1, true)],
        drawn: "6 rotors, seed 7".to_owned(),
    };
    card::with_rehearsal(&mut card, &rehearsed);
    let text = card::text(&card);
    assert!(text.contains("Rehearsed: 6 rotors, seed 7") && text.contains("97 % are truly within"), "{text}");
    let folder = Folder::with(&[]);
    let rotor = ["card", "fan wheel 315", "--kind", "rotor", "--book", TERN_QUAY, "--rehearse"];
    folder.run_with(&rotor).is_misuse("only a setup is rehearsed");
}

#[test]
fn what_cannot_be_rehearsed_says_why() {
    rehearse("slinger disc 300 on the swing cradle", &[]).is_misuse("trial runs by amounts alone cannot be rehearsed");
    rehearse(FAN, &["--what-if", "finer"]).is_misuse("`finer` is not a change of a fact");
    rehearse(FAN, &["--what-if", "rotor / plane rim / places = lots"]).is_misuse("is not a fact of plane rim");
    rehearse(FAN, &["--what-if", "rotor / plane tip / at = 3 mm"]).is_misuse("has no block `plane tip` of its own");
    rehearse(FAN, &["--as-found", "many"]).is_misuse("write it as `2 to 20`");
}

/// What a proof said is not what the sheet says now: records would be judged outside the band of its speed.
#[test]
fn a_void_setup_is_rehearsed_as_if_it_was_never_proven() {
    let void = "armature 90 on the soft bench";
    let said = rehearse(void, &[]).ends(0).stdout();
    let words = said.split_whitespace().collect::<Vec<_>>().join(" ");
    let warning = "Its calibration is void (proven at 820 rpm, the sheet now says 900 rpm); it is rehearsed as if it was never \
                   proven.";
    assert!(words.contains(warning) && !words.contains("outside the band"), "{said}");
    let document = rehearse(void, &["--format", "json"]).ends(0).json();
    assert!(document["rehearsals"][0]["within_after"][5].as_f64().unwrap() > 0.5, "{document}");
    let (_, ran) = practise(void, &[], &as_called_for(1));
    let said = ran.stdout();
    let words = said.split_whitespace().collect::<Vec<_>>().join(" ");
    // After one correction of such a rotor its band is full at 105 deg: as much goes 10 deg to either side.
    let beside = "Plane band: PUT ON 1.45 g at 115 deg, 1.45 g at 95 deg. Done";
    assert!(words.contains(warning) && words.contains(beside), "{said}");
    assert!(said.contains("the record says: within"), "{said}{}", ran.stderr());
}

#[test]
fn a_machine_whose_angles_are_read_by_the_clock_is_rehearsed() {
    let cradle = "blower coupling half 41 on the swing cradle";
    let document = rehearse(cradle, &["--format", "json"]).ends(0).json();
    assert!(document["rehearsals"][0]["within_after"][5].as_f64().unwrap() > 0.5, "{document}");
    let (_, ran) = practise(cradle, &[], &as_called_for(1));
    let said = ran.stdout();
    assert!(said.contains("shows near: ") && said.contains("the record says: within"), "{said}{}", ran.stderr());
}

/// A step of 30 deg is the readout's doing, and not the channels'.
#[test]
fn a_coarse_angle_is_laid_to_the_readout() {
    let coarse = ["--what-if", "machine / readout / angle step = 30 deg", "--format", "json"];
    let document = rehearse(FAN, &coarse).ends(0).json();
    assert_eq!(document["rehearsals"][1]["limiting"]["cause"], "readout", "{document}");
}

#[test]
fn a_rotor_on_an_arbor_sits_as_the_arbor_centres_it() {
    let document = rehearse("blower coupling half 41 on the swing cradle", &["--format", "json"]).ends(0).json();
    let drawn = document["rehearsals"][0]["drawn"].as_array().unwrap();
    let mounting = drawn.iter().find(|one| one["what"] == "mounting").unwrap();
    assert_eq!(mounting["stated"], true, "{mounting}");
    assert!(mounting["from"].as_str().unwrap().contains("`centring repeatability`"), "{mounting}");
}

/// What changes nothing is told apart from what makes nothing better; what was asked for is listed.
#[test]
fn a_change_that_changes_nothing_is_said_to() {
    let changes = ["--what-if", "rotor / drawing = \"TQ-315-09\"", "--as-found", "3 to 4"];
    let said = rehearse(FAN, &changes).ends(0).stdout();
    let words = said.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("TQ-315-09\"`: the same, rotor by rotor; a rehearsal does not use this, or"), "{said}");
    assert!(words.contains("unbalance as found: 3 to 4 times the tolerance of each plane, as asked for"), "{said}");
    let same = ["--what-if", "machine / readout / angle step = 5 deg"];
    rehearse(FAN, &same).is_misuse("cannot be tried: the sheet says so already");
    let one = rehearse(FAN, &["--rotors", "1"]);
    assert!(one.stdout().contains(": 1 rotor rehearsed"), "{}", one.stdout());
}

/// Nobody would work by a sheet that has an error.
#[test]
fn a_change_that_brings_an_error_is_refused() {
    let thin = rehearse(FAN, &["--what-if", "rotor / plane hub / wall = 3.5 mm"]);
    thin.is_misuse("cannot be tried: a hole 6 mm deep");
}

/// A sheet by which `balance` begins no work is not rehearsed as a good one, by the same words.
#[test]
fn what_can_hurt_somebody_is_not_rehearsed() {
    let folder = shop();
    let lifts = "fan wheel 560 on the soft bench";
    let path = "setups/fan-wheel-560-soft-bench.rotor";
    let text = folder.read(path);
    let line = text.lines().find(|line| line.trim_start().starts_with("held down by")).unwrap();
    folder.write(path, text.replacen(&format!("{line}\n"), "", 1).as_bytes());
    // Grams written as kilograms: 5 kg pull the wheel off the bench.
    let path = "setups/fan-wheel-315-soft-bench.rotor";
    let text = folder.read(path);
    let heavy = text.lines().find(|line| line.trim_start().starts_with("mass: ")).unwrap();
    folder.write(path, text.replacen(heavy, &heavy.replace(" g", " kg"), 1).as_bytes());
    for (setup, why) in [(lifts, "lifts off the left support"), (FAN, "times the 47.3 N that rest on the supports")] {
        let refused = format!("setup \"{setup}\" is not to be run");
        let ways: [&[&str]; 4] = [
            &["balance", setup],
            &["balance", setup, "--rehearse"],
            &["rehearse", setup],
            &["card", setup, "--set-up", "--rehearse"],
        ];
        for way in ways {
            let ran = folder.run_with(way);
            let (said, words) = (ran.stdout(), ran.stderr().split_whitespace().collect::<Vec<_>>().join(" "));
            ran.ends(2);
            assert!(words.contains(why) && words.contains(&refused) && said.is_empty(), "{way:?}: {words}{said}");
        }
    }
}

fn shop() -> Folder {
    let folder = Folder::with(&[]);
    for file in rotorbook::disk::walk_book(std::path::Path::new(TERN_QUAY)).files {
        let path = file.strip_prefix(TERN_QUAY).unwrap();
        folder.write(path.to_str().unwrap(), &std::fs::read(&file).unwrap());
    }
    folder
}

fn practise(setup: &str, more: &[&str], answers: &str) -> (Folder, Ran) {
    let folder = shop();
    folder.write("answers.txt", answers.as_bytes());
    let mut arguments = vec!["balance", setup, "--rehearse", "--seed", "7", "--answers", "answers.txt"];
    arguments.extend(more);
    let ran = folder.run_with(&arguments);
    (folder, ran)
}

fn files(folder: &Folder) -> Vec<std::path::PathBuf> {
    rotorbook::disk::walk_book(&folder.path(".")).files
}

/// One run after the other: the speed, that all masses are off, which nobody answers by Enter, what the machine shows, and
/// what is called for.
fn as_called_for(planes: usize) -> String {
    let run = "\noff\n".to_owned() + &"\n\n".repeat(planes);
    run.repeat(10)
}

#[test]
fn practice_on_a_rotor_that_answers_keeps_no_record() {
    let (folder, ran) = practise(FAN, &[], &as_called_for(2));
    let said = ran.stdout();
    assert!(said.contains("The machine shows: left ") && said.contains("What happened:"), "{said}{}", ran.stderr());
    assert!(said.contains("as it was left: truly ") && said.contains("the record says: within"), "{said}");
    assert!(ran.stderr().contains("a rehearsal keeps no record"));
    let fresh = Folder::with(&[]);
    for file in rotorbook::disk::walk_book(std::path::Path::new(TERN_QUAY)).files {
        fresh.write(file.strip_prefix(TERN_QUAY).unwrap().to_str().unwrap(), b"");
    }
    assert_eq!(files(&folder).len(), files(&fresh).len());
}

#[test]
fn mistakes_act_as_they_would() {
    // A mass that is left on is corrected as if it belonged to the rotor.
    let (_, ran) = practise(FAN, &["--mistake", "mass-left-on"], &as_called_for(2));
    let said = ran.stdout();
    assert!(said.contains("what went wrong: a calibration mass in hub was still on"), "{said}");
    let runs: Vec<&str> = said.lines().filter(|line| line.trim_start().starts_with("run ")).collect();
    assert!(runs.len() >= 3, "{said}");
    // Readings written the wrong way round are told.
    let (_, ran) = practise(FAN, &[], "\noff\n5 div @ 10\n7 div @ 20\n-\n-\nend\n");
    assert!(ran.stdout().contains("showed"), "{}{}", ran.stdout(), ran.stderr());
    // Counted the wrong way round, the first correction leaves more or less than was meant, and it is said.
    let (_, ran) = practise(FAN, &["--mistake", "wrong-sense"], &as_called_for(2));
    assert!(ran.stdout().contains("counted off against the angles"), "{}", ran.stdout());
}

#[test]
fn a_range_that_is_none_says_why() {
    for (range, why, help) in [
        ("6 to 6", "its upper end is not above its lower end", "write it as `5.4 to 6.6`"),
        ("0 to 0.5", "its lower end is not above zero", "write it as `0.1 to 0.5`"),
        ("many", "it is not two numbers with `to` between them", "write it as `2 to 20`"),
    ] {
        let ran = rehearse(FAN, &["--as-found", range]);
        let said = ran.stderr().split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(said.contains(&format!("`{range}` is not a range: {why}")) && said.contains(help), "{said}");
    }
}

const IN_PLACE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/examples/recipes/trial-runs-with-phase");

/// A rotor in its own bearings is mounted by nobody: no mounting is drawn, and its runs are not said to be remounted.
#[test]
fn nothing_is_mounted_in_place() {
    let arguments = ["rehearse", "extract fan 500 in place", "--book", IN_PLACE, "--seed", "7", "--rotors", "20"];
    let said = Folder::with(&[]).run_with(&arguments).ends(0).stdout();
    let words = said.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("20 rotors rehearsed, run twice before each is judged"), "{said}");
    assert!(!words.contains("mounting"), "{said}");
}
