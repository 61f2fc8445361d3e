//! A fact by its words, and the Rust type of what it takes.

use std::marker::PhantomData;

use super::spec::KeySpec;
use super::value_type::{Choices, NameOf, ValueType};
use crate::syntax::Kind;
use crate::units::{Amount, Dimension, Indication, Ratio, Typed};

/// The words of a fact, typed by what it takes, so that nobody can misspell it or read it as something else:
/// `machine::SWING` is a `Fact<Length>`, `machine::SUPPORTS` a `Fact<Supports>`.
///
/// Two blocks may have a fact of the same words; which block is meant follows from where it is looked up.
pub struct Fact<T: ?Sized> {
    words: &'static str,
    takes: PhantomData<fn() -> Box<T>>,
}

/// Any fact, where only its words matter.
pub type AnyFact = Fact<dyn std::any::Any>;

impl<T: ?Sized> Fact<T> {
    pub(super) const fn new(words: &'static str) -> Self {
        Self { words, takes: PhantomData }
    }

    /// As its line begins.
    pub const fn words(self) -> &'static str {
        self.words
    }

    /// The fact that a key declares.
    pub const fn of_key(key: &KeySpec) -> Self {
        Self::new(key.name)
    }

    /// The same fact, whatever it takes.
    pub const fn any(self) -> AnyFact {
        Fact::new(self.words)
    }
}

impl<T: ?Sized> Clone for Fact<T> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<T: ?Sized> Copy for Fact<T> {}

impl<T: ?Sized, U: ?Sized> PartialEq<Fact<U>> for Fact<T> {
    fn eq(&self, other: &Fact<U>) -> bool {
        self.words == other.words
    }
}

impl<T: ?Sized> Eq for Fact<T> {}

impl<T: ?Sized> std::fmt::Debug for Fact<T> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.words)
    }
}

impl<T: ?Sized> std::fmt::Display for Fact<T> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.words)
    }
}

/// What a fact takes, as a type.
pub trait Takes {
    const VALUE: ValueType;
}

/// A quantity of one dimension.
impl<T: Typed> Takes for T {
    const VALUE: ValueType = ValueType::Quantity(&[T::DIMENSION]);
}

/// Several dimensions that one fact may be given in.
pub trait Dimensions {
    const DIMENSIONS: &'static [Dimension];
}

impl<T: Typed> Dimensions for T {
    const DIMENSIONS: &'static [Dimension] = &[T::DIMENSION];
}

/// A closed list of words, each a variant.
pub trait Choice: Copy + Sized + 'static {
    const CHOICES: Choices;
    const WORDS: &'static [&'static str] = Self::CHOICES.words;

    /// As the sheets say it.
    fn words(self) -> &'static str;

    /// The choice of these words.
    fn of(words: &str) -> Option<Self>;
}

/// A fact that holds one quantity, and the type that formulas take it as.
pub trait OneQuantity {
    type Quantity: Amount;
}

impl<T: Typed> OneQuantity for T {
    type Quantity = T;
}

impl OneQuantity for Percentage {
    type Quantity = Ratio;
}

impl OneQuantity for Divisions {
    type Quantity = Indication;
}

impl OneQuantity for Marks {
    type Quantity = Indication;
}

impl OneQuantity for ReadoutAmount {
    type Quantity = Indication;
}

/// A fact that holds one plain number.
pub trait PlainNumber {}

impl PlainNumber for Number {}
impl PlainNumber for Count {}
impl PlainNumber for Grade {}

/// A fact that holds a list of quantities.
pub trait SeveralQuantities {
    type Quantity: Amount;
}

impl<T: Typed> SeveralQuantities for List<T> {
    type Quantity = T;
}

impl<T: Typed> SeveralQuantities for Pair<T> {
    type Quantity = T;
}

/// A fact that holds a range of a quantity, or a quantity alone.
pub trait QuantityRange {
    type Quantity: Amount;
}

impl<T: Typed> QuantityRange for Range<T> {
    type Quantity = T;
}

impl<T: Typed> QuantityRange for OneOrRange<T> {
    type Quantity = T;
}

