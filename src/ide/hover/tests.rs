use super::*;
use crate::ide::testing::{SETUP, SHOP, fixture, underlined};

/// The line with the explained piece underlined, then the explanation.
fn shown(text: &str) -> String {
    let fixture = fixture(text);
    let computing = Computing::new(&fixture.book);
    match hover(&computing, fixture.file, fixture.offset) {
        Some(hover) => format!("{}\n{}", underlined(fixture.text(), hover.span), hover.markdown),
        None => "nothing".to_owned(),
    }
}

fn calibrate(lines: &str) -> String {
    shown(&format!("{SHOP}{SETUP}  masses: \"brass set\"\n  calibrate hub {{\n{lines}\n  }}\n}}\n"))
}

#[track_caller]
fn holds(shown: &str, pieces: &[&str]) {
    for piece in pieces {
        assert!(shown.contains(piece), "{piece:?} is missing in:\n{shown}");
    }
}

#[test]
fn a_key_says_what_it_means_and_whether_it_must_be_given() {
    let found = shown("setup s {\n  balan$0cing speed: 1150 rpm\n}\n");
    holds(
        &found,
        &[
            "  balancing speed: 1150 rpm\n  ^^^^^^^^^^^^^^^\n**balancing speed** in `setup`",
            "The speed at which the machine measures.",
            "- a speed with its unit, such as `1150 rpm`\n- must be given",
        ],
    );
    let found = shown("setup s {\n  calibrate hub {\n    mass$0\n  }\n}\n");
    holds(&found, &["    mass\n    ^^^^\n**mass** in `calibrate`", "- worked out when left out", "- measured: "]);
    holds(&shown("setup s {\n  calibrate hub {\n    rad$0ius: ?\n"), &["- or else `diameter`"]);
    holds(&shown("rotor a {\n  plane p {\n    point ang$0le:\n"), &["- `118 deg` where it is not given"]);
}

#[test]
fn a_quantity_is_the_same_in_other_units() {
    // An inch is 25.4 mm: 127 mm is 5 in.
    let found = shown("rotor a {\n  journal diameter: 12$07 mm\n}\n");
    holds(&found, &["                    ^^^^^^\n**127 mm**  \n= 5 in", "nominal: it carries no uncertainty"]);
    // 9549.3 · 2 π ÷ 60 is a thousand radians a second; 3000 rpm is 50 turns a second.
    holds(&shown("rotor a {\n  highest service speed: 3000 $0rpm\n}\n"), &["= 50 Hz", "1 rpm = 0.0166667 Hz"]);
}

#[test]
fn what_was_measured_is_known_to_half_a_step() {
    // Half of 0.1 mm over the root of three, twice: 0.0577 mm.
    let found = calibrate("    mass: 4.02 g\n    radius: 1$000.0 mm");
    holds(&found, &["known to ± 0.058 mm (k = 2), for it was read to half a step of its last digit"]);
    // The set's own: 0.004 g as k = 2.
    let found = calibrate("    mass: 4.$000 g");
    holds(&found, &["**4.0000 g**  \n= ", "known to ± 0.0040 g (k = 2), as the set of masses states"]);
    // Bounds of ± 0.03 g: 0.03 over the root of three, twice.
    let found = calibrate("    mass: 5.$000 g ± 0.03 g");
    holds(&found, &["          ^^^^^^^^^^^^^^^", "known to ± 0.035 g (k = 2), from the limits"]);
}

#[test]
fn arithmetic_is_worked_out() {
    // Half of 268.4 mm; half a step of 0.05 mm, halved, over the root of three, twice: 0.0289 mm.
    let found = calibrate("    radius: 268.4 $0mm / 2");
    holds(&found, &["            ^^^^^^^^\n**268.4", "`268.4 mm / 2` = **134.200 mm ± 0.029 mm (k = 2)**"]);
}

#[test]
fn a_fact_shows_what_is_worked_out_from_it() {
    let found = shown(
        "rotor a {\n  mass: 4.82 kg\n  highest service speed: 3550 rpm\n  tolerance {\n    grade: G$0 6.3\n  }\n}\n",
    );
    holds(
        &found,
        &[
            "           ^^^^^\n**G 6.3**: permissible specific unbalance times speed is 6.3 mm/s",
            "Usual for fans, pumps",
            // 9549.3 · 6.3 · 4.82 ÷ 3550.
            "- permissible unbalance **81.7 g·mm** `= 9549.3 · 6.3 · 4.82 ÷ 3550`",
        ],
    );
}

