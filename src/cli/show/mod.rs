//! `show`: everything that is computed of one item, each result with where it comes from.

mod answer;
mod facts;
mod rows;
mod tree;

use clap::{Args, ValueEnum};

use super::find::{self, ItemKind};
use super::{Exit, Outcome, Session};
use crate::book::Computing;
use answer::Answer;

/// Show everything that is computed of a rotor or setup
///
/// Each result comes with its formula, the numbers that went into it, its uncertainty and its source. Uncertainties are
/// expanded, k = 2. Of an item of which nothing is computed, its facts are shown.
#[derive(Args)]
#[command(after_help = "Examples:\n  rotorbook show \"fan wheel 315\"\n  \
    rotorbook show \"fan wheel 315\" --kind rotor --format csv")]
pub(super) struct ShowArguments {
    /// The name of the item
    #[arg(value_name = "NAME")]
    name: String,

    /// Its kind, when items of several kinds have the name
    #[arg(long, value_enum)]
    kind: Option<ItemKind>,

    /// How to show it
    #[arg(long, value_enum, default_value_t = Format::Tree)]
    format: Format,
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

pub(super) fn run(session: &mut Session, arguments: &ShowArguments) -> Outcome {
    let books = find::books(session)?;
    let (loaded, id) = find::item(&books, &arguments.name, arguments.kind)?;
    let answer = Answer::of(&Computing::new(&loaded.book), id);
    let terminal = &mut session.terminal;
    match arguments.format {
        Format::Json => terminal.json(&answer),
        Format::Csv => terminal.print(&rows::csv(&answer)),
        Format::Table => rows::table(terminal, &answer),
        Format::Tree => tree::write(terminal, &answer, &find::place(loaded, id)),
    }
    Ok(Exit::Clean)
}
