//! `balance`: each way of working, answered from a script; broken off anywhere; killed.

use std::fs;
use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Command, Stdio};

use serde_json::Value;

use crate::support::cli::{Folder, Ran, rotorbook};
use rotorbook::check::{Severity, check};

const TERN_QUAY: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/examples/tern-quay");
/// 2026-04-21, the day of the first record below.
pub const DAY: &str = "1776729600";

/// The example book without its records.
pub fn shop() -> Folder {
    let folder = Folder::with(&[]);
    for file in rotorbook::disk::walk_book(Path::new(TERN_QUAY)).files {
        let path = file.strip_prefix(TERN_QUAY).unwrap();
        // The parts of the blower have records that its rotor names.
        if !path.starts_with("records") || path.ends_with("blower-41.rotor") {
            folder.write(path.to_str().unwrap(), &fs::read(&file).unwrap());
        }
    }
    folder
}

/// A book of one sheet of the tests, without its records.
pub fn sheet(text: &str) -> Folder {
    let text = text.split("\nrecord ").next().unwrap();
    Folder::with(&[("book.rotor", "shop \"Tern Quay Rotor Shop\" {\n  format: 1\n}\n"), ("sheets.rotor", text)])
}

pub fn answer(folder: &Folder, setup: &str, answers: &str) -> Ran {
    answer_on(DAY, folder, setup, answers)
}

pub fn answer_on(day: &str, folder: &Folder, setup: &str, answers: &str) -> Ran {
    folder.write("answers.txt", answers.as_bytes());
    let mut command = rotorbook(&folder.path("."));
    command.env("SOURCE_DATE_EPOCH", day).args(["balance", setup, "--answers", "answers.txt"]);
    Ran::of(command.output().unwrap())
}

/// A result of the only record.
pub fn result(folder: &Folder, record: &str, path: &[&str]) -> Value {
    let shown = folder.run_with(&["show", record, "--kind", "record", "--format", "json"]).ends(0).json();
    let results = shown["results"].as_array().unwrap().clone();
    let found = results.into_iter().find(|result| result["path"] == serde_json::json!(path));
    found.unwrap_or_else(|| panic!("no {path:?} in {shown}"))["text"].clone()
}

/// What is written is a record without errors, and formatted.
pub fn is_whole(folder: &Folder) {
    folder.run("fmt --check").ends(0);
    let files = rotorbook::disk::walk_book(&folder.path(".")).files;
    let files = files.iter().map(|path| std::sync::Arc::new(rotorbook::disk::source(path, &folder.path("."))));
    let book = rotorbook::book::Book::new(files.collect());
    let errors: Vec<String> = check(&book)
        .into_iter()
        .filter(|found| found.severity == Severity::Error && found.rule.code != "verdict-over")
        .map(|found| format!("{}: {}", found.rule.code, found.message))
        .collect();
    assert!(errors.is_empty(), "{errors:#?}");
}

/// The runs of the record that the example book has of this wheel, answered at the machine.
const FAN: &str = "26-0419
1150
off
8.8 mark on fine @ 310
17.4 fine @ 85
0.78 g @ 307, 5.0 mm deep, 0.78 g @ 313, 5 mm deep
0.27 g at place 6, place 7: 1.95 g
1152 rpm
off
0.1 div @ 35
0.2 div @ 25
mount again
1150
off
0.2 div @ 10
0.2 div @ 335
end
";

#[test]
fn dials_give_the_record_that_was_written_by_hand() {
    let folder = shop();
    let ran = answer(&folder, "fan wheel 315 on the soft bench", FAN);
    ran.ends(0);
    let path = "records/fan-wheel-315-26-0419.rotor";
    is_whole(&folder);
    let text = folder.read(path);
    for line in ["  proof: \"2026-04-14\"", "  date: 2026-04-21", "    after: \"as found\"", "    remounted: yes"] {
        assert!(text.lines().any(|own| own == line), "{line}: {text}");
    }
    // The facts are those of the record in the example book, so all that follows from them is the same.
    let by_hand = Folder::with(&[]);
    for file in rotorbook::disk::walk_book(Path::new(TERN_QUAY)).files {
        by_hand.write(file.strip_prefix(TERN_QUAY).unwrap().to_str().unwrap(), &fs::read(&file).unwrap());
    }
    for path in [["verdict"].as_slice(), &["measured bearing a"], &["run corrected", "unbalance hub"]] {
        let record = "fan wheel 315, 26-0419";
        assert_eq!(result(&folder, record, path), result(&by_hand, record, path), "{path:?}");
    }
    let said = ran.stdout();
    for part in ["Next, from run 1 as found", "PUT ON", "written: reading left: 8.8 mark on fine @ 310 deg", "within"] {
        assert!(said.contains(part), "{part}: {said}");
    }
}

