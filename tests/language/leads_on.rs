//! Every message leads on: one whose help names a line to write offers to write it.

use rotorbook::check::{self, Diagnostic};

use crate::faulty::{check_files, files};
use crate::support::faulty;

/// Whose help names a line that nobody but the reader can write, and why.
const FOR_THE_READER: [(&str, &str); 3] = [
    ("block-needs-name", "only the reader knows what it is called"),
    ("no-shop", "the shop begins a file of its own"),
    ("part-without-setup", "a setup begins a sheet of its own"),
];

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
    let mut failures = Vec::new();
    for rule in check::rules() {
        let Some(sheet) = faulty::of(rule.code) else { continue };
        let (found, _) = check_files(&files(sheet.bytes));
        let own: Vec<&Diagnostic> = found.iter().filter(|diagnostic| diagnostic.rule == *rule).collect();
        let reason = FOR_THE_READER.iter().find(|(code, _)| *code == rule.code);
        let without = own.iter().find(|said| said.fixes.is_empty() && said.help.as_deref().is_some_and(names_a_line));
        match (without, reason) {
            (Some(said), None) => failures.push(format!("{}: {}", rule.code, said.help.as_deref().unwrap_or_default())),
            (None, Some(_)) => failures.push(format!("{}: it is listed for nothing", rule.code)),
            _ => {}
        }
    }
    assert!(failures.is_empty(), "help that names a line, and no fix:\n{}", failures.join("\n"));
}
