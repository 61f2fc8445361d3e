//! The tables of the reference are those of the program. `UPDATE_REFERENCE=1 cargo test --test language reference` renews
//! them.

use std::fs;
use std::path::Path;

use rotorbook::reference;

#[test]
fn the_reference_holds_the_programs_own_tables() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("grammar/README.md");
    let document = fs::read_to_string(&path).unwrap();
    let renewed = reference::renewed(&document);
    if std::env::var_os("UPDATE_REFERENCE").is_some() {
        fs::write(&path, &renewed).unwrap();
        return;
    }
    let stale = document.lines().zip(renewed.lines()).find(|(written, computed)| written != computed);
    let renew = "UPDATE_REFERENCE=1 cargo test --test language reference";
    assert!(document == renewed, "stale at {stale:?}; {renew} renews it");
}

#[test]
fn every_table_has_its_place_in_the_reference() {
    let document = include_str!("../../grammar/README.md");
    for region in reference::regions() {
        assert!(document.contains(&format!("<!-- begin {} -->", region.name)), "{} has no place", region.name);
    }
}
