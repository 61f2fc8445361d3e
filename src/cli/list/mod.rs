//! `list`: the library as a table.

mod due;
pub(super) mod filter;
pub(super) mod wanted;

use std::collections::BTreeMap;

use clap::{Args, ValueEnum};
use rayon::prelude::*;
use serde::Serialize;

use super::committed::Committed;
use super::find::{self, ItemKind};
use super::layout::columns;
use super::load::Loaded;
use super::report::places::Places;
use super::terminal::harmless;
use super::{Exit, Outcome, Session, csv};
use crate::book::{Computing, ItemId};
use crate::card;
use crate::check;
use crate::ide;
use filter::Filter;

/// Rises whenever a program that reads the document would have to be changed.
const VERSION: u32 = 1;

/// List what the book holds, by kind and name, each item with its main facts or results
#[derive(Args)]
#[command(
    after_help = "Examples:\n  rotorbook list --kind setup --where \"status is released\" --column revision --column \"balancing speed\"\n  \
    rotorbook list --kind setup --where void --column void --where \"machine / serviced > date\"\n  \
    rotorbook list --where overdue --column overdue\n  rotorbook list --format json | jq -r '.items[].name'"
)]
pub(super) struct ListArguments {
    /// Only items of this kind
    #[arg(long, value_enum)]
    kind: Option<ItemKind>,

    /// Only items of which this holds: `FACT=WORDS` where the words are in it, `FACT is WORDS`, `FACT is not WORDS`, `FACT
    /// is missing`, `FACT < AMOUNT` and `FACT > AMOUNT`, where a day or another fact may stand for the amount; `void`, whose
    /// calibration does not hold, or for a record did not, and `overdue`, what is past its `checked every`, `serviced every` or `tested every` today, or `not void`
    /// and `not overdue`. `machine / serviced` is a fact of what an item names; what is left out counts as its default; of several
    /// values, one that fits is enough. Each asks one thing, and all given must hold. May be
    /// given several times
    #[arg(long = "where", value_name = "CONDITION", value_parser = filter::parse)]
    filters: Vec<Filter>,

    /// A fact or result as a column of its own, in place of the headline: `status`, `tolerance / grade`. May be given
    /// several times
    #[arg(long = "column", value_name = "FACT")]
    columns: Vec<String>,

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
    /// The columns that were asked for; null where an item has no such fact or result.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    columns: BTreeMap<String, Option<String>>,
    /// As people can open it from the current folder.
    #[serde(skip)]
    place: String,
}

pub(super) fn run(session: &mut Session, arguments: &ListArguments) -> Outcome {
    let books = find::books(session)?;
    let computings: Vec<Computing<'_>> = books.iter().map(|loaded| Computing::new(&loaded.book)).collect();
    for fact in &arguments.columns {
        wanted::known(&computings, fact)?;
    }
    for filter in &arguments.filters {
        filter::can_hold(&computings, arguments.kind.map(|kind| kind.0), filter)?;
    }
    let listed: Vec<Vec<Listed>> = books.iter().map(|loaded| items(loaded, arguments)).collect();
    let terminal = &mut session.terminal;
    let heads: Vec<&str> = match arguments.columns.is_empty() {
        true => vec!["headline"],
        false => arguments.columns.iter().map(String::as_str).collect(),
    };
    match arguments.format {
        Format::Json => {
            listed.into_iter().for_each(|items| terminal.json(&Document { version: VERSION, items }));
        }
        Format::Csv => {
            let head = ["kind", "name", "file", "line"].into_iter().chain(heads).map(str::to_owned).collect();
            let rows = listed.iter().flatten().map(|item| {
                let own = [item.kind.to_owned(), item.name.clone(), item.file.clone(), item.line.to_string()];
                own.into_iter().chain(item.cells(&arguments.columns)).collect()
            });
            terminal.print(&csv::rows(std::iter::once(head).chain(rows)));
        }
        Format::Table => {
            let head = ["kind", "name", "place"].into_iter().chain(heads).map(harmless).collect();
            let rows = listed.iter().flatten().map(|item| {
                let own = [item.kind.to_owned(), item.name.clone(), item.place.clone()];
                own.into_iter().chain(item.cells(&arguments.columns)).map(|cell| harmless(&cell)).collect()
            });
            let rows: Vec<Vec<String>> = std::iter::once(head).chain(rows).collect();
            for (n, line) in columns(&rows).iter().enumerate() {
                terminal.line(&if n == 0 { terminal.paint.bold(line) } else { line.clone() });
            }
        }
    }
    Ok(Exit::Clean)
}

impl Listed {
    /// The columns that were asked for, else the headline.
    fn cells(&self, asked: &[String]) -> Vec<String> {
        match asked.is_empty() {
            true => vec![self.headline.clone()],
            false => asked.iter().map(|fact| self.columns.get(fact).cloned().flatten().unwrap_or_default()).collect(),
        }
    }
}

/// With what the card of each says of it.
fn headlines(loaded: &Loaded, ids: &[ItemId]) -> Vec<String> {
    let computing = Computing::for_judging(&loaded.book);
    let found = check::check(&loaded.book);
    let committed = Committed::of(loaded, ids.iter().copied());
    let one = |id: &ItemId| {
        let computed = computing.item(*id);
        let standing = card::standing(&loaded.book, &computed, *id, &found, &committed.printed(loaded, &[*id]));
        ide::headline(&loaded.book, &computed, standing.as_ref())
    };
    ids.par_iter().map(one).collect()
}

fn items(loaded: &Loaded, arguments: &ListArguments) -> Vec<Listed> {
    let book = &loaded.book;
    let computing = Computing::without_explanations(book);
    let ids = find::all(std::slice::from_ref(loaded)).map(|(_, id)| id);
    let of_kind = |id: &ItemId| arguments.kind.is_none_or(|kind| book.item(*id).kind == kind.0);
    let is_wanted = |id: &ItemId| arguments.filters.iter().all(|filter| filter::holds(&computing, *id, filter));
    let mut ids: Vec<ItemId> = ids.filter(of_kind).filter(is_wanted).collect();
    ids.sort_by_key(|id| (book.item(*id).kind, book.item(*id).name_text()));
    let headlines: Vec<String> = match arguments.columns.is_empty() || arguments.format == Format::Json {
        true => headlines(loaded, &ids),
        false => vec![String::new(); ids.len()],
    };
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
            columns: arguments.columns.iter().map(|fact| (fact.clone(), wanted::text(&computing, id, fact))).collect(),
            place: format!("{}:{line}", loaded.shown(id.file)),
        }
    });
    listed.collect()
}