#[test]
fn as_called_for_writes_what_the_card_says() {
    let folder = shop();
    let answers = "26-0420\n\noff\n8.8 fine @ 310\n17.4 fine @ 85\n\n\n\noff\n0.1 div @ 35\n0.2 div @ 25\nend\n";
    answer(&folder, "fan wheel 315 on the soft bench", answers).ends(0);
    is_whole(&folder);
    let text = folder.read("records/fan-wheel-315-26-0420.rotor");
    let card = folder.run_with(&["check", "--brief"]).stdout();
    assert!(!card.contains("correction-not-as-called-for"), "{card}");
    // Two holes beside each other, and the clips.
    assert_eq!(text.matches("  correction ").count(), 3, "{text}");
}

#[test]
fn trial_runs_tell_two_planes_together() {
    let folder = shop();
    let answers = "5518-1\n620\noff\n25.2 fine @ 105\n13.0 fine @ 140\n\n\n621\n0.4 fine @ 355\n0.2 fine @ 340\nend\n";
    // 2026-06-19; the sheet is not younger, so that its limits and influences of today are those of the run.
    answer_on("1781827200", &folder, "fan wheel 560 on the soft bench", answers).ends(0);
    is_whole(&folder);
    let text = folder.read("records/fan-wheel-560-5518-1.rotor");
    // By hand from the record of the example book: 19.1 g on the back plate at 319 deg.
    assert!(text.contains("angle: 319 deg"), "{text}");
    assert!(text.contains("add place 3:") && text.contains("add place 4:"), "{text}");
    assert!(text.contains("  as run {") && text.contains("influence"), "{text}");
    // The sheet of the example book is a draft.
    assert!(text.contains("  sheet status: draft\n"), "{text}");
}

/// Each fact of a trial that is still a `?` is asked; a numbered place says its angle.
#[test]
fn what_a_trial_leaves_open_is_asked() {
    let folder = shop();
    let path = "setups/fan-wheel-560-soft-bench.rotor";
    let text = folder.read(path);
    let last = text.find("  trial \"clip on the shroud\"").unwrap();
    let mut open = text[last..].to_owned();
    for value in ["35.00 g", "246 mm", "90 deg", "taken off", "619 rpm"] {
        open = open.replacen(value, "?", 1);
    }
    folder.write(path, format!("{}{open}", &text[..last]).as_bytes());
    // Twelve places from 0 deg: the fourth is at 90 deg.
    let ran = answer(&folder, "fan wheel 560 on the soft bench", "35.00\n246\nplace 4\ntaken\n619\n");
    assert_eq!(folder.read(path), text, "{}", ran.stdout());
    let said = ran.stdout();
    assert!(said.contains("It sits at (e.g. 0 deg, or `place 3`)"), "{said}");
    assert!(said.contains("Before the next run the mass is (taken off or left on)"), "{said}");
}

#[test]
fn four_runs_without_angles_begin_with_what_the_sheet_leaves_open() {
    let folder = shop();
    let path = "setups/slinger-disc-300-swing-cradle.rotor";
    let text = folder.read(path);
    let open = text.replace("reading near: 9.5 div", "reading near: ?").replace("    reading near: 39.0 div\n", "");
    folder.write(path, open.as_bytes());
    let answers = "\n9.5\n\n39\n8\nyes\n415\noff\n19.0\n3.95 @ 205, 1.35 deep\n416\n1.0\nend\n";
    let ran = answer(&folder, "slinger disc 300 on the swing cradle", answers);
    ran.ends(0);
    assert_eq!(folder.read(path), text.replace("39.0 div", "39 div"));
    is_whole(&folder);
    // 598 g·mm at 205 deg, by the four runs of the sheet; the chips are the segment of the flat. Plain geometry.
    assert!(ran.stdout().contains("MILL 1.35 mm deep at 205 deg"), "{}", ran.stdout());
    assert!(ran.stdout().contains("The chips weigh 3.98 g."), "{}", ran.stdout());
    assert_eq!(result(&folder, "slinger disc 300, 8", &["verdict"]), "within as read");
}

