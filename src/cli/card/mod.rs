//! `card`: what a technician needs at the machine, on paper.

mod browser;
mod commit;

use std::ffi::OsStr;
use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};

use super::find::{self, ItemKind};
use super::load::Loaded;
use super::{Exit, Failure, Outcome, Session, write};
use crate::book::{Computing, ItemId};
use crate::card::{self, Card, Paper, Printed};
use crate::check;
use crate::disk;

/// Write the bench card of a setup, a rotor or a record
///
/// One file that needs no other, for A4 and Letter, in black and white. The ending of the file says what is written:
/// .html a page to open and print, .pdf (printed by a browser that is installed: one on the path, or the one that
/// ROTORBOOK_BROWSER names), .svg the sketch or plots alone, .txt text. Without a file, the text goes to stdout. A card
/// that is there already is written anew.
#[derive(Args)]
#[command(after_help = "Examples:\n  rotorbook card \"fan wheel 315 on the soft bench\" -o card.html\n  \
    rotorbook card --all-released -o cards.html")]
pub(super) struct CardArguments {
    /// The name of the setup, rotor or record
    #[arg(value_name = "NAME", required_unless_present = "all_released", conflicts_with = "all_released")]
    name: Option<String>,

    /// Its kind, when items of several kinds have the name
    #[arg(long, value_enum)]
    kind: Option<ItemKind>,

    /// All released setups with their rotors and records as one booklet with a table of contents
    #[arg(long)]
    all_released: bool,

    /// The file to write: .html, .pdf, .svg or .txt
    #[arg(short, long, value_name = "FILE")]
    output: Option<PathBuf>,

    /// The paper of a page; without it a page takes what the printer holds, and a PDF is A4
    #[arg(long, value_enum)]
    paper: Option<PaperSize>,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug, ValueEnum)]
enum PaperSize {
    A4,
    Letter,
}

impl From<PaperSize> for Paper {
    fn from(size: PaperSize) -> Self {
        match size {
            PaperSize::A4 => Paper::A4,
            PaperSize::Letter => Paper::Letter,
        }
    }
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Form {
    Html,
    Pdf,
    Svg,
    Text,
}

impl Form {
    fn of(path: Option<&Path>) -> Result<Self, Failure> {
        let Some(path) = path else { return Ok(Form::Text) };
        let ending = path.extension().and_then(OsStr::to_str).map(str::to_lowercase);
        match ending.as_deref() {
            Some("html" | "htm") => Ok(Form::Html),
            Some("pdf") => Ok(Form::Pdf),
            Some("svg") => Ok(Form::Svg),
            Some("txt") => Ok(Form::Text),
            _ => Err(Failure::new(format!("`{}` does not end as a card can", path.display()))
                .help("end it with .html, .pdf, .svg or .txt")),
        }
    }
}

pub(super) fn run(session: &mut Session, arguments: &CardArguments) -> Outcome {
    let form = Form::of(arguments.output.as_deref())?;
    let books = find::books(session)?;
    let made = match &arguments.name {
        Some(name) => Made::One(Box::new(one(&books, name, arguments.kind)?)),
        None => Made::Booklet(booklet(&books)?),
    };
    let paper = arguments.paper.map(Paper::from);
    let bytes = match form {
        Form::Text => made.text().into_bytes(),
        Form::Html => made.page(paper).into_bytes(),
        Form::Svg => made.svg()?.into_bytes(),
        Form::Pdf => browser::print(&made.page(Some(paper.unwrap_or(Paper::A4))))?,
    };
    let Some(path) = &arguments.output else {
        session.terminal.print(&String::from_utf8_lossy(&bytes));
        return Ok(Exit::Clean);
    };
    write::output(path, &bytes)
        .map_err(|why| Failure::new(format!("`{}` cannot be written: {why}", path.display())))?;
    session.terminal.say(&format!("{} written", path.display()));
    Ok(Exit::Clean)
}

enum Made {
    One(Box<Card>),
    Booklet(Booklet),
}

struct Booklet {
    title: String,
    cards: Vec<Card>,
    printed: Printed,
}

impl Made {
    fn text(&self) -> String {
        match self {
            Made::One(card) => card::text(card),
            Made::Booklet(booklet) => booklet.cards.iter().map(card::text).collect::<Vec<_>>().join("\n\n"),
        }
    }

    fn page(&self, paper: Option<Paper>) -> String {
        match self {
            Made::One(card) => card::page(card, paper),
            Made::Booklet(booklet) => card::booklet(&booklet.title, &booklet.cards, &booklet.printed, paper),
        }
    }

    fn svg(&self) -> Result<String, Failure> {
        match self {
            Made::One(card) => card::svg(card).ok_or_else(|| {
                Failure::new(format!("the card of \"{}\" has no drawing", card.name))
                    .help("write it as .html or .txt to read why")
            }),
            Made::Booklet(_) => Err(Failure::new("a booklet is no single drawing").help("write it as .html or .pdf")),
        }
    }
}

fn printed(loaded: &Loaded) -> Printed {
    Printed { on: disk::today(), state: commit::state_of(&loaded.root), preview: false }
}

fn one(books: &[Loaded], name: &str, kind: Option<ItemKind>) -> Result<Card, Failure> {
    let (loaded, id) = find::item(books, name, kind)?;
    let found = check::check(&loaded.book);
    let computing = Computing::new(&loaded.book);
    card::card(&computing, id, &found, &printed(loaded)).ok_or_else(|| {
        Failure::new(format!("a {} has no card", loaded.book.item(id).kind))
            .help("setups, rotors and records have one; `rotorbook show` has the rest")
    })
}

fn booklet(books: &[Loaded]) -> Result<Booklet, Failure> {
    let [loaded] = books else {
        return Err(Failure::new("a booklet is made of one book").help("name the folder of the book with --book"));
    };
    let found = check::check(&loaded.book);
    let computing = Computing::new(&loaded.book);
    let printed = printed(loaded);
    let ids: Vec<ItemId> = card::released(&computing);
    if ids.is_empty() {
        return Err(
            Failure::new("the book has no released setup").help("`rotorbook list --kind setup` shows what it has")
        );
    }
    let cards = ids.into_iter().filter_map(|id| card::card(&computing, id, &found, &printed)).collect();
    let title = loaded.book.shop().map_or("Bench cards", |shop| shop.name_text()).to_owned();
    Ok(Booklet { title, cards, printed })
}
