use super::*;
use crate::check;
use crate::ide::testing::{Fixture, SETUP, SHOP, fixture};

fn offered(fixture: &Fixture) -> Vec<Action> {
    let computing = Computing::new(&fixture.book);
    let diagnostics = check::check(&fixture.book);
    actions(&computing, fixture.file, fixture.range, &diagnostics)
}

fn titles(text: &str) -> Vec<String> {
    offered(&fixture(text)).into_iter().map(|action| action.title).collect()
}

/// The lines that change when the action whose title begins so is taken.
fn taken(text: &str, title: &str) -> String {
    let fixture = fixture(text);
    let found = offered(&fixture);
    let titles: Vec<&str> = found.iter().map(|action| &*action.title).collect();
    let action = found.iter().find(|action| action.title.starts_with(title));
    let action = action.unwrap_or_else(|| panic!("{title} in {titles:?}"));
    let changes = fixture.changes(&action.edits);
    changes.lines().skip(1).map(|line| format!("{line}\n")).collect()
}

fn calibrate(lines: &str) -> String {
    format!("{SHOP}{SETUP}  masses: \"brass set\"\n  calibrate hub {{\n{lines}\n  }}\n}}\n")
}

#[test]
fn every_fix_of_a_diagnostic_is_offered() {
    let text = "rotor a {\n  mass: 4,$082 kg\n}\n";
    let found = offered(&fixture(text));
    let fix = found.iter().find(|action| action.kind == ActionKind::QuickFix).unwrap();
    assert!(fix.preferred && fix.diagnostic.is_some());
    assert_eq!(taken(text, &fix.title), "-  mass: 4,82 kg\n+  mass: 4.82 kg\n");
}

#[test]
fn everything_of_one_kind_is_put_right_at_once() {
    let text = "rotor a {\n  mass: 4,$082 kg\n  largest diameter: 3,5 mm\n  datum: x y\n}\n";
    let title = "Fix all 2 of `decimal-comma` in this file";
    let expected = "-  mass: 4,82 kg\n-  largest diameter: 3,5 mm\n+  mass: 4.82 kg\n+  largest diameter: 3.5 mm\n";
    assert_eq!(taken(text, title), expected);
    let fixture = fixture(text);
    let edits = fix_all(&check::check(&fixture.book), fixture.file, None);
    assert!(fixture.edited_files(&edits).contains("datum: \"x y\""));
}

/// A diameter taken for a radius moves the reading: the number for the wrong radius is not written beside the right one.
#[test]
fn a_suspicion_and_the_pins_it_moves_are_not_fixed_with_all_the_rest() {
    let lines = "    mass: 4.00 g\n    radius: 268$0.4 mm\n    reading => 13.0 div";
    let fixture = fixture(&calibrate(lines));
    let found = check::check(&fixture.book);
    let has_fix = |code: &str| found.iter().any(|found| found.rule.code == code && found.fixes.len() == 1);
    assert!(has_fix("pinned-result-stale"), "{found:#?}");
    assert_eq!(fix_all(&found, fixture.file, None), Vec::new());
    assert_eq!(fix_all(&found, fixture.file, Some("pinned-result-stale")).len(), 1);
    for code in fixes::FOR_A_PERSON.iter().chain(&fixes::OF_RESULTS) {
        assert!(check::rules().iter().any(|rule| rule.code == *code), "{code}");
    }
}

#[test]
fn what_is_of_the_wrong_kind_is_not_written_in_another_way() {
    let text = "rotor a {\n  plane hub {\n    radius: 13$04 g\n  }\n}\n";
    let rewrites = |title: &String| title.starts_with("Write") || title.starts_with("Convert");
    assert!(!titles(text).iter().any(rewrites), "{:?}", titles(text));
}

