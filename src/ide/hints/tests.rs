use super::*;
use crate::ide::testing::{Fixture, SETUP, SHOP, fixture};

/// The text with each hint in ⟨ ⟩ where it is shown.
fn shown(fixture: &Fixture, which: HintsShown) -> String {
    let computing = Computing::new(&fixture.book);
    let whole = Span::new(0, fixture.text().len() as u32);
    let edits: Vec<Edit> = hints(&computing, fixture.file, whole, which)
        .into_iter()
        .map(|hint| Edit::insert(hint.at, format!(" ⟨{}⟩", hint.label)))
        .collect();
    fixture.edited(&edits)
}

fn line<'a>(text: &'a str, begins: &str) -> &'a str {
    text.lines().find(|line| line.trim_start().starts_with(begins)).unwrap_or("no such line").trim_start()
}

fn all(text: &str) -> String {
    shown(&fixture(text), HintsShown::All)
}

#[test]
fn after_the_grade_stands_the_permissible_unbalance() {
    // 9549.3 · 6.3 · 4.82 ÷ 3550 = 81.68 (ISO 21940-11, from memory).
    let text =
        all("rotor a {\n  mass: 4.82 kg\n  highest service speed: 3550 rpm\n  tolerance {\n    grade: G 6.3\n  }\n}\n");
    assert_eq!(line(&text, "grade"), "grade: G 6.3 ⟨permissible 81.7 g·mm⟩");
}

#[test]
fn what_is_given_is_not_said_again() {
    let text = all(&SHOP.replace("total: 80 g·mm", "total: 80 g·mm # agreed"));
    assert_eq!(line(&text, "total"), "total: 80 g·mm # agreed");
}

#[test]
fn after_a_planes_radius_stands_its_tolerance() {
    let text = all(SHOP);
    assert_eq!(text.matches("radius: 100 mm ⟨tolerance 40.0 g·mm⟩").count(), 1);
    assert_eq!(text.matches("radius: 120 mm ⟨tolerance 40.0 g·mm⟩").count(), 1);
}

#[test]
fn in_a_calibration_what_was_left_out_has_its_limits() {
    // 4 g · 100 mm ÷ 40 g·mm = 10 times the tolerance, which reads 1 div. The mass was read to 0.01 g: half a step over
    // the root of three, twice that is 0.0058 g, a share of 0.14 %; the radius to 0.1 mm likewise 0.058 %. Together
    // 0.16 % of 10 div.
    let block = "  calibrate hub {\n    mass: 4.00 g\n    radius: 100.0 mm\n  }\n}\n";
    let text = all(&format!("{SHOP}{SETUP}{block}"));
    assert_eq!(line(&text, "calibrate hub"), "calibrate hub { ⟨1 div = 40.0 g·mm⟩");
    assert_eq!(line(&text, "mass: 4.00 g"), "mass: 4.00 g ⟨10.0 × tolerance⟩");
    let radius = "radius: 100.0 mm ⟨reading 10.000 div ± 0.016 div, 20.0 mark on fine⟩";
    assert_eq!(line(&text, "radius: 100.0"), radius);
}

#[test]
fn a_mass_and_a_radius_that_were_left_out() {
    let mass = "  calibrate hub {\n    radius: 100 mm ± 0 mm\n    reading: 10 div\n  }\n}\n";
    let text = all(&format!("{SHOP}{SETUP}{mass}"));
    // 10 div · 40 g·mm ÷ 100 mm.
    assert_eq!(line(&text, "reading: 10"), "reading: 10 div ⟨mass 4.00 g, 20.0 mark on fine⟩");
    let radius = "  calibrate hub {\n    mass: 4 g ± 0 g\n    reading: 10 div\n  }\n}\n";
    let text = all(&format!("{SHOP}{SETUP}{radius}"));
    assert_eq!(line(&text, "reading: 10"), "reading: 10 div ⟨radius 100 mm, 20.0 mark on fine⟩");
}

#[test]
fn a_hole_gives_no_hint_and_the_rest_keep_theirs() {
    let block = "  calibrate hub {\n    mass: 4.00 g\n    radius: 10O mm\n  }\n  calibrate \"outer rim\" {\n    mass: 4.00 g\n    radius: 100.0 mm\n  }\n}\n";
    let text = all(&format!("{SHOP}{SETUP}{block}"));
    assert_eq!(line(&text, "radius: 10O"), "radius: 10O mm");
    assert_eq!(line(&text, "mass: 4.00 g"), "mass: 4.00 g");
    assert!(line(&text, "radius: 100.0").contains("reading 10.000 div"));
}

#[test]
fn an_unfinished_line_costs_itself_alone() {
    let block = "  calibrate hub {\n    mass: 4.00 g\n    rad\n    radius: 100.0 mm\n    angle:\n";
    let text = all(&format!("{SHOP}{SETUP}{block}"));
    assert!(line(&text, "radius: 100.0").contains("reading 10.000 div"), "{text}");
}

