//! `balance` and `prove`: what the bench is asked, one thing at a time, written down after each answer.

mod answers;
mod balance;
mod desk;
mod practice;
mod prove;

pub(super) use balance::{BalanceArguments, run as balance};
pub(super) use prove::{ProveArguments, run as prove};

use super::{Failure, Session, findings};
use crate::asking::Question;
use crate::book::{Book, Computing, FileId, SetupResults};
use crate::card;
use crate::sheet::{Block, Field};
use crate::syntax::Kind;
use crate::text::{Edit, harmless};

/// Says what a card begins with: errors, and the cautions of the work. An error of what can hurt bars it. What is said by other words is
/// let be.
fn may_begin(
    session: &mut Session,
    computing: &Computing<'_>,
    setup: &SetupResults<'_>,
    let_be: &[&str],
) -> Result<(), Failure> {
    findings::say_errors(session, computing, setup.id, &|one| !let_be.contains(&one.rule.code))?;
    for line in card::cautions(computing.book(), setup) {
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

/// The line that the last answer of an earlier session has left in these blocks, with its place: `records/wheel.rotor:14,
/// \`speed: …\``.
fn last_answer<'a>(book: &Book, file: FileId, blocks: impl IntoIterator<Item = &'a Block>) -> Option<String> {
    let source = book.file(file);
    let field = last_field(blocks)?;
    let line = source.line_index().line_of(field.head.start) + 1;
    let text = field.head.to(field.value_span).of(&source.text);
    Some(format!("{}:{line}, `{}`", harmless(&source.path), harmless(text)))
}

/// The fact that was answered last. `as run` and `proven with` are written by the program and hold no answers.
fn last_field<'a>(blocks: impl IntoIterator<Item = &'a Block>) -> Option<&'a Field> {
    let answers = blocks.into_iter().filter(|block| !matches!(block.kind, Kind::AsRun | Kind::ProvenWith));
    let last = |block: &'a Block| {
        let own = block.fields.iter().filter(|field| !field.value.is_hole());
        own.chain(last_field(&block.blocks)).max_by_key(|field| field.head.start)
    };
    answers.filter_map(last).max_by_key(|field| field.head.start)
}

/// What `back` says where nothing was answered since the start: what an earlier session was told is in the file.
fn nothing_to_take_back(last: Option<String>, command: &str) -> String {
    match last {
        Some(last) => format!(
            "nothing was answered in this session. The last answer of an earlier one is {last}: to change it, stop with Ctrl-C, \
             correct the line or take it out, and start `{command}` again"
        ),
        None => "nothing was answered yet".to_owned(),
    }
}
