//! What a card says: its own words, and those out of a sheet apart from them.

use std::borrow::Cow;

/// A text put together from words of the card's own and words out of the sheet, which may be in any script.
#[derive(Clone, PartialEq, Eq, Default, Debug)]
pub struct Words {
    pub pieces: Vec<Piece>,
    /// What they are about, where it matters to whoever has an older card.
    pub about: Option<Rank>,
}

/// What a line of a card is about, the gravest first. The first three ranks are always listed in full where a card changes.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Rank {
    /// Whether the card may be used.
    Stamp,
    /// Speeds never to exceed, corrections never to make, and cautions.
    Speed,
    /// Where angles count from and which way, and where hands correct.
    Places,
    /// What is set, laid in and run.
    Panel,
    /// What may be read, and what a plane takes.
    Limits,
    /// Tables of numbers.
    Rows,
    /// All other sentences.
    Texts,
    /// Whose card it is and what it was made from.
    Document,
}

/// Of two, the graver.
pub fn graver(one: Option<Rank>, other: Option<Rank>) -> Option<Rank> {
    one.into_iter().chain(other).min()
}

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
    fn of(piece: Piece) -> Self {
        Self { pieces: vec![piece], about: None }
    }

    pub fn said(text: impl Into<Cow<'static, str>>) -> Self {
        Self::of(Piece::Said(text.into()))
    }

    pub fn stated(text: impl Into<String>) -> Self {
        Self::of(Piece::Stated(text.into()))
    }

    pub fn strong(text: impl Into<String>) -> Self {
        Self::of(Piece::Strong(text.into()))
    }

    /// What a hand sets or reads.
    pub fn hand(text: impl Into<String>) -> Self {
        Self::of(Piece::Hand(text.into()))
    }

    /// What is never cut.
    pub fn whole(text: impl Into<String>) -> Self {
        Self::of(Piece::Whole(text.into()))
    }

    pub fn say(mut self, text: impl Into<Cow<'static, str>>) -> Self {
        self.pieces.push(Piece::Said(text.into()));
        self
    }

    pub fn state(mut self, text: impl Into<String>) -> Self {
        self.pieces.push(Piece::Stated(text.into()));
        self
    }

    pub fn stress(mut self, text: impl Into<String>) -> Self {
        self.pieces.push(Piece::Strong(text.into()));
        self
    }

    pub fn set(mut self, text: impl Into<String>) -> Self {
        self.pieces.push(Piece::Hand(text.into()));
        self
    }

    pub fn about(mut self, rank: Rank) -> Self {
        self.about = Some(rank);
        self
    }

    /// The text alone.
    pub fn plain(&self) -> String {
        self.pieces.iter().map(Piece::text).collect()
    }

    /// The same with other words after them.
    pub fn with(mut self, words: &Words) -> Self {
        self.pieces.extend(words.pieces.iter().cloned());
        self.about = graver(self.about, words.about);
        self
    }

    pub fn is_empty(&self) -> bool {
        self.pieces.iter().all(|piece| piece.text().is_empty())
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
