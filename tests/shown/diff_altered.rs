//! What was measured, signed or inherited, and reads otherwise: each change has its own alert, and a record that only goes
//! on has none of them.

use crate::support::git::Repo;

const FAN: &str = "setups/fan-wheel-315-soft-bench.rotor";
const PUMP: &str = "setups/bilge-pump-rotor-soft-bench.rotor";
const BENCH: &str = "machines/soft-bench.rotor";
const RECORD: &str = "records/fan-wheel-315.rotor";
const ALTERED: &str = "measurement-altered";

fn codes(repo: &Repo, arguments: &[&str]) -> Vec<String> {
    let alerts = repo.alerts(arguments).into_iter();
    let mut codes: Vec<String> = alerts.map(|alert| alert.split(' ').next().unwrap().to_owned()).collect();
    codes.dedup();
    codes
}

// The check mass must read 12.1 div within 5 %; 27.0 marks of half a division are 13.5 div: (13.5 - 12.1) / 12.1 = 11.6 %.
#[test]
fn a_check_that_fails_is_on_the_card_and_in_the_overview_and_cannot_be_made_to_pass_unseen() {
    let repo = Repo::with_tern_quay();
    let name = "fan wheel 315 on the soft bench";
    let code = |repo: &Repo| {
        let card = repo.run(&["card", name]).ends(0).stdout;
        card.split_once("code ").unwrap().1.trim_start()[..9].to_owned()
    };
    let before = code(&repo);
    let good = "    checked: 2026-06-01, 24.0 mark on fine\n";
    repo.edit(FAN, good, &format!("{good}    checked: 2026-07-01, 27.0 mark on fine\n"));
    assert_eq!(codes(&repo, &[]), ["check-mass-out"]);
    repo.commit("check of July");
    let says = "on 2026-07-01 the check mass read 13.5 div, 11.6 % off";
    let card = repo.run(&["card", name]).ends(0).stdout.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(card.contains(&format!("CHECK MASS OUTSIDE ITS BAND: {says}")), "{card}");
    assert_ne!(code(&repo), before, "a card from before no longer holds");
    let overview = repo.run(&["overview"]).ends(0).stdout;
    assert!(overview.contains("CHECK FAILED") && overview.contains(&format!("check mass: {says}")), "{overview}");
    assert!(repo.json(&["overview"])["setups"].as_array().unwrap().iter().any(|one| one["check_mass"].is_string()));
    repo.edit(FAN, "2026-07-01, 27.0", "2026-07-01, 24.7");
    let told = "check mass / checked: 2026-07-01, 27.0 mark on fine → 2026-07-01, 24.7 mark on fine, –";
    assert_eq!(repo.alerts_of(ALTERED, &[]), [told]);
    repo.edit(FAN, "    checked: 2026-07-01, 24.7 mark on fine\n", "");
    assert_eq!(repo.alerts_of(ALTERED, &[]), ["check mass / checked: 2026-07-01, 27.0 mark on fine → –, –"]);
    assert_eq!(code(&repo), before);
}

#[test]
fn what_was_measured_on_a_day_is_not_measured_otherwise_later() {
    let repo = Repo::with_tern_quay();
    repo.edit(BENCH, "  tested: 2026-03-19\n", "  tested: 2026-03-19\n  serviced: 2026-03-20\n");
    repo.commit("a service before the proofs");
    let cases = [
        (
            PUMP,
            ["reading right: 4.2 mark on fine @ 325 deg", "reading right: 4.0 mark on fine @ 325 deg"],
            "trial as found / reading right: 4.2 mark on fine @ 325 deg → 4.0 mark on fine @ 325 deg, –",
        ),
        (
            FAN,
            ["residual at calibration: 0.5 div", "residual at calibration: 0.3 div"],
            "calibrate hub / residual at calibration: 0.5 div → 0.3 div, –",
        ),
        (BENCH, ["  serviced: 2026-03-20\n", ""], "serviced: 2026-03-20 → –, –"),
        // More digits of the same, and another day beside it.
        (FAN, ["residual at calibration: 0.5 div", "residual at calibration: 0.50 div"], ""),
        (BENCH, ["  serviced: 2026-03-20\n", "  serviced: 2026-03-20\n  serviced: 2026-07-20\n"], ""),
    ];
    for (path, [old, new], expected) in cases {
        repo.edit(path, old, new);
        assert_eq!(repo.alerts_of(ALTERED, &[]).concat(), expected, "{path}: {old} → {new}");
        repo.git("checkout -q -- .");
    }
    // Calibrated and proven again: another residual is another measurement.
    let proof = "  proof again {\n    date: 2026-08-01\n  }\n\n  # With the wheel that";
    repo.edit(FAN, "  # With the wheel that", proof);
    repo.edit(FAN, "residual at calibration: 0.5 div", "residual at calibration: 0.3 div");
    assert_eq!(repo.alerts_of(ALTERED, &[]), Vec::<String>::new());
    repo.git("checkout -q -- .");
    // What was left open is filled in.
    repo.edit(FAN, "residual at calibration: 0.5 div", "residual at calibration: ?");
    repo.commit("not known");
    repo.edit(FAN, "residual at calibration: ?", "residual at calibration: 0.3 div");
    assert_eq!(repo.alerts_of(ALTERED, &[]), Vec::<String>::new());
}

