//! `complete`: the names that fit at a place of the command line. The scripts of `completions` ask for them; people do not.

use std::collections::BTreeSet;

use clap::{Args, CommandFactory, ValueEnum};

use super::arguments::Arguments;
use super::find::{self, ItemKind};
use super::load::Loaded;
use super::show::paths_of_results;
use super::{Exit, Outcome, Session};
use crate::book::{Computing, ItemId};
use crate::syntax::Kind;

/// Names of items and results for the completion of a shell
#[derive(Args)]
#[command(hide = true, after_help = "Example:\n  rotorbook complete -- show \"fan wh\"")]
pub(super) struct CompleteArguments {
    /// The words after the program's name; the last is the one that is being typed
    #[arg(value_name = "WORD", allow_hyphen_values = true, trailing_var_arg = true)]
    words: Vec<String>,
}

/// What is to be typed at a place.
enum Wanted {
    /// An item of one of these kinds; of any, where none is named.
    Item(Option<Kind>),
    /// A result of the item that was named before.
    Result(String),
}

/// A line each. Where no name fits, nothing is written, and where no book can be read, nothing either: a shell must not be
/// disturbed by a message.
pub(super) fn run(session: &mut Session, arguments: &CompleteArguments) -> Outcome {
    let Some((typed, before)) = arguments.words.split_last() else { return Ok(Exit::Clean) };
    let Some(wanted) = wanted(before) else { return Ok(Exit::Clean) };
    if let Some(at) = before.iter().position(|word| word == "--book") {
        session.book = before.get(at + 1).map(|folder| unquoted(folder).into());
    }
    let Ok(books) = find::books(session) else { return Ok(Exit::Clean) };
    let typed = unquoted(typed);
    for name in names(&books, &wanted).into_iter().filter(|name| name.starts_with(&typed)) {
        session.terminal.line(&super::terminal::harmless(&name));
    }
    Ok(Exit::Clean)
}

fn names(books: &[Loaded], wanted: &Wanted) -> BTreeSet<String> {
    let named = |(loaded, id): (&Loaded, ItemId)| loaded.book.item(id).name_text().to_owned();
    match wanted {
        Wanted::Item(kind) => {
            let of_kind = |(loaded, id): &(&Loaded, ItemId)| kind.is_none_or(|kind| loaded.book.item(*id).kind == kind);
            find::all(books).filter(of_kind).map(named).collect()
        }
        Wanted::Result(item) => {
            let items = find::all(books).filter(|found| named(*found) == *item);
            items.flat_map(|(loaded, id)| paths_of_results(&Computing::new(&loaded.book), id)).collect()
        }
    }
}

/// What is to be typed after these words, as the description of the command line has it.
fn wanted(before: &[String]) -> Option<Wanted> {
    let mut command = Arguments::command();
    command.build();
    let mut words = before.iter().map(|word| unquoted(word));
    let command = words.find_map(|word| command.find_subcommand(&word).cloned())?;
    let mut positionals = command.get_positionals();
    let (mut slot, mut item, mut kind, mut option) = (positionals.next(), None, None, None);
    for word in words {
        if let Some(named) = option.take() {
            kind = if named == "kind" { item_kind(&word) } else { kind };
        } else if let Some(long) = word.strip_prefix("--") {
            let taking = command.get_arguments().find(|arg| arg.get_long() == Some(long));
            option = taking.filter(|arg| arg.get_action().takes_values()).map(|arg| arg.get_id().to_string());
            kind = long.strip_prefix("kind=").map_or(kind, item_kind);
        } else if let Some(short) = word.strip_prefix('-').and_then(|rest| rest.chars().next()) {
            let taking = command.get_arguments().find(|arg| arg.get_short() == Some(short));
            let taking = taking.filter(|arg| arg.get_action().takes_values() && word.len() == 2);
            option = taking.map(|arg| arg.get_id().to_string());
        } else {
            item = Some(word);
            let repeats = slot.is_some_and(|arg| arg.get_num_args().is_some_and(|count| count.max_values() > 1));
            slot = if repeats { slot } else { positionals.next() };
        }
    }
    let argument = match option {
        Some(named) => command.get_arguments().find(|arg| *arg.get_id() == *named),
        None => slot,
    };
    match argument?.get_value_names()?.first()?.as_str() {
        "NAME" => Some(Wanted::Item(kind)),
        "SETUP" => Some(Wanted::Item(Some(Kind::Setup))),
        "ROTOR" => Some(Wanted::Item(Some(Kind::Rotor))),
        "MACHINE" => Some(Wanted::Item(Some(Kind::Machine))),
        "RECORD" => Some(Wanted::Item(Some(Kind::Record))),
        "RESULT" => item.map(Wanted::Result),
        _ => None,
    }
}

fn item_kind(word: &str) -> Option<Kind> {
    ItemKind::from_str(word, false).ok().map(|kind| kind.0)
}

/// A word as the shell will hand it over, however far its quotes have been typed.
fn unquoted(word: &str) -> String {
    let mut text = String::new();
    let mut letters = word.chars();
    while let Some(letter) = letters.next() {
        match letter {
            '"' | '\'' => {}
            '\\' => text.extend(letters.next()),
            other => text.push(other),
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asks(line: &str) -> String {
        let words: Vec<String> = line.split('|').map(str::to_owned).collect();
        match wanted(&words) {
            None => "nothing".to_owned(),
            Some(Wanted::Item(None)) => "any item".to_owned(),
            Some(Wanted::Item(Some(kind))) => kind.words().to_owned(),
            Some(Wanted::Result(item)) => format!("a result of {item}"),
        }
    }

    #[test]
    fn the_place_on_the_command_line_tells_what_is_wanted() {
        for (line, expected) in [
            ("show", "any item"),
            ("show|--kind|rotor", "rotor"),
            ("show|--kind=rotor", "rotor"),
            ("show|fan\\ wheel", "a result of fan wheel"),
            ("show|fan wheel|reading", "nothing"),
            ("show|--format", "nothing"),
            ("balance|-q", "setup"),
            ("card|-o|card.pdf", "any item"),
            ("certificate|a|b", "record"),
            ("trend", "machine"),
            ("new|setup|--for", "rotor"),
            ("check", "nothing"),
            ("none", "nothing"),
        ] {
            assert_eq!(asks(line), expected, "{line}");
        }
    }

    #[test]
    fn quotes_may_be_half_typed() {
        for typed in ["fan wheel", "\"fan wheel", "'fan wheel'", "fan\\ wheel"] {
            assert_eq!(unquoted(typed), "fan wheel");
        }
    }
}
