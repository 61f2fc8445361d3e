//! Results as they are kept, and the recorder that every computation writes them through.

use std::borrow::Cow;
use std::sync::Arc;

use super::not_computed::{NotComputed, WhyNot};
use crate::book::derive::{Derivation, Inputs, Val, derive};
use crate::book::effective::{EffectiveBlock, EffectiveField};
use crate::book::files::{FileId, ItemId};
use crate::book::formulas::Formula;
use crate::book::origin::{Missing, Origin, Path, Reason};
use crate::book::readers::Facts;
use crate::book::vectors::{VectorVal, points_anywhere};
use crate::mechanics::DomainError;
use crate::text::Span;
use crate::units::{Amount, Contributions, Unit};
use crate::vocabulary::setup::Indicates;
use crate::vocabulary::{Choice, Fact, Of, ResultSpec, Sense};

/// One result of an item.
#[derive(Clone, Debug)]
pub struct Entry {
    pub spec: &'static ResultSpec,
    /// The plane, channel or bearing that it is of, where the block has one such result for each.
    pub of: Option<Of>,
    pub path: Path,
    pub outcome: Outcome,
    pub derivation: Option<Arc<Derivation>>,
    /// The fact or heading that the result is shown beside.
    pub place: (FileId, Span),
}

impl Entry {
    /// Whether it is this result.
    pub fn is(&self, spec: &'static ResultSpec) -> bool {
        self.spec == spec
    }

    /// The name of the result as it is pinned and shown: `reading`, `unbalance hub`.
    pub fn name(&self) -> Cow<'static, str> {
        self.spec.named(self.of.as_ref())
    }
}

#[derive(Clone, Debug)]
pub enum Outcome {
    /// In base units of `unit`, with its standard uncertainty.
    Amount {
        base: f64,
        unit: Unit,
        standard: f64,
    },
    /// An amount in base units of `unit` at an angle in radians, with their standard uncertainties.
    Vector {
        base: f64,
        angle: f64,
        unit: Unit,
        standard: f64,
        angle_standard: f64,
        meaning: Meaning,
        /// The direction in which the angle is counted.
        sense: Sense,
    },
    /// What a control is set to, a whole number of its steps: in base units of `unit`, with so many decimals on it.
    ToSet {
        base: f64,
        step: f64,
        unit: Unit,
        decimals: i32,
    },
    /// How many of something.
    Count(u32),
    /// An angle in radians, and what stands there.
    Direction {
        angle: f64,
        standard: f64,
        meaning: Meaning,
        sense: Sense,
    },
    Words(Cow<'static, str>),
    /// A calibration that no longer holds, with its causes: `void: proven at 1150 rpm, the sheet now says 1200 rpm`.
    Void(Cow<'static, str>),
    /// Rows of amounts, each column in one unit; `None` where a column cannot be worked out.
    Table {
        /// What each row is of; empty where the rows need no names.
        heads: Vec<RowHead>,
        columns: Vec<Column>,
        rows: Vec<Vec<Option<f64>>>,
    },
    Missing(Arc<Missing>),
}

/// What a row of a table is of.
#[derive(Clone, PartialEq, Debug)]
pub struct RowHead {
    pub name: Box<str>,
    /// How far that is known, or why not; empty where nothing is to be said of it.
    pub about: Box<str>,
}

impl RowHead {
    pub fn new(name: impl Into<Box<str>>) -> Self {
        Self { name: name.into(), about: "".into() }
    }
}

/// `mounting, by measurement`
impl std::fmt::Display for RowHead {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.name)?;
        if self.about.is_empty() { Ok(()) } else { write!(f, ", {}", self.about) }
    }
}

impl Outcome {
    /// Whether it is an amount at an angle that may be any.
    pub fn points_anywhere(&self) -> bool {
        matches!(self, Self::Vector { base, angle_standard, .. } if points_anywhere(*base, *angle_standard))
    }
}

/// What is at the angle of a vector.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Meaning {
    /// Mass in excess.
    HeavySpot,
    /// Mass to be put on.
    ToAdd,
    /// Material to be taken off.
    ToRemove,
    /// Mass that was put on, or would have to be put on to do what was done.
    PutOn,
    /// Mass to be put on there, or taken off half a turn away.
    ToAddOrRemoveOpposite,
    /// What is read, as it stands to the unbalance that causes it.
    ReadingAgainstMass,
    /// The zero mark of a part in its assembly.
    ZeroMark,
}