const MORE: &str = "
  run \"laid in again, 2\" {
    speed: 1150 rpm
    calibration masses: off
    remounted: yes
    reading left: 0.3 div @ 20 deg
    reading right: 0.2 div @ 330 deg
  }
";
const LAST: &str = "    reading right: 0.2 div @ 335 deg\n  }\n";

#[test]
fn a_record_that_goes_on_is_continued_and_each_fact_that_reads_otherwise_is_named() {
    let repo = Repo::with_tern_quay();
    repo.edit(RECORD, LAST, &format!("{LAST}{MORE}"));
    assert_eq!(codes(&repo, &[]), ["record-continued"]);
    assert_eq!(repo.alerts_of("record-continued", &[]), [": – → –, run laid in again, 2"]);
    repo.edit(RECORD, "reading right: 17.4 mark", "reading right: 14.4 mark");
    repo.edit(RECORD, "speed: 1152", "speed: 1151");
    let altered = [
        "run as found / reading right: 17.4 mark on fine @ 85 deg → 14.4 mark on fine @ 85 deg, –",
        "run corrected / speed: 1152 rpm → 1151 rpm, –",
    ];
    assert_eq!(repo.alerts_of("record-altered", &[]), altered);
    assert_eq!(repo.alerts_of("record-continued", &[]).len(), 1);
    repo.git("checkout -q -- .");
    // Between runs, or a word that means something else of an earlier one, is no continuing.
    repo.edit(RECORD, "\n  run \"laid in again\" {", &format!("{MORE}\n  run \"laid in again\" {{"));
    assert!(codes(&repo, &[]).contains(&"record-altered".to_owned()));
    assert!(repo.alerts_of("record-continued", &[]).is_empty());
    repo.git("checkout -q -- .");
    repo.edit(RECORD, "    remounted: yes\n", "    remounted: yes\n    correction not recorded: yes\n");
    assert_eq!(repo.alerts_of("record-altered", &[]), ["run laid in again / correction not recorded: – → yes, –"]);
    repo.git("checkout -q -- .");
    // A remark, and a reading that the last run had not yet.
    repo.edit(RECORD, "  by: \"fan bay, early shift\"\n", "  by: \"fan bay, early shift\"\n  note: \"a quiet day\"\n");
    assert_eq!(codes(&repo, &[]), ["record-continued"]);
    repo.git("checkout -q -- .");
    repo.edit(RECORD, "    reading right: 0.2 div @ 335 deg\n", "");
    repo.commit("half of it");
    repo.edit(
        RECORD,
        "    reading left: 0.2 div @ 10 deg\n",
        "    reading left: 0.2 div @ 10 deg\n    reading right: 0.3 div @ 335 deg\n",
    );
    assert!(!codes(&repo, &[]).contains(&"record-altered".to_owned()), "{:?}", codes(&repo, &[]));
}

