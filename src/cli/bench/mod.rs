//! `balance` and `prove`: what the bench is asked, one thing at a time, written down after each answer.

mod answers;
mod balance;
mod desk;
mod practice;
mod prove;

pub(super) use balance::{BalanceArguments, run as balance};
pub(super) use prove::{ProveArguments, run as prove};

use super::{Failure, Session};
use crate::asking::Question;
use crate::book::{Computing, SetupResults};
use crate::card;
use crate::text::{Edit, harmless};

/// Errors of what can hurt somebody once the drive starts: nothing is run before they are corrected.
const HARMFUL: [&str; 9] = [
    "balancing-speed-above-safe",
    "journal-does-not-fit",
    "motor-speed-not-on-machine",
    "radius-beyond-swing",
    "rotor-lifts-off-support",
    "rotor-too-heavy",
    "rotor-too-large",
    "speed-not-on-machine",
    "supports-do-not-fit",
];

/// Says what a card begins with: errors, and the cautions of the work. An error of what can hurt bars it. What is said by other words is
/// let be.
fn may_begin(
    session: &mut Session,
    computing: &Computing<'_>,
    setup: &SetupResults<'_>,
    let_be: &[&str],
) -> Result<(), Failure> {
    let (book, name) = (computing.book(), computing.book().item(setup.id).name_text());
    let errors = card::errors(computing, setup.id);
    errors.iter().filter(|one| !let_be.contains(&one.rule.code)).for_each(|one| desk::say(session, one));
    if let Some(first) = errors.iter().find(|one| HARMFUL.contains(&one.rule.code)) {
        let file = &book.file(first.place.file).path;
        return Err(Failure::new(format!("setup \"{}\" is not to be run", harmless(name)))
            .help(format!("correct it first, in {}", harmless(file))));
    }
    for line in card::cautions(book, setup) {
        session.terminal.show(&harmless(&line));
    }
    Ok(())
}

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
