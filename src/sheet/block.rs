//! Blocks of facts.

use super::amount::Stated;
use crate::syntax::Kind;
use crate::text::Span;
use crate::units::Unit;
use crate::vocabulary::{self, BlockSpec, Choice, Fact, KeySpec};

/// A name with the place where it is written. The span holds its quotes.
#[derive(Clone, PartialEq, Debug)]
pub struct NameAt {
    pub text: Box<str>,
    pub span: Span,
    pub quoted: bool,
}

/// An item or an inner block.
#[derive(Clone, Debug)]
pub struct Block {
    pub kind: Kind,
    pub name: Option<NameAt>,
    /// Kind and name, without the brace.
    pub heading: Span,
    /// From the kind to the end of the closing line.
    pub span: Span,
    /// Just after the opening brace's line; where a first line can be inserted.
    pub body: u32,
    /// At the start of the closing line, or the end of the block when it was never closed.
    pub end: u32,
    pub fields: Vec<Field>,
    pub pins: Vec<Pin>,
    pub blocks: Vec<Block>,
}

/// One stated fact.
#[derive(Clone, Debug)]
pub struct Field {
    pub key: &'static KeySpec,
    /// The name in the head: the channel of `reading left`, the plane of a tolerance, the control of a setting.
    pub name: Option<NameAt>,
    pub head: Span,
    pub value: FieldValue,
    pub value_span: Span,
}

/// What comes after the colon, read as its key demands.
#[derive(Clone, PartialEq, Debug)]
pub enum FieldValue {
    /// Something was wrong with it, and has been reported: what depends on it is not computed.
    Hole,
    /// `?`: known to be missing. A hole too, which only a note speaks of.
    Unknown,
    Quantity(Stated),
    Range(Box<StatedRange>),
    Ranges(Vec<StatedRange>),
    Quantities(Vec<Stated>),
    Number(f64),
    NumberRange(f64, f64),
    Unit(Unit),
    Units(Vec<Unit>),
    /// The number of a balance quality grade, e·Ω in mm/s.
    Grade(f64),
    Text(Box<str>),
    Name(NameAt),
    Names(Vec<NameAt>),
    Choice(&'static str),
    Reading(Box<StatedReading>),
    Readings(Vec<StatedReading>),
    Clock {
        hour: u8,
        minute: u8,
    },
    Date {
        year: i16,
        month: i8,
        day: i8,
    },
    /// What was read on a day.
    OfDay(Box<DatedReading>),
    /// Mass and axial place of each of two weighings.
    Weighing(Box<[(Stated, Stated); 2]>),
    Places {
        count: u32,
        from: Stated,
    },
    Setting(SettingValue),
}

/// A reading with the day on which it was taken.
#[derive(Clone, PartialEq, Debug)]
pub struct DatedReading {
    pub year: i16,
    pub month: i8,
    pub day: i8,
    pub reading: StatedReading,
}

/// Low and high end; an end that is not given is open.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct StatedRange {
    pub low: Option<Stated>,
    pub high: Option<Stated>,
}

/// An amount on the readout.
#[derive(Clone, PartialEq, Debug)]
pub struct StatedReading {
    pub amount: Stated,
    pub scale: Option<NameAt>,
    pub angle: Option<Stated>,
}

/// What a control is set to.
#[derive(Clone, PartialEq, Debug)]
pub enum SettingValue {
    AsFound,
    Number(f64),
    Quantity(Stated),
    Position(Box<str>),
}

/// A result that is in the text.
#[derive(Clone, Debug)]
pub struct Pin {
    /// The name of the result, without the quotes of a name in it.
    pub name: Box<str>,
    pub head: Span,
    pub value: PinValue,
    pub value_span: Span,
}

#[derive(Clone, PartialEq, Debug)]
pub enum PinValue {
    Hole,
    /// `?`: to be filled with what is computed.
    Unknown,
    Amount(Stated),
    Vector {
        amount: Stated,
        angle: Stated,
    },
    Words(Box<str>),
}

impl SettingValue {
    /// What is written for a control that stays as it is found.
    pub const AS_FOUND: &'static str = "as found";
}

impl FieldValue {
    /// Whether there is nothing to be had from it.
    pub fn is_hole(&self) -> bool {
        matches!(self, Self::Hole | Self::Unknown)
    }
}

impl Field {
    /// The name in its head, empty where it has none.
    pub fn name_text(&self) -> &str {
        self.name.as_ref().map_or("", |name| &name.text)
    }
}

impl Block {
    pub fn spec(&self) -> &'static BlockSpec {
        vocabulary::block(self.kind)
    }

    pub fn name_text(&self) -> &str {
        self.name.as_ref().map_or("", |name| &name.text)
    }

    /// The first fact of this key; keys that may not repeat have no other.
    pub fn field<T: ?Sized>(&self, fact: Fact<T>) -> Option<&Field> {
        let key = fact.words();
        debug_assert!(self.spec().key(key).is_some(), "{} has no key {key}", self.kind);
        self.fields.iter().find(|field| field.key.name == key)
    }

    /// What a fact that is a choice says; `None` where it is left out or unreadable.
    pub fn choice<C: Choice>(&self, fact: Fact<C>) -> Option<C> {
        match &self.field(fact)?.value {
            FieldValue::Choice(words) => C::of(words),
            _ => None,
        }
    }

    /// The facts whose head is a name: planes in `tolerance`, controls in `settings`.
    pub fn named_fields(&self) -> impl Iterator<Item = (&NameAt, &Field)> {
        let named = self.spec().named_facts.as_ref().map(|named| &named.spec);
        self.fields
            .iter()
            .filter(move |field| named.is_some_and(|spec| std::ptr::eq(field.key, spec)))
            .filter_map(|field| field.name.as_ref().map(|name| (name, field)))
    }

    /// The inner blocks of one kind, in order.
    pub fn inner(&self, kind: Kind) -> impl Iterator<Item = &Block> {
        self.blocks.iter().filter(move |block| block.kind == kind)
    }
}