#[test]
fn a_correction_that_is_gone_is_told_with_all_that_it_was() {
    let repo = Repo::with_tern_quay();
    let rim = "  correction rim {\n    after: \"as found\"\n    add place 6: 0.27 g\n    add place 7: 1.95 g\n  }\n";
    repo.edit(RECORD, rim, "");
    let gone = "correction rim: – → –, gone: add place 6 0.27 g, add place 7 1.95 g";
    assert_eq!(repo.alerts_of("record-altered", &[]), [gone]);
    repo.git("checkout -q -- .");
    // One of two facts of it.
    repo.edit(RECORD, "    add place 7: 1.95 g\n", "");
    assert_eq!(repo.alerts_of("record-altered", &[]), ["correction rim / add place 7: 1.95 g → –, –"]);
}

#[test]
fn a_caution_that_is_no_longer_taken_over_is_gone_and_one_that_is_now_taken_over_is_not() {
    let repo = Repo::with_tern_quay();
    let heir = "setups/fan-wheel-400-soft-bench.rotor";
    let removed = |repo: &Repo| repo.alerts_of("caution-removed", &[]);
    repo.edit(heir, "leave out: \"belt", "leave out: \"caution\", \"belt");
    assert_eq!(removed(&repo), ["caution: \"lock the cradle before the belt comes off\" → –, –"]);
    repo.git("checkout -q -- .");
    // It stands in its own words now.
    repo.edit(heir, "leave out: \"belt", "leave out: \"caution\", \"belt");
    let own = "  caution: \"lock the cradle before the belt comes off\"\n";
    repo.edit(heir, "  status: draft\n", &format!("  status: draft\n{own}"));
    assert_eq!(removed(&repo), Vec::<String>::new());
    repo.commit("its own");
    repo.edit(heir, own, "");
    repo.edit(heir, "leave out: \"caution\", \"belt", "leave out: \"belt");
    assert_eq!(removed(&repo), Vec::<String>::new());
    repo.git("checkout -q -- .");
    repo.edit(heir, own, "");
    assert_eq!(removed(&repo).len(), 1);
}

// 1150 rpm is 1.26 times a resonance at 910 rpm.
#[test]
fn warnings_of_a_released_sheet_are_told_beside_its_other_alerts() {
    let repo = Repo::with_tern_quay();
    repo.edit(FAN, "resonance found at: 310 rpm", "resonance found at: 910 rpm");
    repo.edit(FAN, "revision: \"C\"", "revision: \"D\"");
    assert_eq!(codes(&repo, &[]), ["sheet-released", "released-warned"]);
    let told = repo.alerts_of("released-warned", &[]);
    assert!(told[0].contains("the balancing speed of 1150 rpm is only 1.26 times the resonance"), "{told:?}");
    repo.git("checkout -q -- .");
    repo.edit("arbors/plain-arbor-35.rotor", "fit clearance: 0.005 mm", "fit clearance: 0.05 mm");
    let told = repo.alerts_of("released-warned", &[]);
    assert!(told.iter().any(|one| one.contains("each mounting on arbor \"plain arbor 35\"")), "{told:?}");
    repo.git("checkout -q -- .");
    // That a check mass failed is an alert already, and is not told twice.
    let good = "    checked: 2026-06-01, 24.0 mark on fine\n";
    repo.edit(FAN, good, &format!("{good}    checked: 2026-07-01, 27.0 mark on fine\n"));
    assert_eq!(repo.alerts_of("released-warned", &[]), Vec::<String>::new());
}

// A day that is taken out, or set back, is none on which the arbor was weighed again.
#[test]
fn only_a_later_day_is_one_on_which_something_was_measured_again() {
    let repo = Repo::with_tern_quay();
    const ARBOR: &str = "arbors/plain-arbor-35.rotor";
    let says = |date: &str| {
        repo.edit(ARBOR, "unbalance left: 2.1 g·mm", "unbalance left: 0.3 g·mm");
        repo.edit(ARBOR, "  date: 2026-02-11\n", date);
        let said = repo.alerts_of(ALTERED, &[]).concat();
        repo.git("checkout -q -- .");
        said
    };
    for date in ["", "  date: 2025-02-11\n"] {
        assert!(says(date).contains("unbalance left: 2.1 g·mm"), "{date:?}: {}", says(date));
    }
    assert_eq!(says("  date: 2026-08-11\n"), "");
}

