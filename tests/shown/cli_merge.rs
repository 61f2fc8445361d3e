//! Pairs of ordinary edits made at the same time, merged by real git: as lines, and fact by fact.

use std::fs;

use crate::support::git::{Repo, run_in};

const SETUP: &str = "setups/fan-wheel-315.rotor";
const ROTOR: &str = "rotors/fan-wheel-315.rotor";
const MACHINE: &str = "machines/soft-bench.rotor";
const RECORDS: &str = "records/two.rotor";

/// What a person does to a file: a piece of it, and what stands there afterwards.
type Edits = &'static [(&'static str, &'static str, &'static str)];

struct Pair {
    what: &'static str,
    ours: Edits,
    theirs: Edits,
    /// The fact that nobody but the authors can settle.
    asks: Option<&'static str>,
}

const fn clean(what: &'static str, ours: Edits, theirs: Edits) -> Pair {
    Pair { what, ours, theirs, asks: None }
}

const fn asks(what: &'static str, ours: Edits, theirs: Edits, about: &'static str) -> Pair {
    Pair { what, ours, theirs, asks: Some(about) }
}

const PAIRS: [Pair; 20] = [
    clean(
        "neighbouring dials",
        &[(SETUP, "    \"left strength\": 212", "    \"left strength\": 215")],
        &[(SETUP, "    \"right strength\": 238", "    \"right strength\": 240")],
    ),
    clean(
        "mass and radius of a calibration, with its pin",
        &[
            (SETUP, "    mass: 3.00 g\n    radius: 268.4", "    mass: 3.20 g\n    radius: 268.4"),
            (SETUP, "=> 8.60 div", "=> 9.17 div"),
        ],
        &[(SETUP, "    radius: 268.4 mm / 2", "    radius: 268.0 mm / 2"), (SETUP, "=> 8.60 div", "=> 8.59 div")],
    ),
    clean(
        "grade and service speed, with pins",
        &[
            (ROTOR, "grade: G 6.3", "grade: G 2.5"),
            (ROTOR, "=> 81.7 g·mm", "=> 32.4 g·mm"),
            (ROTOR, "=> 46.8 g·mm", "=> 18.6 g·mm"),
        ],
        &[
            (ROTOR, "speed: 3550 rpm", "speed: 3000 rpm"),
            (ROTOR, "=> 81.7 g·mm", "=> 96.7 g·mm"),
            (ROTOR, "=> 46.8 g·mm", "=> 55.4 g·mm"),
        ],
    ),
    clean(
        "a caution each",
        &[(SETUP, "comes off\"\n", "comes off\"\n  caution: \"two people lift\"\n")],
        &[(SETUP, "comes off\"\n", "comes off\"\n  caution: \"eyes protected\"\n")],
    ),
    clean(
        "a record each at the end of one file",
        &[(RECORDS, "# the end\n", "record \"third\" {\n  serial: \"3\"\n}\n\n# the end\n")],
        &[(RECORDS, "# the end\n", "record \"fourth\" {\n  serial: \"4\"\n}\n\n# the end\n")],
    ),
    clean(
        "another unit and another value",
        &[(SETUP, "\n  pulley: 80 mm", "\n  pulley: 8.0 cm")],
        &[(SETUP, "\n  pulley: 80 mm", "\n  pulley: 120 mm")],
    ),
    clean(
        "a line moved and its value changed",
        &[(SETUP, "  belt runs on: 60 mm\n  pulley: 80 mm\n", "  pulley: 80 mm\n  belt runs on: 60 mm\n")],
        &[(SETUP, "\n  pulley: 80 mm", "\n  pulley: 120 mm")],
    ),
    clean("pins alone", &[(SETUP, "=> 8.60 div", "=> 8.61 div")], &[(SETUP, "=> 8.60 div", "=> 8.62 div")]),
    clean(
        "a remark after a value and the value",
        &[(SETUP, "  pulley: 80 mm", "  pulley: 80 mm # the small step")],
        &[(SETUP, "\n  pulley: 80 mm", "\n  pulley: 120 mm")],
    ),
    clean(
        "a line gone and its neighbour changed",
        &[(ROTOR, "    holes at most: 4\n", "")],
        &[(ROTOR, "    hole spacing at least: 12 mm", "    hole spacing at least: 14 mm")],
    ),
    asks(
        "a line gone and changed",
        &[(ROTOR, "    holes at most: 4\n", "")],
        &[(ROTOR, "    holes at most: 4", "    holes at most: 3")],
        "holes at most",
    ),
    asks(
        "one fact changed differently",
        &[(ROTOR, "    wall at least: 3 mm", "    wall at least: 4 mm")],
        &[(ROTOR, "    wall at least: 3 mm", "    wall at least: 5 mm")],
        "wall at least",
    ),
    asks(
        "the same new revision for two changes",
        &[(SETUP, "revision: \"C\"", "revision: \"D\""), (SETUP, "pre-balance to: 4 div", "pre-balance to: 3 div")],
        &[(SETUP, "revision: \"C\"", "revision: \"D\""), (SETUP, "    within: 5 %", "    within: 4 %")],
        "revision",
    ),
    clean(
        "the same change twice",
        &[(SETUP, "\n  pulley: 80 mm", "\n  pulley: 120 mm")],
        &[(SETUP, "\n  pulley: 80 mm", "\n  pulley: 120 mm")],
    ),
    clean(
        "a sheet renamed and changed",
        &[(SETUP, "setup \"fan wheel 315 on the soft bench\" {\n", "setup \"fan wheel 315, soft bench\" {\n")],
        &[(SETUP, "  rotor: \"fan wheel 315\"\n  machine", "  rotor: \"fan wheel 315\"\n  note: \"kept\"\n  machine")],
    ),
    clean(
        "a control each at the end of the panel",
        &[(
            MACHINE,
            "-30 deg to 30 deg\n  }\n",
            "-30 deg to 30 deg\n  }\n\n  control \"fan\" {\n    positions: off, on\n  }\n",
        )],
        &[(
            MACHINE,
            "-30 deg to 30 deg\n  }\n",
            "-30 deg to 30 deg\n  }\n\n  control \"brake\" {\n    positions: free, held\n  }\n",
        )],
    ),
    clean(
        "neighbouring facts of a plane",
        &[(ROTOR, "    most per place: 12 g", "    most per place: 10 g")],
        &[(ROTOR, "    places: 8 from 0 deg", "    places: 9 from 0 deg")],
    ),
    clean(
        "a note each in one place",
        &[(
            SETUP,
            "  machine: \"soft bench\"\n  masses",
            "  machine: \"soft bench\"\n  note: \"by the window\"\n  masses",
        )],
        &[(
            SETUP,
            "  machine: \"soft bench\"\n  masses",
            "  machine: \"soft bench\"\n  note: \"by the door\"\n  masses",
        )],
    ),
    clean(
        "a new comment and the fact below it",
        &[(SETUP, "\n  indicates:", "\n  # As the lamp shows it.\n  indicates:")],
        &[(SETUP, "indicates: heavy spot", "indicates: light spot")],
    ),
    clean(
        "a service each",
        &[(MACHINE, "  tested: 2026-03-19\n", "  tested: 2026-03-19\n  serviced: 2026-05-02\n")],
        &[(MACHINE, "  tested: 2026-03-19\n", "  tested: 2026-03-19\n  serviced: 2026-05-09\n")],
    ),
];

