//! Laying a sheet out changes nothing that is found in it: a line in error does not become right by being moved.
#![allow(clippy::unwrap_used, reason = "a test may")]

#[allow(dead_code, reason = "it takes what it needs")]
mod support;

use std::collections::BTreeMap;
use std::sync::Arc;

use proptest::prelude::*;
use rotorbook::book::{Book, SourceFile};
use rotorbook::check;
use rotorbook::format::format;
use support::{lines, strewn};

const SHEET: &str = include_str!("data/fan-wheel.rotor");

/// How often each code is found in a book of this one sheet.
fn found(text: &str) -> BTreeMap<&'static str, usize> {
    let book = Book::new(vec![Arc::new(SourceFile::read("a.rotor", text))]);
    let mut found = BTreeMap::new();
    check::check(&book).iter().for_each(|one| *found.entry(one.rule.code).or_default() += 1);
    found
}

fn keeps_what_is_found(written: &str) {
    if let Ok(laid_out) = format(written) {
        assert_eq!(found(&laid_out), found(written), "{written:?} became {laid_out:?}");
    }
}

/// What a hand or a program may do to a line.
fn slip() -> impl Strategy<Value = String> {
    let slips =
        ["µ  ", "l   ", "  ", "\t\t", ";", " : ", "  =  ", "m8 ", "x  y", "(", " ±  ", "²", "0", ",", " kg", "\u{a0}"];
    prop::sample::select(slips.to_vec()).prop_map(str::to_owned)
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, cases: 256, ..ProptestConfig::default() })]

    #[test]
    fn a_sheet_with_slips_strewn_in(places in prop::collection::vec((0usize..2000, slip()), 1..4)) {
        keeps_what_is_found(&strewn(SHEET, places));
    }

    #[test]
    fn lines_in_any_order(written in lines()) {
        keeps_what_is_found(&written);
    }
}

#[test]
fn a_stray_letter_before_a_key_stays_as_far_from_it() {
    for line in ["µ  mass: 3.00 kg", "l  mass: 4.82 kg", "μ    angles: by strobe"] {
        keeps_what_is_found(&format!("rotor \"a\" {{\n{line}\n}}\nmachine \"b\" {{\n  readout {{\n{line}\n  }}\n}}\n"));
    }
    assert!(format("rotor a {\n  mass: 70 m8\n}\n").unwrap().contains("70 m8"));
}
