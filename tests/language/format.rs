//! The canonical layout: what it looks like, and that it changes nothing but looks.

use crate::support::texts::{lines, piece, strewn};
use proptest::prelude::*;
use rotorbook::format::{edits, format};
use rotorbook::syntax::{SyntaxErrorKind, outline, parse};
use rotorbook::{text, units};

const SHEET: &str = include_str!("../data/fan-wheel.rotor");

fn formatted(written: &str) -> String {
    format(written).expect("the text has no conflict in it")
}

#[track_caller]
fn check(written: &str, expected: &str) {
    let out = formatted(written);
    assert!(out == expected, "{written}\nbecame\n{out}\nnot\n{expected}");
}

/// A fact in a block.
#[track_caller]
fn check_line(written: &str, expected: &str) {
    check(&format!("rotor x {{\n{written}\n}}\n"), &format!("rotor x {{\n  {expected}\n}}\n"));
}

/// What a text says: its lines but for blank ones, each unit in one spelling, and the kinds of its errors.
fn meaning(written: &str) -> (String, Vec<SyntaxErrorKind>) {
    let tree = parse(written);
    let spell = |unit: &str| units::respell(unit).unwrap_or(unit.to_owned());
    let outline = outline(written, &tree, &spell);
    let lines = outline.lines().filter(|line| !line.is_empty() && !line.starts_with("! "));
    let mut kinds: Vec<_> = tree.errors.iter().map(|error| error.kind).collect();
    kinds.sort();
    (lines.map(|line| format!("{line}\n")).collect(), kinds)
}

/// Nothing but looks has changed, and a second time changes nothing.
fn keeps_its_promises(written: &str) {
    let Ok(once) = format(written) else {
        let conflict = parse(written).errors.iter().any(|error| error.kind == SyntaxErrorKind::ConflictMarkers);
        assert!(conflict, "refused without a conflict: {written:?}");
        return;
    };
    assert_eq!(formatted(&once), once, "twice is not once: {written:?}");
    assert_eq!(meaning(&once), meaning(written), "{written:?} became {once:?}");
    assert!(once.is_empty() || (once.ends_with('\n') && !once.ends_with("\n\n")), "{once:?}");
    assert_eq!(text::apply(written, &edits(written).expect("no conflict")).expect("edits in order"), once);
    assert!(edits(&once).expect("no conflict").is_empty());
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, cases: 512, ..ProptestConfig::default() })]

    #[test]
    fn any_text(pieces in prop::collection::vec(piece(), 0..60)) {
        keeps_its_promises(&pieces.concat());
    }

    #[test]
    fn lines_in_any_order(written in lines()) {
        keeps_its_promises(&written);
    }

    #[test]
    fn a_sheet_with_pieces_strewn_in(places in prop::collection::vec((0usize..2000, piece()), 1..6)) {
        keeps_its_promises(&strewn(SHEET, places));
    }
}

#[test]
fn every_case_of_the_lists() {
    for value in include_str!("../data/values.txt").lines().chain(include_str!("../data/odd-values.txt").lines()) {
        keeps_its_promises(&format!("rotor x {{\nk: {value}\n}}"));
    }
    for line in include_str!("../data/odd-lines.txt").lines() {
        keeps_its_promises(line);
        keeps_its_promises(&format!("rotor x {{\n{line}\nmass: 3 kg\n}}"));
    }
    for block in include_str!("../data/blocks.txt").trim_end().split("\n----\n") {
        keeps_its_promises(block);
    }
}

#[test]
fn a_sheet_laid_out_stays_as_it_is() {
    check(SHEET, SHEET);
}

#[test]
fn a_sheet_without_any_layout_gets_it_back() {
    let flat: String =
        SHEET.lines().filter(|line| !line.is_empty()).map(|line| format!("\t{}  \r\n", line.trim())).collect();
    // Where blank lines between facts were is not known any more; between blocks they come back.
    check(&format!("\u{feff}{flat}"), SHEET);
}

#[test]
fn blank_lines() {
    check("\n\nrotor a {\n\n\n  mass: 3 kg\n\n\n\n  at: 3 mm\n\n}\n\n\n", "rotor a {\n  mass: 3 kg\n\n  at: 3 mm\n}\n");
    check("rotor a {\n}\nrotor b {\n}", "rotor a {\n}\n\nrotor b {\n}\n");
    check(
        "rotor a {\n  plane hub {\n  }\n  mass: 3 kg\n  plane rim {\n  }\n}\n",
        "rotor a {\n  plane hub {\n  }\n\n  mass: 3 kg\n\n  plane rim {\n  }\n}\n",
    );
    check("", "");
    check("\n \n\t\n", "");
}

