//! Names within an item that are others now: an old card is read with the names of the new one.

use crate::card::document::{Section, Value};
use crate::card::words::{Piece, Words};

/// A name of something within an item, and what that is called now.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct NameNow<'n> {
    pub of: NameOn,
    pub was: &'n str,
    pub is: &'n str,
}

/// Where a card has such a name.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum NameOn {
    /// Of a control: first of all in its row of the panel.
    Control,
    /// Of a position: what a control is set to, and nowhere else.
    Position,
    /// Anywhere but on the panel.
    Other,
}

/// What of a card is read.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum At {
    /// What is set on the panel.
    Panel,
    /// To what it is set.
    Setting,
    Elsewhere,
}

impl NameOn {
    fn is_at(self, at: At) -> bool {
        match at {
            At::Panel => self == NameOn::Control,
            At::Setting => self == NameOn::Position,
            At::Elsewhere => self != NameOn::Position,
        }
    }
}

/// How the names of a card are read.
#[derive(Clone, Copy)]
pub(super) struct Names<'n> {
    all: &'n [NameNow<'n>],
    /// Which it is where several things had one name; none of them where it is not said.
    which: Option<usize>,
}

impl<'n> Names<'n> {
    /// As they stand on the card.
    pub const AS_THEY_ARE: Self = Self { all: &[], which: None };

    /// As they are now; where several things had one name, it stays.
    pub fn surely(all: &'n [NameNow<'n>]) -> Self {
        Self { all, which: None }
    }

    /// As they are now; where several things had one name, each of them in turn.
    pub fn ways(all: &'n [NameNow<'n>]) -> impl Iterator<Item = Self> {
        let like = |one: &NameNow<'_>| all.iter().filter(|other| other.was == one.was).count();
        (0..all.iter().map(like).max().unwrap_or_default()).map(move |way| Self { all, which: Some(way) })
    }

    /// The new name of a thing; `None` where the text names nothing, or the name is unchanged.
    fn now(self, text: &str, at: At) -> Option<&'n str> {
        let mut names: Vec<&'n str> = Vec::new();
        for one in self.all.iter().filter(|one| one.was == text && one.of.is_at(at)) {
            if !names.contains(&one.is) {
                names.push(one.is);
            }
        }
        match (self.which, names.as_slice()) {
            (_, [one]) => Some(one),
            (Some(which), [.., last]) => Some(names.get(which).unwrap_or(last)),
            _ => None,
        }
    }

    /// A text that may be a name, and nothing else.
    pub fn text(self, text: &str, at: At) -> String {
        self.now(text, at).unwrap_or(text).to_owned()
    }

    /// A text of a drawing: a name, or one with its place after it: `hub 34 mm`.
    pub fn label(self, text: &str) -> String {
        let is_placed = |at: &usize| text[at + 1..].starts_with(|c: char| c.is_ascii_digit() || c == '-');
        match text.match_indices(' ').map(|(at, _)| at).find(is_placed) {
            Some(at) => format!("{}{}", self.text(&text[..at], At::Elsewhere), &text[at..]),
            None => self.text(text, At::Elsewhere),
        }
    }

    /// Words, of which those out of a sheet may be names.
    pub fn words(self, words: &Words, at: At) -> String {
        let text = |piece: &Piece| match piece {
            Piece::Said(text) => text.to_string(),
            piece => self.text(piece.text(), at),
        };
        words.pieces.iter().map(text).collect()
    }

    pub fn value(self, value: &Value, at: At) -> String {
        match value {
            Value::Text(words) => self.words(words, at),
            value => value.plain(),
        }
    }

    pub fn title(self, section: &Section) -> String {
        Section::bare(&self.words(&section.title, At::Elsewhere))
    }
}
