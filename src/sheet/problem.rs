//! What is wrong with a fact, seen from its own file.

use crate::syntax::Kind;
use crate::text::Span;
use crate::units::{Dimension, UnitError};
use crate::vocabulary::{KeySpec, ValueType};

#[derive(Clone, Debug)]
pub struct FactProblem {
    pub span: Span,
    pub kind: FactProblemKind,
}

macro_rules! problems {
    ($($(#[$doc:meta])* $name:ident $({ $($field:ident: $type:ty,)+ })?,)+) => {
        /// Each has a diagnostic page of its own; the words for people are in `check`.
        #[derive(Clone, Debug)]
        pub enum FactProblemKind {
            $($(#[$doc])* $name $({ $($field: $type),+ })?),+
        }

        /// A kind of problem without what it tells of one case.
        #[derive(Clone, Copy, PartialEq, Eq, Debug)]
        pub enum FactProblemOf {
            $($(#[$doc])* $name),+
        }

        impl FactProblemOf {
            #[cfg(test)]
            pub const ALL: &[Self] = &[$(Self::$name),+];
        }

        impl FactProblemKind {
            /// Which kind it is.
            pub const fn of(&self) -> FactProblemOf {
                match self {
                    $(Self::$name { .. } => FactProblemOf::$name),+
                }
            }
        }
    };
}

problems! {
    /// A key that this kind of block has not.
    UnknownKey {
        block: Kind,
        suggestion: Option<&'static str>,
    },
    /// A key that needs a name after it: `reading` without a channel.
    KeyNeedsName {
        key: &'static KeySpec,
    },
    /// Given a second time; neither is trusted.
    GivenTwice {
        first: Span,
    },
    /// A fact and a pin of one name.
    FactAndPin {
        fact: Span,
    },
    /// A second inner block of the same kind and name.
    BlockTwice {
        block: Kind,
        first: Span,
    },
    /// A kind that takes a name stands without one.
    BlockNeedsName {
        block: Kind,
    },
    /// A kind that takes no name has one.
    BlockTakesNoName {
        block: Kind,
    },
    /// The value has another dimension than the key wants.
    WrongDimension {
        expected: &'static [Dimension],
        found: Dimension,
    },
    /// A number without a unit; `from` is where the fix can take one from.
    MissingUnit {
        expected: &'static [Dimension],
        from: Option<Span>,
    },
    /// A unit after a plain number.
    UnitNotWanted {
        unit: Span,
    },
    UnknownUnit {
        error: UnitError,
    },
    /// Two operands of an operator do not go together.
    OperandsDiffer {
        left: (Span, Dimension),
        right: (Span, Dimension),
    },
    DivisionByZero,
    /// Too large or too small for any bench.
    NotFinite,
    UnknownChoice {
        choices: &'static [&'static str],
        suggestion: Option<&'static str>,
    },
    /// Text without quotes.
    NeedsQuotes {
        whole: Span,
    },
    /// A name of several words without quotes.
    NameNeedsQuotes,
    /// A value of another form than the key wants.
    WrongForm {
        expected: ValueType,
        found: Form,
    },
    /// A negative or zero amount where none can be.
    OutOfRange {
        needs: &'static str,
    },
    NotWhole,
    RangeReversed,
    /// Another number of values than the key wants.
    WrongCount {
        expected: u8,
        found: usize,
    },
    NoSuchDay,
    /// `±` in a fact that is exact by its nature.
    LimitsNotWanted,
    /// A second unit of one dimension where each has one.
    UnitsOfOneDimension {
        first: Span,
        dimension: Dimension,
    },
    /// A unit name where the key wants one of another dimension.
    UnitOfOtherDimension {
        expected: &'static [Dimension],
        found: Dimension,
    },
}

/// What a value is by its shape, whatever it means.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Form {
    Nothing,
    Unknown,
    Quoted,
    Words,
    Grade,
    PlainNumber,
    OneAmount,
    Range,
    Reading,
    AmountAtPlace,
    Places,
    Clock,
    Date,
    List,
    Broken,
}

impl Form {
    /// As a message calls it.
    pub const fn words(self) -> &'static str {
        match self {
            Form::Nothing => "nothing",
            Form::Unknown => "a question mark",
            Form::Quoted => "a text in quotes",
            Form::Words => "words",
            Form::Grade => "a balance quality grade",
            Form::PlainNumber => "a plain number",
            Form::OneAmount => "one amount",
            Form::Range => "a range",
            Form::Reading => "a reading",
            Form::AmountAtPlace => "an amount at a place",
            Form::Places => "a number of places",
            Form::Clock => "a place of the clock",
            Form::Date => "a date",
            Form::List => "a list",
            Form::Broken => "something unreadable",
        }
    }
}