fn repository(by_meaning: bool) -> Repo {
    let repo = Repo::with_shop("");
    repo.write(
        RECORDS,
        "record \"first\" {\n  serial: \"1\"\n}\n\nrecord \"second\" {\n  serial: \"2\"\n}\n\n# the end\n",
    );
    if by_meaning {
        repo.run(&["init", "--no-hook", "--ci", "none"]).ends(0);
    }
    repo.commit("prepared");
    repo
}

fn edit(repo: &Repo, edits: Edits) {
    edits.iter().for_each(|(path, old, new)| repo.edit(path, old, new));
}

/// Whether real git merges the pair without a question; what lies there afterwards stays.
fn merges(repo: &Repo, pair: &Pair) -> (bool, String) {
    repo.git("checkout -q -B theirs main");
    edit(repo, pair.theirs);
    repo.commit("theirs");
    repo.git("checkout -q -B ours main");
    edit(repo, pair.ours);
    repo.commit("ours");
    let (code, said) = repo.try_git(&["merge", "-q", "--no-edit", "theirs"]);
    (code == 0, said)
}

fn back(repo: &Repo) {
    repo.git("reset -q --hard");
    repo.git("checkout -q main");
}

/// All lines but pins.
fn facts(text: &str) -> Vec<&str> {
    text.lines().map(str::trim).filter(|line| !line.is_empty() && !line.contains("=>")).collect()
}

