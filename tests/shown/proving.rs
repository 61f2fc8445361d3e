//! `prove`: answered from a script, left half way, failed.

use serde_json::Value;

use super::cli_balance::{DAY, sheet, shop};
use crate::support::cli::{Folder, Ran, rotorbook};

const SETUP: &str = "fan wheel 315 on the soft bench";
const PATH: &str = "setups/fan-wheel-315-soft-bench.rotor";

fn prove(folder: &Folder, answers: &str) -> Ran {
    prove_with(folder, &[SETUP, "--by", "fan bay"], answers)
}

fn prove_with(folder: &Folder, arguments: &[&str], answers: &str) -> Ran {
    folder.write("proof.txt", answers.as_bytes());
    let mut command = rotorbook(&folder.path("."));
    command.env("SOURCE_DATE_EPOCH", DAY).arg("prove").args(arguments).args(["--answers", "proof.txt"]);
    Ran::of(command.output().unwrap())
}

const PROOF: &str = "17.0 fine, 17.4 fine\n24.0 fine, 24.4 fine\n0.5 div @ 110\n0.4 div @ 285\n\n\n\n4.1 div @ 5\n0.5 div @ 300\n\n\n\n0.5 div @ 100\n6.2 div @ 355\n\
    3 g\n\n\n8.4 div @ 5\n0.6 div @ 305\n-\n0.5 div @ 110\n0.4 div @ 285\n0.5 div @ 105, 0.5 div @ 115, 0.6 div @ 110\n-\n";

#[test]
fn a_proof_is_asked_and_binds_the_facts_of_its_day() {
    let folder = shop();
    let ran = prove(&folder, PROOF);
    let text = folder.read(PATH);
    let proof = text.split("  proof \"2026-04-21\" {\n").nth(1).unwrap();
    for line in [
        "    by: \"fan bay\"",
        "    calibration reading hub: 17.2 mark on fine",
        "    start reading right: 0.4 div @ 285 deg",
        "      mass: 1.50 g",
        "      reading right: 6.2 div @ 355 deg",
        "    remounted left: 0.5 div @ 105 deg, 0.5 div @ 115 deg, 0.6 div @ 110 deg",
        "      balancing speed: 1150 rpm",
        "      setting \"left strength\": 212",
        "      limit in hub: 46.839 g·mm ± 0.144 g·mm (k=2)",
    ] {
        assert!(proof.lines().any(|own| own == line), "{line}: {proof}");
    }
    assert!(ran.stdout().contains("facts and limits of today are taken over"), "{}", ran.stdout());
    assert!(ran.stdout().contains("separation hub: interference"), "{}", ran.stdout());
    folder.run("fmt --check").ends(0);
    // Nothing is left to ask; what was left out is asked once more.
    assert!(prove(&folder, "-\n-\n").stderr().contains("continuing proof \"2026-04-21\""));
    assert_eq!(folder.read(PATH), text);
}

/// What was answered in an earlier session is in the sheet; `back` tells the line.
#[test]
fn back_tells_the_line_of_the_last_answer_of_an_earlier_session() {
    let folder = shop();
    let first = prove(&folder, "back\n17.0 fine, 17.4 fine\n");
    assert!(first.stderr().contains("nothing was answered yet"), "{}", first.stderr());
    let told = prove(&folder, "back\n").stderr();
    let text = folder.read(PATH);
    let line = text.lines().enumerate().filter(|(_, line)| line.contains("calibration reading hub: 17.2 mark on fine"));
    let place = format!("{PATH}:{}, `calibration reading hub: 17.2 mark on fine`", line.last().unwrap().0 + 1);
    assert!(told.contains(&place), "{place}: {told}");
}

