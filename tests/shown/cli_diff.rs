//! `diff` of two versions of a book, in repositories and in folders.

use crate::support::git::{self, MACHINE, ROTOR, Repo, SETUP, run_in, run_with, shop};

#[test]
fn saying_the_same_otherwise_is_no_change() {
    let repo = Repo::with_shop("sheets");
    repo.edit("rotors/fan-wheel-315.rotor", "largest diameter: 330 mm", "largest diameter:   33.0 cm # as measured");
    repo.edit("rotors/fan-wheel-315.rotor", "  drawing: \"TQ-315-04 rev B\"\n", "");
    repo.edit("rotors/fan-wheel-315.rotor", "    at: 121 mm\n", "    at: 12.1 cm\n");
    repo.edit("rotors/fan-wheel-315.rotor", "  datum:", "  drawing: \"TQ-315-04 rev B\"\n\n  datum:");
    // Another file, in another order, with other line ends.
    let machine = repo.read("machines/soft-bench.rotor").replace('\n', "\r\n");
    std::fs::remove_file(repo.path("machines/soft-bench.rotor")).unwrap();
    repo.edit("masses.rotor", "masses \"brass set\"", &format!("{machine}\r\nmasses \"brass set\""));
    let ran = repo.run(&["diff", "--exit-code"]).ends(0);
    assert!(ran.stdout.ends_with("no change of meaning\n"), "{}", ran.stdout);
}

#[test]
fn a_change_shows_with_what_moved_because_of_it_in_other_files() {
    let repo = Repo::with_shop("");
    repo.edit("rotors/fan-wheel-315.rotor", "highest service speed: 3550 rpm", "highest service speed: 3600 rpm");
    let document = repo.json(&["diff"]);
    assert_eq!(repo.facts(&[]), ["fan wheel 315: highest service speed 3550 rpm → 3600 rpm"]);
    let results = document["items"][0]["results"].as_array().unwrap();
    let has = |kind: &str, path: &[&str]| {
        results.iter().any(|result| result["item"]["kind"] == kind && result["path"] == serde_json::json!(path))
    };
    assert!(has("rotor", &["tolerance", "permissible unbalance"]));
    assert!(has("setup", &["calibrate hub", "reading at tolerance"]));
    assert!(!has("setup", &["calibrate hub", "reading"]), "it is what was set on the day of the proof");
    assert!(!has("setup", &["calibrate hub", "centrifugal force"]), "it does not depend on the service speed");
    assert_eq!(repo.run(&["diff"]).code, 0);
    assert_eq!(repo.run(&["diff", "--exit-code"]).code, 1);
}

#[test]
fn another_precision_is_told_apart_from_another_value() {
    let repo = Repo::with_shop("");
    repo.edit("setups/fan-wheel-315.rotor", "    radius: 268.4 mm / 2\n", "    radius: 134.2 mm\n");
    repo.edit("setups/fan-wheel-315.rotor", "start reading left: 0.5 div", "start reading left: 0.50 div");
    repo.edit(
        "setups/fan-wheel-315.rotor",
        "      mass: 1.50 g\n      radius: 134.2 mm",
        "      mass: 1.50 g\n      radius: 13.42 cm",
    );
    let document = repo.json(&["diff"]);
    let facts = document["items"][0]["facts"].as_array().unwrap();
    let precision: Vec<_> = facts.iter().map(|fact| fact["change"].as_str().unwrap()).collect();
    assert_eq!(precision, ["precision", "precision"], "{facts:?}");
    let text = repo.run(&["diff"]).stdout;
    assert!(text.contains("precision changed\n    ~ calibrate hub / radius: 268.4 mm / 2 → 134.2 mm\n"), "{text}");
}

#[test]
fn precision_stands_behind_the_changed_facts() {
    let repo = Repo::with_shop("");
    repo.edit("setups/fan-wheel-315.rotor", "start reading left: 0.5 div", "start reading left: 0.50 div");
    repo.edit("setups/fan-wheel-315.rotor", "    \"lamp delay\": 4 deg", "    \"lamp delay\": 5 deg");
    repo.edit("setups/fan-wheel-315.rotor", "back at start left: 0.5 div", "back at start left: 0.6 div");
    let document = repo.json(&["diff"]);
    let changes: Vec<_> =
        document["items"][0]["facts"].as_array().unwrap().iter().map(|fact| fact["change"].clone()).collect();
    assert_eq!(changes, ["changed", "changed", "precision"]);
}