#[test]
fn accepting_a_hint_writes_the_pin() {
    let block = "  calibrate hub {\n    mass: 4.00 g\n    radius: 100.0 mm # callipers\n    angle: 0 deg\n  }\n}\n";
    let fixture = fixture(&format!("{SHOP}{SETUP}{block}"));
    let computing = Computing::new(&fixture.book);
    let whole = Span::new(0, fixture.text().len() as u32);
    let hints = hints(&computing, fixture.file, whole, HintsShown::All);
    let reading = hints.iter().find(|hint| hint.label.starts_with("reading")).unwrap();
    assert_eq!(reading.kind, HintKind::LeftOut);
    let text = fixture.edited(&reading.edits);
    let pinned =
        "    radius: 100.0 mm # callipers\n    reading => 10.0 div\n    scale => \"20.0 mark on fine\"\n    angle";
    assert!(text.contains(pinned), "{text}");
    // What is in the text is not shown beside it once more.
    let again = super::super::testing::fixture(&format!("{SHOP}#! setups/wheel.rotor\n{text}"));
    assert_eq!(line(&shown(&again, HintsShown::All), "radius: 100.0"), "radius: 100.0 mm # callipers");
    let problems = crate::check::check(&again.book);
    assert!(problems.iter().all(|problem| !problem.rule.code.contains("pin")), "{problems:?}");
}

#[test]
fn a_pin_that_is_open_shows_what_fills_it() {
    let block = "  calibrate hub {\n    mass: 4.00 g\n    radius: 100.0 mm\n    reading => ?\n  }\n}\n";
    let fixture = fixture(&format!("{SHOP}{SETUP}{block}"));
    let text = shown(&fixture, HintsShown::All);
    assert_eq!(line(&text, "reading"), "reading => ? ⟨10.000 div⟩");
    let computing = Computing::new(&fixture.book);
    let hints = hints(&computing, fixture.file, Span::new(0, fixture.text().len() as u32), HintsShown::All);
    let open = hints.iter().find(|hint| hint.label == "10.000 div").unwrap();
    assert!(fixture.edited(&open.edits).contains("    reading => 10.000 div\n"));
}

#[test]
fn a_tooltip_has_formula_numbers_and_source() {
    let fixture = fixture(
        "rotor a {\n  mass: 4.82 kg\n  highest service speed: 3550 rpm\n  tolerance {\n    grade: G 6.3\n  }\n}\n",
    );
    let computing = Computing::new(&fixture.book);
    let hints = hints(&computing, fixture.file, Span::new(0, 200), HintsShown::Results);
    let tooltip = &hints[0].tooltip;
    assert_eq!(hints.len(), 1);
    assert!(tooltip.starts_with("**permissible unbalance** 81.7 g·mm\n"), "{tooltip}");
    assert!(tooltip.contains("U_per = 9549.3 · G · m ÷ n\n      = 9549.3 · 6.3 · 4.82 ÷ 3550\n"), "{tooltip}");
    assert!(tooltip.contains("*Source: ISO 21940-11"), "{tooltip}");
}

#[test]
fn an_inherited_setup_says_what_like_brought() {
    let blocks = "  calibrate hub {\n    mass: 4.00 g\n    radius: 100.0 mm\n  }\n  calibrate \"outer rim\" {\n    mass: 4.00 g\n    radius: 100.0 mm\n  }\n}\n";
    let other = "#! setups/trial.rotor\nsetup trial {\n  like: \"wheel on the soft bench\"\n  calibrate hub {\n    mass: 2.00 g\n  }\n}\n";
    let text = all(&format!("{SHOP}{SETUP}{blocks}{other}"));
    // Six facts are in the other setup; the calibration of the rim is taken over whole.
    let like =
        "like: \"wheel on the soft bench\" ⟨outer rim: reading 10.000 div ± 0.016 div⟩ ⟨brings 6 facts, 1 block⟩";
    assert_eq!(line(&text, "like"), like);
    let hub = line(&text, "calibrate hub");
    assert!(hub.contains("⟨radius: 100.0 mm⟩"), "{hub}");
    // 2 g · 100 mm ÷ 40 g·mm × 1 div, worked out for this setup.
    assert!(hub.contains("reading 5.000 div"), "{hub}");
    let only_results = shown(&fixture(&format!("{SHOP}{SETUP}{blocks}{other}")), HintsShown::Results);
    assert!(!only_results.contains("brings"));
    let off = shown(&fixture(&format!("{SHOP}{SETUP}{blocks}{other}")), HintsShown::Off);
    assert!(!off.contains('⟨'));
}

#[test]
fn readings_of_a_run_are_multiples_of_the_tolerance() {
    let record = "}\n#! records/one.rotor\nrecord one {\n  setup: \"wheel on the soft bench\"\n  run first {\n    calibration masses: off\n    reading left: 0.5 div\n    reading right: 4 mark on fine\n    reading middle: 3 div\n  }\n}\n";
    let text = all(&format!("{SHOP}{SETUP}{record}"));
    assert_eq!(line(&text, "reading left"), "reading left: 0.5 div ⟨hub 20.0 g·mm, 0.500 × tolerance⟩");
    // Half a division is half of 40 g·mm; a mark is half a division, and twice the tolerance calls for 80 g·mm ÷ 120 mm.
    assert_eq!(
        line(&text, "reading right"),
        "reading right: 4 mark on fine ⟨outer rim correct by 0.667 g, 80.0 g·mm, 2.00 × tolerance⟩"
    );
    assert_eq!(line(&text, "reading middle"), "reading middle: 3 div");
}