#[test]
fn nobody_is_offered_a_number_that_nobody_writes() {
    let converted = |text: &str| -> Vec<String> {
        titles(text).into_iter().filter_map(|title| Some(title.strip_prefix("Convert to ")?.to_owned())).collect()
    };
    // 268.4 mm are 268400 µm, 3 g are 0.003 kg.
    let radius = converted(&calibrate("    mass: 3.00 g\n    radius: 268$0.4 mm"));
    assert!(!radius.is_empty() && radius.iter().all(|title| !title.contains("µm")), "{radius:?}");
    let mass = converted(&calibrate("    mass: 3$0.00 g\n    radius: 268.4 mm"));
    assert!(!mass.is_empty() && mass.iter().all(|title| !title.contains(" kg") && !title.contains('e')), "{mass:?}");
    assert_eq!(converted("rotor a {\n  bearings: 0 mm, 16$04 mm\n}\n"), Vec::<String>::new());
    assert_eq!(converted("machine a {\n  rotor mass: 0.5$0 kg to 50 kg\n}\n"), Vec::<String>::new());
}

#[test]
fn a_nominal_quantity_in_another_unit() {
    let text = "rotor a {\n  largest diameter: 25$0.4 mm\n}\n";
    assert_eq!(taken(text, "Convert to `1 in`"), "-  largest diameter: 25.4 mm\n+  largest diameter: 1 in\n");
    // Limits go with it; a share stays a share.
    let limits = "rotor a {\n  largest diameter: 25$0.4 mm ± 0.254 mm\n}\n";
    assert!(titles(limits).contains(&"Convert to `1 in ± 0.01 in`".to_owned()));
    let share = "rotor a {\n  largest diameter: 25$0.4 mm ± 0.5 %\n}\n";
    assert!(titles(share).contains(&"Convert to `1 in ± 0.5 %`".to_owned()));
}

#[test]
fn a_measured_quantity_keeps_what_its_digits_mean() {
    // Read to 0.1 mm: bounds of ± 0.05 mm, which are 0.05 ÷ 25.4 = 0.001969 in. 101.6 mm are 4 in.
    let text = calibrate("    mass: 4.00 g\n    radius: 101$0.6 mm");
    assert_eq!(taken(&text, "Convert to `4 in"), "-    radius: 101.6 mm\n+    radius: 4 in ± 0.00197 in\n");
    // The set knows its masses to 0.004 g as k = 2, which is 4 mg.
    let mass = calibrate("    mass: 4$0.00 g");
    assert_eq!(taken(&mass, "Convert to `4000 mg"), "-    mass: 4.00 g\n+    mass: 4000 mg ± 4.00 mg (k=2)\n");
    // A demand is exact.
    let reading = "setup s {\n  balancing speed: 1200$0 rpm\n}\n";
    assert_eq!(taken(reading, "Convert to `20 Hz`"), "-  balancing speed: 1200 rpm\n+  balancing speed: 20 Hz\n");
}

#[test]
fn converting_changes_no_result() {
    let result = |text: &str| {
        let fixture = fixture(text);
        let computing = Computing::new(&fixture.book);
        let id = fixture.book.named(crate::syntax::Kind::Setup, "wheel on the soft bench")[0];
        let computed = computing.item(id);
        let entry = computed.entries().iter().find(|entry| entry.is(&crate::vocabulary::result::READING)).unwrap();
        let crate::book::Outcome::Amount { base, standard, .. } = entry.outcome else { panic!() };
        (base, standard)
    };
    for (lines, title) in [
        ("    mass: 4.02 g\n    radius: 101$0.6 mm", "Convert to `4 in"),
        ("    mass: 4$0.02 g\n    radius: 101.6 mm", "Convert to `0.1418"),
        ("    mass: 4$0.00 g\n    radius: 101.6 mm", "Convert to `0.1410"),
        ("    mass: 4.02 g\n    radius: 203.2$0 mm / 2", "Convert to `4 in"),
        ("    mass: 4.02 g\n    diameter: 203$0.2 mm", "Write as `radius: 203.2 mm / 2`"),
        ("    mass: 4.02 g\n    radius: 101$0.6 mm", "Write as `diameter: 101.6 mm * 2`"),
    ] {
        let text = calibrate(lines);
        let fixture = fixture(&text);
        let action = offered(&fixture).into_iter().find(|action| action.title.starts_with(title));
        let edited = fixture.edited_files(&action.unwrap_or_else(|| panic!("{title}")).edits);
        let (before, after) = (result(&text), result(&format!("{SHOP}{edited}")));
        assert!((before.0 / after.0 - 1.0).abs() < 1e-5, "{title}: {before:?} {after:?}");
        // What is written out has three digits.
        assert!((before.1 / after.1 - 1.0).abs() < 5e-3, "{title}: {before:?} {after:?}");
    }
}

