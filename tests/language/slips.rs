//! Slips of the hand, as people make them who come from paper and from other notations: what is said to each.
//!
//! A row of the data files has the blocks around the line, then the line; `\n` in it is a line end. `slips.txt` is about
//! lines that the parser cannot take, `fact_slips.txt` about facts that mean nothing. The snapshots are to be read: every
//! message tells its reader what to write.

use std::sync::Arc;

use proptest::prelude::*;

use rotorbook::book::{Book, SourceFile};
use rotorbook::check::{self, Diagnostic, Run};
use rotorbook::text::{Edit, apply};

struct Row {
    written: &'static str,
    text: String,
    line: std::ops::Range<usize>,
}

/// Slips of one sort, and which rules speak of them.
struct Slips {
    rows: &'static str,
    of: fn(&Run) -> bool,
}

const LINES: Slips = Slips { rows: include_str!("../data/slips.txt"), of: |run| matches!(run, Run::Syntax(..)) };
const FACTS: Slips = Slips { rows: include_str!("../data/fact_slips.txt"), of: |run| matches!(run, Run::Fact(..)) };

impl Slips {
    fn rows(&self) -> impl Iterator<Item = Row> {
        self.rows.lines().filter(|row| !row.is_empty() && !row.starts_with('#')).map(Row::of)
    }

    fn said(&self, text: &str) -> Vec<Diagnostic> {
        let mut said = said(text);
        said.retain(|diagnostic| (self.of)(&diagnostic.rule.run));
        said
    }
}

impl Row {
    fn of(row: &'static str) -> Self {
        let (path, line) = row.split_once("| ").expect("a row has blocks, a stroke and a line");
        let line = line.replace("\\n", "\n").replace("\\t", "\t").replace("\\u00a0", "\u{a0}");
        let blocks: Vec<&str> = path.trim().split('/').filter(|block| !block.is_empty()).collect();
        let before: String = blocks.iter().map(|block| format!("{block} {{\n")).collect();
        let text = format!("{before}{line}\n{}", "}\n".repeat(blocks.len()));
        Row { written: row, text, line: before.len()..before.len() + line.len() }
    }
}

fn said(text: &str) -> Vec<Diagnostic> {
    check::check(&Book::new(vec![Arc::new(SourceFile::read("slip.rotor", text))]))
}

fn mended(text: &str, fix: &check::Fix) -> String {
    let edits: Vec<Edit> = fix.edits.iter().map(|edit| edit.edit.clone()).collect();
    apply(text, &edits).expect("the edits of a fix do not overlap")
}

/// The row's own lines in a text that was changed there alone.
fn lines_of<'t>(row: &Row, text: &'t str) -> &'t str {
    // A fix may take the whole line out, its end included.
    text.get(row.line.start..text.len() - (row.text.len() - row.line.end)).unwrap_or("")
}

fn report(slips: &Slips) -> String {
    let mut out = String::new();
    for row in slips.rows() {
        out.push_str(&format!("{}\n", row.written));
        for diagnostic in slips.said(&row.text) {
            out.push_str(&format!("    {}: {}\n", diagnostic.rule.code, diagnostic.message));
            out.push_str(&format!("      = {}\n", diagnostic.help.as_deref().unwrap_or("")));
            for fix in &diagnostic.fixes {
                let lines = mended(&row.text, fix);
                out.push_str(&format!("      > {}: {:?}\n", fix.title, lines_of(&row, &lines)));
            }
        }
    }
    out
}

#[test]
fn what_is_said_to_each_slip() {
    insta::assert_snapshot!(report(&LINES));
}

#[test]
fn what_is_said_to_each_slip_in_a_fact() {
    insta::assert_snapshot!(report(&FACTS));
}

#[test]
fn every_slip_is_found_and_told_what_to_write() {
    for (slips, row) in [&LINES, &FACTS].into_iter().flat_map(|slips| slips.rows().map(move |row| (slips, row))) {
        let said = slips.said(&row.text);
        assert!(!said.is_empty(), "{}: nothing is said", row.written);
        for Diagnostic { message, help, .. } in &said {
            let help = help.as_deref().unwrap_or("");
            assert!(!help.is_empty(), "{}: no help", row.written);
            for words in [&**message, help] {
                assert!(!words.ends_with('.') && !words.contains("``"), "{}: {words}", row.written);
            }
        }
    }
}

#[test]
fn a_slip_in_a_fact_is_spoken_of_once() {
    for row in FACTS.rows() {
        let about_lines = LINES.said(&row.text);
        assert!(about_lines.is_empty(), "{}: also {}", row.written, about_lines[0].rule.code);
        assert_eq!(FACTS.said(&row.text).len(), 1, "{}", row.written);
    }
}

#[test]
fn every_fix_removes_what_it_is_offered_for() {
    for (slips, row) in [&LINES, &FACTS].into_iter().flat_map(|slips| slips.rows().map(move |row| (slips, row))) {
        let before = slips.said(&row.text);
        for diagnostic in &before {
            for fix in &diagnostic.fixes {
                let after = slips.said(&mended(&row.text, fix));
                let count = |said: &[Diagnostic]| said.iter().filter(|one| one.rule == diagnostic.rule).count();
                assert!(count(&after) < count(&before), "{}: `{}` does not help", row.written, fix.title);
            }
        }
    }
}

/// Pieces of which broken lines are made: of sheets, of other notations, and of more bytes than one.
const PIECES: [&str; 48] = [
    "mass",
    "radius",
    "rotor",
    "plane",
    "setup",
    "calibrate",
    "settings",
    "date",
    "shows",
    "reading",
    "places",
    "é",
    "Ø",
    ":",
    "=>",
    "{",
    "}",
    "\"",
    "“",
    "”",
    "'",
    "’",
    "#",
    "\n",
    " ",
    " ",
    " ",
    "  ",
    ",",
    ";",
    "±",
    "+",
    "-",
    "–",
    "*",
    "/",
    "·",
    "@",
    "(",
    ")",
    "3",
    "1,150",
    "12.11.2026",
    "g",
    "mm",
    "°",
    "½",
    "\u{a0}",
];

proptest! {
    #[test]
    fn whatever_stands_in_a_file_is_spoken_of_in_its_own_places(picked in prop::collection::vec(0..PIECES.len(), 1..30)) {
        let text: String = picked.into_iter().map(|piece| PIECES[piece]).collect();
        for text in [text.clone(), format!("setup \"s\" {{\n  calibrate hub {{\n{text}\n  }}\n}}\n")] {
            for diagnostic in said(&text) {
                let span = diagnostic.place.span;
                prop_assert!(text.get(span.range()).is_some(), "{:?} at {:?}", diagnostic.rule, span);
                for fix in &diagnostic.fixes {
                    let cut = fix.edits.iter().all(|edit| text.get(edit.edit.span.range()).is_some());
                    prop_assert!(cut, "{:?}: {:?}", diagnostic.rule, fix);
                    mended(&text, fix);
                }
            }
        }
    }
}