#[test]
fn what_must_not_be_missed_is_named() {
    let cases: &[(&str, &str, &str, &[&str])] = &[
        (
            "rotors/fan-wheel-315.rotor",
            "grade: G 6.3",
            "grade: G 16",
            &["tolerance-loosened rotor", "released-without-new-revision setup", "released-warned rotor"],
        ),
        (
            "rotors/fan-wheel-315.rotor",
            "grade: G 6.3",
            "grade: G 2.5",
            // Of so small a tolerance remounting in the proof moves more than a quarter.
            &["card-barred setup", "check-fails rotor", "released-without-new-revision setup", "released-warned rotor"],
        ),
        // What is corrected for which reading stays, and the limit as it can be read; the tolerance is off its mark.
        (
            "rotors/fan-wheel-315.rotor",
            "highest service speed: 3550 rpm",
            "highest service speed: 60 Hz",
            &["speed-raised rotor", "released-warned rotor"],
        ),
        (
            "rotors/fan-wheel-315.rotor",
            "highest safe speed: 4200 rpm",
            "highest safe speed: 4500 rpm",
            &["speed-raised rotor", "released-without-new-revision setup"],
        ),
        (
            "rotors/fan-wheel-315.rotor",
            "  highest safe speed: 4200 rpm\n",
            "",
            &["speed-raised rotor", "released-without-new-revision setup"],
        ),
        (
            "rotors/fan-wheel-315.rotor",
            "at: 34 mm",
            "at: 35 mm",
            &["tolerance-loosened rotor", "calibration-void setup", "released-without-new-revision setup"],
        ),
        ("rotors/fan-wheel-315.rotor", "radius: 141 mm", "radius: 140 mm", &["released-without-new-revision setup"]),
        (
            "rotors/fan-wheel-315.rotor",
            "    source: \"drawing note 7\"\n",
            "",
            &["released-without-new-revision setup", "source-removed rotor"],
        ),
        ("rotors/fan-wheel-315.rotor", "=> 81.7 g·mm", "=> 82.7 g·mm", &["pinned-result-changed rotor"]),
        (
            "setups/fan-wheel-315.rotor",
            "\n  balancing speed: 1150 rpm",
            "\n  balancing speed: 1100 rpm",
            &["calibration-void setup", "released-without-new-revision setup"],
        ),
        (
            "setups/fan-wheel-315.rotor",
            "  caution: \"lock the cradle before the belt comes off\"\n",
            "",
            &["released-without-new-revision setup", "caution-removed setup"],
        ),
        ("setups/fan-wheel-315.rotor", "revision: \"C\"", "revision: \"D\"", &["sheet-released setup"]),
        // Without a revision there is no new one.
        ("setups/fan-wheel-315.rotor", "  revision: \"C\"\n", "", &["released-without-new-revision setup"]),
        ("setups/fan-wheel-315.rotor", "status: released", "status: draft", &["release-withdrawn setup"]),
        (
            "rotors/fan-wheel-315.rotor",
            "rotation: clockwise",
            "rotation: anticlockwise",
            &["convention-changed rotor", "released-without-new-revision setup"],
        ),
        (
            "setups/fan-wheel-315.rotor",
            "within: 5 %",
            "within: 10 %",
            &["limit-loosened setup", "released-without-new-revision setup"],
        ),
        (
            "machines/soft-bench.rotor",
            "rotor mass: 0.5 kg to 60 kg",
            "rotor mass: 0.5 kg to 80 kg",
            &["limit-loosened machine"],
        ),
        // A remark that no card has.
        ("masses.rotor", "masses \"brass set\" {\n", "masses \"brass set\" {\n  note: \"in the drawer\"\n", &[]),
        (
            "book.rotor",
            "interference: 5 %",
            "interference: 8 %",
            &["released-without-new-revision setup", "check-weakened shop"],
        ),
        ("book.rotor", "interference: 5 %", "interference: 4 %", &["released-without-new-revision setup"]),
    ];
    let repo = Repo::with_shop("");
    for (path, old, new, alerts) in cases {
        repo.edit(path, old, new);
        assert_eq!(repo.alerts(&[]), *alerts, "{path}: {old} → {new}");
        repo.git("checkout -q -- .");
    }
}