#[test]
fn a_diameter_as_radius_and_back() {
    let taken = |line: &str, title: &str| taken(&calibrate(&format!("    {line}")), title);
    let changed = |old: &str, new: &str| format!("-    {old}\n+    {new}\n");
    let halves = changed("diameter: 268.4 mm", "radius: 268.4 mm / 2");
    assert_eq!(taken("diam$0eter: 268.4 mm", "Write as `radius"), halves);
    let doubles = changed("radius: 268.4 mm / 2", "diameter: 268.4 mm");
    assert_eq!(taken("radius: 268$0.4 mm / 2", "Write as `diameter"), doubles);
    let limits = changed("diameter: 268.4 mm ± 0.1 mm", "radius: 134.2 mm ± 0.05 mm");
    assert_eq!(taken("diameter: 268$0.4 mm ± 0.1 mm", "Write as `radius"), limits);
    let sum = changed("diameter: 260 mm + 8 mm", "radius: (260 mm + 8 mm) / 2");
    assert_eq!(taken("diameter: 260$0 mm + 8 mm", "Write as `radius"), sum);
    let plane = "rotor a {\n  plane p {\n    surface diameter: 26$08.4 mm\n  }\n}\n";
    assert!(titles(plane).contains(&"Write as `surface radius: 268.4 mm / 2`".to_owned()));
}

#[test]
fn results_are_pinned_and_taken_out_again() {
    let lines = "    mass: 4.00 g\n    radius: 100$0.0 mm";
    assert_eq!(taken(&calibrate(lines), "Pin `reading => 10.0 div`"), "+    reading => 10.0 div\n");
    let pin = "    mass: 4.00 g\n    radius: 100.0 mm\n    read$0ing => 10.0 div # seen";
    assert_eq!(taken(&calibrate(pin), "Take out the pin of `reading`"), "-    reading => 10.0 div # seen\n");
}

#[test]
fn all_results_of_an_item_are_pinned_and_the_pins_hold() {
    let text = calibrate("    mass: 4.00 g\n    radius: 100.0 mm\n    times tolerance => 9.0")
        .replace("setup \"wheel", "setup \"wh$0eel");
    let fixture = fixture(&text);
    let found = offered(&fixture);
    let all = found.iter().find(|action| action.title.starts_with("Pin ") && action.title.contains("results of setup"));
    assert!(all.unwrap().title.ends_with(" and write 1 stale pin again"), "{}", all.unwrap().title);
    let edited = fixture.edited_files(&all.unwrap().edits);
    assert!(edited.contains("times tolerance => 10.0\n") && edited.contains("    reading => 10.0 div\n"), "{edited}");
    let again = super::super::testing::fixture(&format!("{SHOP}{edited}"));
    let stale: Vec<_> = check::check(&again.book).into_iter().filter(|found| found.rule.code.contains("pin")).collect();
    assert!(stale.is_empty(), "{stale:?}\n{edited}");
}

#[test]
fn inherited_facts_are_written_into_the_sheet() {
    let first = "  calibrate hub {\n    mass: 4.00 g\n    radius: 100.0 mm\n    reading => 10.0 div\n  }\n  calibrate \"outer rim\" {\n    mass: 4.00 g\n  }\n}\n";
    let other = "#! t.rotor\nsetup t {\n  like: \"wheel on$0 the soft bench\"\n  balancing speed: 1000 rpm\n\n  calibrate hub {\n    mass: 2.00 g\n  }\n}\n";
    let text = format!("{SHOP}{SETUP}{first}{other}");
    let expected = "\
+  rotor: wheel
+  machine: \"soft bench\"
+  channel left: hub
+  channel right: \"outer rim\"
+  tolerance reads: 1 div
+    radius: 100.0 mm
+  }
+
+  calibrate \"outer rim\" {
+    mass: 4.00 g
";
    assert_eq!(taken(&text, "Write the 6 facts and 1 block taken over into this sheet"), expected);
    let block =
        text.replace("on$0 the", "on the").replace("calibrate hub {\n    mass: 2", "cali$0brate hub {\n    mass: 2");
    assert_eq!(taken(&block, "Write `radius: 100.0 mm` into this block"), "+    radius: 100.0 mm\n");
}

