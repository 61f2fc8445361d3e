//! Every message leads on: one whose help names a line to write offers to write it.

use rotorbook::check::{self, Diagnostic};
use rotorbook::units::Unit;

use crate::faulty::{check_files, files};
use crate::support::faulty;

/// Whose help names a line that nobody but the reader can write, and why.
const FOR_THE_READER: [(&str, &str); 3] = [
    ("block-needs-name", "only the reader knows what it is called"),
    ("no-shop", "the shop begins a file of its own"),
    ("part-without-setup", "a setup begins a sheet of its own"),
];

/// Whose help names an amount that no fix can write, and why.
const AMOUNTS_FOR_THE_READER: [(&str, &str); 9] = [
    ("arbor-unbalance-eats-tolerance", "it is of a fit that nobody has made yet"),
    ("bad-value", "only the reader knows the limits"),
    ("barred-everywhere", "it explains how a range is read"),
    ("exponent-out-of-range", "it is an example"),
    ("fit-spends-tolerance", "it is of a fit that nobody has made yet"),
    ("missing-operand", "it is an example"),
    ("radius-known-too-poorly", "the radius is to be measured again"),
    ("tolerance-off-its-mark", "the dials are to be set again first"),
    ("wrong-dimension", "only the reader knows the radius"),
];

/// Whether words name an amount that a fact might have: a number with its unit.
fn names_an_amount(help: &str) -> bool {
    let words: Vec<&str> = help.split([' ', '`']).collect();
    words.windows(2).any(|pair| {
        let unit = pair[1].trim_end_matches([',', ';', ':', '.', ')']);
        pair[0].parse::<f64>().is_ok() && !unit.is_empty() && Unit::parse(unit).is_ok()
    })
}

/// Whether words name a line of a sheet: between backticks, a key and its colon, or a block and its brace.
fn names_a_line(help: &str) -> bool {
    let quoted = help.split('`').skip(1).step_by(2);
    quoted.into_iter().any(|words| {
        let is_head = words.starts_with(|letter: char| letter.is_ascii_lowercase());
        is_head && (words.contains(": ") || words.contains("=>") || words.ends_with('{'))
    })
}

#[test]
fn a_help_that_names_a_line_offers_to_write_it() {
    leads_on(names_a_line, &FOR_THE_READER);
}

#[test]
fn a_help_that_names_an_amount_offers_to_write_it() {
    leads_on(names_an_amount, &AMOUNTS_FOR_THE_READER);
}

/// Whether each diagnostic whose help names something offers a fix, but for those that are listed with a reason.
fn leads_on(names: impl Fn(&str) -> bool, listed: &[(&str, &str)]) {
    let mut failures = Vec::new();
    for rule in check::rules() {
        let Some(sheet) = faulty::of(rule.code) else { continue };
        let (found, _) = check_files(&files(sheet.bytes));
        let own: Vec<&Diagnostic> = found.iter().filter(|diagnostic| diagnostic.rule == *rule).collect();
        let reason = listed.iter().find(|(code, _)| *code == rule.code);
        let without = own.iter().find(|said| said.fixes.is_empty() && said.help.as_deref().is_some_and(&names));
        match (without, reason) {
            (Some(said), None) => failures.push(format!("{}: {}", rule.code, said.help.as_deref().unwrap_or_default())),
            (None, Some(_)) => failures.push(format!("{}: it is listed for nothing", rule.code)),
            _ => {}
        }
    }
    assert!(failures.is_empty(), "help that names what to write, and no fix:\n{}", failures.join("\n"));
}