#[test]
fn a_rotor_that_is_renamed_takes_its_setups_along() {
    let repo = Repo::with_shop("");
    repo.edit("rotors/fan-wheel-315.rotor", "rotor \"fan wheel 315\"", "rotor \"accommodation fan\"");
    repo.edit("setups/fan-wheel-315.rotor", "rotor: \"fan wheel 315\"", "rotor: \"accommodation fan\"");
    let document = repo.json(&["diff"]);
    let items = document["items"].as_array().unwrap();
    assert_eq!(items.len(), 1, "{document}");
    assert_eq!((&items[0]["change"], &items[0]["was"]), (&"renamed".into(), &"fan wheel 315".into()));
    assert_eq!((&items[0]["facts"], &items[0]["results"]), (&serde_json::json!([]), &serde_json::json!([])));
}

#[test]
fn two_folders_are_compared_without_git() {
    let folder = tempfile::tempdir().unwrap();
    for (path, text) in shop() {
        for side in ["old", "new/odd µ 'name'"] {
            let path = folder.path().join(side).join(path);
            std::fs::create_dir_all(path.parent().unwrap()).unwrap();
            std::fs::write(path, text).unwrap();
        }
    }
    std::fs::write(
        folder.path().join("new/odd µ 'name'/rotors/fan-wheel-315.rotor"),
        ROTOR.replace("330 mm", "331 mm"),
    )
    .unwrap();
    let nowhere = |command: &mut std::process::Command| _ = command.env("PATH", folder.path());
    let ran = run_with(folder.path(), &["diff", "old", "new"], nowhere).ends(0);
    assert!(ran.stdout.contains("  ~ largest diameter: 330 mm → 331 mm\n"), "{}{}", ran.stdout, ran.stderr);
    run_with(folder.path(), &["diff"], nowhere).is_misuse("`git` is not installed");
    run_with(folder.path(), &["diff", "HEAD"], nowhere).is_misuse("`git` is not installed");
    run_in(folder.path(), &["diff", "old", "HEAD"]).is_misuse("not in a git repository");
    run_in(folder.path(), &["diff", "old/book.rotor", "new"]).is_misuse("is a file");
    // A folder of a book is read with the book around it, and says so.
    let ran = run_in(folder.path(), &["diff", "old/setups", "new/odd µ 'name'/setups"]).ends(0);
    assert!(ran.stdout.contains("  ~ largest diameter: 330 mm → 331 mm\n"), "{}{}", ran.stdout, ran.stderr);
    assert!(
        ran.stderr.contains("`old/setups` is a part of the book in `old`, which is compared as a whole"),
        "{}",
        ran.stderr
    );
    // Where there is none around it, it says what is not in it.
    for side in ["old", "new/odd µ 'name'"] {
        std::fs::remove_file(folder.path().join(side).join("book.rotor")).unwrap();
    }
    let ran = run_in(folder.path(), &["diff", "old/setups", "new/odd µ 'name'/setups"]).ends(0);
    for part in [
        "`old/setups` is not a whole book: masses \"brass set\" and 2 more are not in it",
        "Name the folder of the book",
    ] {
        assert!(ran.stderr.split_whitespace().collect::<Vec<_>>().join(" ").contains(part), "{}", ran.stderr);
    }
    let ran = run_in(folder.path(), &["diff", "old", "new/odd µ 'name'"]).ends(0);
    assert_eq!(ran.stderr, "");
}

#[test]
fn revisions_are_named_in_every_way_git_has() {
    let repo = Repo::with_shop("shop/sheets");
    repo.git("tag v1");
    repo.edit("rotors/fan-wheel-315.rotor", "330 mm", "331 mm");
    repo.commit("larger");
    repo.git("checkout -q -b side v1");
    repo.edit("rotors/fan-wheel-315.rotor", "4200 rpm", "4100 rpm");
    repo.commit("slower");
    let larger = "fan wheel 315: largest diameter 330 mm → 331 mm";
    let slower = "fan wheel 315: highest safe speed 4200 rpm → 4100 rpm";
    assert_eq!(repo.facts(&["v1", "main"]), [larger]);
    assert_eq!(repo.facts(&["v1..main"]), [larger]);
    assert_eq!(repo.facts(&["main...side"]), [slower]);
    assert_eq!(repo.facts(&["main..."]), [slower]);
    assert_eq!(repo.facts(&["v1.."]), [slower]);
    assert_eq!(repo.facts(&["HEAD~1"]), [slower]);
    assert_eq!(repo.facts(&["v1:shop/sheets", "main:shop/sheets"]), [larger]);
    assert_eq!(repo.facts(&["main", "side"]).len(), 2);
    repo.run(&["diff", "v1:shop/sheets/setups"]).is_misuse("is a part of a book");
    repo.run(&["diff", "v2"]).is_misuse("git knows no revision `v2`");
    repo.run(&["diff", "--", "--output=x"]).is_misuse("git knows no revision");
    // From the top, where the book lies below.
    let ran = run_in(repo.top(), &["diff", "v1..main"]).ends(0);
    assert!(ran.stdout.contains("331 mm"), "{}", ran.stdout);
}

