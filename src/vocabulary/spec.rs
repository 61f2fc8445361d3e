//! What a declaration says of a block or a fact, as data.

use super::alert::{AlertCode, Grave, Guard, Silent};
use super::fact::{AnyFact, Fact};
use super::kept::Keeps;
use super::result_spec::ResultSpec;
use super::value_type::{NameOf, ValueType};
use crate::syntax::Kind;

/// What may be in one kind of block.
#[derive(Debug)]
pub struct BlockSpec {
    pub kind: Kind,
    pub keys: &'static [KeySpec],
    /// What the name after the kind is; `None` where the kind takes none.
    pub name: Option<NameOf>,
    /// Facts whose head is a name instead of a key: planes in `tolerance`, controls in `settings`.
    pub named_facts: Option<NamedFacts>,
    pub meaning: &'static str,
    pub results: &'static [&'static ResultSpec],
}

#[derive(Debug)]
pub struct NamedFacts {
    pub name: NameOf,
    pub value: ValueType,
    pub spec: KeySpec,
}

/// One key of a block.
#[derive(Debug)]
pub struct KeySpec {
    pub name: &'static str,
    pub value: ValueType,
    pub need: Need,
    pub standing: Standing,
    /// The head carries a name after the key: `reading left`.
    pub head_name: Option<NameOf>,
    /// May stand more than once.
    pub repeats: bool,
    /// Whether `like` takes it over.
    pub inherited: bool,
    /// Keys of one group say the same thing in different ways: `radius` and `diameter`.
    pub group: Option<&'static str>,
    /// Must a quantity be greater than zero, may it be zero, or may it be negative?
    pub sign: Sign,
    pub default: Option<&'static str>,
    /// A value as it may be written, where that of its type would be no likely one.
    pub such_as: Option<&'static str>,
    /// Which changes of it a reviewer must not miss; what has none is silent.
    pub guards: [Option<Guard>; 2],
    /// Why a change of it is no alert.
    pub silent: Option<Silent>,
    pub meaning: &'static str,
    /// It tells one inner block from another; the first that is given is the headline. Read by `ide::symbols`.
    pub is_headline: bool,
    /// What people write for it elsewhere, in small letters.
    pub others: &'static [&'static str],
    /// Where the term or the rule comes from; empty for what is the format's own.
    pub source: &'static str,
    /// See [`KeySpec::found_with`].
    pub found_with: &'static [AnyFact],
    /// See [`KeySpec::yields`].
    pub yields: Option<u8>,
    /// See [`KeySpec::proven_as`].
    pub proven_as: Option<AnyFact>,
    /// See [`KeySpec::proven`].
    pub proven: Option<&'static str>,
    /// Whether the proof of a released sheet has to name it.
    pub is_demanded: bool,
    /// See [`KeySpec::keeps`].
    pub keeps: Option<Keeps>,
    /// See [`KeySpec::on_card`].
    pub on_card: Option<OnCard>,
    /// Which quantity it is, where its dimension does not say.
    pub quantity: Option<QuantityKind>,
}

/// A quantity that shares its dimension with another one.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum QuantityKind {
    /// Of the dimension of a couple.
    MomentOfInertia,
    /// Of the dimension of a length.
    SpecificUnbalance,
}

