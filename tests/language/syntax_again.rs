//! A text read again after changes is read as if for the first time.

use crate::support::texts::{lines, piece};
#[allow(dead_code, reason = "each test takes what it needs")]
use proptest::prelude::*;
use rotorbook::syntax::{Tree, parse, parse_again};

const SHEET: &str = include_str!("../data/fan-wheel.rotor");
const LISTS: [&str; 3] =
    [include_str!("../data/odd-lines.txt"), include_str!("../data/values.txt"), include_str!("../data/blocks.txt")];

/// A change: from where, how many characters go, what comes in their place.
type Change = (usize, usize, String);

fn changed(text: &str, (at, length, by): &Change) -> String {
    let characters: Vec<char> = text.chars().collect();
    let at = at % (characters.len() + 1);
    let end = (at + length).min(characters.len());
    characters[..at].iter().copied().chain(by.chars()).chain(characters[end..].iter().copied()).collect()
}

fn changes() -> impl Strategy<Value = Vec<Change>> {
    let by = prop_oneof![
        6 => prop::collection::vec(piece(), 0..3).prop_map(|pieces| pieces.concat()),
        1 => lines(),
        2 => Just(String::new()),
    ];
    let length = prop_oneof![4 => 0usize..3, 2 => 0usize..40, 1 => 0usize..400];
    prop::collection::vec((0usize..4000, length, by), 1..8)
}

/// Reads a text, then each of its later states again.
fn check(text: &str, changes: &[Change]) {
    let (mut text, mut tree) = (text.to_owned(), parse(text));
    for change in changes {
        let next = changed(&text, change);
        let again = parse_again(&text, &tree, &next);
        assert_same(&again, &parse(&next), &text, &next);
        (text, tree) = (next, again);
    }
}

fn assert_same(again: &Tree, fresh: &Tree, before: &str, after: &str) {
    for (again, fresh) in again.lines.iter().zip(&fresh.lines) {
        assert_eq!(again, fresh, "\n--- before\n{before}\n--- after\n{after}");
    }
    assert_eq!(again, fresh, "\n--- before\n{before}\n--- after\n{after}");
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, cases: 512, ..ProptestConfig::default() })]

    #[test]
    fn lines_in_any_order(text in lines(), changes in changes()) {
        check(&text, &changes);
    }

    #[test]
    fn pieces_in_any_order(pieces in prop::collection::vec(piece(), 0..80), changes in changes()) {
        check(&pieces.concat(), &changes);
    }

    #[test]
    fn a_sheet(changes in changes()) {
        check(SHEET, &changes);
    }
}

/// Whole lines vanish and come back, one after the other.
#[test]
fn each_line_gone_and_back() {
    for text in LISTS.iter().chain([&SHEET]) {
        let tree = parse(text);
        let lines: Vec<&str> = text.split_inclusive('\n').collect();
        for gone in 0..lines.len() {
            let rest = format!("{}{}", lines[..gone].concat(), lines[gone + 1..].concat());
            let without = parse_again(text, &tree, &rest);
            assert_same(&without, &parse(&rest), text, &rest);
            assert_same(&parse_again(&rest, &without, text), &tree, &rest, text);
        }
    }
}
