//! How values of several parts are written: their parts in order, each with the words before it.

use super::value_type::ValueType;

/// One way to write a value.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Form {
    pub parts: &'static [Part],
}

/// A part of a value.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Part {
    /// What comes before it, blanks included: ` at `.
    pub before: &'static str,
    pub name: &'static str,
    /// A few words on what it is.
    pub meaning: &'static str,
}

const fn part(before: &'static str, name: &'static str, meaning: &'static str) -> Part {
    Part { before, name, meaning }
}

const fn form(parts: &'static [Part]) -> Form {
    Form { parts }
}

const LOW_TO_HIGH: Form =
    form(&[part("", "low", "the lower end, with its unit"), part(" to ", "high", "the upper end, with its unit")]);
const UP_TO: Form = form(&[part("up to ", "high", "the upper end, without a lower one")]);
const FROM: Form = form(&[part("from ", "low", "the lower end, without an upper one")]);
const ONE: Form = form(&[part("", "amount", "one amount with its unit")]);
const PERCENTAGE: Form = form(&[part("", "share", "a percentage")]);
const NUMBERS: Form = form(&[part("", "low", "the lower end"), part(" to ", "high", "the upper end")]);
const TWO: Form = form(&[part("", "first", "with its unit"), part(", ", "second", "with its unit")]);
const SEVERAL: Form =
    form(&[part("", "one", "with its unit"), part(", ", "next", "and so on, separated by a comma and a space")]);
const READING: Form = form(&[
    part("", "amount", "what is read, with the unit of the readout"),
    part(" on ", "scale", "the scale that is read, where the dial has several"),
    part(" @ ", "angle", "the angle that is read, where angles are shown"),
]);
const OF_DAY: Form = form(&[
    part("", "date", "year, month and day"),
    part(", ", "amount", "what was read that day"),
    part(" @ ", "angle", "the angle that was read, where angles are shown"),
]);
const VECTOR: Form =
    form(&[part("", "amount", "an unbalance with its unit"), part(" @ ", "angle", "its angle on the rotor")]);
const WEIGHING: Form = form(&[
    part("", "mass", "what the first scale shows"),
    part(" at ", "place", "the axial place of the first scale"),
    part(", ", "mass", "what the second scale shows"),
    part(" at ", "place", "the axial place of the second scale"),
]);
const PLACES: Form =
    form(&[part("", "number", "how many places, evenly spaced"), part(" from ", "angle", "the angle of the first")]);

impl ValueType {
    /// The ways to write a value of this type where it has several parts; empty where it has one.
    pub const fn forms(self) -> &'static [Form] {
        use ValueType as T;
        match self {
            T::Range(_) | T::Ranges(_) => &[LOW_TO_HIGH, UP_TO, FROM],
            T::QuantityOrRange(_) => &[ONE, LOW_TO_HIGH, UP_TO, FROM],
            T::NumberRange | T::DialRange => &[NUMBERS],
            T::Quantities(_, Some(_)) => &[TWO],
            T::Quantities(_, None) => &[SEVERAL],
            T::Reading | T::Readings => &[READING],
            T::ReadingOfDay => &[OF_DAY],
            T::UnbalanceVector => &[VECTOR],
            T::UnbalanceOrPercentage => &[VECTOR, PERCENTAGE],
            T::Weighing => &[WEIGHING],
            T::Places => &[PLACES],
            _ => &[],
        }
    }

    /// Whether it is a list of values, each of which is written in one of these ways.
    pub const fn is_list(self) -> bool {
        matches!(self, ValueType::Ranges(_) | ValueType::Readings)
    }
}