impl Meaning {
    pub fn words(self) -> &'static str {
        match self {
            Meaning::HeavySpot => Indicates::HeavySpot.words(),
            Meaning::ToAdd => "to add, at the light spot",
            Meaning::ToRemove => "to remove, at the heavy spot",
            Meaning::PutOn => "put on",
            Meaning::ToAddOrRemoveOpposite => "to add, or to remove half a turn away",
            Meaning::ReadingAgainstMass => "the reading ahead of the heavy spot",
            Meaning::ZeroMark => "zero mark of the part",
        }
    }
}

/// A column of a table: what it holds, and the unit of its numbers.
#[derive(Clone, Debug)]
pub struct Column {
    pub name: &'static str,
    pub unit: Unit,
}

/// Where a result belongs: its block, and the place it is shown beside.
#[derive(Clone, Debug)]
pub struct Spot {
    pub item: ItemId,
    pub path: Path,
    pub place: (FileId, Span),
    /// The plane, channel or bearing that the result is of.
    pub of: Option<Of>,
}

impl Spot {
    /// A block's own heading.
    pub fn heading(block: &EffectiveBlock<'_>, item: ItemId) -> Self {
        Self { item, path: block.path.clone(), place: (block.item.file, block.written.heading), of: None }
    }

    /// The same place for a result of one plane, channel or bearing.
    pub fn with(&self, of: Of) -> Self {
        Self { of: Some(of), ..self.clone() }
    }

    /// The same place for a result of one plane.
    pub fn of_plane(&self, name: &str) -> Self {
        self.with(Of::Plane(name.into()))
    }

    /// The same place for a result of one channel.
    pub fn of_channel(&self, name: &str) -> Self {
        self.with(Of::Channel(name.into()))
    }

    /// Beside a fact of the block where it is given, else beside the heading.
    pub fn beside(block: &EffectiveBlock<'_>, item: ItemId, field: Option<EffectiveField<'_>>) -> Self {
        let spot = Self::heading(block, item);
        match field {
            Some(field) => Self { place: (field.item.file, field.field.value_span), ..spot },
            None => spot,
        }
    }
}

/// Works out results and keeps them in the order in which they were asked for.
pub struct Recorder<'b> {
    pub facts: Facts<'b>,
    pub entries: Vec<Entry>,
    pub not_computed: Vec<NotComputed>,
}

impl<'b> Recorder<'b> {
    pub fn new(facts: Facts<'b>) -> Self {
        Self { facts, entries: Vec::new(), not_computed: Vec::new() }
    }

    /// Works out one result from its inputs and records it.
    pub fn work_out<I: Inputs, T: Amount>(
        &mut self,
        spot: &Spot,
        spec: &'static ResultSpec,
        unit: Unit,
        formula: &'static Formula,
        inputs: I,
        f: impl Fn(I::Values) -> Result<T, DomainError>,
    ) -> Val<T> {
        let value = derive(origin(spot, spec), unit, self.facts.explains.then_some(formula), inputs, f);
        self.keep(spot, spec, &value);
        value
    }

    /// Works out a value on the way to a result, without recording it.
    pub fn on_the_way<I: Inputs, T: Amount>(
        &self,
        spot: &Spot,
        spec: &'static ResultSpec,
        unit: Unit,
        formula: &'static Formula,
        inputs: I,
        f: impl Fn(I::Values) -> Result<T, DomainError>,
    ) -> Val<T> {
        derive(origin(spot, spec), unit, self.facts.explains.then_some(formula), inputs, f)
    }

    /// Records a value under the name of a result.
    pub fn keep<T: Amount>(&mut self, spot: &Spot, spec: &'static ResultSpec, value: &Val<T>) {
        let outcome = match &value.known {
            Ok(known) => {
                Outcome::Amount { base: known.raw(), unit: value.unit, standard: value.contributions.standard() }
            }
            Err(missing) => Outcome::Missing(missing.clone()),
        };
        self.push(spot, spec, outcome, value.derivation.clone());
    }

