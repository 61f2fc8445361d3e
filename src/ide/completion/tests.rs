use super::*;
use crate::ide::testing::{Fixture, SETUP, SHOP, fixture};
use crate::text::Edit;

fn offered(fixture: &Fixture) -> Vec<Completion> {
    let computing = Computing::new(&fixture.book);
    let found = completions(&computing, fixture.file, fixture.offset);
    for completion in &found {
        let Completion { replace, .. } = completion;
        assert!(replace.start <= fixture.offset && fixture.offset <= replace.end, "{completion:?}");
    }
    found
}

fn labels(text: &str) -> Vec<String> {
    offered(&fixture(text)).into_iter().map(|completion| completion.label).collect()
}

fn in_setup(lines: &str) -> String {
    format!("{SHOP}{SETUP}{lines}")
}

/// The line of the cursor once the completion of this label is accepted, and the lines that follow when it brings some.
fn accepted(text: &str, label: &str) -> String {
    let fixture = fixture(text);
    let found = offered(&fixture);
    let labels: Vec<&str> = found.iter().map(|found| &*found.label).collect();
    let chosen = found.iter().find(|found| found.label == label).unwrap_or_else(|| panic!("{label} in {labels:?}"));
    let start = fixture.text()[..fixture.offset as usize].rfind('\n').map_or(0, |at| at + 1);
    let written = chosen.snippet.as_ref().unwrap_or(&chosen.text);
    let text = fixture.edited(&[Edit::replace(chosen.replace, written.clone())]);
    let lines = written.matches('\n').count() + 1;
    text[start..].lines().take(lines).collect::<Vec<_>>().join("\n")
}

#[track_caller]
fn has(text: &str, wanted: &[&str]) {
    let labels = labels(text);
    for label in wanted {
        assert!(labels.iter().any(|other| other == label), "{label} is missing in {labels:?}");
    }
}

#[track_caller]
fn has_not(text: &str, unwanted: &[&str]) {
    let labels = labels(text);
    for label in unwanted {
        assert!(labels.iter().all(|other| other != label), "{label} is offered in {labels:?}");
    }
}

#[test]
fn at_the_top_stand_the_kinds_of_items() {
    let expected = ["material", "masses", "machine", "arbor", "rotor", "setup", "record"];
    assert_eq!(labels(&format!("{SHOP}#! a.rotor\nro$0\n")), expected);
    assert_eq!(labels("$0")[0], "shop");
    assert_eq!(accepted("ro$0", "rotor"), "rotor \"$1\" {\n  $0\n}");
}

#[test]
fn a_block_is_offered_the_keys_that_it_lacks_the_must_ones_first() {
    let text = "setup s {\n  rotor: a\n  b$0\n}\n";
    let labels = labels(text);
    assert_eq!(labels[..2], ["machine", "balancing speed"]);
    has(text, &["belt runs on", "calibrate", "settings", "check mass", "caution"]);
    has_not(text, &["rotor", "plane", "scale"]);
    // What says the same in another way is not offered beside it.
    has_not("setup s {\n  calibrate hub {\n    radius: 3 mm\n    $0\n  }\n}\n", &["diameter", "radius"]);
    has("setup s {\n  calibrate hub {\n    radius: 3 mm\n    $0\n  }\n}\n", &["mass", "reading", "note"]);
}

#[test]
fn a_key_comes_with_a_unit_of_its_dimension() {
    assert_eq!(accepted("setup s {\n  bal$0\n}\n", "balancing speed"), "  balancing speed: $1 rpm");
    assert_eq!(accepted("setup s {\n  calibrate hub {\n    ma$0\n", "mass"), "    mass: $1 g");
    assert_eq!(accepted("rotor a {\n  ma$0\n}\n", "mass"), "  mass: $1 kg");
    assert_eq!(accepted("rotor a {\n  wei$0\n}\n", "weighed"), "  weighed: $1 kg at $2 mm, $3 kg at $4 mm");
    // The unit of the planes before it.
    let inches = "rotor a {\n  plane p {\n    at: 3 in\n  }\n  plane q {\n    a$0\n  }\n}\n";
    assert_eq!(accepted(inches, "at"), "    at: $1 in");
    assert_eq!(accepted("rotor a {\n  no$0\n}\n", "note"), "  note: \"$1\"");
    assert_eq!(accepted("setup s {\n  ind$0\n}\n", "indicates"), "  indicates: ");
}