#[test]
fn ordinary_edits_at_the_same_time_conflict_only_where_people_disagree() {
    let (lines, meaning) = (repository(false), repository(true));
    let (mut by_lines, mut by_meaning) = (0, 0);
    for pair in &PAIRS {
        by_lines += usize::from(!merges(&lines, pair).0);
        back(&lines);
        let (is_clean, said) = merges(&meaning, pair);
        assert_eq!(is_clean, pair.asks.is_none(), "{}: {said}", pair.what);
        by_meaning += usize::from(!is_clean);
        match pair.asks {
            Some(about) => asks_only(&meaning, pair, about),
            None => holds_both(&meaning, pair),
        }
        back(&meaning);
    }
    println!("of {} pairs, {by_lines} conflict in git alone, {by_meaning} with the driver", PAIRS.len());
    assert!(by_lines >= 12 && by_meaning == 3, "{by_lines} and {by_meaning}");
}

/// Every line that one of both wrote stands there, every line that one of both took away does not, and all others do.
fn holds_both(repo: &Repo, pair: &Pair) {
    for path in [SETUP, ROTOR, MACHINE, RECORDS] {
        let show = |revision: &str| repo.git_with(&["show", &format!("{revision}:{path}")]);
        let (base, ours, theirs, merged) = (show("main"), show("ours~0"), show("theirs"), repo.read(path));
        // `ours` is the merge now; the side before it is its first parent, unless nothing was left to merge.
        let first = repo.try_git(&["show", &format!("ours^1:{path}")]);
        let ours = if first.0 == 0 && repo.git("log --format=%s -1 ours").trim() != "ours" { first.1 } else { ours };
        let [base, ours, theirs, merged] = [&base, &ours, &theirs, &merged].map(|text| facts(text));
        let count = |lines: &[&str], line: &str| lines.iter().filter(|other| **other == line).count() as isize;
        let mut all: Vec<&str> = [base.clone(), ours.clone(), theirs.clone(), merged.clone()].concat();
        all.sort_unstable();
        all.dedup();
        for line in all {
            let (b, o, t) = (count(&base, line), count(&ours, line), count(&theirs, line));
            let wanted = if o == b {
                t
            } else if t == b || o == t {
                o
            } else {
                o + t - b
            };
            let found = count(&merged, line);
            // Another spelling of a value that the other side changed is let go, and a value with its remark is one line.
            let is_respelt = line.starts_with("pulley") || line == "}";
            assert!(found == wanted || is_respelt, "{}: {path}: `{line}` {found} times, not {wanted}", pair.what);
        }
    }
    let merged = repo.read(SETUP);
    if pair.what.contains("remark after") {
        assert!(merged.contains("  pulley: 120 mm # the small step\n"), "{merged}");
    }
    if pair.what.contains("another unit") || pair.what.contains("moved") {
        assert!(merged.contains("  pulley: 120 mm\n") && merged.matches("pulley: 1").count() == 1, "{merged}");
    }
}

/// One question, about this fact, and everything else merged.
fn asks_only(repo: &Repo, pair: &Pair, about: &str) {
    let path = pair.ours[0].0;
    let text = repo.read(path);
    assert_eq!((text.matches("<<<<<<<").count(), text.matches(">>>>>>>").count()), (1, 1), "{text}");
    let (_, rest) = text.split_once("<<<<<<<").unwrap();
    let (inside, _) = rest.split_once(">>>>>>>").unwrap();
    let lines: Vec<&str> = inside.lines().skip(1).filter(|line| !line.starts_with("=======")).collect();
    assert!(!lines.is_empty() && lines.iter().all(|line| line.trim().starts_with(about)), "{inside}");
    assert!(repo.run(&["check"]).ends(1).stdout.contains("conflict"));
    // No pin is written while a question is open anywhere in the book.
    let ran = repo.run(&["pin", ROTOR]);
    assert_eq!(ran.code, 2, "{}", ran.stderr);
    assert!(ran.stderr.contains("a conflict is not resolved"), "{}", ran.stderr);
}

#[test]
fn what_is_not_read_as_a_whole_is_merged_as_lines() {
    let folder = tempfile::tempdir().unwrap();
    let write = |name: &str, text: &str| fs::write(folder.path().join(name), text).unwrap();
    write("base", "rotor \"a\" {\n  mass: 3 kg\n  what is this\n\n\n  datum: \"left\"\n}\n");
    write("ours", "rotor \"a\" {\n  mass: 4 kg\n  what is this\n\n\n  datum: \"left\"\n}\n");
    write("theirs", "rotor \"a\" {\n  mass: 3 kg\n  what is this\n\n\n  datum: \"right\"\n}\n");
    let ran = run_in(folder.path(), &["merge", "base", "ours", "theirs"]).ends(0);
    assert!(ran.stderr.contains("merged as lines"), "{}", ran.stderr);
    let merged = fs::read_to_string(folder.path().join("ours")).unwrap();
    assert!(merged.contains("mass: 4 kg") && merged.contains("\"right\""), "{merged}");
    run_in(folder.path(), &["merge", "base", "ours", "nowhere"]).is_misuse("cannot be found");
}