#[test]
fn comments() {
    check_line("mass: 4 kg#no space", "mass: 4 kg #no space");
    check_line("mass: 4 kg   # note  ", "mass: 4 kg # note");
    check(
        "rotor a {\n  mass: 3 kg\n  # the hub\n  # has holes\n  plane hub { # drilled\n # to the block\n  } # end\n  # the rest\n}\n# last",
        "rotor a {\n  mass: 3 kg\n\n  # the hub\n  # has holes\n  plane hub { # drilled\n    # to the block\n  } # end\n\n  # the rest\n}\n\n# last\n",
    );
    // A comment set apart from the heading below it stays apart.
    check("# of the file\n\nrotor a {\n}\n", "# of the file\n\nrotor a {\n}\n");
    check("rotor a {\n\n  # first\n\n  mass: 3 kg\n}\n", "rotor a {\n  # first\n\n  mass: 3 kg\n}\n");
}

#[test]
fn spaces_within_a_line() {
    check_line("\"dial: left\"  :  5", "\"dial: left\": 5");
    check_line("angles   count:with\trotation", "angles count: with rotation");
    check_line("amount=>3 div", "amount => 3 div");
    check_line("bearings: 0 mm ,  164 mm", "bearings: 0 mm, 164 mm");
    check_line("k: ( 12 mm  +  0.5 in )  *  2", "k: (12 mm + 0.5 in) * 2");
    check_line("k: 2.1  mark  on  coarse  @  310  deg", "k: 2.1 mark on coarse @ 310 deg");
    check_line("note: \"two  spaces\"", "note: \"two  spaces\"");
    check("rotor   a{\n}", "rotor a {\n}\n");
    check(
        "rotor a {\n  made   of\"b\"{\n  }\n  keyway drive  end {\n  }\n}",
        "rotor a {\n  made of \"b\" {\n  }\n\n  keyway drive end {\n  }\n}\n",
    );
}

#[test]
fn respelling_is_of_signs_alone() {
    check_line("k: 3 g*mm", "k: 3 g·mm");
    check_line("k: 3 g.mm", "k: 3 g·mm");
    check_line("k: 3 kg/m^3", "k: 3 kg/m³");
    check_line("k: 3 kg/m3 to 4 kg/m3", "k: 3 kg/m³ to 4 kg/m³");
    check_line("k: 3 \u{3bc}m", "k: 3 \u{b5}m");
    check_line("k: 1150 r/min", "k: 1150 r/min");
    check_line("k: 2.00 g +/-0.01 g ( k = 2 )", "k: 2.00 g ± 0.01 g (k=2)");
    check_line("k: 0.300 g", "k: 0.300 g");
    check_line("k: 3 parsecs", "k: 3 parsecs");
    check_line("k: G6.3", "k: G6.3");
    check_line("k: G   6.3", "k: G 6.3");
}

#[test]
fn lines_in_error_keep_their_text() {
    check_line("      mass:  4,82  kg   # as read", "mass:  4,82  kg   # as read");
    check_line("mass  3  kg", "mass  3  kg");
    check_line("k:  45°", "k:  45°");
    check_line("k:  g6.3", "k:  g6.3");
    check("  max  depth (mm): 3", "max  depth (mm): 3\n");
    check(
        "rotor a {\nplane hub { at:3 mm\nradius:4 mm\n}\n}",
        "rotor a {\n  plane hub { at:3 mm\n    radius: 4 mm\n  }\n}\n",
    );
    // Not moved to where it would be read as something else.
    check(" <<<<<<< a\n", " <<<<<<< a\n");
}

#[test]
fn blocks_in_error_are_laid_out_all_the_same() {
    check("mass:3 kg", "mass: 3 kg\n");
    check(
        "rotor a {\nplane hub {\nat:3 mm\nplane rim {\n}\n}",
        "rotor a {\n  plane hub {\n    at: 3 mm\n\n  plane rim {\n  }\n}\n",
    );
    check("rotor a\n{\nmass:3 kg\n}\nrotor b {\n}", "rotor a\n{\n  mass: 3 kg\n}\n\nrotor b {\n}\n");
}

#[test]
fn conflicts_are_refused() {
    let written = "rotor a {\n<<<<<<< x\n  mass: 3 kg\n=======\n  mass: 4 kg\n>>>>>>> y\n}\n";
    let refused = format(written).unwrap_err();
    assert!(
        refused.conflict.of(written).starts_with("<<<<<<< x") && refused.conflict.of(written).ends_with(">>>>>>> y")
    );
}