/// The same limits, angles and places in other words are no alert; what is freed, lost or withdrawn is told where it is.
#[test]
fn the_same_said_otherwise_is_no_alert_and_what_is_gone_is_told_of_whom_it_is() {
    let repo = Repo::with_tern_quay();
    let rotor = "rotors/fan-wheel-315.rotor";
    // A radius said across.
    repo.edit(FAN, "radius: 268.4 mm / 2", "diameter: 268.4 mm");
    assert_eq!(codes(&repo, &[]), ["released-without-new-revision"]);
    repo.git("checkout -q -- .");
    // What is in force already.
    repo.edit(
        "setups/fan-wheel-400-soft-bench.rotor",
        "  date: 2026-05-06\n",
        "  date: 2026-05-06\n  indicates: heavy spot\n",
    );
    assert!(codes(&repo, &[]).is_empty(), "{:?}", codes(&repo, &[]));
    repo.git("checkout -q -- .");
    repo.edit(rotor, "    hole diameter: 8 mm\n", "    hole diameter: 8 mm\n    barred: 350 deg to 10 deg\n");
    repo.commit("a barred range");
    for (barred, is_loosened) in [
        ("-10 deg to 10 deg", false),
        ("350 deg to 0 deg, 0 deg to 10 deg", false),
        ("340 deg to 20 deg", false),
        ("355 deg to 5 deg", true),
    ] {
        repo.edit(rotor, "350 deg to 10 deg", barred);
        assert_eq!(codes(&repo, &[]).contains(&"limit-loosened".to_owned()), is_loosened, "{barred}");
        repo.git("checkout -q -- .");
    }
    // A rotor without a tolerance, from which another one is scaled.
    let text = repo.read(rotor);
    let start = text.find("  tolerance {").unwrap();
    let end = start + text[start..].find("\n  }\n").unwrap() + 5;
    repo.write(rotor, &text.replace(&text[start..end], "").replace("    tolerance => 46.8 g·mm\n", ""));
    let document = repo.json(&["diff"]);
    let alerts = document["items"].as_array().unwrap().iter().flat_map(|item| item["alerts"].as_array().unwrap());
    let lost: Vec<&str> = alerts
        .filter(|alert| alert["code"] == "tolerance-lost")
        .map(|alert| alert["item"]["name"].as_str().unwrap())
        .collect();
    assert_eq!(lost, ["fan wheel 315", "fan wheel 400"]);
    let errors = repo.run(&["check"]).stdout;
    assert!(errors.contains("nothing says when the rotor is done: rotor \"fan wheel 315\" has no"), "{errors}");
    repo.git("checkout -q -- .");
    repo.edit(FAN, "status: released", "status: withdrawn");
    let said = repo.run(&["diff"]).stdout;
    assert!(said.contains("stamp: RELEASED C → NOT TO BE USED"), "{said}");
    // By hand, and under the revision that was withdrawn.
    repo.commit("withdrawn");
    repo.edit(FAN, "status: withdrawn", "status: released");
    assert_eq!(codes(&repo, &[]), ["released-without-new-revision"]);
    let said = repo.run(&["diff"]).stdout.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(said.contains("revision \"C\", back in use after it was withdrawn"), "{said}");
}

/// What is said from the other end, or in another order, is the same rotor.
#[test]
fn a_rotor_that_is_only_described_otherwise_turns_as_it_did() {
    let rotor = "rotors/fan-wheel-315.rotor";
    let repo = Repo::with_tern_quay();
    repo.edit(rotor, "rotation: clockwise seen from drive end", "rotation: anticlockwise seen from tail end");
    let codes_of = |repo: &Repo| codes(repo, &[]);
    assert!(!codes_of(&repo).contains(&"convention-changed".to_owned()), "{:?}", repo.alerts(&[]));
    repo.edit(rotor, "rotation: anticlockwise seen from tail end", "rotation: clockwise seen from tail end");
    assert!(codes_of(&repo).contains(&"convention-changed".to_owned()), "{:?}", repo.alerts(&[]));
    repo.git("checkout -q -- .");
    // The planes in another order.
    let text = repo.read(rotor);
    let at = |words: &str| text.find(words).unwrap();
    let (hub, rim, key) = (at("  # The thick ring"), at("  # Clips on the lip"), at("  keyway \"drive end\""));
    repo.write(rotor, &[&text[..hub], &text[rim..key], &text[hub..rim], &text[key..]].concat());
    assert!(codes_of(&repo).is_empty(), "{:?}", repo.alerts(&[]));
}