/// Beside the results of the sheet a bare number would be read as one of them.
#[test]
fn an_example_is_said_to_be_one() {
    let fixture = fixture("setup s {\n  bal$0\n}\n");
    let found = offered(&fixture);
    let speed = found.iter().find(|found| found.label == "balancing speed").unwrap();
    assert!(speed.detail.as_ref().unwrap().starts_with("such as "), "{speed:?}");
}

#[test]
fn within_a_line_that_has_its_colon_the_head_alone_is_changed() {
    assert_eq!(accepted("rotor a {\n  ma$0ss: 3 kg\n}\n", "mass centre"), "  mass centre: 3 kg");
    assert_eq!(accepted("rotor a {\n  pl$0 x {\n  }\n}\n", "plane"), "  plane x {");
}

#[test]
fn lines_with_names_before_the_colon() {
    let run = in_setup("  trial t {\n    reading left: 3 div\n    re$0\n  }\n}\n");
    has(&run, &["reading right"]);
    has_not(&run, &["reading left", "reading"]);
    assert_eq!(accepted(&run, "reading right"), "    reading right: $1 div");
    assert_eq!(accepted(&in_setup("  trial t {\n    reading r$0\n  }\n}\n"), "right"), "    reading right: $1 div");
    let settings = in_setup("  settings {\n    dial: 40\n    $0\n  }\n}\n");
    has(&settings, &["needle side"]);
    has_not(&settings, &["dial"]);
    assert_eq!(accepted(&settings, "needle side"), "    \"needle side\": ");
    assert_eq!(accepted(&in_setup("  settings {\n    \"nee$0\"\n  }\n}\n"), "needle side"), "    \"needle side\": ");
    let tolerance = SHOP.replace("total: 80 g·mm", "grade: G 6.3\n    $0");
    has(&tolerance, &["hub", "outer rim", "total", "source"]);
    assert_eq!(accepted(&tolerance, "outer rim"), "    \"outer rim\": $1 g·mm");
}

#[test]
fn inner_blocks_with_the_names_they_may_have() {
    let text = in_setup("  calibrate hub {\n  }\n  calibrate $0\n}\n");
    assert_eq!(labels(&text), ["outer rim"]);
    assert_eq!(accepted(&text, "outer rim"), "  calibrate \"outer rim\" {\n  $0\n}");
    assert_eq!(accepted(&in_setup("  calibrate o$0 {\n  }\n}\n"), "outer rim"), "  calibrate \"outer rim\" {");
    let part = format!("{SHOP}#! b.rotor\nrotor pair {{\n  made of \"wh$0\"\n}}\n");
    assert_eq!(labels(&part), ["wheel"]);
    assert_eq!(accepted(&part, "wheel"), "  made of \"wheel\" {\n  $0\n}");
    assert!(labels("shop {\n  severity dec$0\n}\n").contains(&"decimal-comma".to_owned()));
    assert_eq!(labels("rotor a {\n  keyway $0\n}\n"), ["drive end", "tail end"]);
    // A block that is once is not offered again.
    has_not("rotor a {\n  tolerance {\n  }\n  $0\n}\n", &["tolerance"]);
}

#[test]
fn choices_behind_the_colon() {
    assert_eq!(labels("setup s {\n  indicates: $0\n}\n"), ["heavy spot", "light spot"]);
    assert_eq!(accepted("setup s {\n  indicates: hea$0\n}\n", "heavy spot"), "  indicates: heavy spot");
    assert_eq!(accepted("setup s {\n  indicates: hea$0vy spot # c\n}\n", "light spot"), "  indicates: light spot # c");
}

#[test]
fn units_behind_a_number_are_of_the_dimension_that_is_expected() {
    let speed = labels("setup s {\n  balancing speed: 1150 $0\n}\n");
    assert_eq!(speed, ["rpm", "r/min", "Hz", "rad/s"]);
    assert_eq!(labels("setup s {\n  balancing speed: 1150 r$0\n}\n"), speed);
    assert_eq!(accepted("setup s {\n  balancing speed: 1150 r$0pm\n}\n", "Hz"), "  balancing speed: 1150 Hz");
    has("rotor a {\n  mass: 4.82 $0\n}\n", &["kg", "g", "oz", "lb"]);
    has_not("rotor a {\n  mass: 4.82 $0\n}\n", &["mm", "g·mm", "rpm"]);
    let weighed = "rotor a {\n  weighed: 2.73 kg at 0 mm, 2.09 kg at 164 $0\n}\n";
    has(weighed, &["mm", "in"]);
    has_not(weighed, &["kg"]);
    has("rotor a {\n  mass: 4.82 kg ± 0.01 $0\n}\n", &["kg", "%"]);
    // The readout shows divisions, and its scale has marks.
    let reading = |line: &str| in_setup(&format!("  trial t {{\n    {line}\n  }}\n}}\n"));
    assert_eq!(labels(&reading("reading left: 3 $0")), ["div", "mark"]);
    let calibrate = in_setup("  calibrate hub {\n    reading: 3 $0\n  }\n}\n");
    assert_eq!(labels(&calibrate), ["div", "mark"]);
    assert_eq!(labels(&reading("reading left: 3 div @ 310 $0")), ["deg", "°", "rad", "r"]);
    // A plain number has none.
    assert_eq!(labels("shop {\n  format: 1 $0\n}\n"), Vec::<String>::new());
}