/// Where a card says in as many words that a fact is not said.
#[derive(Clone, Copy, Debug)]
pub enum OnCard {
    /// On every card.
    Always,
    /// Where its block says this one.
    With(AnyFact),
    /// Where its block says none of these either.
    Without(&'static [AnyFact]),
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Need {
    /// An error when it is missing.
    Must,
    /// May be left out and is then computed.
    Derived,
    Optional,
}

/// How a number came about, which decides the uncertainty it carries.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Standing {
    /// From a drawing or a data plate: carries only the `±` written with it.
    Nominal,
    /// Read off an instrument: carries `±` as written, else half a step of the last digit or half the resolution.
    Measured,
    /// Demanded, not found: exact.
    Demand,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Sign {
    Positive,
    NotNegative,
    Any,
}

impl KeySpec {
    /// An angle or an axial place beside another amount, which may have either sign.
    pub const NUMBER_OF_ANY_SIGN: Self = Self::new("", ValueType::Number, "").any_sign();

    /// A fact of these words that takes a value of this type; `meaning` is its sentence.
    pub(super) const fn new(name: &'static str, value: ValueType, meaning: &'static str) -> Self {
        Self {
            name,
            value,
            need: Need::Optional,
            standing: Standing::Nominal,
            head_name: None,
            repeats: false,
            inherited: true,
            group: None,
            sign: Sign::Positive,
            default: None,
            such_as: None,
            guards: [None; 2],
            silent: None,
            meaning,
            is_headline: false,
            others: &[],
            source: "",
            found_with: &[],
            yields: None,
            proven_as: None,
            proven: None,
            is_demanded: false,
            keeps: None,
            on_card: None,
            quantity: None,
        }
    }

    /// The declaration as it is; one that does not say what becomes of a change of it does not compile.
    pub(super) const fn declared(self) -> Self {
        assert!(
            self.guards[0].is_some() != self.silent.is_some(),
            "a change of a fact is an alert or is none: give it `.alert(…)`, or `.silent(…)` with the reason"
        );
        self
    }

    /// Whether this is the fact of these words.
    pub fn is<T: ?Sized>(&self, fact: Fact<T>) -> bool {
        self.name == fact.words()
    }

    pub(super) const fn must(mut self) -> Self {
        self.need = Need::Must;
        self
    }

    pub(super) const fn derived(mut self) -> Self {
        self.need = Need::Derived;
        self
    }

    pub(super) const fn measured(mut self) -> Self {
        self.standing = Standing::Measured;
        self
    }

    pub(super) const fn demand(mut self) -> Self {
        self.standing = Standing::Demand;
        self
    }

    pub(super) const fn per(mut self, name: NameOf) -> Self {
        self.head_name = Some(name);
        self
    }

    pub(super) const fn repeats(mut self) -> Self {
        self.repeats = true;
        self
    }

    pub(super) const fn own(mut self) -> Self {
        self.inherited = false;
        self
    }

    pub(super) const fn group(mut self, group: &'static str) -> Self {
        self.group = Some(group);
        self
    }

    /// A card leaves a gap where it is left out; read by the rule `card_has_a_gap`.
    pub(super) const fn on_card(mut self, when: OnCard) -> Self {
        self.on_card = Some(when);
        self
    }

    /// Which quantity it is, where its dimension does not say; read where units are advised.
    pub(super) const fn quantity(mut self, quantity: QuantityKind) -> Self {
        self.quantity = Some(quantity);
        self
    }

    pub(super) const fn any_sign(mut self) -> Self {
        self.sign = Sign::Any;
        self
    }

    pub(super) const fn or_zero(mut self) -> Self {
        self.sign = Sign::NotNegative;
        self
    }

    pub(super) const fn default(mut self, value: &'static str) -> Self {
        self.default = Some(value);
        self
    }

    /// A value as it may be written, where that of its type would be no likely one.
    pub(super) const fn such_as(mut self, value: &'static str) -> Self {
        self.such_as = Some(value);
        self
    }

    /// A value as it may be written.
    pub fn example(&self) -> Option<&'static str> {
        self.such_as.or_else(|| self.value.example())
    }

    /// It tells one inner block from another; read by `ide::symbols`.
    pub(super) const fn headline(mut self) -> Self {
        self.is_headline = true;
        self
    }

    /// What people write for it elsewhere; holds for the facts of these words in every block. Read by `sheet::synonyms`.
    pub(super) const fn also_called(mut self, others: &'static [&'static str]) -> Self {
        self.others = others;
        self
    }

    /// A change of it that is grave, which `diff` tells as an alert of this code.
    pub(super) const fn alert(mut self, code: AlertCode, grave: Grave) -> Self {
        let guard = Some(Guard { code, grave });
        self.guards = match self.guards {
            [None, _] => [guard, None],
            [first, None] => [first, guard],
            _ => panic!("two alerts are the most that a fact may have"),
        };
        self
    }

    /// No change of it is an alert, for this reason.
    pub(super) const fn silent(mut self, why: Silent) -> Self {
        self.silent = Some(why);
        self
    }

    /// When a change of it is told as an alert of this code, if ever.
    pub fn alerts_as(&self, code: AlertCode) -> Option<Grave> {
        self.guards.iter().flatten().find(|guard| guard.code == code).map(|guard| guard.grave)
    }

    pub(super) const fn source(mut self, source: &'static str) -> Self {
        self.source = source;
        self
    }

    /// What was found or keyed in on a machine, and the facts that it was found with: `book::effective` takes it over
    /// into no setup where one of them differs.
    pub(super) const fn found_with(mut self, facts: &'static [AnyFact]) -> Self {
        self.found_with = facts;
        self
    }

    /// One of several facts of a block of which the others give it. Where a block would have them all, `book::effective`
    /// does not take over the one of the lowest number; facts of one number are one.
    pub(super) const fn yields(mut self, number: u8) -> Self {
        self.yields = Some(number);
        self
    }

    /// A fact of which the day is kept, and the fact by which a proof or the record of a run keeps it. Read by
    /// `book::results::setup`.
    pub(super) const fn proven_as(mut self, fact: AnyFact) -> Self {
        self.proven_as = Some(fact);
        self
    }

    /// A fact of a proof that says with what it was made, and how a sentence about it begins: `{}` means the head
    /// of its line. Read by `book::results::setup::void`.
    pub(super) const fn proven(mut self, words: &'static str) -> Self {
        self.is_demanded = true;
        self.proven_if_said(words)
    }

    /// The same of a fact that a proof need not name.
    pub(super) const fn proven_if_said(mut self, words: &'static str) -> Self {
        self.proven = Some(words);
        self
    }

    /// A limit of the day, of a proof or of the record of a run. Read by `book::results`.
    pub(super) const fn keeps(mut self, limit: Keeps) -> Self {
        self.keeps = Some(limit);
        self
    }
}

impl BlockSpec {
    /// The fact of these words, if the block has one.
    pub fn key(&self, name: &str) -> Option<&'static KeySpec>
    where
        Self: 'static,
    {
        self.keys.iter().find(|key| key.name == name)
    }
}
