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
