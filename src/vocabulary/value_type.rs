//! What a fact takes for a value, and what a name in it names.

use crate::syntax::Kind;
use crate::units::Dimension;

/// What a name names.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum NameOf {
    /// An item of the book.
    Item(Kind),
    /// The item that this block begins.
    Own,
    /// A plane of the rotor.
    Plane,
    /// A plane of the part that the block is of.
    PlaneOfPart,
    /// A channel of the machine.
    Channel,
    /// A control of the machine.
    Control,
    /// An instrument of the shop.
    Instrument,
    /// The code of a diagnostic.
    Code,
    /// A run of the record.
    Run,
    /// An extra mass of the rotor or the setup.
    ExtraMass,
    /// A proof of the record's setup.
    Proof,
    /// A numbered or named place of a plane.
    Place,
    /// A position of a switch.
    Position,
    /// One of these words.
    Listed(Choices),
}

/// What is expected after the colon.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum ValueType {
    /// A quantity of one of these dimensions.
    Quantity(&'static [Dimension]),
    /// `low to high`, `up to high`, `from low`.
    Range(&'static [Dimension]),
    /// One quantity or a range.
    QuantityOrRange(&'static [Dimension]),
    /// One or several ranges or single quantities.
    Ranges(&'static [Dimension]),
    /// A list of quantities; exactly so many where a count is given.
    Quantities(&'static [Dimension], Option<u8>),
    /// A plain number without a unit.
    Number,
    /// A whole plain number from 1.
    Count,
    /// A range of plain numbers.
    NumberRange,
    Percentage,
    /// A percentage, or an amount on the readout.
    PercentageOrAmount,
    /// The name of a unit of this dimension.
    UnitName(&'static [Dimension]),
    /// Names of units, one of each of these dimensions at most.
    UnitNames(&'static [Dimension]),
    Grade,
    Text,
    /// The name of an item of the book.
    Reference(Kind),
    /// The name of something inside another item.
    Name(NameOf),
    Names(NameOf),
    Choice(Choices),
    /// An amount on the readout, with an angle and a scale where the readout has them.
    Reading,
    /// Several readings.
    Readings,
    /// A date, and what was read on that day.
    ReadingOfDay,
    /// An unbalance at an angle.
    UnbalanceVector,
    /// An unbalance, at an angle or without, or a percentage.
    UnbalanceOrPercentage,
    /// A place of the clock as seen, or what the pointer shows.
    ClockOrAngle,
    Clock,
    Date,
    /// Two masses, each at a place.
    Weighing,
    /// `8 from 0 deg`
    Places,
    /// What a control of the machine is set to.
    Setting,
    /// The positions of a switch.
    Positions,
    /// The range of a dial: plain numbers or quantities.
    DialRange,
    /// What a dial moves by: a plain number or a quantity.
    DialStep,
    /// Names of facts and blocks, quoted, as their lines begin.
    LineHeads,
}

/// The words of a choice.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Choices {
    pub words: &'static [&'static str],
    /// What people write for each of them elsewhere, where it means that one and no other; read by `sheet::synonyms`.
    pub others: &'static [&'static [&'static str]],
    /// What each of them means, in a sentence.
    pub meanings: &'static [&'static str],
}

impl Choices {
    /// The words with what each means.
    pub fn explained(self) -> impl Iterator<Item = (&'static str, &'static str)> {
        self.words.iter().copied().zip(self.meanings.iter().copied())
    }
}

/// What a readout may show an amount in.
pub const READING_DIMENSIONS: &[Dimension] = &[
    Dimension::DIVISION,
    Dimension::MARK,
    Dimension::UNBALANCE,
    Dimension::MASS,
    Dimension::LENGTH,
    Dimension::VELOCITY,
];

/// A share, or an amount on the readout.
pub const PERCENTAGE_OR_READING: &[Dimension] = &[
    Dimension::NONE,
    Dimension::DIVISION,
    Dimension::MARK,
    Dimension::UNBALANCE,
    Dimension::MASS,
    Dimension::LENGTH,
    Dimension::VELOCITY,
];

/// The dimensions a dial of a machine may be graduated in.
pub const DIAL_DIMENSIONS: &[Dimension] = &[
    Dimension::LENGTH,
    Dimension::MASS,
    Dimension::UNBALANCE,
    Dimension::SPEED,
    Dimension::ANGLE,
    Dimension::TIME,
    Dimension::FORCE,
    Dimension::PRESSURE,
    Dimension::TEMPERATURE,
    Dimension::NONE,
];