/// The dial of the dial is one of plain numbers; a dial that is graduated takes its own units.
#[test]
fn a_setting_takes_the_units_of_the_range_of_its_control() {
    let setting = |shop: &str, line: &str| labels(&format!("{shop}{SETUP}  settings {{\n    {line}\n  }}\n}}\n"));
    has_no_units(&setting(SHOP, "dial: 40 $0"));
    let graduated = SHOP.replace("range: 0 to 500", "range: 0 mm to 500 mm");
    let units = setting(&graduated, "dial: 40 $0");
    assert!(units.contains(&"mm".to_owned()), "{units:?}");
    assert!(units.iter().all(|unit| !["kg", "rpm", "deg", "s", "N"].contains(&&**unit)), "{units:?}");
    let belt = labels(&in_setup("  belt runs on: 60 $0\n}\n"));
    assert!(belt[0] == "mm" && !belt.iter().any(|unit| ["kg", "g", "g·mm"].contains(&&**unit)), "{belt:?}");
}

fn has_no_units(labels: &[String]) {
    assert!(labels.iter().all(|label| crate::units::Unit::parse(label).is_err()), "{labels:?}");
}

#[test]
fn what_joins_two_amounts() {
    assert_eq!(labels("machine m {\n  rotor mass: 2 kg $0\n}\n"), ["to"]);
    assert_eq!(labels("rotor a {\n  weighed: 2 kg $0\n}\n"), ["at"]);
    let reading = |line: &str| in_setup(&format!("  trial t {{\n    {line}\n  }}\n}}\n"));
    assert_eq!(labels(&reading("reading left: 3 mark $0")), ["on", "@"]);
    assert_eq!(labels(&reading("reading left: 3 mark on $0")), ["fine"]);
}

#[test]
fn names_of_the_right_kind_from_the_whole_book() {
    let setup =
        |line: &str| format!("{SHOP}#! s.rotor\nsetup s {{\n  rotor: wheel\n  machine: \"soft bench\"\n  {line}\n}}\n");
    assert_eq!(labels(&setup("masses: $0")), ["brass set"]);
    assert_eq!(accepted(&setup("masses: br$0"), "brass set"), "  masses: \"brass set\"");
    assert_eq!(accepted(&setup("masses: \"br$0\""), "brass set"), "  masses: \"brass set\"");
    assert_eq!(accepted(&setup("masses: \"br$0"), "brass set"), "  masses: \"brass set\"");
    assert_eq!(labels(&setup("channel left: $0")), ["hub", "outer rim"]);
    assert_eq!(labels(&setup("like: $0")), Vec::<String>::new());
    assert_eq!(labels(&setup("channel $0")), ["left", "right"]);
    assert_eq!(labels(&setup("calibrate hub {\n    instrument: $0\n  }")), ["fine scale"]);
    has("rotor a {\n  plane p {\n    material: $0\n", &["cast iron", "carbon steel"]);
    assert_eq!(labels(&setup("arbor: $0")), Vec::<String>::new());
    assert_eq!(
        accepted(&SHOP.replace("bearings: 0 mm, 200 mm", "correct only in: hub, o$0"), "outer rim"),
        "  correct only in: hub, \"outer rim\""
    );
}

#[test]
fn settings_take_the_positions_of_their_control() {
    let setting = |line: &str| in_setup(&format!("  settings {{\n    {line}\n  }}\n}}\n"));
    assert_eq!(labels(&setting("\"needle side\": $0")), ["left", "right", "as found"]);
    assert_eq!(labels(&setting("dial: $0")), ["as found"]);
    assert_eq!(accepted(&setting("\"needle side\": \"ri$0\""), "right"), "    \"needle side\": \"right\"");
}