#[test]
fn hard_supports_are_read_in_grams() {
    let folder = shop();
    let answers = "S-212\n\n-\n1.92 @ 200\n0.82 @ 309\n1.92 g @ 20, radius 50\n0.56 g at place 5, 0.28 g at place 6\n\n\
        0.05 @ 306\n0.02 @ 37\nend\n";
    let ran = answer(&folder, "grinding spindle 30 on the stiff bench", answers);
    assert!(ran.stdout().contains("Reading left (wheel flange) ("), "{}", ran.stdout());
    is_whole(&folder);
    let text = folder.read("records/grinding-spindle-30-s-212.rotor");
    assert!(text.contains("    radius: 50 mm\n"), "{text}");
}

#[test]
fn on_an_arbor_the_rotor_is_turned_before_anything_is_called_for() {
    let folder = shop();
    let answers = "casting 77\n\n0\n6.99 @ 63\n8.97 @ 75\n\n901\narbor\n7.07 @ 241\n9.09 @ 256\n\
        7.01 @ 62, 0.79 deep\n8.91 @ 75, 1.01 deep\n900\nno\n\n0.16 @ 107\n0.10 @ 21\nturn\n900\n0.20 @ 190\n0.13 @ 275\nend\n";
    let ran = answer(&folder, "pump impeller 125 on the stiff bench", answers);
    let said = ran.stdout();
    let turn = said.find("Turn the rotor half a turn on the arbor (end, again, mount again or turn) [turn]").unwrap();
    assert!(turn < said.find("Plane suction: ").unwrap(), "{said}");
    assert!(said.contains("Angles count from the zero mark of the rotor, not of the arbor."), "{said}");
    is_whole(&folder);
    let text = folder.read("records/pump-impeller-125-casting-77.rotor");
    assert_eq!(text.matches("turned on arbor by: 180 deg").count(), 2, "{text}");
    assert_eq!(text.matches("angles from: arbor").count(), 3, "{text}");
    assert_eq!(result(&folder, "pump impeller 125, casting 77", &["verdict"]), "within");
}

#[test]
fn sliding_weights_are_turned_to_where_they_are_called_for() {
    let folder = sheet(include_str!("../data/sheets/sliding-weights.rotor"));
    let answers = "W-31\n\n0, 120, 240\n2979 @ 60\n\n\n512 @ 150\n-\nend\n";
    answer(&folder, "grinding wheel 400 on the swing cradle", answers);
    is_whole(&folder);
    let text = folder.read("records/grinding-wheel-400-w-31.rotor");
    // As worked out for this sheet: 2979 at 60 deg is held by 325.1, 154.9 and 240 deg.
    assert!(text.contains("weights at groove: 325.1 deg, 154.9 deg, 240 deg"), "{text}");
    assert!(text.contains("  run \"weights turned\" {"), "{text}");
}

#[test]
fn a_static_stand_asks_for_masses() {
    let folder = sheet(include_str!("../data/sheets/static-stand.rotor"));
    let answers = "3\nno\n312\n46\n3\n46 @ 132\nyes\n3\nend\n";
    let ran = answer(&folder, "belt wheel 500 on the knife edges", answers);
    ran.ends(0);
    is_whole(&folder);
    let text = folder.read("records/belt-wheel-500-3.rotor");
    for line in ["heavy spot: 312 deg", "balanced by rim: 46 g", "rests anywhere: yes", "starts with rim: 3 g"] {
        assert!(text.contains(line), "{line}: {text}");
    }
    let card = folder.run_with(&["card", "belt wheel 500 on the knife edges", "--set-up"]);
    card.ends(0);
    assert!(!card.stdout().contains("Prove it"), "{}", card.stdout());
}