#[test]
fn marks_are_as_long_as_git_asks_and_say_whose_side_it_is() {
    let folder = tempfile::tempdir().unwrap();
    let write = |name: &str, mass: &str| {
        fs::write(folder.path().join(name), format!("rotor \"a\" {{\n  mass: {mass}\n}}\n")).unwrap();
    };
    [("base", "3 kg"), ("ours", "4 kg"), ("theirs", "5 kg")].iter().for_each(|(name, mass)| write(name, mass));
    let labels = ["--marker-size", "9", "--ours", "main", "--theirs", "%Y"];
    let ran = run_in(folder.path(), &[&["merge", "base", "ours", "theirs"], &labels[..]].concat()).ends(1);
    assert!(ran.stderr.contains("1 fact to settle: rotor a / mass"), "{}", ran.stderr);
    let merged = fs::read_to_string(folder.path().join("ours")).unwrap();
    let wanted = "rotor \"a\" {\n<<<<<<<<< main\n  mass: 4 kg\n=========\n  mass: 5 kg\n>>>>>>>>> theirs\n}\n";
    assert_eq!(merged, wanted);
}

/// The marks and what is between them on either side.
fn question(text: &str) -> (String, String) {
    let (_, rest) = text.split_once("<<<<<<< ours\n").unwrap_or_else(|| panic!("{text}"));
    let (ours, rest) = rest.split_once("=======\n").unwrap();
    let (theirs, after) = rest.split_once(">>>>>>> theirs\n").unwrap();
    assert!(!after.contains("<<<<<<<"), "{text}");
    (ours.to_owned(), theirs.to_owned())
}

#[test]
fn two_continuations_of_one_record_are_a_question_whichever_side_asks() {
    let run = |name: &str, reading: &str| {
        format!("\n  run \"{name}\" {{\n    speed: 1150 rpm\n    reading left: {reading} div @ 20 deg\n  }}\n")
    };
    let hole = |mass: &str| format!("\n  correction hub {{\n    remove: {mass} g\n    angle: 30 deg\n  }}\n");
    let record = |work: &[&str], serial: &str| {
        format!("record \"one\" {{\n  setup: \"a\"\n  serial: \"{serial}\"\n{}}}\n", work.concat())
    };
    let (first, drilled) = (run("as found", "8.8"), hole("0.78"));
    let (second, third) = (run("corrected", "0.9"), run("again", "0.4"));
    let (late, early) = (hole("0.12"), hole("0.31"));
    let merged = |base: &[&str], ours: &[&str], theirs: (&[&str], &str)| {
        let folder = tempfile::tempdir().unwrap();
        let write = |name: &str, text: &str| fs::write(folder.path().join(name), text).unwrap();
        write("base", &record(base, "1"));
        write("ours", &record(ours, "1"));
        write("theirs", &record(theirs.0, theirs.1));
        let code = run_in(folder.path(), &["merge", "base", "ours", "theirs"]).code;
        (code, fs::read_to_string(folder.path().join("ours")).unwrap())
    };
    let begun: &[&str] = &[&first, &drilled];
    let sides: [(&[&str], &[&str]); 4] = [
        // A run each.
        (&[&first, &drilled, &second], &[&first, &drilled, &third]),
        // A run, and a hole that nobody ran after.
        (&[&first, &drilled, &second], &[&first, &drilled, &late]),
        // Holes in one plane, which have one heading.
        (&[&first, &drilled, &late], &[&first, &drilled, &early]),
        // One side took a hole out, the other went on from it.
        (&[&first], &[&first, &drilled, &second]),
    ];
    for (a, b) in sides {
        let (code, text) = merged(begun, a, (b, "1"));
        let (other_code, other) = merged(begun, b, (a, "1"));
        assert_eq!((code, other_code), (1, 1), "{text}");
        let (ours, theirs) = question(&text);
        assert_eq!(question(&other), (theirs.clone(), ours.clone()), "{text}{other}");
        // Every word of both sides stands there.
        for (work, said) in [(a, &ours), (b, &theirs)] {
            assert!(work.iter().all(|one| first == **one || drilled == **one || said.contains(one.trim())), "{text}");
        }
        let plain = |text: &str| text.split("<<<<<<<").next().unwrap().to_owned();
        assert_eq!(plain(&text), plain(&other));
    }
    // One side goes on, the other changes something else: nothing to ask.
    let (code, text) = merged(begun, &[&first, &drilled, &second], (begun, "2"));
    assert!(code == 0 && text.contains("serial: \"2\"") && text.contains("\"corrected\""), "{text}");
    // Both went on alike, and one of them further.
    let (code, text) = merged(begun, &[&first, &drilled, &second, &late], (&[&first, &drilled, &second], "1"));
    assert!(code == 0 && text.matches("\"corrected\"").count() == 1 && text.contains("0.12 g"), "{text}");
}

