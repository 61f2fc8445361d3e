//! `new setup --for ROTOR`: begun from the nearest sheet that is proven.

use super::{NewArguments, written};
use crate::book::Computing;
use crate::cli::load::Loaded;
use crate::cli::{Exit, Failure, Outcome, Session};
use crate::ide;
use crate::likeness::{self, Near};
use crate::sheet::nearest;
use crate::syntax::Kind;

/// So many sheets are named.
const NAMED: usize = 3;

pub(super) fn run(session: &mut Session, arguments: &NewArguments, loaded: Option<&Loaded>, rotor: &str) -> Outcome {
    if arguments.kind.0 != Kind::Setup {
        return Err(Failure::new("`--for` names the rotor of a setup").help("write `rotorbook new setup --for ROTOR`"));
    }
    let book = &loaded
        .ok_or_else(|| Failure::new("there is no book here, so there are no proven sheets to compare with"))?
        .book;
    let id = book.find(Kind::Rotor, rotor).map_err(|_| {
        let failure = Failure::new(format!("the book has no rotor \"{rotor}\""));
        match nearest(rotor, book.names_of(Kind::Rotor).map(|(name, _)| name)) {
            Some(near) => failure.help(format!("did you mean \"{near}\"?")),
            None => failure,
        }
    })?;
    let found = likeness::nearest(&Computing::without_explanations(book), id);
    let Some(first) = found.first() else {
        let help = format!("begin without one: `rotorbook new setup --set 'rotor={rotor}'`");
        return Err(Failure::new("no other setup of the book is proven").help(help));
    };
    let text = ide::like_proven(book, first, id, arguments.name.as_deref())
        .ok_or_else(|| Failure::new(format!("setup \"{}\" names no machine", first.name)))?
        .text;
    written(session, arguments, &text)?;
    if !first.is_near() {
        session.terminal.warn("no proven sheet is near this rotor: little of the nearest one will carry over");
    }
    for (n, near) in found.iter().take(NAMED).enumerate() {
        say(session, n, near);
    }
    Ok(Exit::Clean)
}

fn say(session: &mut Session, n: usize, near: &Near) {
    let which = if n == 0 { "nearest proven sheet" } else { "then" };
    session.terminal.say(&format!("{which}: \"{}\"", near.name));
    let differs =
        if near.differs.is_empty() { "nothing that counts differs".to_owned() } else { near.differs.join("; ") };
    session.terminal.say(&format!("  {differs}"));
    if !near.void.is_empty() {
        session.terminal.say(&format!("  its calibration is void: {}", near.void.join("; ")));
    }
    if n == 0 {
        session.terminal.say(&format!("  {}", near.dials));
    }
}
