use super::*;
use crate::diff;
use crate::ide::testing::{Fixture, SETUP, SHOP, fixture};

/// The wheel with a calibration of 400 g·mm in the hub: at 40 g·mm a division that reads 10.0 div.
fn sheet(more: &str) -> String {
    let calibration = "  calibrate hub {\n    mass: 4.00 g\n    radius: 100.0 mm\n  }\n}\n";
    format!("{SHOP}{SETUP}{more}{calibration}")
}

fn compared(old: &str, new: &str) -> (Fixture, Consequences) {
    let (old, new) = (fixture(old), fixture(new));
    let diff = diff::compare_and_judge(&old.book, &new.book);
    (new, Consequences { since: "the last save".to_owned(), diff, mended: Vec::new() })
}

fn hints(fixture: &Fixture, found: &Consequences) -> Vec<String> {
    let all = consequence_hints(&fixture.book, fixture.file, found, Some(fixture.offset));
    let line = |at: u32| fixture.book.file(fixture.file).text[..at as usize].lines().last().unwrap_or("").to_owned();
    all.into_iter().map(|hint| format!("{} | {}", line(hint.at), hint.label)).collect()
}

/// m·r ÷ 40 g·mm a division: 4 g at 100 mm read 10.0 div, at 110 mm 11.0 div.
#[test]
fn a_line_says_what_it_moves() {
    let (old, new) = (sheet(""), sheet("").replace("100.0 mm", "110$0.0 mm"));
    let (fixture, found) = compared(&old, &new);
    let hints = hints(&fixture, &found);
    assert_eq!(hints.len(), 1, "{hints:?}");
    assert!(hints[0].starts_with("    radius: 110.0 mm | moves "), "{hints:?}");
    assert!(hints[0].contains("hub reading 10.0 → 11.0 div"), "{hints:?}");
    let above = since(&fixture.book, fixture.file, &found);
    assert!(above[0].title.starts_with("since the last save: 1 fact, "), "{above:?}");
}

/// Half the tolerance makes a division half as large: the same mass reads 20.0 div in the other sheet.
#[test]
fn a_line_says_what_it_moves_in_other_sheets() {
    let (old, new) = (sheet(""), sheet("").replace("total: 80 g·mm", "total: 40$0 g·mm"));
    let (fixture, found) = compared(&old, &new);
    let hints = hints(&fixture, &found);
    assert_eq!(hints.len(), 1, "{hints:?}");
    assert!(hints[0].starts_with("    total: 40 g·mm | moves 1 sheet: "), "{hints:?}");
    let told = consequences_here(&fixture.book, fixture.file, fixture.offset, &found).unwrap();
    assert!(told.contains("| hub reading | 10.0 div | 20.0 div |"), "{told}");
    let setup = fixture.book.file_at("setups/wheel.rotor").unwrap();
    let above = since(&fixture.book, setup, &found);
    assert!(above.iter().any(|since| since.title.contains("result")), "{above:?}");
    let told = consequences(&fixture.book, setup, 0, &found).unwrap();
    assert!(told.contains("10.0 div"), "{told}");
}

#[test]
fn what_moves_nothing_is_not_told() {
    let (old, new) = (sheet(""), sheet("  note: \"seen$0\"\n"));
    let (fixture, found) = compared(&old, &new);
    assert_eq!(hints(&fixture, &found), Vec::<String>::new());
    let (fixture, found) = compared(&old, &sheet("").replace("mass: 4.00 g", "mass: 4000 mg"));
    assert_eq!(hints(&fixture, &found), Vec::<String>::new());
}

#[test]
fn a_released_sheet_that_moves_is_raised() {
    let released = "  status: released\n  revision: \"C\"\n";
    let old = sheet(released);
    let (fixture, found) = compared(&old, &old.replace("radius: 100.0 mm", "radius: 110$0.0 mm"));
    let titles = |fixture: &Fixture, found: &Consequences| -> Vec<String> {
        let found = revisions(&fixture.book, fixture.file, fixture.range, found);
        found.into_iter().map(|action| action.title).collect()
    };
    let raise = "Raise the revision of setup \"wheel on the soft bench\" from C to D";
    assert_eq!(titles(&fixture, &found), [raise]);
    // The offer is at a change in another sheet too.
    let (fixture, found) = compared(&old, &old.replace("total: 80 g·mm", "total: 40$0 g·mm"));
    assert_eq!(titles(&fixture, &found), [raise]);
    let raised = old.replace("radius: 100.0 mm", "radius: 110$0.0 mm").replace("\"C\"", "\"D\"");
    let (fixture, found) = compared(&old, &raised);
    assert_eq!(titles(&fixture, &found), Vec::<String>::new());
}