/// Types that only say what a fact takes; no value of them is ever made.
macro_rules! marks {
    ($($(#[$doc:meta])* $name:ident: $value:expr;)*) => {
        $($(#[$doc])* #[derive(Debug)] pub enum $name {}
        impl Takes for $name { const VALUE: ValueType = $value; })*
    };
}

marks! {
    /// A plain number without a unit.
    Number: ValueType::Number;
    /// A whole plain number from 1.
    Count: ValueType::Count;
    /// A range of plain numbers.
    NumberRange: ValueType::NumberRange;
    Percentage: ValueType::Percentage;
    /// A percentage, or an amount on the readout.
    PercentageOrAmount: ValueType::PercentageOrAmount;
    /// A balance quality grade.
    Grade: ValueType::Grade;
    /// Units of output, one a dimension.
    OutputUnits: ValueType::UnitNames(Self::DIMENSIONS);
    Text: ValueType::Text;
    /// An amount on the readout, with an angle and a scale where the readout has them.
    Reading: ValueType::Reading;
    Readings: ValueType::Readings;
    /// A date, and what was read on that day.
    ReadingOfDay: ValueType::ReadingOfDay;
    /// An unbalance at an angle.
    UnbalanceVector: ValueType::UnbalanceVector;
    /// An unbalance, with an angle or without, or a share.
    ErrorAmount: ValueType::UnbalanceOrPercentage;
    /// A place of the clock as seen, or what the pointer shows.
    ClockOrAngle: ValueType::ClockOrAngle;
    Clock: ValueType::Clock;
    Date: ValueType::Date;
    /// Two masses, each at a place.
    Weighing: ValueType::Weighing;
    /// `8 from 0 deg`
    PlacesAround: ValueType::Places;
    /// What a control of the machine is set to.
    Setting: ValueType::Setting;
    /// The positions of a switch.
    Positions: ValueType::Positions;
    /// The range of a dial: plain numbers or quantities.
    DialRange: ValueType::DialRange;
    /// What a dial moves by.
    DialStep: ValueType::DialStep;
    /// Names of facts and blocks, quoted, as their lines begin.
    LineHeads: ValueType::LineHeads;
    /// Divisions of the readout.
    Divisions: ValueType::Quantity(&[Dimension::DIVISION]);
    /// Marks of a dial's scale.
    Marks: ValueType::Quantity(&[Dimension::MARK]);
    /// A quantity that an instrument can measure.
    MassLengthOrAngle: ValueType::Quantity(Self::DIMENSIONS);
    /// An amount in whatever the readout shows.
    ReadoutAmount: ValueType::Quantity(Self::DIMENSIONS);
    UnbalanceOrDivisions: ValueType::Quantity(Self::DIMENSIONS);
}

impl Dimensions for MassLengthOrAngle {
    const DIMENSIONS: &'static [Dimension] = &[Dimension::MASS, Dimension::LENGTH, Dimension::ANGLE];
}

impl Dimensions for OutputUnits {
    const DIMENSIONS: &'static [Dimension] = &[
        Dimension::UNBALANCE,
        Dimension::LENGTH,
        Dimension::MASS,
        Dimension::FORCE,
        Dimension::SPEED,
        Dimension::VELOCITY,
    ];
}

impl Dimensions for ReadoutAmount {
    const DIMENSIONS: &'static [Dimension] =
        &[Dimension::DIVISION, Dimension::UNBALANCE, Dimension::MASS, Dimension::LENGTH, Dimension::VELOCITY];
}

impl Dimensions for UnbalanceOrDivisions {
    const DIMENSIONS: &'static [Dimension] = &[Dimension::UNBALANCE, Dimension::DIVISION];
}

/// Types that say the same of another one.
macro_rules! marks_of {
    ($($(#[$doc:meta])* $name:ident of $bound:ident: $value:expr;)*) => {
        $($(#[$doc])* #[derive(Debug)] pub struct $name<T>(PhantomData<fn() -> T>);
        impl<T: $bound> Takes for $name<T> { const VALUE: ValueType = $value; })*
    };
}

marks_of! {
    /// `low to high`, `up to high`, `from low`.
    Range of Dimensions: ValueType::Range(T::DIMENSIONS);
    /// One quantity or a range.
    OneOrRange of Dimensions: ValueType::QuantityOrRange(T::DIMENSIONS);
    /// One or several ranges or single quantities.
    Ranges of Dimensions: ValueType::Ranges(T::DIMENSIONS);
    /// A list of quantities.
    List of Dimensions: ValueType::Quantities(T::DIMENSIONS, None);
    /// Two quantities.
    Pair of Dimensions: ValueType::Quantities(T::DIMENSIONS, Some(2));
    /// The name of a unit.
    UnitOf of Dimensions: ValueType::UnitName(T::DIMENSIONS);
    /// The name of an item of the book.
    To of OfKind: ValueType::Reference(T::KIND);
    /// The name of something inside another item.
    Named of Names: ValueType::Name(T::NAMES);
    /// Several such names.
    AllNamed of Names: ValueType::Names(T::NAMES);
}

/// The type that means a kind of block.
pub trait OfKind {
    const KIND: Kind;
}

/// What a name in a value names.
pub trait Names {
    const NAMES: NameOf;
}

macro_rules! names {
    ($($name:ident: $of:ident;)*) => {
        $(#[derive(Debug)] pub enum $name {}
        impl Names for $name { const NAMES: NameOf = NameOf::$of; })*
    };
}

names! {
    PlaneName: Plane;
    ChannelName: Channel;
    RunName: Run;
    ExtraMassName: ExtraMass;
    ProofName: Proof;
    InstrumentName: Instrument;
}
