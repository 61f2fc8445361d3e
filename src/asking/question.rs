//! One thing that is asked, and what an answer to it does.

use super::corrections::{self, Done};
use super::extra;
use super::forms::{self, Form};
use super::record::{self, PutOn, Rotor};
use super::runs;
use crate::book::{Book, FileId, ItemId};
use crate::check;
use crate::sheet::Block;
use crate::syntax::Kind;
use crate::text::{Edit, Span};
use crate::vocabulary::{self, Choice, YesNo};

/// One thing that is asked.
pub struct Question<'b> {
    /// Of what: `Run as found`. Said once for the questions that follow each other with it.
    pub about: String,
    /// `Reading left (hub)`
    pub asks: String,
    /// How it is answered: `8.8 div @ 310`
    pub example: String,
    /// What no answer means, where it means something.
    pub usual: Option<String>,
    /// What an answer is written as: `reading left`. Empty where it is not one line.
    pub head: String,
    pub(super) wanted: Wanted<'b>,
}

pub(super) enum Wanted<'b> {
    /// Whether to go on.
    Whether,
    /// The serial number, with which a record begins.
    Serial(Box<Rotor<'b>>),
    Line(Box<Line<'b>>),
    /// What was done in one plane.
    Work(Box<Done<'b>>),
    /// How to go on after a run.
    Then(Box<runs::Then<'b>>),
}

/// A fact that is asked for, and where it goes.
pub(super) struct Line<'b> {
    pub into: Into<'b>,
    pub form: Form,
    /// What is on the rotor while it is answered.
    pub puts_on: Option<PutOn>,
    /// Whether the work goes on without an answer.
    pub may_be_left_out: bool,
    /// What it is remembered by once it is answered, where it is asked although something is said already.
    pub once: Option<String>,
}

pub(super) enum Into<'b> {
    /// At the end of a block.
    Block(ItemId, &'b Block),
    /// Into a new block at the end of another, between these lines of it.
    New { item: ItemId, outer: &'b Block, heading: String, before: Vec<String>, after: Vec<String> },
    /// In place of a `?`.
    Hole(ItemId, Span),
    /// In place of what a run says that is read; the same again changes nothing.
    Told(ItemId, Span),
}

/// What an answer does.
pub enum Step {
    /// A record begins, of this name and with this text.
    Begins { name: String, text: String },
    /// The record of this name, which was begun today, goes on.
    GoesOn(String),
    /// Edits of a file.
    Writes { file: FileId, edits: Vec<Edit> },
    /// Nothing is done in this plane, or nothing known of this fact or block.
    LeavesOut(String),
    /// What was warned of does not end it.
    GoesOnDespite,
    /// Nothing more is asked.
    Ends,
}

/// Whether a text is the head of a fact that may be asked for: `reading left`.
pub fn is_head(text: &str) -> bool {
    let kinds = [Kind::Record, Kind::Run, Kind::Trial, Kind::Proof, Kind::Separation, Kind::Linearity];
    let mut keys = kinds.into_iter().flat_map(|kind| vocabulary::block(kind).keys);
    keys.any(|key| text.strip_prefix(key.name).is_some_and(|of| of.is_empty() || of.starts_with(' ')))
}

/// Why an answer cannot be taken.
#[derive(Debug)]
pub struct Refused(pub String);

pub(super) const TOO_FULL: &str = "the block does not end on a line of its own: run `rotorbook fmt` first";

impl Question<'_> {
    /// Whether to go on by a sheet that is not to be used.
    pub fn whether_despite(about: String) -> Self {
        Question {
            about,
            asks: "Go on despite this, with a record that shows nothing".to_owned(),
            example: check::or_list(YesNo::WORDS),
            usual: None,
            head: String::new(),
            wanted: Wanted::Whether,
        }
    }

    /// Whether the example names all answers that there are.
    pub fn is_one_of(&self) -> bool {
        match &self.wanted {
            Wanted::Whether | Wanted::Then(_) => true,
            Wanted::Line(line) => matches!(line.form, Form::Choice(_)),
            Wanted::Serial(_) | Wanted::Work(_) => false,
        }
    }

    /// Whether all that was read in the last run is known.
    pub fn comes_after_a_run(&self) -> bool {
        matches!(self.wanted, Wanted::Work(_) | Wanted::Then(_)) || self.corrects_a_run()
    }

    /// Whether an answer changes what a run says that is read.
    pub fn corrects_a_run(&self) -> bool {
        matches!(&self.wanted, Wanted::Line(line) if line.once.is_some() || matches!(line.into, Into::Told(..)))
    }

    /// What it is remembered by once it is answered. A word of a run that is changed leaves nothing to ask again.
    pub fn once(&self) -> Option<&str> {
        match &self.wanted {
            Wanted::Line(line) if matches!((&line.into, &line.form), (Into::Told(..), Form::Choice(_))) => None,
            Wanted::Line(line) => line.once.as_deref(),
            _ => None,
        }
    }

    /// The plane of which it asks what was done there.
    pub fn corrects(&self) -> Option<&str> {
        match &self.wanted {
            Wanted::Work(done) => Some(&done.plane),
            _ => None,
        }
    }

    /// Whether an answer may open another run.
    pub fn opens_a_run(&self) -> bool {
        matches!(self.wanted, Wanted::Then(_))
            || matches!(&self.wanted, Wanted::Line(line) if matches!(line.into, Into::New { .. }))
    }

    /// What is on the rotor while it is answered.
    pub fn puts_on(&self) -> Option<PutOn> {
        match &self.wanted {
            Wanted::Line(line) => line.puts_on,
            _ => None,
        }
    }

    /// Whether it asks if all masses are off.
    pub fn asks_for_masses(&self) -> bool {
        self.head == vocabulary::run::CALIBRATION_MASSES.words()
    }

    /// Whether nothing was to be answered to it.
    pub(super) fn is_left_out(&self, left_out: &[String]) -> bool {
        left_out.contains(&self.left_out_as())
    }

    /// What it is remembered by when nothing is answered: the block that is not begun, else the line.
    fn left_out_as(&self) -> String {
        match &self.wanted {
            Wanted::Line(line) if line.once.is_some() => line.once.clone().unwrap_or_default(),
            Wanted::Line(line) => match &line.into {
                Into::New { heading, .. } => heading.clone(),
                Into::Block(..) | Into::Hole(..) | Into::Told(..) => self.head.clone(),
            },
            _ => self.head.clone(),
        }
    }

    /// Whether `-` is an answer that the example does not name.
    pub fn may_be_left_out(&self) -> bool {
        let is_said = self.example.contains("`-`");
        !is_said
            && matches!(&self.wanted, Wanted::Line(line) if line.may_be_left_out && !matches!(line.form, Form::Names(_)))
    }

    /// Which answers there are.
    fn ways(&self) -> String {
        let usual = self.usual.as_ref().map(|usual| format!("Enter for {usual}; ")).unwrap_or_default();
        format!("answer as in: {}; {usual}`back` takes the last answer out", self.example)
    }

    /// What an answer does; no answer is what is usual.
    pub fn answered(&self, book: &Book, given: &str) -> Result<Step, Refused> {
        let given = given.trim();
        let given = match (&self.usual, given) {
            (Some(usual), "") => usual,
            (None, "") => return Err(Refused(format!("an answer is wanted: {}", self.example))),
            (_, given) => given,
        };
        if given == "?" {
            return Err(Refused(self.ways()));
        }
        if let Some(character) = given.chars().find(|c| c.is_control() || matches!(c, '{' | '}' | '#')) {
            return Err(Refused(format!("an answer has no `{}`", character.escape_default())));
        }
        match &self.wanted {
            Wanted::Whether if forms::chosen(YesNo::WORDS, given)? == YesNo::Yes.words() => Ok(Step::GoesOnDespite),
            Wanted::Whether => Ok(Step::Ends),
            Wanted::Serial(rotor) => Ok(record::begin(book, rotor, given)),
            Wanted::Line(line) if line.is_of_none(given) || given == "-" && line.may_be_left_out => {
                Ok(Step::LeavesOut(self.left_out_as()))
            }
            Wanted::Line(_) if given == "-" => Err(Refused(format!("an answer is wanted: {}", self.example))),
            Wanted::Line(line) => line.write(book, &self.head, given),
            Wanted::Work(done) => corrections::write(book, done, given),
            Wanted::Then(then) => runs::go_on(book, then, given),
        }
    }
}

impl Line<'_> {
    /// Whether an answer says that nothing has to be written: all extra masses are on.
    fn is_of_none(&self, given: &str) -> bool {
        matches!(self.form, Form::Names(_)) && extra::is_all_on(given)
    }

    fn write(&self, book: &Book, head: &str, given: &str) -> Result<Step, Refused> {
        let text = |item: ItemId| &*book.file(item.file).text;
        let lines = self.form.lines(head, given)?;
        match &self.into {
            Into::Block(item, block) => at_end(book, *item, block, &lines.join("\n")),
            Into::New { item, outer, heading, before, after } => {
                let own: Vec<String> =
                    before.iter().chain(&lines).chain(after).map(|line| format!("  {line}")).collect();
                at_end(book, *item, outer, &format!("\n{heading} {{\n{}\n}}", own.join("\n")))
            }
            Into::Told(item, span) if lines == [format!("{head}: {}", span.of(text(*item)))] => {
                Ok(Step::LeavesOut(self.once.clone().unwrap_or_else(|| head.to_owned())))
            }
            Into::Hole(item, span) | Into::Told(item, span) => {
                let value = lines.first().and_then(|line| line.strip_prefix(&format!("{head}: ")));
                let more = lines.iter().skip(1).map(|line| {
                    let start = text(*item)[..span.start as usize].rfind('\n').map_or(0, |at| at + 1);
                    let line_start = &text(*item)[start..];
                    let indentation = &line_start[..line_start.len() - line_start.trim_start().len()];
                    format!("\n{indentation}{line}")
                });
                let new = value.unwrap_or_default().to_owned() + &more.collect::<String>();
                Ok(Step::Writes { file: item.file, edits: vec![Edit::replace(*span, new)] })
            }
        }
    }
}

/// Lines at the end of a block.
pub(super) fn at_end(book: &Book, item: ItemId, block: &Block, lines: &str) -> Result<Step, Refused> {
    let edit = check::line_at_end(&book.file(item.file).text, block, lines).ok_or_else(|| Refused(TOO_FULL.into()))?;
    Ok(Step::Writes { file: item.file, edits: vec![edit] })
}