    /// Records a vector under the name of a result; missing when nothing says in which direction its angle counts.
    pub fn keep_vector<T: Amount>(
        &mut self,
        spot: &Spot,
        spec: &'static ResultSpec,
        value: &VectorVal<T>,
        meaning: Meaning,
        sense: &Result<Sense, Arc<Missing>>,
    ) {
        let outcome = match (&value.known, sense) {
            (Ok(vector), Ok(sense)) => Outcome::Vector {
                base: vector.amount().raw(),
                angle: vector.angle().in_radians(),
                unit: value.unit,
                standard: value.amount().standard_uncertainty(),
                angle_standard: value.angle().standard_uncertainty(),
                meaning,
                sense: *sense,
            },
            (Err(missing), _) | (_, Err(missing)) => Outcome::Missing(missing.clone()),
        };
        self.push(spot, spec, outcome, value.derivation.clone());
    }

    /// Records the angle of a vector under the name of a result.
    pub fn keep_direction<T: Amount>(
        &mut self,
        spot: &Spot,
        spec: &'static ResultSpec,
        value: &VectorVal<T>,
        meaning: Meaning,
        sense: &Result<Sense, Arc<Missing>>,
    ) {
        let angle = value.angle();
        let standard = angle.standard_uncertainty();
        let outcome = match (&angle.known, sense) {
            (Ok(angle), Ok(sense)) => {
                Outcome::Direction { angle: angle.in_radians(), standard, meaning, sense: *sense }
            }
            (Err(missing), _) | (_, Err(missing)) => Outcome::Missing(missing.clone()),
        };
        self.push(spot, spec, outcome, value.derivation.clone());
    }

    /// The formula to explain a result by, when somebody is to read it.
    pub fn explained(&self, formula: &'static Formula) -> Option<&'static Formula> {
        self.facts.explains.then_some(formula)
    }

    pub fn words(&mut self, spot: &Spot, spec: &'static ResultSpec, words: impl Into<Cow<'static, str>>) {
        self.push(spot, spec, Outcome::Words(words.into()), None);
    }

    pub fn push(
        &mut self,
        spot: &Spot,
        spec: &'static ResultSpec,
        outcome: Outcome,
        derivation: Option<Arc<Derivation>>,
    ) {
        let of = spot.of.clone();
        self.entries.push(Entry { spec, of, path: spot.path.clone(), outcome, derivation, place: spot.place });
    }

    /// Says why results are not worked out here at all. Whoever leaves a result out says so, for who pins it.
    pub fn not_asked(&mut self, spot: &Spot, specs: &[&'static ResultSpec], why: impl Into<WhyNot>) {
        let why = why.into();
        self.not_computed.extend(specs.iter().map(|spec| NotComputed {
            spec,
            of: spot.of.clone(),
            path: spot.path.clone(),
            place: spot.place,
            why: why.clone(),
        }));
    }

    /// That a reference leads nowhere, or is not given.
    pub fn no_such_item<F: ?Sized>(&self, block: &EffectiveBlock<'b>, fact: Fact<F>) -> WhyNot {
        match block.field(fact) {
            Some(field) => {
                let origin = self.facts.origin(block, fact, Some(field));
                WhyNot::Lacks(Arc::new(Missing { origin, reason: Reason::NoSuchItem }))
            }
            None => WhyNot::LeftOut(fact.any()),
        }
    }

    /// Says the same of all results of a block and of those inside it.
    pub fn none_of(&mut self, block: &EffectiveBlock<'b>, item: ItemId, why: impl Into<WhyNot>) {
        let (why, spot) = (why.into(), Spot::heading(block, item));
        self.not_asked(&spot, crate::vocabulary::block(block.kind).results, why.clone());
        for inner in &block.blocks {
            self.none_of(inner, item, why.clone());
        }
    }

    /// A value that is a default of the format rather than a fact of the sheet.
    pub fn default<T: Amount, F: ?Sized>(
        &self,
        block: &EffectiveBlock<'b>,
        fact: Fact<F>,
        value: T,
        unit: Unit,
    ) -> Val<T> {
        let origin = Origin { item: block.item, path: block.path.clone(), name: fact.words().into(), place: None };
        Val { contributions: Contributions::none(), ..Val::exact(value, origin, unit) }
    }
}

pub fn origin(spot: &Spot, spec: &'static ResultSpec) -> Origin {
    Origin { item: spot.item, path: spot.path.clone(), name: spec.named(spot.of.as_ref()), place: None }
}