/// One division of the hub by hand: 3.00 g · 134.2 mm ÷ 8.6 div = 402.6 ÷ 8.6 = 46.81 g·mm, where 8.1 - (-0.5) = 8.6; the reading with the mass
/// on, taken for what was set, would make it 402.6 ÷ 8.1 = 49.7. Of the rim 3.00 · 141.0 ÷ (11.7 + 0.4) = 423 ÷ 12.1 = 34.96 g·mm.
#[test]
fn a_vector_difference_is_not_the_reading_with_the_mass_on() {
    let folder = shop();
    let text = folder.read(PATH);
    let difference = text.replace("taken as: mean of two opposite positions", "taken as: vector difference");
    assert_eq!(difference.matches("taken as: vector difference").count(), 2);
    folder.write(PATH, difference.as_bytes());
    let (_, rest) = PROOF.split_once("24.0 fine, 24.4 fine\n").unwrap();
    let answers = format!("8.1 div\n0.5 div @ 180, 8.1 div @ 0\n0.4 div @ 180, 11.7 div @ 0\n{rest}");
    let ran = prove(&folder, &answers);
    assert!(ran.stderr().contains("two readings are wanted"), "{}", ran.stderr());
    let asks = "Calibration mass of hub, vector difference to set: 8.60 div. Readings without it and with it (e.g. ";
    assert!(ran.stdout().contains(asks), "{}", ran.stdout());
    let text = folder.read(PATH);
    for line in ["    calibration reading hub: 8.6 div", "    calibration reading rim: 12.1 div"] {
        assert!(text.lines().any(|own| own == line), "{line}: {text}");
    }
    let shown = folder.run_with(&["show", SETUP, "--kind", "setup", "--format", "json"]).json();
    let division = |block: &str| {
        let path = serde_json::json!([block, "one division"]);
        let results = shown["results"].as_array().unwrap();
        results.iter().find(|result| result["path"] == path).unwrap()["text"].as_str().unwrap().to_owned()
    };
    assert!(division("calibrate hub").starts_with("46.81"), "{}", division("calibrate hub"));
    assert!(division("calibrate rim").starts_with("34.96"), "{}", division("calibrate rim"));
}

fn errors(folder: &Folder) -> usize {
    folder.run("check --brief").stdout().lines().filter(|line| line.contains("error")).count()
}

fn on_screen(folder: &Folder) -> String {
    folder.run_with(&["show", SETUP, "--kind", "setup"]).stdout()
}

#[test]
fn a_proof_that_is_opened_and_left_changes_nothing() {
    let folder = shop();
    let text = folder.read(PATH);
    for answers in ["", "17.0 fine, 17.4 fine\nback\n", &"-\n".repeat(40)] {
        let ran = prove(&folder, answers);
        assert!(ran.ends(1).stderr().contains("no proof is written"), "{}", ran.stderr());
        assert_eq!(folder.read(PATH), text);
    }
}

#[test]
fn a_sheet_goes_by_its_last_finished_proof() {
    let folder = shop();
    let before = errors(&folder);
    let division =
        |screen: &str| screen.lines().find(|line| line.trim_start().starts_with("hub, on left")).map(str::to_owned);
    let row = division(&on_screen(&folder));
    assert!(row.is_some());
    let ran = prove(&folder, "18.0 fine, 18.4 fine\n");
    assert!(ran.ends(1).stderr().contains("which is not finished"), "{}", ran.stderr());
    assert!(folder.read(PATH).contains("  proof \"2026-04-21\" {\n"));
    let screen = on_screen(&folder);
    assert!(screen.contains("proven 2026-04-14; calibration unchanged since the proof"), "{screen}");
    assert_eq!(division(&screen), row);
    assert_eq!(errors(&folder), before);
    let said = folder.run("check --format json").stdout();
    let open = "is not finished: it does not say what it was made with; the sheet goes by proof";
    assert!(said.contains(open), "{said}");
}

/// The mass of 1.50 g in the hub reads half of what it must: 201.3 g·mm by 46.8 g·mm are 4.3 div, and 2.1 div were read.
#[test]
fn a_proof_that_fails_is_nowhere_called_proven() {
    let folder = shop();
    let text = folder.read(PATH);
    folder.write(
        PATH,
        text.replacen("      reading left: 4.1 div @ 5 deg\n", "      reading left: 2.1 div @ 5 deg\n", 1).as_bytes(),
    );
    let says = "; proof 2026-04-14 fails";
    let screen = on_screen(&folder);
    assert!(screen.contains(says) && !screen.contains("; proven"), "{screen}");
    let card = folder.run_with(&["card", SETUP, "--run"]).stdout().split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(card.contains(says) && !card.contains("; proven"), "{card}");
    let document = folder.run("overview --format json").json();
    let fan = document["setups"].as_array().unwrap().iter().find(|one| one["setup"] == SETUP).unwrap();
    assert_eq!((&fan["proof"], &fan["proven"]), (&"failed".into(), &Value::Null));
}

/// The masses were put on, and nothing was read after remounting.
#[test]
fn a_proof_that_lacks_readings_is_not_finished() {
    let folder = shop();
    let text = folder.read(PATH);
    let short: Vec<&str> = text.lines().filter(|line| !line.trim_start().starts_with("remounted")).collect();
    folder.write(PATH, format!("{}\n", short.join("\n")).as_bytes());
    let screen = on_screen(&folder);
    assert!(screen.contains("; proof 2026-04-14 unfinished"), "{screen}");
}