#[test]
fn what_cannot_be_is_said_and_asked_again() {
    let folder = shop();
    let setup = "fan wheel 315 on the soft bench";
    let answers = "26-0421\n1150 mm\n1150\n\noff\n8.8 fine\n8.8 @ 310\n8.8 on third @ 310\n8.8 mark on fine @ 310\nback\n8.9 fine @ 310\n";
    let ran = answer(&folder, setup, answers);
    ran.ends(1);
    let said = ran.stderr();
    for part in [
        "what is read for the angle is missing",
        "several scales",
        "has no scale third",
        "last answer removed",
        "continues it",
    ] {
        assert!(said.contains(part), "{part}: {said}");
    }
    is_whole(&folder);
    let text = folder.read("records/fan-wheel-315-26-0421.rotor");
    assert!(text.contains("reading left: 8.9 mark on fine @ 310 deg") && !text.contains("8.8"), "{text}");
    // It goes on where it stopped, by the serial number or by the name of the record.
    answer(&folder, setup, "26-0421\n17.4 fine @ 85\n").ends(1);
    let ran = answer(&folder, "fan wheel 315, 26-0421", "-\n-\nend\n");
    assert!(ran.stdout().contains("Next, from run 1 as found"), "{}", ran.stdout());
}

#[test]
fn a_correction_in_the_wrong_sense_is_warned_of() {
    let folder = shop();
    let answers = "26-0422\n\noff\n8.8 fine @ 310\n17.4 fine @ 85\nremove 0.78 @ 130, 5 deep\n";
    let ran = answer(&folder, "fan wheel 315 on the soft bench", answers);
    assert!(ran.stderr().contains("warning:") || ran.stderr().contains("error:"), "{}", ran.stderr());
    assert!(ran.stderr().contains("130 deg") || ran.stderr().contains("hub"), "{}", ran.stderr());
}

/// The lines that the program says it has written.
fn confirmed(said: &str) -> Vec<String> {
    let written = said.lines().filter_map(|line| line.trim().strip_prefix("written: "));
    written.flat_map(|lines| lines.split("; ").map(str::to_owned).collect::<Vec<_>>()).collect()
}

/// Kills the program while it is answered, again and again, until the record is whole.
fn killed_and_gone_on(seed: u64) {
    let folder = shop();
    let program = assert_cmd::cargo::cargo_bin!("rotorbook");
    let answers: Vec<&str> = FAN.lines().collect();
    let path = folder.path("records/fan-wheel-315-26-0419.rotor");
    let mut chance = seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1;
    let mut next = move || {
        chance ^= chance << 13;
        chance ^= chance >> 7;
        chance ^= chance << 17;
        chance
    };
    let mut command = Command::new(program);
    command.current_dir(folder.path(".")).env("SOURCE_DATE_EPOCH", DAY);
    command.args(["balance", "fan wheel 315 on the soft bench"]).stdin(Stdio::piped()).stdout(Stdio::piped());
    let mut child = command.stderr(Stdio::null()).spawn().unwrap();
    let mut to = child.stdin.take().unwrap();
    let from = child.stdout.take().unwrap();
    let heard = std::thread::spawn(move || BufReader::new(from).lines().map_while(Result::ok).collect::<Vec<_>>());
    let given = (next() % answers.len() as u64) as usize + 1;
    let typed = std::thread::spawn(move || {
        for answer in &answers[..given] {
            // Who is killed reads no more.
            if writeln!(to, "{answer}").is_err() {
                break;
            }
        }
        to
    });
    std::thread::sleep(std::time::Duration::from_micros(next() % 120_000));
    // Already gone, perhaps.
    let _ = child.kill();
    child.wait().unwrap();
    drop(typed.join().unwrap());
    let said = heard.join().unwrap().join("\n");
    if !path.exists() {
        assert!(confirmed(&said).is_empty(), "seed {seed}: {said}");
        return;
    }
    let text = fs::read_to_string(&path).unwrap();
    for line in confirmed(&said) {
        assert!(text.contains(&line), "seed {seed}: {line} is lost\n{text}\n{said}");
    }
    is_whole(&folder);
}

#[test]
fn nothing_that_was_confirmed_is_lost_when_it_is_killed() {
    (0..30).for_each(killed_and_gone_on);
}

#[test]
#[ignore = "takes minutes"]
fn nothing_that_was_confirmed_is_lost_in_a_thousand_kills() {
    (30..1030).for_each(killed_and_gone_on);
}

