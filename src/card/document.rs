//! A card as plain structs: what is on it and in which order, whatever paper, screen or terminal shows it.

use std::borrow::Cow;

use super::drawing::Drawing;
use super::words::{Rank, Words};
use crate::book;
use crate::mechanics::verdict::Verdict;
use crate::syntax::Kind;

/// The card of one item.
#[derive(Clone, Debug)]
pub struct Card {
    pub kind: Kind,
    pub name: String,
    pub sides: Vec<Side>,
    /// Whether it is made of texts that may not be saved.
    pub preview: bool,
}

/// What begins on a side of its own: the run card of a setup, its set-up card, the card of a record.
#[derive(Clone, Debug)]
pub struct Side {
    /// `Run card`
    pub what: &'static str,
    pub name: Words,
    /// Small print below the name.
    pub under: Vec<Words>,
    /// The large word in the corner: `DRAFT`, `RELEASED C`, a verdict.
    pub stamp: Option<Stamp>,
    /// What nobody may overlook, across the top.
    pub alarms: Vec<Words>,
    pub sections: Vec<Section>,
    /// Small print at the end.
    pub foot: Vec<Words>,
    /// What tells a loose side from others, at the foot of each.
    pub every: Words,
}

/// The stamp of a card that nobody may go by.
pub const BARRED: &str = "NOT TO BE USED";

#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Stamp {
    pub word: Cow<'static, str>,
    /// What the word means for who holds the card.
    pub meaning: &'static str,
    /// Whether the sheet may be worked by; others are framed by a broken line.
    pub firm: bool,
}

/// What a stamp goes by.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Standing {
    Stamped(Stamp),
    Judged(Verdict),
}

impl Standing {
    /// As the stamp of its card has it, a verdict as its record has it: `RELEASED C`, `within`.
    pub fn word(&self) -> &str {
        match self {
            Standing::Stamped(stamp) => &stamp.word,
            Standing::Judged(verdict) => book::word_of(*verdict),
        }
    }

    /// Of a sheet that may not be committed: until then, nobody works by it.
    pub(super) fn once_committed(self) -> Self {
        match self {
            Standing::Stamped(stamp) if stamp.firm => {
                Standing::Stamped(Stamp { word: format!("{} once committed", stamp.word).into(), ..stamp })
            }
            other => other,
        }
    }
}

impl Stamp {
    pub(super) fn firm(word: impl Into<Cow<'static, str>>, meaning: &'static str) -> Self {
        Self { word: word.into(), meaning, firm: true }
    }

    pub(super) fn loose(word: impl Into<Cow<'static, str>>, meaning: &'static str) -> Self {
        Self { word: word.into(), meaning, firm: false }
    }

    /// What is at the foot of every page.
    pub(super) fn at_foot(&self, is_preview: bool) -> String {
        match is_preview && self.word != "PREVIEW" {
            true => format!("PREVIEW, {}", self.word),
            false => self.word.clone().into_owned(),
        }
    }
}

/// A titled piece of a side, which is kept whole where a side has room for it.
#[derive(Clone, Debug)]
pub struct Section {
    pub title: Words,
    /// Set apart by a heavy frame.
    pub boxed: bool,
    /// Never on a side without the section before it.
    pub follows: bool,
    pub parts: Vec<Part>,
}

#[derive(Clone, Debug)]
pub enum Part {
    Text(Words),
    /// The same, to be read from afar.
    Far(Words),
    /// Numbers that are read from afar.
    Numbers(Vec<Number>),
    Rows(Vec<Row>),
    /// Rows one after another, as many on a line as fit.
    Fields(Vec<Row>),
    Table(Table),
    /// Beside each other, each with its share of the width; below each other where there is no room.
    Columns(Vec<Column>),
    Steps(Vec<Step>),
    Figures(Vec<Figure>),
    /// A table with a figure at its side, or below it where there is no room.
    Beside(Table, Figure),
    Cautions(Vec<Words>),
}

/// A column of a side.
#[derive(Clone, Debug)]
pub struct Column {
    pub share: f64,
    pub sections: Vec<Section>,
}

/// `never above 4200 rpm`
#[derive(Clone, Debug)]
pub struct Number {
    pub label: Words,
    /// From where to where it may be: `1115 to 1185`.
    pub band: Option<String>,
    pub value: Value,
}

#[derive(Clone, Debug)]
pub struct Row {
    pub label: Words,
    pub value: Value,
}

