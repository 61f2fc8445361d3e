//! `list`: the library as a table.

use clap::{Args, ValueEnum};
use rayon::prelude::*;
use serde::Serialize;

use super::find::{self, ItemKind};
use super::layout::columns;
use super::load::Loaded;
use super::report::places::Places;
use super::terminal::harmless;
use super::{Exit, Outcome, Session, csv};
use crate::book::{Computing, ItemId};
use crate::ide;

/// Rises whenever a program that reads the document would have to be changed.
const VERSION: u32 = 1;

/// List what the book holds, by kind and name, each item with its main facts or results
#[derive(Args)]
#[command(after_help = "Examples:\n  rotorbook list --kind setup\n  \
    rotorbook list --format json | jq -r '.items[].name'")]
pub(super) struct ListArguments {
    /// Only items of this kind
    #[arg(long, value_enum)]
    kind: Option<ItemKind>,

    /// How to list them; json writes one document per book, each on a line
    #[arg(long, value_enum, default_value_t = Format::Table)]
    format: Format,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug, ValueEnum)]
enum Format {
    /// For people
    Table,
    /// For programs
    Json,
    /// For spreadsheets
    Csv,
}

#[derive(Serialize)]
struct Document {
    version: u32,
    items: Vec<Listed>,
}

#[derive(Serialize)]
struct Listed {
    kind: &'static str,
    name: String,
    /// Relative to the book.
    file: String,
    line: u32,
    headline: String,
    /// As people can open it from the current folder.
    #[serde(skip)]
    place: String,
}

pub(super) fn run(session: &mut Session, arguments: &ListArguments) -> Outcome {
    let books = find::books(session)?;
    let listed: Vec<Vec<Listed>> = books.iter().map(|loaded| items(loaded, arguments.kind)).collect();
    let terminal = &mut session.terminal;
    match arguments.format {
        Format::Json => {
            listed.into_iter().for_each(|items| terminal.json(&Document { version: VERSION, items }));
        }
        Format::Csv => {
            let rows = listed.into_iter().flatten();
            let rows =
                rows.map(|item| [item.kind.to_owned(), item.name, item.file, item.line.to_string(), item.headline]);
            terminal.print(&csv::document(&["kind", "name", "file", "line", "headline"], rows));
        }
        Format::Table => {
            let head = ["kind", "name", "place", "headline"].map(str::to_owned).to_vec();
            let rows = listed.into_iter().flatten().map(|item| {
                [item.kind.to_owned(), item.name, item.place, item.headline].map(|cell| harmless(&cell)).to_vec()
            });
            let rows: Vec<Vec<String>> = std::iter::once(head).chain(rows).collect();
            for (n, line) in columns(&rows).iter().enumerate() {
                terminal.line(&if n == 0 { terminal.paint.bold(line) } else { line.clone() });
            }
        }
    }
    Ok(Exit::Clean)
}

fn items(loaded: &Loaded, kind: Option<ItemKind>) -> Vec<Listed> {
    let book = &loaded.book;
    let computing = Computing::new(book);
    let ids = find::all(std::slice::from_ref(loaded)).map(|(_, id)| id);
    let mut ids: Vec<ItemId> = ids.filter(|id| kind.is_none_or(|kind| book.item(*id).kind == kind.0)).collect();
    ids.sort_by_key(|id| (book.item(*id).kind, book.item(*id).name_text()));
    let headlines: Vec<String> = ids.par_iter().map(|id| ide::headline(&computing, *id)).collect();
    let places = Places::new(book);
    let listed = ids.into_iter().zip(headlines).map(|(id, headline)| {
        let item = book.item(id);
        let line = places.point(id.file, item.heading.start).line;
        Listed {
            kind: item.kind.words(),
            name: item.name_text().to_owned(),
            file: book.file(id.file).path.to_string(),
            line,
            headline,
            place: format!("{}:{line}", loaded.shown(id.file)),
        }
    });
    listed.collect()
}