#[test]
fn a_dirty_tree_the_index_and_files_git_does_not_know() {
    let repo = Repo::with_shop("");
    repo.edit("rotors/fan-wheel-315.rotor", "330 mm", "331 mm");
    repo.git("add -A");
    repo.edit("rotors/fan-wheel-315.rotor", "331 mm", "332 mm");
    repo.write("rotors/new one.rotor", &ROTOR.replace("fan wheel 315", "another").replace("4.", "9."));
    assert_eq!(repo.facts(&["--staged"]), ["fan wheel 315: largest diameter 330 mm → 331 mm"]);
    let document = repo.json(&["diff"]);
    let changes: Vec<_> = document["items"].as_array().unwrap().iter().map(|item| item["change"].clone()).collect();
    assert_eq!(changes, ["changed", "added"], "{document}");
}

#[test]
fn a_file_deleted_on_one_side() {
    let repo = Repo::with_shop("");
    std::fs::remove_file(repo.path("setups/fan-wheel-315.rotor")).unwrap();
    let text = repo.run(&["diff"]).ends(0).stdout;
    assert!(text.contains("setup \"fan wheel 315 on the soft bench\": removed, with "), "{text}");
    repo.commit("gone");
    let text = repo.run(&["diff", "HEAD", "HEAD~1"]).ends(0).stdout;
    assert!(text.contains(": added, with "), "{text}");
}

#[test]
fn a_book_that_was_moved_to_another_folder_is_the_same_book() {
    let mut repo = Repo::with_shop("old place");
    repo.git_with(&["mv", "old place", "new place"]);
    repo.below = "new place".to_owned();
    repo.commit("moved");
    assert_eq!(repo.run(&["diff", "--exit-code", "HEAD~1"]).code, 0);
}

#[test]
fn conflict_marks_in_a_sheet_are_told_of_first() {
    let repo = Repo::with_shop("");
    repo.git("checkout -q -b side");
    repo.edit("setups/fan-wheel-315.rotor", "reading => 8.60 div", "reading => 8.61 div");
    repo.commit("one");
    repo.git("checkout -q main");
    repo.edit("setups/fan-wheel-315.rotor", "reading => 8.60 div", "reading => 8.62 div");
    repo.commit("other");
    let (code, _) = repo.try_git(&["merge", "side"]);
    assert_eq!(code, 1, "neighbouring lines conflict");
    assert!(repo.read("setups/fan-wheel-315.rotor").contains("<<<<<<<"));
    let ran = repo.run(&["diff"]).ends(0);
    assert!(ran.stderr.contains("setups/fan-wheel-315.rotor:41: a conflict is not resolved"), "{}", ran.stderr);
    assert_eq!(repo.alerts(&[])[0], "conflict-left setup");
    // Nothing can be staged from there, and the program says why.
    repo.run(&["check", "--staged"]).is_misuse("is not merged yet");
    // Either side will do, and `pin` puts it right.
    repo.git("checkout --ours -- setups/fan-wheel-315.rotor");
    repo.run(&["pin"]).ends(0);
    assert!(repo.read("setups/fan-wheel-315.rotor").contains("reading => 8.60 div"));
}

#[test]
fn a_shallow_clone_says_what_it_lacks() {
    let repo = Repo::with_shop("");
    let first = repo.git("rev-parse HEAD").trim().to_owned();
    repo.edit("rotors/fan-wheel-315.rotor", "330 mm", "331 mm");
    repo.commit("larger");
    let clone = tempfile::tempdir().unwrap();
    let url = format!("file://{}", repo.top().display());
    let output = git::git(clone.path()).args(["clone", "-q", "--depth", "1", &url, "."]).output().unwrap();
    assert!(output.status.success());
    run_in(clone.path(), &["diff", "--exit-code"]).ends(0);
    run_in(clone.path(), &["diff", &first]).is_misuse("git fetch --unshallow");
    let ran = run_in(clone.path(), &["history", "fan wheel 315"]).ends(0);
    assert!(ran.stdout.contains("the oldest version that is here") && ran.stderr.contains("shallow"), "{}", ran.stdout);
}

