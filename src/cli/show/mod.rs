//! `show`: an item on one screen; each result with where it comes from.

mod answer;
mod facts;
mod one;
mod rows;
mod screen;
mod tree;

use clap::{Args, ValueEnum};

use super::find::{self, ItemKind};
use super::{Exit, Outcome, Session, paths, watch};
use crate::book::{Computing, ItemId};
use answer::Answer;

/// Show an item on one screen, or what one result is made of
///
/// Of a setup: what it is, a line a plane with the tolerance, what is put on, what it must read and what may be read at
/// most. Of a rotor: its planes. Of a record: verdict, what to do next, runs, corrections. Then what is not computed and
/// why, and what a check says of it. With a result, or with --all: formula, numbers, uncertainty and source.
/// Uncertainties are expanded, k = 2. Of an item of which nothing is computed, its facts are shown.
#[derive(Args)]
#[command(after_help = "Examples:\n  rotorbook show \"fan wheel 315 on the soft bench\"\n  \
    rotorbook show \"fan wheel 315 on the soft bench\" \"calibrate hub / reading\"\n  \
    rotorbook show \"fan wheel 315\" --kind rotor --format csv")]
pub(super) struct ShowArguments {
    /// The name of the item
    #[arg(value_name = "NAME")]
    name: String,

    /// One result, with its block where several have the name: `calibrate hub / reading`
    #[arg(value_name = "RESULT", conflicts_with = "all")]
    result: Option<String>,

    /// All results, each with formula, numbers and source
    #[arg(long)]
    all: bool,

    /// Its kind, when items of several kinds have the name
    #[arg(long, value_enum)]
    kind: Option<ItemKind>,

    /// How to show it
    #[arg(long, value_enum)]
    format: Option<Format>,

    /// Show it again whenever a sheet has changed, until Ctrl-C
    #[arg(long, conflicts_with = "format")]
    pub watch: bool,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug, ValueEnum)]
enum Format {
    /// Block by block, each result with formula, numbers and source
    Tree,
    /// A line for each result
    Table,
    /// For programs
    Json,
    /// For spreadsheets
    Csv,
}

/// All results of an item, as they are named on the command line.
pub(super) fn paths_of_results(computing: &Computing<'_>, id: ItemId) -> Vec<String> {
    Answer::of(computing, id).results.iter().map(|result| result.path.join(" / ")).collect()
}

pub(super) fn run(session: &mut Session, arguments: &ShowArguments) -> Outcome {
    if arguments.watch {
        let books = |session: &Session| paths::books(session.book.as_deref());
        return watch::run(session, books, |session, _| once(session, arguments));
    }
    once(session, arguments)
}

fn once(session: &mut Session, arguments: &ShowArguments) -> Outcome {
    let books = find::books(session)?;
    let (loaded, id) = find::item(&books, &arguments.name, arguments.kind)?;
    let computing = Computing::new(&loaded.book);
    let place = find::place(loaded, id);
    let terminal = &mut session.terminal;
    let is_whole = !arguments.all && arguments.result.is_none() && arguments.format.is_none();
    if is_whole && screen::write(terminal, &computing, id, &place) {
        return Ok(Exit::Clean);
    }
    let answer = Answer::of(&computing, id);
    let answer = match &arguments.result {
        Some(asked) => one::only(answer, asked)?,
        None => answer,
    };
    match arguments.format.unwrap_or(Format::Tree) {
        Format::Json => terminal.json(&answer),
        Format::Csv => terminal.print(&rows::csv(&answer)),
        Format::Table => rows::table(terminal, &answer),
        Format::Tree => tree::write(terminal, &answer, &place),
    }
    Ok(Exit::Clean)
}