#[test]
fn two_names_for_one_sheet_are_a_question_about_the_name_alone() {
    let folder = tempfile::tempdir().unwrap();
    let write = |file: &str, name: &str, mass: &str| {
        let text = format!("rotor \"{name}\" {{\n  mass: {mass}\n  datum: \"face\"\n  drawing: \"7\"\n}}\n");
        fs::write(folder.path().join(file), text).unwrap();
    };
    let merged = |ours: &str, theirs: &str| {
        write("base", "a", "3 kg");
        write("ours", ours, "3 kg");
        write("theirs", theirs, "4 kg");
        let ran = run_in(folder.path(), &["merge", "base", "ours", "theirs"]);
        (ran.code, ran.stderr, fs::read_to_string(folder.path().join("ours")).unwrap())
    };
    let (code, said, text) = merged("b", "c");
    assert!(code == 1 && said.contains("1 fact to settle: rotor a / name"), "{said}");
    assert_eq!(question(&text), ("rotor \"b\" {\n".to_owned(), "rotor \"c\" {\n".to_owned()));
    assert!(text.contains("  mass: 4 kg\n") && text.matches("datum").count() == 1, "{text}");
    let (code, _, text) = merged("b", "b");
    assert!(code == 0 && text.starts_with("rotor \"b\" {\n  mass: 4 kg\n"), "{text}");
}

/// A radius on one side and a diameter on the other are two answers to one question; neither stands beside the other.
#[test]
fn one_thing_said_in_two_ways_is_one_question() {
    let folder = tempfile::tempdir().unwrap();
    let merged = |ours: &str, theirs: &str| {
        for (file, said) in [("base", "radius: 100 mm"), ("ours", ours), ("theirs", theirs)] {
            let text = format!("rotor \"a\" {{\n  plane p {{\n    at: 10 mm\n    {said}\n    correct: add\n  }}\n}}\n");
            fs::write(folder.path().join(file), text).unwrap();
        }
        let ran = run_in(folder.path(), &["merge", "base", "ours", "theirs"]);
        (ran.code, ran.stderr, fs::read_to_string(folder.path().join("ours")).unwrap())
    };
    let (code, said, text) = merged("diameter: 200 mm", "radius: 104 mm");
    assert!(code == 1 && said.contains("1 fact to settle: rotor a / plane p / diameter, radius"), "{said}");
    assert_eq!(question(&text), ("    diameter: 200 mm\n".to_owned(), "    radius: 104 mm\n".to_owned()));
    assert_eq!(text.matches("diameter").count() + text.matches("radius").count(), 2, "{text}");
    for (ours, theirs) in [("diameter: 200 mm", "radius: 100 mm"), ("radius: 100 mm", "diameter: 200 mm")] {
        let (code, _, text) = merged(ours, theirs);
        assert!(code == 0 && text.contains("    diameter: 200 mm\n") && !text.contains("radius"), "{text}");
    }
}

#[test]
fn two_sheets_of_one_revision_are_a_question_that_says_why() {
    let folder = tempfile::tempdir().unwrap();
    let write = |file: &str, revision: &str, speed: &str, caution: &str| {
        let text = format!(
            "setup \"a\" {{\n  revision: \"{revision}\"\n  balancing speed: {speed}\n  caution: \"{caution}\"\n}}\n"
        );
        fs::write(folder.path().join(file), text).unwrap();
    };
    write("base", "D", "900 rpm", "hot");
    write("ours", "E", "950 rpm", "hot");
    write("theirs", "E", "900 rpm", "hot and sharp");
    let ran = run_in(folder.path(), &["merge", "base", "ours", "theirs"]).ends(1);
    let said = "setup a / revision (both sides changed the sheet under this revision: write the next)";
    assert!(ran.stderr.contains(said), "{}", ran.stderr);
}
