//! `trend`: what becomes of a machine over the year, by its records.

mod chart;
mod document;
mod page;
mod text;

use std::path::PathBuf;

use clap::{Args, ValueEnum};

use super::find::{self, ItemKind};
use super::write;
use super::{Exit, Failure, Outcome, Session};
use crate::book::Computing;
use crate::syntax::Kind;
use crate::trend;

/// Show how a machine drifts: gain, angle and separation of its channels over the year
///
/// Each record predicts its next run; comparing what was read with what the correction should have left shows how the
/// channel responds to a mass. A trend through all of them is called a drift only when it exceeds the scatter by three
/// standard deviations. Beside it stand the check masses, with the month in which one leaves its band, and how the
/// rotors of each part came: a heavy spot that keeps coming back in one place is the fixture or the casting. With -o,
/// plots on one self-contained page.
#[derive(Args)]
#[command(after_help = "Examples:\n  rotorbook trend \"soft bench\"\n  rotorbook trend \"soft bench\" -o trend.html")]
pub(super) struct TrendArguments {
    /// The name of the machine
    #[arg(value_name = "MACHINE")]
    name: String,

    /// The page to write, with plots
    #[arg(short, long, value_name = "FILE")]
    output: Option<PathBuf>,

    /// How to say it
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug, ValueEnum)]
enum Format {
    /// A table
    Text,
    /// For programs
    Json,
}

pub(super) fn run(session: &mut Session, arguments: &TrendArguments) -> Outcome {
    let books = find::books(session)?;
    let (loaded, id) = find::item(&books, &arguments.name, Some(ItemKind(Kind::Machine)))?;
    let computing = Computing::without_explanations(&loaded.book);
    let found = trend::of_machine(&computing, id);
    if let Some(path) = &arguments.output {
        if path.extension().is_none_or(|extension| extension != "html") {
            return Err(Failure::new("plots are written as a page").help("name a file that ends in `.html`"));
        }
        write::output(path, page::of(&found).as_bytes())
            .map_err(|why| Failure::new(format!("`{}` cannot be written: {why}", path.display())))?;
        session.terminal.say(&format!("{} written", path.display()));
        return Ok(Exit::Clean);
    }
    match arguments.format {
        Format::Json => session.terminal.json(&document::of(&found)),
        Format::Text => text::write(&mut session.terminal, &found),
    }
    Ok(Exit::Clean)
}