#[test]
fn a_bare_repository_has_revisions_alone() {
    let repo = Repo::with_shop("sheets");
    repo.edit("rotors/fan-wheel-315.rotor", "330 mm", "331 mm");
    repo.commit("larger");
    let bare = tempfile::tempdir().unwrap();
    let url = repo.top().display().to_string();
    let output = git::git(bare.path()).args(["clone", "-q", "--bare", &url, "."]).output().unwrap();
    assert!(output.status.success());
    let ran = run_in(bare.path(), &["diff", "HEAD~1", "HEAD"]).ends(0);
    assert!(ran.stdout.contains("330 mm → 331 mm"), "{}", ran.stdout);
    run_in(bare.path(), &["diff"]).is_misuse("no work tree");
    let ran = run_in(bare.path(), &["history", "fan wheel 315"]).ends(0);
    assert!(ran.stdout.contains("330 mm → 331 mm"), "{}", ran.stdout);
}

#[test]
fn nothing_committed_yet() {
    let repo = Repo::new();
    repo.write("book.rotor", git::SHOP);
    repo.run(&["diff"]).is_misuse("nothing has been committed yet");
    repo.run(&["history", "fan"]).is_misuse("nothing has been committed yet");
}

#[test]
fn markdown_has_no_text_that_takes_effect() {
    let repo = Repo::with_shop("");
    let odd = "a|b ]]> <script>alert(1)</script> @everyone [x](y) `z`\u{202e}";
    repo.edit("setups/fan-wheel-315.rotor", "lock the cradle before the belt comes off", odd);
    repo.edit("machines/soft-bench.rotor", "soft bench", &"x".repeat(10_000));
    let text = repo.run(&["diff", "--format", "markdown"]).ends(0).stdout;
    assert!(
        !text.contains("<script") && !text.contains("@everyone") && !text.contains("`") && !text.contains('\u{202e}')
    );
    assert!(text.lines().all(|line| line.len() < 4_000));
    let rows = text.lines().filter(|line| line.starts_with("| "));
    for row in rows {
        assert_eq!(row.matches('|').count(), 4, "{row}");
    }
    assert!(MACHINE.contains("soft bench") && SETUP.contains("soft bench"));
}

#[test]
fn errors_that_a_change_brings_to_other_sheets_stand_under_it() {
    let repo = Repo::with_shop("");
    repo.edit("machines/soft-bench.rotor", "0.5 kg to 60 kg", "0.5 kg to 3 kg");
    repo.edit("machines/soft-bench.rotor", "400 rpm to 3000", "400 rpm to 1000");
    let document = repo.json(&["diff"]);
    let machine = &document["items"][0];
    assert_eq!((document["items"].as_array().unwrap().len(), &machine["kind"]), (1, &"machine".into()));
    let findings = machine["findings"].as_array().unwrap();
    // The wheel weighs 4.82 kg, and turns at 1150 rpm.
    for code in ["rotor-too-heavy", "speed-not-on-machine"] {
        assert!(findings.iter().any(|one| one["code"] == code && one["item"]["kind"] == "setup"), "{findings:#?}");
    }
    assert_eq!(repo.alerts(&[])[..2], ["card-barred setup", "check-fails machine"]);
    let text = repo.run(&["diff"]).stdout;
    assert!(text.contains("what the check finds because of it\n    error: setup \"fan wheel 315"), "{text}");
    // What was wrong before is not brought by what comes after.
    repo.commit("too small");
    repo.edit("machines/soft-bench.rotor", "0.5 kg to 3 kg", "0.5 kg to 2.9 kg");
    assert_eq!(repo.json(&["diff"])["items"][0]["findings"], serde_json::json!([]));
}

const FIVE_GRAMS: &str = include_str!("../../examples/tern-quay/setups/fan-wheel-315-soft-bench-five-grams.rotor");

