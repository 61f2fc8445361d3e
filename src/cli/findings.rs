//! Findings of a sheet before it is worked by, at the bench or in a rehearsal.

use super::{Failure, Session};
use crate::book::{Computing, ItemId};
use crate::card;
use crate::check::{Diagnostic, Severity};
use crate::text::harmless;

/// Says the errors of a setup, and refuses it where one of them can hurt somebody.
pub(super) fn say_errors(
    session: &mut Session,
    computing: &Computing<'_>,
    setup: ItemId,
    is_said: &dyn Fn(&Diagnostic) -> bool,
) -> Result<(), Failure> {
    let errors = card::errors(computing, setup);
    errors.iter().filter(|one| is_said(one)).for_each(|one| say(session, one));
    let Some(first) = errors.iter().find(|one| one.rule.is_harmful) else { return Ok(()) };
    let (book, name) = (computing.book(), computing.book().item(setup).name_text());
    let file = &book.file(first.place.file).path;
    Err(Failure::new(format!("setup \"{}\" is not to be run", harmless(name)))
        .help(format!("correct it first, in {}", harmless(file))))
}

/// What nobody may run is not rehearsed or practised either: it would be told as a good sheet.
pub(super) fn may_rehearse(session: &mut Session, computing: &Computing<'_>, setup: ItemId) -> Result<(), Failure> {
    say_errors(session, computing, setup, &|one| one.rule.is_harmful)
}

pub(super) fn say(session: &mut Session, one: &Diagnostic) {
    let word = match one.severity {
        Severity::Error => session.terminal.messages.red("error:"),
        Severity::Warning => session.terminal.messages.yellow("warning:"),
        Severity::Note => session.terminal.messages.cyan("note:"),
    };
    session.terminal.say_behind(&word, &one.message);
    if let Some(help) = &one.help {
        let word = session.terminal.messages.cyan("help:");
        session.terminal.say_behind(&format!("  {word}"), help);
    }
}
