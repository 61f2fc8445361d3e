//! What a card says: its own words, and those out of a sheet apart from them.

use std::borrow::Cow;

/// A text put together from words of the card's own and words out of the sheet, which may be in any script.
#[derive(Clone, PartialEq, Eq, Default, Debug)]
pub struct Words(pub Vec<Piece>);

#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Piece {
    Said(Cow<'static, str>),
    /// Out of a sheet.
    Stated(String),
    /// What the eye should find first.
    Strong(String),
    /// The same, and never cut however long it is: what keeps people from harm.
    Whole(String),
    /// What a hand sets or reads.
    Hand(String),
}

impl Piece {
    pub fn text(&self) -> &str {
        match self {
            Piece::Said(text) => text,
            Piece::Stated(text) | Piece::Strong(text) | Piece::Whole(text) | Piece::Hand(text) => text,
        }
    }
}

impl Words {
    pub fn said(text: impl Into<Cow<'static, str>>) -> Self {
        Self(vec![Piece::Said(text.into())])
    }

    pub fn stated(text: impl Into<String>) -> Self {
        Self(vec![Piece::Stated(text.into())])
    }

    pub fn strong(text: impl Into<String>) -> Self {
        Self(vec![Piece::Strong(text.into())])
    }

    /// What a hand sets or reads.
    pub fn hand(text: impl Into<String>) -> Self {
        Self(vec![Piece::Hand(text.into())])
    }

    /// What is never cut.
    pub fn whole(text: impl Into<String>) -> Self {
        Self(vec![Piece::Whole(text.into())])
    }

    pub fn say(mut self, text: impl Into<Cow<'static, str>>) -> Self {
        self.0.push(Piece::Said(text.into()));
        self
    }

    pub fn state(mut self, text: impl Into<String>) -> Self {
        self.0.push(Piece::Stated(text.into()));
        self
    }

    pub fn stress(mut self, text: impl Into<String>) -> Self {
        self.0.push(Piece::Strong(text.into()));
        self
    }

    pub fn set(mut self, text: impl Into<String>) -> Self {
        self.0.push(Piece::Hand(text.into()));
        self
    }

    /// The text alone.
    pub fn plain(&self) -> String {
        self.0.iter().map(Piece::text).collect()
    }

    /// The same with other words after them.
    pub fn with(mut self, words: &Words) -> Self {
        self.0.extend(words.0.iter().cloned());
        self
    }

    pub fn is_empty(&self) -> bool {
        self.0.iter().all(|piece| piece.text().is_empty())
    }
}

impl From<&'static str> for Words {
    fn from(text: &'static str) -> Self {
        Self::said(text)
    }
}

/// What is put together at run time may hold words of a sheet.
impl From<String> for Words {
    fn from(text: String) -> Self {
        Self::stated(text)
    }
}