/// Every alert of a comparison, as `code item name`.
fn alerts_by_name(repo: &Repo) -> Vec<String> {
    let document = repo.json(&["diff"]);
    let alerts = document["items"].as_array().unwrap().iter().flat_map(|item| item["alerts"].as_array().unwrap());
    alerts.map(|one| format!("{} {}", one["code"].as_str().unwrap(), one["item"]["name"].as_str().unwrap())).collect()
}

#[test]
fn a_proof_that_only_follows_the_sheet_proves_nothing_anew() {
    let repo = Repo::with_shop("");
    let setup = "setups/fan-wheel-315.rotor";
    let cases = [
        (["    \"left strength\": 212", "    setting \"left strength\": 212"], "212", "220"),
        (["    mass: 3.00 g", "    calibration mass hub: 3.00 g"], "3.00 g", "5.00 g"),
        (["    radius: 268.4 mm / 2", "    calibration radius hub: 268.4 mm / 2"], "268.4 mm", "260 mm"),
    ];
    for (lines, old, new) in cases {
        lines.iter().for_each(|line| repo.edit(setup, line, &line.replace(old, new)));
        assert!(repo.alerts(&[]).contains(&"calibration-void setup".to_owned()), "{lines:?}: {:?}", repo.alerts(&[]));
        // Another date alone proves nothing; it is told as what it is.
        repo.edit(setup, "date: 2026-04-14\n    by", "date: 2026-05-20\n    by");
        let alerts = repo.alerts(&[]);
        assert!(alerts.contains(&"calibration-void setup".to_owned()), "{lines:?}: {alerts:?}");
        assert!(alerts.contains(&"proof-rewritten setup".to_owned()), "{lines:?}: {alerts:?}");
        let said = repo.run(&["check", "--since", "HEAD"]);
        assert!(said.stdout.contains("proof-rewritten"), "{}", said.stdout);
        // One reading of sixteen is no other proof.
        repo.edit(setup, "reading right: 6.2 div @ 355 deg", "reading right: 6.1 div @ 355 deg");
        let alerts = repo.alerts(&[]);
        assert!(alerts.contains(&"proof-rewritten setup".to_owned()), "{lines:?}: {alerts:?}");
        let said = repo.run(&["check", "--since", "HEAD"]).stdout;
        let said = said.split_whitespace().filter(|word| *word != "│").collect::<Vec<_>>().join(" ");
        assert!(said.contains("15 of its 16 readings are the same"), "{said}");
        // Seven have 0.5 div in them, two 0.4 div: more than half.
        let anew = repo.read(setup).replace("0.5 div @", "0.55 div @").replace("0.4 div @", "0.45 div @");
        repo.write(setup, &anew);
        let alerts = repo.alerts(&[]);
        assert!(!alerts.contains(&"calibration-void setup".to_owned()), "{lines:?}: {alerts:?}");
        assert!(!alerts.contains(&"proof-rewritten setup".to_owned()), "{lines:?}: {alerts:?}");
        repo.git("checkout -q -- .");
    }
}

#[test]
fn what_is_taken_over_from_another_setup_is_alerted_to_as_well() {
    let repo = Repo::with_shop("");
    repo.write("setups/five.rotor", FIVE_GRAMS);
    repo.commit("five grams");
    let (setup, heir) = ("fan wheel 315 on the soft bench", "fan wheel 315 on the soft bench, five grams");
    repo.edit("setups/fan-wheel-315.rotor", "\n  balancing speed: 1150 rpm", "\n  balancing speed: 1350 rpm");
    let alerts = alerts_by_name(&repo);
    for item in [setup, heir] {
        assert!(alerts.contains(&format!("speed-raised {item}")), "{item}: {alerts:?}");
    }
    // What was never proven cannot become void.
    let void: Vec<&String> = alerts.iter().filter(|alert| alert.starts_with("calibration-void")).collect();
    assert_eq!(void, [&format!("calibration-void {setup}")]);
    repo.git("checkout -q -- .");
    // Another setup to be like.
    let faster = git::SETUP.replace(setup, "faster").replace("1150 rpm", "1350 rpm");
    repo.write("setups/faster.rotor", &faster);
    repo.commit("faster");
    repo.edit("setups/five.rotor", &format!("like: \"{setup}\""), "like: \"faster\"");
    let alerts = alerts_by_name(&repo);
    assert!(alerts.contains(&format!("speed-raised {heir}")), "{alerts:?}");
}

