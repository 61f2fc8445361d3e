//! Cards as files: which form an ending asks for, and the fonts that the text needs.

use std::collections::BTreeSet;
use std::ffi::OsStr;
use std::path::Path;

use clap::ValueEnum;

use crate::card::{self, Card, Fonts, Page, Paper, Printed};
use crate::cli::{Exit, Failure, Outcome, Session, write};
use crate::disk;

#[derive(Clone, Copy, PartialEq, Eq, Debug, ValueEnum)]
pub(super) enum PaperSize {
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
pub(super) enum Form {
    Html,
    Pdf,
    Svg,
    Text,
}

impl Form {
    pub fn of(path: Option<&Path>) -> Result<Self, Failure> {
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

/// Cards that are written as one file.
pub(super) struct Made {
    pub title: String,
    pub cards: Vec<Card>,
    pub printed: Printed,
}

impl Made {
    pub fn write(&self, session: &mut Session, form: Form, output: Option<&Path>, paper: Paper) -> Outcome {
        let texts = || self.cards.iter().map(card::text).collect::<Vec<_>>().join("\n\n");
        if form == Form::Text {
            return put(session, output, texts().as_bytes());
        }
        let fonts = fonts_for(&texts());
        let pages = || -> Vec<Page> { self.cards.iter().flat_map(|card| card::pages(card, paper, &fonts)).collect() };
        let bytes = match form {
            Form::Svg => card::svg(&self.title, &pages(), &fonts).into_bytes(),
            Form::Pdf => card::pdf(&self.title, &pages(), &fonts),
            Form::Html | Form::Text => card::html(&self.title, &self.cards, &self.printed, paper, &fonts).into_bytes(),
        };
        put(session, output, &bytes)
    }
}

/// The program's own fonts, and those of the system for letters that they lack.
fn fonts_for(text: &str) -> Fonts {
    let lacking: BTreeSet<char> = Fonts::default().lacks(text);
    match lacking.is_empty() {
        true => Fonts::default(),
        false => Fonts::with(disk::fonts_for(&lacking)),
    }
}

/// To the file, or to stdout without one.
pub(super) fn put(session: &mut Session, output: Option<&Path>, bytes: &[u8]) -> Outcome {
    let Some(path) = output else {
        session.terminal.print(&String::from_utf8_lossy(bytes));
        return Ok(Exit::Clean);
    };
    write::output(path, bytes).map_err(|why| Failure::new(format!("`{}` cannot be written: {why}", path.display())))?;
    session.terminal.say(&format!("{} written", path.display()));
    Ok(Exit::Clean)
}