#[test]
fn grades_with_typical_rotors() {
    let text = "rotor a {\n  tolerance {\n    grade: $0\n  }\n}\n";
    let found = offered(&fixture(text));
    let fans = found.iter().find(|found| found.label == "G 6.3").unwrap();
    assert!(fans.detail.as_ref().unwrap().starts_with("fans, pumps"));
    assert_eq!(accepted("rotor a {\n  tolerance {\n    grade: G 6$0\n", "G 2.5"), "    grade: G 2.5");
    // `G 6` is more often the beginning of 6.3 than of 630, unless the book says otherwise.
    assert_eq!(found[0].label, "G 6.3");
    let other = format!("{text}rotor b {{\n  tolerance {{\n    grade: G 630\n  }}\n}}\n");
    assert_eq!(offered(&fixture(&other))[0].label, "G 630");
}

#[test]
fn results_to_be_pinned() {
    let text = in_setup("  calibrate hub {\n    mass: 4 g\n    radius: 100 mm\n    rea$0\n  }\n}\n");
    // 4 g · 100 mm is ten times 40 g·mm.
    assert_eq!(accepted(&text, "reading =>"), "    reading => 10.0 div");
    let arrow = in_setup("  calibrate hub {\n    mass: 4 g\n    radius: 100 mm\n    reading =>$0\n  }\n}\n");
    assert_eq!(accepted(&arrow, "10.0 div"), "    reading => 10.0 div");
    let again = in_setup("  calibrate hub {\n    mass: 4 g\n    radius: 100 mm\n    reading => 9$0 div\n  }\n}\n");
    assert_eq!(accepted(&again, "10.0 div"), "    reading => 10.0 div");
    has_not(&in_setup("  calibrate hub {\n    $0\n  }\n}\n"), &["reading =>"]);
}

#[test]
fn masses_of_the_set_say_what_they_would_make() {
    let text = in_setup("  masses: \"brass set\"\n  calibrate hub {\n    radius: 100 mm\n    mass: $0\n  }\n}\n");
    let found = offered(&fixture(&text));
    let four = found.iter().find(|found| found.label == "4.00 g").unwrap();
    assert_eq!(four.detail.as_deref(), Some("10.0 × tolerance"));
}

#[test]
fn heads_of_the_other_setup_can_be_left_out() {
    let other =
        "  calibrate hub {\n  }\n}\n#! t.rotor\nsetup t {\n  like: \"wheel on the soft bench\"\n  leave out: $0\n}\n";
    let text = in_setup(other);
    has(&text, &["calibrate hub", "channel left", "tolerance reads"]);
    has_not(&text, &["status"]);
    assert_eq!(accepted(&text, "calibrate hub"), "  leave out: \"calibrate hub\"");
}

#[test]
fn places_of_a_plane() {
    assert_eq!(
        labels("rotor a {\n  plane p {\n    places: 3 from 0 deg\n    places used: $0\n  }\n}\n"),
        ["1", "2", "3"]
    );
    let rotor = SHOP.replace("radius: 100 mm", "radius: 100 mm\n    places: 3 from 0 deg");
    let record = "}\n#! r.rotor\nrecord r {\n  setup: \"wheel on the soft bench\"\n  correction hub {\n    add place $0\n  }\n}\n";
    let text = format!("{rotor}{SETUP}{record}");
    assert_eq!(accepted(&text, "2"), "    add place 2: $1 g");
}

#[test]
fn a_heading_that_lacks_its_brace_is_given_it() {
    let text = in_setup("  calibrate $0\n    mass: 4.00 g\n  }\n}\n");
    assert_eq!(accepted(&text, "hub"), "  calibrate hub {");
}

#[test]
fn nothing_in_comments_and_in_texts() {
    for text in [
        "# ro$0\n",
        "rotor a {\n  # ma$0\n}\n",
        "rotor a {\n  mass: 3 kg # k$0\n}\n",
        "rotor a {\n  datum: \"ma$0\"\n}\n",
        "rotor a {\n  note: $0\n}\n",
        "rotor a {\n  \"ma$0\"\n}\n",
        "rotor \"a$0\" {\n}\n",
        "widget {\n  $0\n}\n",
    ] {
        assert_eq!(labels(text), Vec::<String>::new(), "{text}");
    }
}

#[test]
fn around_broken_lines_completion_goes_on() {
    let text = "rotor a {\n  mass 3 kg\n  ?? \n  plane hub {\n    at: 12O mm\n    ra$0\n\nrotor b {\n}\n";
    has(text, &["radius", "correct"]);
    assert_eq!(accepted(text, "radius"), "    radius: $1 mm");
    has("setup s {\n  balancing speed: 3 rpm\n\n  $0", &["rotor", "machine", "calibrate"]);
}