/// A stand is not set to anything: what it can show is in each record.
#[test]
fn a_static_stand_has_no_proof() {
    let folder = sheet(include_str!("../data/sheets/static-stand.rotor"));
    let setup = "belt wheel 500 on the knife edges";
    let text = folder.read("sheets.rotor");
    let ran = prove_with(&folder, &[setup], "");
    ran.is_misuse("is for a static stand, which has no setting to prove");
    assert!(ran.stderr().contains("the least mass that sets the rotor rolling"), "{}", ran.stderr());
    assert_eq!(folder.read("sheets.rotor"), text);
    // What a sheet keeps as a proof all the same makes it no better, for nobody.
    let kept = "  date: 2026-05-11\n\n  proof \"2026-05-11\" {\n    date: 2026-05-11\n\n    proven with {\n      \
                rotor mass: 46 kg\n    }\n  }\n}";
    folder.write("sheets.rotor", text.replacen("  date: 2026-05-11\n}", kept, 1).as_bytes());
    assert!(folder.read("sheets.rotor").contains("proven with"));
    let screen = folder.run_with(&["show", setup]).stdout();
    assert!(screen.contains("; a static stand, which is not proven\n"), "{screen}");
    let card = folder.run_with(&["card", setup, "--run"]).stdout();
    let words = card.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("must start the rotor, put on at two places half a turn apart"), "{card}");
    assert!(!words.contains("Unchanged since it was proven"), "{card}");
    let document = folder.run("overview --format json").json();
    assert_eq!(document["setups"][0]["proof"], "not wanted");
    let released = folder.run_with(&["release", setup, "--by", "yard", "--revision", "B"]);
    assert!(!released.stderr().contains("proof"), "{}", released.stderr());
}

/// Nothing but the sheet says at what angle a mass is: Enter never makes one up.
#[test]
fn the_angle_of_a_mass_is_the_one_of_its_calibration() {
    let folder = shop();
    let text = folder.read(PATH);
    let (before, _) = text.split_once("\n  proof \"2026-04-14\" {").unwrap();
    let to_masses = "17.0 fine, 17.4 fine\n24.0 fine, 24.4 fine\n0.5 div @ 110\n0.4 div @ 285\n\n\n12\n";
    for (angle, asks) in [
        ("    angle: 12 deg\n", "At angle [12 deg; `-` leaves it out]"),
        ("", "At angle (e.g. 0 deg; `-` leaves it out)"),
    ] {
        let mut calibrated = before.replace("    angle: 0 deg\n", "");
        calibrated = calibrated.replace("    taken as:", &format!("{angle}    taken as:"));
        folder.write(PATH, format!("{calibrated}\n}}\n").as_bytes());
        let ran = prove(&folder, to_masses);
        assert!(ran.stdout().contains(asks), "{}\n{}", ran.stdout(), ran.stderr());
    }
}

#[test]
fn who_proves_it_is_written_where_the_proof_does_not_say_so_yet() {
    let folder = shop();
    prove_with(&folder, &[SETUP], "17.0 fine, 17.4 fine\n");
    let rest = PROOF.split_once('\n').unwrap().1;
    prove_with(&folder, &[SETUP, "--by", "Ada"], rest);
    assert!(folder.read(PATH).contains("    date: 2026-04-21\n    by: \"Ada\"\n"), "{}", folder.read(PATH));
    let ran = prove_with(&folder, &[SETUP, "--by", "Ben"], "-\n-\n");
    assert!(ran.stderr().contains("the proof was begun by \"Ada\", and stays so"), "{}", ran.stderr());
}

/// Under a strobe that shows where the mark is, each reading has its place on the clock beside it.
#[test]
fn places_on_a_clock_prove_a_sheet() {
    let folder = shop();
    let setup = "blower coupling half 41 on the swing cradle";
    let answers =
        "mean 20.2 div\n0.5 @ 3:30\n2.0\n44\n0\n20.2 @ 1:30\n3.0\n44\n0\n30.3 @ 1:30\n0.5 @ 4:00\n0.5, 0.5, 1.0\n";
    let ran = prove_with(&folder, &[setup, "--by", "fan bay"], answers);
    let text = folder.read("setups/blower-coupling-half-41-swing-cradle.rotor");
    for line in
        ["start shows near: 3:30", "shows near: 1:30", "back shows near: 4:00", "strobe shows: clock place of mark"]
    {
        assert!(text.lines().any(|own| own.trim() == line), "{line}: {text}");
    }
    let said = ran.stdout();
    // The mark stands at half past one as when the sheet was calibrated: the start turns it by less than the clock tells.
    assert!(said.contains("separation flange: own angle error ") && !said.contains("not computed"), "{said}");
    assert!(said.contains("return to start near 6.52 %"), "{said}");
}