/// A sheet that was begun as a copy keeps the readings of its proof, and a record those of another rotor: an edit of one
/// reading makes no other measurement.
#[test]
fn what_comes_with_the_readings_of_another_is_told() {
    let repo = Repo::with_tern_quay();
    let sheet = repo.read(FAN).replace("fan wheel 315 on the soft bench", "fan wheel 315 on the soft bench 2");
    let copy = sheet.replacen("proof \"2026-04-14\"", "proof \"2026-05-14\"", 1);
    repo.write("setups/copy.rotor", &copy.replacen("date: 2026-04-14", "date: 2026-05-14", 1));
    let record = repo.read(RECORD);
    repo.write("records/copy.rotor", &record.replace("26-0419", "26-0555"));
    let told = repo.alerts_of("readings-copied", &[]);
    assert_eq!(told.len(), 2, "{told:?}");
    let of_setup = "those of proof \"2026-04-14\" of setup \"fan wheel 315 on the soft bench\"";
    assert!(told.iter().any(|one| one.contains(of_setup)), "{told:?}");
    assert!(told.iter().any(|one| one.contains("those of record \"fan wheel 315, 26-0419\"")), "{told:?}");
    assert!(!repo.alerts(&[]).iter().any(|one| one.starts_with("check-fails")), "{:?}", repo.alerts(&[]));
    // A record that was run is its own.
    repo.write(
        "records/copy.rotor",
        "record x {\n  setup: \"fan wheel 315 on the soft bench\"\n  date: 2026-05-01\n}\n",
    );
    std::fs::remove_file(repo.path("setups/copy.rotor")).unwrap();
    assert!(repo.alerts_of("readings-copied", &[]).is_empty());
}

/// A proof that was copied bars the release, whatever unit it is written in; what it was copied from stays as it was.
#[test]
fn a_released_sheet_with_the_readings_of_another_fails_the_check() {
    const LINE: &str = "      reading left: 8.6 µm @ 5 deg\n      reading right: 0.7 µm @ 300 deg\n";
    let repo = Repo::with_tern_quay();
    let sheet = repo.read(FAN);
    let (start, end) = (sheet.find("  # With the wheel").unwrap(), sheet.find("  # On the sample wheel").unwrap());
    let proof = format!(
        "  proof \"2026-05-14\" {{\n    date: 2026-05-14\n\n    separation hub {{\n{LINE}    }}\n\n    separation rim {{\n{LINE}    }}\n  }}\n\n"
    );
    let new = |name: &str, proof: &str| {
        [&sheet[..start], proof, &sheet[end..]].concat().replace("fan wheel 315 on the soft bench", name)
    };
    repo.write("setups/first.rotor", &new("first sheet", &proof));
    repo.commit("a sheet");
    let in_millimetres = proof.replace("8.6 µm", "0.0086 mm").replace("0.7 µm", "0.0007 mm").replace("-14", "-15");
    repo.write("setups/second.rotor", &new("second sheet", &in_millimetres));
    let copied = |text: &str| text.lines().filter(|line| line.contains("readings-copied")).count();
    let found = repo.run(&["check", "--since", "HEAD"]);
    assert_eq!((found.code, copied(&found.stdout)), (1, 1), "{}", found.stdout);
    let words: Vec<&str> = found.stdout.split_whitespace().filter(|word| *word != "│").collect();
    let says = "4 of the 4 readings with an angle are those of proof \"2026-05-14\" of setup \"first sheet\"";
    assert!(words.join(" ").contains(says), "{}", found.stdout);
    assert_eq!(copied(&repo.run(&["release", "second sheet", "--dry-run"]).stdout), 1);
    assert_eq!(copied(&repo.run(&["release", "first sheet", "--dry-run"]).stdout), 0);
    // A draft with it is begun, not used.
    repo.write(
        "setups/second.rotor",
        &new("second sheet", &in_millimetres).replace("status: released", "status: draft"),
    );
    let found = repo.run(&["check", "--since", "HEAD"]).stdout;
    let at = found.lines().find(|line| line.contains("readings-copied")).unwrap();
    assert!(at.starts_with("warning"), "{found}");
}