#[test]
fn facts_that_must_be_given_are_inserted() {
    let text = "setup s {\n  rotor: a$0\n}\n";
    let expected = "+  machine: ?\n+  balancing speed: ?\n";
    assert_eq!(taken(text, "Insert `machine` and `balancing speed`"), expected);
    let inherited = "setup s {\n  like: t$0\n}\nsetup t {\n  rotor: a\n  machine: b\n  balancing speed: 3 rpm\n}\n";
    assert!(titles(inherited).iter().all(|title| !title.starts_with("Insert")));
    assert_eq!(taken("rotor a {\n  plane p {$0\n  }\n}\n", "Insert `at`"), "+    at: ?\n");
}

#[test]
fn a_rotor_without_mass_and_tolerance_is_given_both() {
    let text = "rotor a {\n  drawing: \"x\"$0\n}\n";
    let expected = "+  mass: ?\n+  tolerance {\n+    grade: ?\n+  }\n";
    assert_eq!(taken(text, "Insert `mass` and `tolerance`"), expected);
    let found = offered(&fixture(text));
    let insert = found.iter().find(|action| action.title.starts_with("Insert")).unwrap();
    assert_eq!(insert.kind, ActionKind::QuickFix);
    let weighed = "rotor a {\n  weighed: 2 kg at 0 mm, 3 kg at 90 mm$0\n}\n";
    assert_eq!(taken(weighed, "Insert `tolerance`"), "+  tolerance {\n+    grade: ?\n+  }\n");
}

#[test]
fn a_void_calibration_is_not_pinned() {
    let proof =
        "  pr$0oof one {\n    date: 2026-03-09\n    proven with {\n      balancing speed: 900 rpm\n    }\n  }\n}\n";
    let text = format!("{SHOP}{SETUP}{proof}");
    let fixture = fixture(&text);
    for action in offered(&fixture).iter().filter(|action| action.title.starts_with("Pin ")) {
        assert!(!fixture.edited_files(&action.edits).contains("calibration =>"), "{}", action.title);
    }
}

#[test]
fn a_mass_from_the_set_that_suits() {
    // At 100 mm 4 g are ten times 40 g·mm; 2 g are five times; 10 g would be 25 times, more than the shop wants.
    let text = calibrate("    mass: 3.0$00 g\n    radius: 100 mm");
    let masses: Vec<String> = titles(&text).into_iter().filter(|title| title.starts_with("Take ")).collect();
    let expected = ["Take 4.00 g from the set: 10.0 × tolerance", "Take 2.00 g from the set: 5.00 × tolerance"];
    assert_eq!(masses, expected);
    assert_eq!(taken(&text, expected[0]), "-    mass: 3.00 g\n+    mass: 4.00 g\n");
    let without = calibrate("    radius: 100 mm").replace("calibrate hub", "cali$0brate hub");
    assert_eq!(taken(&without, "Take 4.00 g"), "+    mass: 4.00 g\n");
}

#[test]
fn broken_lines_and_comments_offer_nothing_of_their_own() {
    assert_eq!(titles("# 3 mm$0\n"), Vec::<String>::new());
    assert_eq!(titles("$0"), Vec::<String>::new());
    let broken = "rotor a {\n  largest diameter: 12O$0 mm\n}\n";
    assert!(titles(broken).iter().all(|title| !title.contains(" in`")));
}

#[test]
fn lines_end_as_those_around_them_do() {
    let text = calibrate("    mass: 4.00 g\n    radius: 100$0.0 mm").replace('\n', "\r\n");
    let fixture = fixture(&text);
    let action = offered(&fixture).into_iter().find(|action| action.title.starts_with("Pin `reading")).unwrap();
    let edited = fixture.edited_files(&action.edits);
    assert!(edited.contains("mm\r\n    reading => 10.0 div\r\n  }\r\n"), "{edited:?}");
}