#[test]
fn a_pin_shows_formula_numbers_and_source() {
    let text = |pin: &str| {
        format!(
            "rotor a {{\n  mass: 4.82 kg\n  highest service speed: 3550 rpm\n  tolerance {{\n    grade: G 6.3\n    {pin}\n  }}\n}}\n"
        )
    };
    let found = shown(&text("permissible unb$0alance => 81.7 g·mm"));
    holds(
        &found,
        &[
            "    ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^\n**permissible unbalance** 81.7 g·mm",
            "U_per = 9549.3 · G · m ÷ n\n      = 9549.3 · 6.3 · 4.82 ÷ 3550",
            "*Source: ISO 21940-11",
        ],
    );
    assert!(!found.contains("Stale"));
    let stale = shown(&text("permissible unbalance => 9$00.0 g·mm"));
    holds(&stale, &["Stale: `90.0 g·mm` is written here, and `81.7 g·mm` is computed"]);
    let missing = shown("rotor a {\n  tolerance {\n    grade: G 6.3\n    permissible unbalance => 8$0 g·mm\n");
    holds(&missing, &["not computed, `mass` in rotor \"a\" is missing"]);
}

#[test]
fn a_name_shows_the_summary_of_its_item() {
    let setup = |line: &str| shown(&format!("{SHOP}{SETUP}  {line}\n}}\n"));
    let rotor = shown(&format!("{SHOP}#! s.rotor\nsetup s {{\n  rotor: whe$0el\n}}\n"));
    holds(
        &rotor,
        &["         ^^^^^\n**rotor \"wheel\"**  \n4 kg, permissible 80.0 g·mm", "mass: 4 kg\n", "plane hub { … }"],
    );
    let plane = setup("calibrate h$0ub {\n  }");
    holds(&plane, &["**plane hub** of `rotor \"wheel\"`", "tolerance 40.0 g·mm", "radius: 100 mm"]);
    let control = setup("settings {\n    \"needle$0 side\": left\n  }");
    holds(&control, &["**control needle side** of `machine \"soft bench\"`", "positions: left, right", "left first"]);
    holds(&setup("trial t {\n    reading le$0ft: 3 div\n  }"), &["**channel left** of `machine \"soft bench\"`"]);
    let metal = shown("rotor a {\n  plane p {\n    material: \"cast al$0uminium\"\n");
    holds(&metal, &["density 2700 kg/m³, spread ± 100 kg/m³"]);
    let code = shown("shop {\n  severity dec$0imal-comma {\n");
    holds(&code, &["**decimal-comma**: A number is written with a decimal comma"]);
}

#[test]
fn kinds_choices_places_and_units_are_explained() {
    holds(&shown("set$0up s {\n}\n"), &["^^^^^\n**setup**", "- must have `rotor`, `machine` and `balancing speed`"]);
    let choice = shown("setup s {\n  indicates: heavy$0 spot\n}\n");
    holds(
        &choice,
        &[
            "             ^^^^^^^^^^\n**heavy spot**: The angle points at where material is to be taken off.\n",
            "- `light spot`: ",
        ],
    );
    let places = shown("rotor a {\n  plane p {\n    places: 4$0 from 30 deg\n");
    holds(&places, &["4 places, 90 deg apart: 30, 120, 210, 300 deg"]);
    let unit = shown("shop {\n  show in: g$0·mm\n}\n");
    // An ounce is 28.349 523 125 g, an inch 25.4 mm: 1 g·mm is a 720.078th of an ounce inch.
    holds(&unit, &["**g·mm**: unbalance (mass × length); 1 g·mm = 0.00138874 oz·in"]);
}

#[test]
fn nothing_in_comments_blank_lines_and_texts_without_names() {
    assert_eq!(shown("# mass$0\n"), "nothing");
    assert_eq!(shown("rotor a {\n  mass: 3 kg # ma$0ss\n}\n"), "nothing");
    assert_eq!(shown("rotor a {\n$0\n}\n"), "nothing");
    assert_eq!(shown("$0"), "nothing");
    holds(&shown("rotor a {\n  note: \"ma$0ss\"\n}\n"), &["**note** in `rotor`"]);
}
