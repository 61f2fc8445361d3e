//! No text of a sheet does more on a card than be read.

use std::sync::LazyLock;

use crate::support::cards::{book_with, cards, example_book, harmful, printed};
use rotorbook::card::{self, Card, Fonts, Paper};

/// All that a card is written as.
fn outputs(text: &str) -> Vec<String> {
    let cards = cards(&book_with(text));
    assert_eq!(cards.len(), 3, "{text:.40}");
    let mut outputs = vec![html(text, &cards)];
    for card in &cards {
        outputs.push(card::text(card));
        outputs.extend(card::drawings(card));
        let fonts = Fonts::default();
        outputs.push(card::svg(text, &card::pages(card, Paper::A4, &fonts), &fonts));
    }
    outputs
}

fn html(title: &str, cards: &[Card]) -> String {
    card::html(title, cards, &printed(), Paper::A4, &Fonts::default())
}

/// The same of each harmful text, worked out once.
static HARMFUL: LazyLock<Vec<(String, Vec<String>)>> =
    LazyLock::new(|| harmful().into_iter().map(|text| (text.clone(), outputs(&text))).collect());

/// The elements of a page, by name, in order.
fn elements(page: &str) -> Vec<&str> {
    let names = page.split('<').skip(1).map(|rest| {
        let end = rest.find(|c: char| !c.is_alphanumeric()).unwrap_or(rest.len());
        &rest[..end]
    });
    names.filter(|name| !name.is_empty()).collect()
}

#[test]
fn texts_of_a_sheet_make_no_elements() {
    let plain = outputs("plain");
    for (text, outputs) in HARMFUL.iter() {
        for (output, plain) in outputs.iter().zip(&plain).filter(|(output, _)| output.starts_with('<')) {
            let mut own = elements(output);
            let mut expected = elements(plain);
            // Long words have places to break, long rows more room: nothing else may differ.
            own.retain(|name| *name != "wbr");
            expected.retain(|name| *name != "wbr");
            own.sort_unstable();
            own.dedup();
            expected.sort_unstable();
            expected.dedup();
            assert!(own.iter().all(|name| expected.contains(name)), "{text:.60}: {own:?} beside {expected:?}");
        }
    }
}

#[test]
fn nothing_runs_and_nothing_is_loaded() {
    let example = cards(&example_book());
    let pages = example.iter().flat_map(|card| [html("card", std::slice::from_ref(card)), card::text(card)]);
    let harmless: Vec<String> = pages.chain(outputs("plain")).collect();
    let harmful = HARMFUL.iter().flat_map(|(_, outputs)| outputs);
    for output in harmless.iter().chain(harmful).filter(|output| output.starts_with('<')) {
        // The name of the format is all the address there is, in a drawing that is a file of its own.
        let output = output.replace("xmlns=\"http://www.w3.org/2000/svg\"", "");
        // Fonts are in the file.
        let output = output.replace("url(data:font/woff2;base64,", "");
        for word in ["<script", "<img", "<iframe", "<link", "<object", "@import", "url(", "javascript:"] {
            assert!(!output.contains(word), "{word}");
        }
        let tags = output.split('<').skip(1).filter_map(|rest| rest.split('>').next());
        for tag in tags {
            let attributes: String = tag.split('"').step_by(2).collect();
            assert!(!attributes.contains(" on"), "{tag}");
            assert!(!attributes.contains("src="), "{tag}");
        }
    }
    for output in &harmless {
        let output = output.replace("xmlns=\"http://www.w3.org/2000/svg\"", "").replace("http-equiv", "");
        assert!(!output.contains("http"), "an address");
    }
}

#[test]
fn what_turns_its_neighbours_is_replaced_or_kept_to_itself() {
    for output in outputs("a\u{202e}kcab\u{202c} \u{200f}\u{2066}x") {
        assert!(!output.contains(['\u{202e}', '\u{202c}', '\u{200f}', '\u{2066}']));
        assert!(output.contains('\u{fffd}'));
    }
    for output in outputs("מאוורר 315") {
        if output.starts_with("<!DOCTYPE") {
            assert!(output.contains("<bdi>") && output.contains("מאוורר"));
        } else if !output.starts_with('<') {
            assert!(output.contains("\u{2068}מאוורר 315"));
        }
    }
}

#[test]
fn what_is_too_long_is_cut_and_says_so() {
    let (_, outputs) = HARMFUL.iter().find(|(text, _)| text.starts_with("xxx")).unwrap();
    for output in outputs {
        assert!(output.len() < 900_000, "{}", output.len());
        assert!(!output.contains(&"x".repeat(500)));
        if !output.starts_with("<?xml") {
            assert!(output.contains("more characters"), "{output:.200}");
        }
    }
    let text = outputs.iter().find(|output| !output.starts_with('<')).unwrap();
    assert!(text.lines().all(|line| line.chars().count() <= 88), "{text}");
}
