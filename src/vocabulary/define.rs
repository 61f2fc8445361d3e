//! How a kind of block is declared. `block!` makes of one declaration the typed facts (`plane::RADIUS`), the results
//! (`result::CORRECTION_RADIUS`) and the table that the reader, the checks, completion, hover and the reference go by;
//! `choice!` makes an enum of the words of a choice.
//!
//! A fact is its sentence, its name in Rust, its type and its words, and then what else is to be said of it: see the
//! methods of [`KeySpec`]. A mistake in a declaration is an error at its own line.

pub(super) use super::alert::{AlertCode, Grave, Silent};
pub(super) use super::fact::*;
pub(super) use super::hint::Hint;
pub(super) use super::hint::OfVector::{BeyondUncertainty, Instruction};
pub(super) use super::result_spec::{Each, ResultSpec};
pub(super) use super::spec::{BlockSpec, KeySpec, NamedFacts, OnCard, QuantityKind};
pub(super) use super::value_type::NameOf::{Channel, Code, Control, Item, Own, Place, Plane, PlaneOfPart, Position};
pub(super) use crate::syntax::Kind;
pub(super) use crate::units::{
    Angle, Couple, Density, Inertia, Length, Mass, SpecificUnbalance, Speed, Time, Unbalance,
};

/// A doc comment without the blank that it begins with.
pub(super) const fn sentence(doc: &'static str) -> &'static str {
    doc.split_at(1).1
}

macro_rules! block {
    (
        $(#[doc = $meaning:literal])+
        $kind:ident $(named $name:expr)?;

        $(
            each $each:ident:
            $(#[doc = $each_meaning:literal])+
            $each_fact:ident: $each_type:ty = $each_words:literal $(.$each_method:ident($($each_with:expr),*))*;
        )?

        $(
            $(#[doc = $fact_meaning:literal])+
            $fact:ident: $type:ty = $words:literal $(.$method:ident($($with:expr),*))*;
        )*

        $(results {
            $(
                $(#[doc = $result_meaning:literal])+
                $result:ident = $result_words:literal $(.$result_method:ident($($result_with:expr),*))*;
            )*
        })?
    ) => {
        /// This kind of block, as a type.
        #[derive(Debug)]
        #[allow(dead_code)]
        pub enum Block {}

        impl OfKind for Block {
            const KIND: Kind = Kind::$kind;
        }

        $(
            $(#[doc = $each_meaning])+
            #[allow(dead_code)]
            pub const $each_fact: Fact<$each_type> = Fact::new($each_words);
        )?
        $(
            $(#[doc = $fact_meaning])+
            #[allow(dead_code)]
            pub const $fact: Fact<$type> = Fact::new($words);
        )*

        pub(super) static BLOCK: BlockSpec = BlockSpec {
            kind: Kind::$kind,
            name: super::define::optional!($($name)?),
            named_facts: super::define::optional!($(NamedFacts {
                name: $each,
                value: <$each_type as Takes>::VALUE,
                spec: KeySpec::new(
                    $each_words,
                    <$each_type as Takes>::VALUE,
                    sentence(concat!($($each_meaning),+)),
                )$(.$each_method($($each_with),*))*.declared(),
            })?),
            meaning: sentence(concat!($($meaning),+)),
            keys: &[$(
                KeySpec::new($words, <$type as Takes>::VALUE, sentence(concat!($($fact_meaning),+)))
                    $(.$method($($with),*))*
                    .declared()
            ),*],
            results: &[$($(&result::$result),*)?],
        };

        /// What is computed of the block.
        pub(super) mod result {
            $(
                use super::*;
                $(
                    $(#[doc = $result_meaning])+
                    pub static $result: ResultSpec =
                        ResultSpec::new(Kind::$kind, $result_words, sentence(concat!($($result_meaning),+)))
                            $(.$result_method($($result_with),*))*
                            .declared();
                )*
            )?
        }
    };
}

macro_rules! optional {
    () => {
        None
    };
    ($value:expr) => {
        Some($value)
    };
}

macro_rules! others {
    () => {
        &[]
    };
    ($others:expr) => {
        $others
    };
}

/// An enum of the words of a choice, each with a sentence that says what it means; after a word may stand what people
/// write for it elsewhere.
macro_rules! choice {
    (
        $(#[$doc:meta])+
        $name:ident { $($(#[doc = $meaning:literal])+ $variant:ident = $words:literal $(.also_called($others:expr))?,)+ }
    ) => {
        $(#[$doc])+
        #[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
        pub enum $name {
            $($(#[doc = $meaning])+ $variant),+
        }

        impl Choice for $name {
            const CHOICES: super::value_type::Choices = super::value_type::Choices {
                words: &[$($words),+],
                others: &[$(super::define::others!($($others)?)),+],
                meanings: &[$(super::define::sentence(concat!($($meaning),+))),+],
            };

            fn words(self) -> &'static str {
                match self {
                    $(Self::$variant => $words),+
                }
            }

            fn of(words: &str) -> Option<Self> {
                match words {
                    $($words => Some(Self::$variant),)+
                    _ => None,
                }
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.write_str(self.words())
            }
        }

        impl Takes for $name {
            const VALUE: super::value_type::ValueType = super::value_type::ValueType::Choice(Self::CHOICES);
        }
    };
}

pub(super) use {block, choice, optional, others};