#[test]
fn a_tolerance_that_is_lost_is_said_once() {
    let repo = Repo::with_shop("");
    repo.edit("rotors/fan-wheel-315.rotor", "grade: G 6.3", "grade: G 6,3");
    let alerts = repo.alerts(&[]);
    let count = |code: &str| alerts.iter().filter(|alert| alert.starts_with(code)).count();
    assert_eq!((count("tolerance-lost"), count("tolerance-loosened"), count("result-lost")), (1, 0, 0), "{alerts:?}");
    let text = repo.run(&["diff"]).stdout;
    assert!(text.contains("tolerance lost: ") && text.contains("rest on it"), "{text}");
    let document = repo.json(&["diff"]);
    assert!(document["items"][0]["findings"].to_string().contains("decimal-comma"), "{document}");
}

#[test]
fn what_is_removed_as_a_whole_is_alerted_to_as_such() {
    let repo = Repo::with_shop("");
    std::fs::remove_file(repo.path("setups/fan-wheel-315.rotor")).unwrap();
    assert_eq!(repo.alerts(&[]), ["released-removed setup"]);
    repo.git("checkout -q -- .");
    std::fs::remove_file(repo.path("rotors/fan-wheel-315.rotor")).unwrap();
    let alerts = repo.alerts(&[]);
    assert!(!alerts.contains(&"calibration-void rotor".to_owned()), "{alerts:?}");
}

#[test]
fn a_pinned_result_that_moved_says_so() {
    let repo = Repo::with_shop("");
    repo.edit("rotors/fan-wheel-315.rotor", "highest service speed: 3550 rpm", "highest service speed: 3000 rpm");
    let text = repo.run(&["diff"]).stdout;
    assert!(text.contains(" g·mm, pinned as before\n"), "{text}");
    repo.run(&["pin"]).ends(0);
    let text = repo.run(&["diff"]).stdout;
    assert!(text.contains(" g·mm, pinned as ") && !text.contains("pinned as before"), "{text}");
}

#[test]
fn pins_alone_are_no_results_that_moved() {
    let repo = Repo::with_shop("");
    repo.edit("rotors/fan-wheel-315.rotor", "=> 81.7 g·mm", "=> 82.7 g·mm");
    let text = repo.run(&["diff"]).stdout;
    assert!(text.contains(": 1 item changed, 1 pinned result changed"), "{text}");
    assert!(text.contains("  pinned results that changed\n") && !text.contains("moved"), "{text}");
}

#[test]
fn values_that_stay_are_folded_where_only_their_precision_changed() {
    let repo = Repo::with_shop("");
    repo.edit("setups/fan-wheel-315.rotor", "      radius: 134.2 mm", "      radius: 134.2 mm ± 2 mm");
    let text = repo.run(&["diff"]).stdout;
    assert!(text.contains("of which only the ± changed"), "{text}");
    assert!(!text.contains(" 0 results moved"), "{text}");
}

#[test]
fn markdown_fits_into_a_comment_and_keeps_the_alerts() {
    let repo = Repo::with_shop("");
    let many = |mass: &str| {
        let rotor = |n: usize| {
            let word = format!("{n} {}", "x".repeat(200));
            format!("rotor \"{word}\" {{\n  drawing: \"{word}\"\n  mass: {mass}\n}}\n")
        };
        (0..400).map(rotor).collect::<Vec<_>>().join("\n")
    };
    repo.write("rotors/many.rotor", &many("3 kg"));
    repo.commit("many");
    repo.write("rotors/many.rotor", &many("4 kg"));
    repo.edit("rotors/fan-wheel-315.rotor", "grade: G 6.3", "grade: G 16");
    for all in [&[][..], &["--all"]] {
        let text = repo.run(&[&["diff", "--format", "markdown"], all].concat()).ends(0).stdout;
        assert!(text.chars().count() < 65_536, "{}", text.len());
        // What changed alike is told together, unless all is asked for.
        let rest = if all.is_empty() { "400 items changed alike: " } else { "more changed items; " };
        assert!(text.contains("**tolerance loosened**") && text.contains(rest), "{}", &text[..2000]);
    }
}