#[derive(Clone, Debug)]
pub enum Value {
    Text(Words),
    /// An item that may have a card of its own.
    Item {
        kind: Kind,
        name: String,
    },
    /// Not computed, and why: a line to measure into.
    Hole(Words),
    /// To be filled in at the machine.
    Blank(&'static str),
    /// Boxes to choose from.
    Choice(Vec<&'static str>),
}

#[derive(Clone, Debug)]
pub struct Table {
    pub caption: Words,
    pub heads: Vec<Words>,
    pub rows: Vec<Vec<Value>>,
    /// What is to be known to read it.
    pub below: Vec<Words>,
    /// Whether a hand writes into its rows.
    pub roomy: bool,
    /// The controls that its rows set, in the order in which they are set; none in any other table.
    pub controls: Vec<String>,
}

impl Table {
    pub fn new(heads: Vec<Words>, rows: Vec<Vec<Value>>) -> Self {
        Self { caption: Words::default(), heads, rows, below: Vec::new(), roomy: false, controls: Vec::new() }
    }

    pub fn captioned(mut self, caption: impl Into<Words>) -> Self {
        self.caption = caption.into();
        self
    }

    pub fn roomy(mut self) -> Self {
        self.roomy = true;
        self
    }

    pub fn setting(mut self, controls: Vec<String>) -> Self {
        self.controls = controls;
        self
    }

    pub fn note(mut self, words: impl Into<Words>) -> Self {
        self.below.push(words.into());
        self
    }
}

/// One thing to do, with a box to tick.
#[derive(Clone, Debug)]
pub struct Step {
    pub does: Words,
    pub rows: Vec<Row>,
    /// Set apart by a heavy frame.
    pub boxed: bool,
}

#[derive(Clone, Debug)]
pub struct Figure {
    pub title: Words,
    pub drawing: Drawing,
    /// What is to be known to read it.
    pub below: Vec<Words>,
}

impl Number {
    pub fn about(self, rank: Rank) -> Self {
        Self { label: self.label.about(rank), ..self }
    }

    pub fn new(label: impl Into<Words>, value: Value) -> Self {
        Self { label: label.into(), band: None, value }
    }

    /// Its label as it is printed, with the band.
    pub fn head(&self) -> Words {
        match &self.band {
            Some(band) => self.label.clone().say(" (").say(band.clone()).say(")"),
            None => self.label.clone(),
        }
    }
}

impl Row {
    pub fn about(self, rank: Rank) -> Self {
        Self { label: self.label.about(rank), ..self }
    }

    pub fn new(label: impl Into<Words>, value: Value) -> Self {
        Self { label: label.into(), value }
    }
}

impl Value {
    /// What it says, without its look.
    pub fn plain(&self) -> String {
        match self {
            Value::Text(words) => words.plain(),
            Value::Item { name, .. } => name.clone(),
            Value::Hole(words) => format!("________ ({})", words.plain()),
            Value::Blank(words) => (*words).to_owned(),
            Value::Choice(words) => words.join(" / "),
        }
    }

    pub fn text(text: impl Into<Words>) -> Self {
        Value::Text(text.into())
    }

    pub fn strong(text: impl Into<String>) -> Self {
        Value::Text(Words::strong(text))
    }
}

impl Section {
    /// Its title without its number and the room to write into.
    pub fn bare_title(&self) -> String {
        Self::bare(&self.title.plain())
    }

    /// The same of a title as text.
    pub fn bare(title: &str) -> String {
        title.trim_start_matches(|c: char| c.is_ascii_digit()).trim_end_matches('_').trim().to_owned()
    }

    pub fn new(title: impl Into<Words>) -> Self {
        Self { title: title.into(), boxed: false, follows: false, parts: Vec::new() }
    }

    pub fn boxed(title: impl Into<Words>) -> Self {
        Self { boxed: true, ..Self::new(title) }
    }

    pub fn following(mut self) -> Self {
        self.follows = true;
        self
    }

    pub fn part(mut self, part: Part) -> Self {
        self.parts.push(part);
        self
    }

    pub fn text(self, words: impl Into<Words>) -> Self {
        self.part(Part::Text(words.into()))
    }

    pub fn rows(self, rows: Vec<Row>) -> Self {
        if rows.is_empty() { self } else { self.part(Part::Rows(rows)) }
    }

    pub fn cautions(self, cautions: Vec<Words>) -> Self {
        if cautions.is_empty() { self } else { self.part(Part::Cautions(cautions)) }
    }
}

impl Step {
    pub fn new(does: impl Into<Words>) -> Self {
        Self { does: does.into(), rows: Vec::new(), boxed: false }
    }

    pub fn row(mut self, label: impl Into<Words>, value: Value) -> Self {
        self.rows.push(Row::new(label, value));
        self
    }

    /// A row where there is something to say.
    pub fn row_of(self, label: impl Into<Words>, value: Option<Value>) -> Self {
        match value {
            Some(value) => self.row(label, value),
            None => self,
        }
    }
}