/// Numbers that a strobe shows are the rotor's own: which way the machine would count says nothing of them.
#[test]
fn the_sense_of_angles_of_a_readout_that_measures_none_is_no_convention() {
    let repo = Repo::with_tern_quay();
    for (angles, is_told) in [("by strobe", false), ("measured", true)] {
        repo.edit(
            BENCH,
            "    angles: by strobe\n",
            &format!("    angles: {angles}\n    angles count: with rotation\n"),
        );
        repo.commit("a sense");
        repo.edit(BENCH, "angles count: with rotation", "angles count: against rotation");
        assert_eq!(codes(&repo, &[]).contains(&"convention-changed".to_owned()), is_told, "{angles}");
        let now = format!("    angles: {angles}\n    angles count: against rotation\n");
        repo.edit(BENCH, &now, "    angles: by strobe\n");
        repo.commit("as before");
    }
}

/// What holds a rotor down is on the card, whether or not the program finds that it lifts.
#[test]
fn what_holds_a_rotor_down_is_never_silent() {
    let repo = Repo::with_tern_quay();
    repo.edit(FAN, "  indicates: heavy", "  held down by: \"roller over the left journal\"\n  indicates: heavy");
    let card = repo.run(&["card", "fan wheel 315 on the soft bench"]).ends(0).stdout;
    assert!(card.contains("HOLD DOWN the rotor: roller over the left journal."), "{card}");
}

/// What a mass weighs now is not what it weighed when its readings were taken: the days of before, and every sheet that uses
/// the set, are judged by it.
#[test]
fn a_mass_that_is_weighed_again_is_told() {
    let repo = Repo::with_tern_quay();
    let check = "    plane: rim\n    mass: 3.00 g\n    radius: 141.0 mm\n";
    repo.edit(FAN, check, &check.replace("3.00", "3.05"));
    assert_eq!(repo.alerts_of(ALTERED, &[]), ["check mass / mass: 3.00 g → 3.05 g, –"]);
    repo.git("checkout -q -- .");
    // Another check mass, with no day of the old one.
    for (day, read) in [("2026-05-04", "24.4"), ("2026-06-01", "24.0")] {
        repo.edit(FAN, &format!("    checked: {day}, {read} mark on fine\n"), "");
    }
    repo.commit("not checked yet");
    repo.edit(FAN, check, &check.replace("3.00", "3.05"));
    assert_eq!(repo.alerts_of(ALTERED, &[]), Vec::<String>::new());
    repo.git("checkout -q -- .");
    repo.edit("masses.rotor", "0.050 oz, 0.100 oz", "0.051 oz, 0.100 oz");
    let told = repo.alerts_of(ALTERED, &[]);
    assert!(matches!(told.as_slice(), [one] if one.starts_with("values: 0.010 oz, 0.020 oz, 0.050 oz")), "{told:?}");
    repo.git("checkout -q -- .");
    repo.edit("masses.rotor", "uncertainty: 0.0002 oz", "uncertainty: 0.0004 oz");
    assert_eq!(repo.alerts_of(ALTERED, &[]), ["uncertainty: 0.0002 oz → 0.0004 oz, –"]);
    repo.git("checkout -q -- .");
    // One more mass, and the others in another order.
    repo.edit("masses.rotor", "0.010 oz, 0.020 oz", "0.020 oz, 0.010 oz, 0.005 oz");
    assert_eq!(repo.alerts_of(ALTERED, &[]), Vec::<String>::new());
}

/// The whole is still computed without bearings, but what each bearing may carry is not.
#[test]
fn limits_at_bearings_that_are_gone_are_a_tolerance_lost() {
    let repo = Repo::with_tern_quay();
    repo.edit("rotors/fan-wheel-315.rotor", "  bearings: 0 mm, 164 mm\n", "");
    let lost = repo.alerts_of("tolerance-lost", &[]);
    assert!(lost.iter().any(|alert| alert.contains("tolerance / tolerance at a: 46.264 g·mm")), "{lost:?}");
}
