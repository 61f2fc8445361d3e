//! A card as plain structs: what stands on it and in which order, whatever paper, screen or terminal shows it.

use super::words::Words;

use super::drawing::Drawing;
use crate::syntax::Kind;

/// The card of one item.
#[derive(Clone, Debug)]
pub struct Card {
    pub kind: Kind,
    pub name: String,
    /// The large word in the corner: `DRAFT`, `RELEASED`, a verdict.
    pub stamp: Option<Stamp>,
    /// What nobody may overlook, across the top.
    pub alarms: Vec<Words>,
    pub head: Vec<Row>,
    pub sections: Vec<Section>,
    pub foot: Vec<Words>,
    /// Whether it is made of texts that may not be saved.
    pub preview: bool,
}

#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Stamp {
    pub word: &'static str,
    /// What the word means for who holds the card.
    pub meaning: &'static str,
    /// Whether the sheet may be worked by; others are framed by a broken line.
    pub firm: bool,
}

impl Stamp {
    /// Nothing puts such a sheet right, so that no other word takes its place.
    pub(super) const WITHDRAWN: Self = Self { word: "NOT TO BE USED", meaning: "the sheet is withdrawn", firm: false };

    /// What takes the place of the sheet's own word where nobody may work by the card. An error in the sheet weighs
    /// more than a calibration that is void, and that more than a text that is not saved.
    pub(super) fn instead(own: Option<&Stamp>, has_errors: bool, is_void: bool, is_preview: bool) -> Option<Stamp> {
        let stamp = |word, meaning| Some(Stamp { word, meaning, firm: false });
        if own.is_some_and(|own| own.word == Self::WITHDRAWN.word) {
            return None;
        }
        match (has_errors, is_void, is_preview) {
            (true, ..) => stamp("NOT TO BE USED: ERRORS", "until they are put right"),
            (_, true, _) => stamp("CALIBRATION VOID — NOT TO BE USED", "until the sheet is proven again"),
            (.., true) => stamp(
                "PREVIEW",
                match own.map(|own| own.word) {
                    Some("RELEASED") => "of a released sheet, of a text that may not be saved: not to work by",
                    Some("DRAFT") => "of a draft, of a text that may not be saved: not to work by",
                    _ => "of a text that may not be saved: not to work by",
                },
            ),
            _ => None,
        }
    }

    /// What stands at the foot of every page.
    pub(super) fn at_foot(&self, is_preview: bool) -> String {
        match is_preview && self.word != "PREVIEW" {
            true => format!("PREVIEW, {}", self.word),
            false => self.word.to_owned(),
        }
    }
}

#[derive(Clone, Debug)]
pub struct Section {
    pub title: &'static str,
    /// Set apart by a heavy frame.
    pub boxed: bool,
    pub parts: Vec<Part>,
}

#[derive(Clone, Debug)]
pub enum Part {
    Text(Words),
    /// A sentence as large as a heading.
    Order(Words),
    Rows(Vec<Row>),
    Table(Table),
    /// Facts with a table beside them.
    Beside(Vec<Row>, Table),
    Steps(Vec<Step>),
    Figures(Vec<Figure>),
    Cautions(Vec<Words>),
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

impl Row {
    pub fn new(label: impl Into<Words>, value: Value) -> Self {
        Self { label: label.into(), value }
    }
}

impl Value {
    pub fn text(text: impl Into<Words>) -> Self {
        Value::Text(text.into())
    }

    pub fn strong(text: impl Into<String>) -> Self {
        Value::Text(Words::strong(text))
    }
}

impl Section {
    pub fn new(title: &'static str) -> Self {
        Self { title, boxed: false, parts: Vec::new() }
    }

    pub fn boxed(title: &'static str) -> Self {
        Self { boxed: true, ..Self::new(title) }
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
