//! `balance` and `prove`: what the bench is asked, one thing at a time, written down after each answer.

mod answers;
mod balance;
mod desk;
mod practice;
mod prove;

pub(super) use balance::{BalanceArguments, run as balance};
pub(super) use prove::{ProveArguments, run as prove};

use super::Session;
use crate::asking::Question;
use crate::text::{Edit, harmless};

/// Says what an answer was written as.
fn written(session: &mut Session, question: &Question<'_>, edits: &[Edit]) {
    let text = edits.iter().flat_map(|edit| edit.text.lines()).map(str::trim);
    let is_said = |line: &&str| !line.is_empty() && *line != "}" && !line.ends_with('{') && !line.ends_with(": ?");
    let lines: Vec<&str> = text.filter(is_said).collect();
    if lines.is_empty() {
        return;
    }
    let lines = match (&lines[..], &*question.head) {
        ([value], head) if !head.is_empty() && !value.contains(": ") => format!("{head}: {value}"),
        _ => lines.join("; "),
    };
    session.terminal.show(&format!("  written: {}", harmless(&lines)));
}
