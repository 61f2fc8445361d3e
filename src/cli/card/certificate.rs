//! `certificate`: what goes with a rotor, or with a batch of them.

use std::path::PathBuf;

use clap::Args;

use super::written::{Form, Made, PaperSize};
use crate::book::{Computing, ItemId};
use crate::card;
use crate::check;
use crate::cli::committed::Committed;
use crate::cli::find::{self, ItemKind};
use crate::cli::list::filter::{self, Filter};
use crate::cli::load::Loaded;
use crate::cli::{Failure, Outcome, Session};
use crate::syntax::Kind;

/// Write a certificate of one record, or of several as one table
///
/// Of one record: rotor, drawing, serial number, customer and order, limits and their source, machine, as found,
/// corrections, as left, and the verdict with its uncertainty. Of several: one line a rotor, and a summary. The extension of
/// the file says what is written: .pdf, .html, .svg or .txt.
#[derive(Args)]
#[command(after_help = "Examples:\n  rotorbook certificate \"fan wheel 315, 26-0419\" -o certificate.pdf\n  \
    rotorbook certificate --where \"order=5518\" -o batch.pdf")]
pub(in crate::cli) struct CertificateArguments {
    /// The names of records
    #[arg(value_name = "RECORD", required_unless_present = "filters")]
    names: Vec<String>,

    /// All records of which a fact or result holds these words. May be given several times
    #[arg(long = "where", value_name = "CONDITION", value_parser = filter::parse)]
    filters: Vec<Filter>,

    /// The file to write: .pdf, .html, .svg or .txt
    #[arg(short, long, value_name = "FILE")]
    output: Option<PathBuf>,

    /// Paper size
    #[arg(long, value_enum, default_value_t = PaperSize::A4)]
    paper: PaperSize,
}

pub(in crate::cli) fn run(session: &mut Session, arguments: &CertificateArguments) -> Outcome {
    let form = Form::of(arguments.output.as_deref())?;
    let books = find::books(session)?;
    let (loaded, ids) = records(&books, arguments)?;
    let found = check::check(&loaded.book);
    let computing = Computing::new(&loaded.book);
    let printed = Committed::of(loaded, ids.iter().copied()).printed(loaded, &ids);
    let card = card::certificate(&computing, &ids, &found, &printed).ok_or_else(|| {
        Failure::new("there is no such record").help("`rotorbook list --kind record` shows what there is")
    })?;
    let made = Made { title: format!("certificate {}", card.name), cards: vec![card], printed };
    made.write(session, form, arguments.output.as_deref(), arguments.paper.into())
}

/// Those that are named, and those that the filters find; all of one book.
fn records<'l>(books: &'l [Loaded], arguments: &CertificateArguments) -> Result<(&'l Loaded, Vec<ItemId>), Failure> {
    let computings: Vec<Computing<'_>> = books.iter().map(|loaded| Computing::new(&loaded.book)).collect();
    for filter in &arguments.filters {
        filter::can_hold(&computings, Some(Kind::Record), filter)?;
    }
    let record = Some(ItemKind(Kind::Record));
    let mut found =
        arguments.names.iter().map(|name| find::item(books, name, record)).collect::<Result<Vec<_>, _>>()?;
    if !arguments.filters.is_empty() {
        for (loaded, computing) in books.iter().zip(&computings) {
            let records = loaded.book.items().filter(|id| loaded.book.item(*id).kind == Kind::Record);
            let holds = |id: &ItemId| arguments.filters.iter().all(|filter| filter::holds(computing, *id, filter));
            found.extend(records.filter(holds).map(|id| (loaded, id)));
        }
    }
    let none = || Failure::new("no record is as asked").help("`rotorbook list --kind record` shows what there is");
    let (loaded, _) = *found.first().ok_or_else(none)?;
    if found.iter().any(|(other, _)| !std::ptr::eq(*other, loaded)) {
        return Err(Failure::new("a certificate is of one book").help("name the folder of the book with --book"));
    }
    let mut ids: Vec<ItemId> = Vec::new();
    found.into_iter().for_each(|(_, id)| {
        if !ids.contains(&id) {
            ids.push(id);
        }
    });
    Ok((loaded, ids))
}
