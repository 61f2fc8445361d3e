//! `card` and `certificate`: what a technician needs at the machine, and what goes with a rotor, on paper.

mod certificate;
mod written;

pub(super) use certificate::{CertificateArguments, run as certify};

use std::path::PathBuf;

use clap::Args;

use super::committed::Committed;
use super::find::{self, ItemKind};
use super::load::Loaded;
use super::{Failure, Outcome, Session, paths, rehearse, watch};
use crate::book::{Computing, ItemId};
use crate::card::{self, Card, Sides};
use crate::check;
use crate::syntax::Kind;
use written::{Form, Made, PaperSize};

/// Write the bench card of a setup, a rotor or a record
///
/// For a setup: a released sheet gives the run card, for balancing the next rotor; any other sheet gives the set-up card as
/// well, for setting the machine. One self-contained file, in black and white. The file extension decides what is
/// written: .html a page to open and print, .pdf, .svg, .txt text. Without a file, the text goes to stdout. An existing file is overwritten.
#[derive(Args)]
#[command(after_help = "Examples:\n  rotorbook card \"fan wheel 315 on the soft bench\" -o card.pdf\n  \
    rotorbook card --all-released -o cards.html")]
pub(super) struct CardArguments {
    /// The name of the setup, rotor or record
    #[arg(value_name = "NAME", required_unless_present = "all_released", conflicts_with = "all_released")]
    name: Option<String>,

    /// Its kind, if items of several kinds share the name
    #[arg(long, value_enum)]
    kind: Option<ItemKind>,

    /// All released setups with their rotors and records as one booklet with a table of contents
    #[arg(long)]
    all_released: bool,

    /// The run card of a setup
    #[arg(long)]
    run: bool,

    /// The set-up card of a setup; with --run both
    #[arg(long)]
    set_up: bool,

    /// Rehearse the setup, and print on the last side how many rotors will be within and what limits that number
    #[arg(long, conflicts_with_all = ["all_released", "drawings"])]
    rehearse: bool,

    /// The seed to rehearse with, as printed by an earlier rehearsal
    #[arg(long, value_name = "NUMBER", requires = "rehearse")]
    seed: Option<u64>,

    /// Only the sketch or the plots, as .svg
    #[arg(long, conflicts_with = "all_released")]
    drawings: bool,

    /// The file to write: .html, .pdf, .svg or .txt
    #[arg(short, long, value_name = "FILE")]
    output: Option<PathBuf>,

    /// Paper size
    #[arg(long, value_enum, default_value_t = PaperSize::A4)]
    paper: PaperSize,

    /// Write it again whenever a sheet has changed, until Ctrl-C
    #[arg(long)]
    watch: bool,
}

impl CardArguments {
    fn sides(&self) -> Sides {
        match (self.run, self.set_up) {
            (false, false) => Sides::Usual,
            (true, false) => Sides::Run,
            (false, true) => Sides::SetUp,
            (true, true) => Sides::Both,
        }
    }
}

pub(super) fn run(session: &mut Session, arguments: &CardArguments) -> Outcome {
    if arguments.watch {
        let books = |session: &Session| paths::books(session.book.as_deref());
        return watch::run(session, books, |session, _| once(session, arguments));
    }
    once(session, arguments)
}

fn once(session: &mut Session, arguments: &CardArguments) -> Outcome {
    let form = Form::of(arguments.output.as_deref())?;
    let books = find::books(session)?;
    let made = match &arguments.name {
        Some(name) => one(session, &books, name, arguments)?,
        None => booklet(&books)?,
    };
    let output = arguments.output.as_deref();
    if !arguments.drawings {
        return made.write(session, form, output, arguments.paper.into());
    }
    let drawings = made.cards.first().and_then(card::drawings);
    let svg = drawings
        .ok_or_else(|| Failure::new("the card has no drawing").help("write it without --drawings to read why"))?;
    written::put(session, output, svg.as_bytes())
}

fn one(session: &mut Session, books: &[Loaded], name: &str, arguments: &CardArguments) -> Result<Made, Failure> {
    let (loaded, id) = find::item(books, name, arguments.kind)?;
    let found = check::check(&loaded.book);
    let computing = Computing::new(&loaded.book);
    if loaded.book.item(id).kind != Kind::Setup && arguments.sides() != Sides::Usual {
        return Err(Failure::new("only a setup has a run card and a set-up card"));
    }
    let printed = Committed::of(loaded, std::iter::once(id)).printed(loaded, &[id]);
    let mut card = card::card(&computing, id, &found, &printed, arguments.sides()).ok_or_else(|| {
        Failure::new(format!("a {} has no card", loaded.book.item(id).kind))
            .help("setups, rotors and records have one; `rotorbook show` has the rest")
    })?;
    if arguments.rehearse {
        card::with_rehearsal(&mut card, &rehearse::for_card(session, &loaded.book, id, arguments.seed)?);
    }
    Ok(Made { title: format!("{} {}", card.kind, card.name), cards: vec![card], printed })
}

fn booklet(books: &[Loaded]) -> Result<Made, Failure> {
    let [loaded] = books else {
        return Err(Failure::new("a booklet is made of one book").help("name the folder of the book with --book"));
    };
    let found = check::check(&loaded.book);
    let computing = Computing::new(&loaded.book);
    let ids: Vec<ItemId> = card::released(&computing);
    if ids.is_empty() {
        return Err(
            Failure::new("the book has no released setup").help("`rotorbook list --kind setup` shows what it has")
        );
    }
    let committed = Committed::of(loaded, ids.iter().copied());
    let of_one = |id: ItemId| card::card(&computing, id, &found, &committed.printed(loaded, &[id]), Sides::Both);
    let cards: Vec<Card> = ids.iter().copied().filter_map(of_one).collect();
    let title = loaded.book.shop().map_or("Bench cards", |shop| shop.name_text()).to_owned();
    Ok(Made { title, cards, printed: committed.printed(loaded, &ids) })
}
