//! What a declaration says of a block, a fact or a result, as data.

use super::alert::{AlertCode, Grave, Guard};
use super::fact::{AnyFact, Fact};
use super::hint::Hint;
use super::of::Of;
use crate::syntax::Kind;
use crate::units::Dimension;
use std::borrow::Cow;

/// What may stand in one kind of block.
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
    /// Which changes of it a reviewer must not miss; what has none is silent, and `silence` says why.
    pub guards: [Option<Guard>; 2],
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
    /// See [`KeySpec::on_card`].
    pub on_card: Option<OnCard>,
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
    Listed(&'static [&'static str]),
}

/// What is expected behind the colon.
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
            guards: [None; 2],
            meaning,
            is_headline: false,
            others: &[],
            source: "",
            found_with: &[],
            yields: None,
            proven_as: None,
            proven: None,
            on_card: None,
        }
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

    /// A fact whose change voids what was calibrated and proven, and the fact by which a proof names it. Read by
    /// `book::results::setup::void`.
    pub(super) const fn proven_as(mut self, fact: AnyFact) -> Self {
        self.proven_as = Some(fact);
        self
    }

    /// A fact of a proof that says with what it was made, and how a sentence about it begins: `{}` stands for the head
    /// of its line. Read by `book::results::setup::void`.
    pub(super) const fn proven(mut self, words: &'static str) -> Self {
        self.proven = Some(words);
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

/// What a block has several results of one name for.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Each {
    Plane,
    Channel,
    ChannelAndPlane,
    /// A correction plane, or `bearing a` and `bearing b`.
    PlaneOrBearing,
    /// Bearing, plane, static or couple: whatever a limit is set on.
    Limit,
    /// A control of the machine, which is named alone.
    Control,
}

impl Each {
    pub const fn words(self) -> &'static str {
        match self {
            Each::Plane => "plane",
            Each::Channel => "channel",
            Each::ChannelAndPlane => "channel, plane",
            Each::PlaneOrBearing => "plane or bearing",
            Each::Limit => "limit",
            Each::Control => "control",
        }
    }
}

/// One result by name.
#[derive(Debug)]
pub struct ResultSpec {
    /// As pinned in the text and shown in hints.
    pub name: &'static str,
    /// The kind of block it belongs to.
    pub block: Kind,
    /// What follows the name where the block has one such result for each: `unbalance hub`.
    pub per: Option<Each>,
    /// Which change of it a reviewer must not miss, beside its loss; what has none is silent, and `silence` says why.
    pub guard: Option<Guard>,
    pub meaning: &'static str,
    /// How a hint says it; `None` for what is only of interest to who asks for it, in tooltips, hovers and the preview.
    pub hint: Option<Hint>,
    /// An inner block is there for it; the first that is known is the headline.
    pub is_headline: bool,
    /// Whether the declaration says how a hint stands to it.
    has_hint: bool,
}

impl ResultSpec {
    pub(super) const fn new(block: Kind, name: &'static str, meaning: &'static str) -> Self {
        Self { name, block, per: None, guard: None, meaning, hint: None, is_headline: false, has_hint: false }
    }

    /// The declaration as it stands; one that does not say how a hint stands to the result does not compile.
    pub(super) const fn declared(self) -> Self {
        assert!(self.has_hint, "a result is said by a hint or is quiet: give it `.hint(…)` or `.quiet()`");
        self
    }

    /// A hint says it, in these words; read by `ide::hints`.
    pub(super) const fn hint(mut self, hint: Hint) -> Self {
        self.hint = Some(hint);
        self.has_hint = true;
        self
    }

    /// An inner block is there for it; read by `ide::symbols`.
    pub(super) const fn headline(mut self) -> Self {
        self.is_headline = true;
        self
    }

    /// No hint says it.
    pub(super) const fn quiet(mut self) -> Self {
        self.has_hint = true;
        self
    }

    pub(super) const fn of_each(mut self, each: Each) -> Self {
        self.per = Some(each);
        self
    }

    /// A change of it that is grave, which `diff` tells as an alert of this code.
    pub(super) const fn alert(mut self, code: AlertCode, grave: Grave) -> Self {
        self.guard = Some(Guard { code, grave });
        self
    }

    /// When a change of it is told as an alert of this code, if ever.
    pub fn alerts_as(&self, code: AlertCode) -> Option<Grave> {
        self.guard.filter(|guard| guard.code == code).map(|guard| guard.grave)
    }

    /// As it is pinned and shown: `reading`, `unbalance hub`; the setting of a control has no other name than that.
    pub fn named(&self, of: Option<&Of>) -> Cow<'static, str> {
        match of {
            None => Cow::Borrowed(self.name),
            Some(Of::Control(control)) => Cow::Owned(control.to_string()),
            Some(of) => Cow::Owned(format!("{} {of}", self.name)),
        }
    }

    /// Whether a pin of this name may mean this result: the name alone, or with what it is of after it.
    pub fn answers_to(&self, pinned: &str) -> bool {
        if self.per == Some(Each::Control) {
            return true;
        }
        match (self.per, pinned.strip_prefix(self.name)) {
            (None, Some(rest)) => rest.is_empty(),
            (Some(_), Some(rest)) => rest.strip_prefix(' ').is_some_and(|of| !of.is_empty()),
            (_, None) => false,
        }
    }
}

/// A result is its declaration, and no other of the same words.
impl PartialEq for ResultSpec {
    fn eq(&self, other: &Self) -> bool {
        std::ptr::eq(self, other)
    }
}

impl Eq for ResultSpec {}
