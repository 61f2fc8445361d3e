//! `pin`: what is in the text is written again where it is stale.

use crate::support::cli::{FAN, Folder};

#[test]
fn stale_pins_are_refreshed_in_their_form_and_nothing_else_is_touched() {
    let folder = Folder::with(&[("fan.rotor", FAN)]);
    let looked = folder.run("pin --check");
    let stale = looked.stdout();
    let line = FAN.lines().position(|line| line.contains("reading => 9.9 div")).unwrap() + 1;
    assert!(stale.contains(&format!("fan.rotor:{line}:5: reading: 9.9 div → ")), "{stale}");
    assert!(!stale.contains("permissible unbalance"), "81.7 g·mm is fresh: {stale}");
    assert_eq!(looked.code(), 1);
    assert_eq!(folder.read("fan.rotor"), FAN);

    let ran = folder.run("pin");
    assert_eq!(ran.stdout(), stale, "what was found stale is written");
    let written = folder.read("fan.rotor");
    let changed: Vec<_> = FAN.lines().zip(written.lines()).filter(|(old, new)| old != new).collect();
    assert_eq!(changed.len(), stale.lines().count(), "{changed:?}");
    assert!(changed.iter().all(|(old, new)| old.split("=>").next() == new.split("=>").next()), "{changed:?}");
    assert_eq!(folder.run("pin").stdout(), "");
    assert_eq!(folder.read("fan.rotor"), written);
}

#[test]
fn a_pin_without_a_result_is_named() {
    let text = FAN.replace("permissible unbalance =>", "permissible unbalnce =>");
    let folder = Folder::with(&[("fan.rotor", &text)]);
    let ran = folder.run("pin");
    ran.ends(1);
    assert!(ran.stderr().contains("permissible unbalnce is not a result of tolerance"), "{}", ran.stderr());
}

#[test]
fn no_pin_is_written_while_a_conflict_stands() {
    let text = format!("{FAN}<<<<<<< ours\n=======\n>>>>>>> theirs\n");
    let folder = Folder::with(&[("fan.rotor", &text)]);
    let ran = folder.run("pin");
    assert_eq!(ran.ends(2).stdout(), "");
    assert!(ran.stderr().contains("a conflict is not resolved: fan.rotor:"), "{}", ran.stderr());
    assert_eq!(folder.read("fan.rotor"), text);
}

#[test]
fn a_question_mark_is_filled_and_never_with_too_few_decimals() {
    let folder = Folder::with(&[("fan.rotor", &FAN.replace("reading => 9.9 div", "reading => ?"))]);
    let ran = folder.run("pin");
    assert!(ran.stdout().contains(": reading: ? → "), "{}", ran.stdout());
    let written = folder.read("fan.rotor");
    assert!(!written.contains('?'), "{written}");
    assert_eq!(folder.run("pin").stdout(), "", "what has been filled is fresh");
}