#[test]
fn the_code_on_a_card_opens_its_sheet_and_tells_when_it_is_out_of_date() {
    let folder = shop();
    let setup = "fan wheel 315 on the soft bench";
    let card = folder.run_with(&["card", setup, "--run"]).ends(0).stdout();
    let code: String = card.split("code ").nth(1).unwrap().chars().take(9).collect();
    let ran = answer(&folder, &code.to_lowercase(), "26-0430\n");
    assert!(ran.stderr().contains("record \"fan wheel 315, 26-0430\" begun"), "{}", ran.stderr());
    let path = "setups/fan-wheel-315-soft-bench.rotor";
    let text = folder.read(path);
    // Remarks and the order of lines are no change; another dial is.
    let remark = text.replace("  masses: \"brass set\"\n", "  # x\n  masses: \"brass set\"\n");
    folder.write(path, remark.as_bytes());
    assert!(answer(&folder, &code, "26-0430\n").stderr().contains("continuing record"));
    let dial = text.replacen("    \"left strength\": 212\n", "    \"left strength\": 213\n", 1);
    assert_ne!(dial, text);
    folder.write(path, dial.as_bytes());
    answer(&folder, &code, "26-0431\n").is_misuse("the card is out of date");
    answer(&folder, "BBBB-BBBB", "26-0431\n").is_misuse("no setup");
}

// A denser bronze makes every hole of the card shallower; a set of masses that is known worse lets less be read as good, 0.7
// instead of 0.8 div. What was read in the trial before the proof stands on no card.
#[test]
fn a_card_is_refused_when_it_says_something_else_and_only_then() {
    let folder = shop();
    let code = |setup: &str| -> String {
        let card = folder.run_with(&["card", setup, "--run"]).ends(0).stdout();
        card.split("code ").nth(1).unwrap().chars().take(9).collect()
    };
    let (pump, fan) = ("bilge pump rotor 4 in on the soft bench", "fan wheel 315 on the soft bench");
    let before = [code(pump), code(fan)];
    let edit = |path: &str, old: &str, new: &str| {
        let text = folder.read(path);
        assert!(text.contains(old), "{path}: {old}");
        folder.write(path, text.replacen(old, new, 1).as_bytes());
        let codes = [code(pump), code(fan)];
        folder.write(path, text.as_bytes());
        codes
    };
    let trial = edit("setups/bilge-pump-rotor-soft-bench.rotor", "4.4 mark on fine @ 75", "4.8 mark on fine @ 75");
    assert_eq!(trial, before);
    let bronze = folder.read("materials.rotor");
    let at = bronze.find("pump bronze").unwrap();
    let density = bronze[at..].lines().find(|line| line.contains("density:")).unwrap().to_owned();
    let denser = edit("materials.rotor", &density, "  density: 9.9 g/cm3");
    assert!(denser[0] != before[0] && denser[1] == before[1], "{denser:?}");
    let worse = edit("masses.rotor", "uncertainty: 0.004 g", "uncertainty: 0.4 g");
    assert_ne!(worse[1], before[1]);
}

#[test]
fn an_overview_says_what_is_void_and_why() {
    let folder = shop();
    let said = folder.run("overview").ends(0).stdout();
    // No card of a sheet that is not committed is stamped as released.
    assert!(said.starts_with("14 setups: 0 released, 1 with a void calibration"), "{said}");
    assert!(said.contains("revision C: uncommitted changes: do not work from this card"), "{said}");
    assert!(said.contains("void: proven at 820 rpm, the sheet now says 900 rpm"), "{said}");
    assert!(said.lines().all(|line| line.chars().count() <= 110), "{said}");
    let path = "setups/fan-wheel-560-soft-bench.rotor";
    let open = folder.read(path).replace("  balancing speed: 620 rpm", "  balancing speed: ?");
    folder.write(path, open.as_bytes());
    let document = folder.run("overview --format json").json();
    let setups = document["setups"].as_array().unwrap();
    let fan = setups.iter().find(|one| one["setup"] == "fan wheel 560 on the soft bench").unwrap();
    assert_eq!((&fan["open"], &fan["proven"], &fan["status"]), (&1.into(), &Value::Null, &"draft".into()));
    let csv = folder.run("overview --format csv").stdout();
    assert_eq!(csv.lines().count(), 15, "{csv}");
    let card = folder.run_with(&["card", "fan wheel 560 on the soft bench"]).stdout();
    assert!(card.contains("1 VALUE IS STILL OPEN"), "{card}");
}
