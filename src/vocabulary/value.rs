//! What a type of value may be given in, and an example of it.

use super::value_type::ValueType;
use crate::units::Dimension;

impl ValueType {
    /// The dimensions of the amounts in it, the main one first; empty for what holds no quantity, and where a readout or
    /// a dial decides.
    pub const fn dimensions(self) -> &'static [Dimension] {
        use ValueType as T;
        match self {
            T::Quantity(dimensions)
            | T::Range(dimensions)
            | T::QuantityOrRange(dimensions)
            | T::Ranges(dimensions)
            | T::Quantities(dimensions, _)
            | T::UnitName(dimensions)
            | T::UnitNames(dimensions) => dimensions,
            T::Percentage => &[Dimension::NONE],
            T::UnbalanceVector => &[Dimension::UNBALANCE],
            T::UnbalanceOrPercentage => &[Dimension::UNBALANCE, Dimension::NONE],
            T::Weighing => &[Dimension::MASS, Dimension::LENGTH],
            T::ClockOrAngle | T::Places => &[Dimension::ANGLE],
            T::PercentageOrAmount
            | T::Reading
            | T::Readings
            | T::ReadingOfDay
            | T::Setting
            | T::DialRange
            | T::DialStep
            | T::Number
            | T::Count
            | T::NumberRange
            | T::Grade
            | T::Text
            | T::Reference(_)
            | T::Name(_)
            | T::Names(_)
            | T::Choice(_)
            | T::Clock
            | T::Date
            | T::Positions
            | T::LineHeads => &[],
        }
    }

    /// A value of this type as it may be in a sheet; `None` where the words that say the type need none.
    pub fn example(self) -> Option<&'static str> {
        use ValueType as T;
        match self {
            T::Quantity([one]) => example(*one),
            T::QuantityOrRange([one]) => example(*one),
            T::Range(dimensions) | T::Ranges(dimensions) => Some(example_of_range(dimensions)),
            T::NumberRange => Some("5 to 20"),
            T::Percentage | T::PercentageOrAmount => example(Dimension::NONE),
            T::UnitName(dimensions) => dimensions.first().and_then(|one| one.usual_units().first()).copied(),
            T::UnitNames(_) => Some("oz·in, in"),
            T::Grade => Some("G 6.3"),
            T::Reading => Some("14.2 div @ 310 deg"),
            T::Readings => Some("3.1 div, 2.8 div"),
            T::ReadingOfDay => Some("2026-05-03, 12.2 div"),
            T::UnbalanceVector => Some("12 g·mm @ 65 deg"),
            T::UnbalanceOrPercentage => Some("12 g·mm"),
            T::ClockOrAngle | T::Clock => Some("4:30"),
            T::Date => Some("2026-11-12"),
            T::Weighing => Some("10.1 kg at 30 mm, 8.5 kg at 590 mm"),
            T::Places => Some("8 from 0 deg"),
            T::Positions => Some("off, on"),
            T::DialRange => Some("0 to 100"),
            T::DialStep => Some("0.5 mm"),
            T::LineHeads => Some("\"belt runs on\", \"calibrate rim\""),
            T::Quantity(_)
            | T::QuantityOrRange(_)
            | T::Quantities(..)
            | T::Number
            | T::Count
            | T::Text
            | T::Reference(_)
            | T::Name(_)
            | T::Names(_)
            | T::Choice(_)
            | T::Setting => None,
        }
    }
}

/// A quantity of this dimension as it may be in a sheet.
const fn example(dimension: Dimension) -> Option<&'static str> {
    Some(match dimension {
        Dimension::NONE => "5 %",
        Dimension::MASS => "3.00 g",
        Dimension::LENGTH => "134.2 mm",
        Dimension::UNBALANCE => "81.7 g·mm",
        Dimension::COUPLE => "5200 g·mm²",
        Dimension::SPEED => "1150 rpm",
        Dimension::ANGLE => "45 deg",
        Dimension::DENSITY => "2.7 g/cm³",
        Dimension::DIVISION => "8.6 div",
        Dimension::MARK => "2.1 mark",
        Dimension::TIME => "30 d",
        _ => return None,
    })
}

const fn example_of_range(dimensions: &[Dimension]) -> &'static str {
    match dimensions {
        [Dimension::MASS] => "0.5 kg to 40 kg",
        [Dimension::SPEED] => "400 rpm to 6000 rpm",
        [Dimension::ANGLE] => "350 deg to 10 deg",
        [Dimension::LENGTH] => "up to 6 mm",
        _ => "0 g to 200 g",
    }
}