#[test]
fn what_a_record_or_a_check_mass_says_otherwise_is_told_by_what_it_says() {
    let record = include_str!("../../examples/tern-quay/records/fan-wheel-315.rotor");
    let repo = Repo::with_shop("");
    repo.write("records/fan-wheel-315.rotor", record);
    repo.commit("a record");
    let hole = "  correction hub {\n    after: \"as found\"\n    remove: 0.78 g\n    angle: 313 deg\n    depth: 5.0 mm\n  }\n\n";
    repo.edit("records/fan-wheel-315.rotor", hole, "");
    let text = repo.run(&["diff"]).ends(0).stdout;
    let said = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(said.contains("correction hub: gone: remove 0.78 g, angle 313 deg, depth 5.0 mm"), "{text}");
    // A verdict that is another comes before all else.
    let alerts = repo.alerts(&[]);
    assert!(
        !alerts.contains(&"verdict-changed record".to_owned()) || alerts[0] == "verdict-changed record",
        "{alerts:?}"
    );
    repo.git("checkout -q -- .");
    repo.edit("records/fan-wheel-315.rotor", "reading left: 0.2 div @ 10 deg", "reading left: 5.2 div @ 10 deg");
    assert_eq!(repo.alerts(&[])[0], "verdict-changed record");
    repo.git("checkout -q -- .");
    // The check mass must read 12.1 div, within 5 %.
    let setup = "setups/fan-wheel-315.rotor";
    repo.edit(setup, "24.0 mark on fine\n", "24.0 mark on fine\n    checked: 2026-06-20, 9.0 div\n");
    let alerts = repo.alerts(&[]);
    assert!(alerts.contains(&"check-mass-out setup".to_owned()), "{alerts:?}");
    repo.git("checkout -q -- .");
    // What holds where nothing is said counts: 3 %.
    repo.edit(setup, "  indicates", "  same speed within: 10 %\n  indicates");
    assert!(repo.alerts(&[]).contains(&"limit-loosened setup".to_owned()), "{:?}", repo.alerts(&[]));
    repo.edit(setup, "  same speed within: 10 %\n", "  same speed within: 2 %\n");
    assert!(!repo.alerts(&[]).contains(&"limit-loosened setup".to_owned()), "{:?}", repo.alerts(&[]));
}

// As git has it, `.` is the current folder and a bare name is from the top.
#[test]
fn a_folder_that_a_revision_does_not_have_is_refused() {
    let repo = Repo::with_shop("shop");
    repo.edit("rotors/fan-wheel-315.rotor", "grade: G 6.3", "grade: G 16");
    for folder in ["shop", ".", "./", "/shop/"] {
        let alerts = repo.alerts(&[&format!("main:{folder}")]);
        assert!(alerts.iter().any(|alert| alert.starts_with("tolerance-loosened")), "{folder}: {alerts:?}");
    }
    for folder in ["nosuch", "shop/rotors/more", "./nosuch"] {
        let ran = repo.run(&["diff", &format!("main:{folder}")]);
        assert!(ran.code == 2 && ran.stderr.contains("has no sheet in"), "{folder}: {}", ran.stderr);
    }
}

#[test]
fn a_proof_that_is_put_back_was_not_rewritten() {
    let repo = Repo::with_shop("");
    let setup = "setups/fan-wheel-315.rotor";
    repo.edit(setup, "date: 2026-04-14\n    by", "date: 2026-05-20\n    by");
    let alert = "proof-rewritten setup".to_owned();
    assert!(repo.alerts(&[]).contains(&alert));
    repo.commit("another date");
    repo.git("revert --no-edit HEAD");
    assert!(!repo.alerts(&["HEAD~1"]).contains(&alert));
    assert!(!repo.run(&["check", "--since", "HEAD~1"]).stdout.contains("proof-rewritten"));
    // Nor is a sheet void that is again, with its proof, what it was.
    for line in ["    \"left strength\": 212", "    setting \"left strength\": 212"] {
        repo.edit(setup, line, &line.replace("212", "220"));
    }
    let void = "calibration-void setup".to_owned();
    assert!(repo.alerts(&[]).contains(&void), "{:?}", repo.alerts(&[]));
    repo.commit("another strength");
    repo.git("revert --no-edit HEAD");
    assert!(!repo.alerts(&["HEAD~1"]).contains(&void), "{:?}", repo.alerts(&["HEAD~1"]));
    // One that no commit had is still told.
    repo.edit(setup, "date: 2026-04-14\n    by", "date: 2026-05-21\n    by");
    assert!(repo.alerts(&["HEAD"]).contains(&alert));
    assert!(repo.run(&["check", "--since", "HEAD"]).stdout.contains("proof-rewritten"));
}
