//! The machine's facts that a setup needs: its readout with its scales, its channels and controls.

use super::mode::Mode;
use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::files::ItemId;
use crate::book::origin::Reason;
use crate::book::readers::Facts;
use crate::sheet::{FieldValue, StatedReading};
use crate::syntax::Kind;
use crate::units::{Dimension, Indication, Ratio, Unit};
use crate::vocabulary::control::{self, Taken};
use crate::vocabulary::readout::Shown;
use crate::vocabulary::{Fact, ReadoutAmount, machine, readout, scale};

/// The machine's facts that a setup needs.
#[derive(Clone, Debug)]
pub struct MachineFacts<'b> {
    pub id: ItemId,
    pub block: EffectiveBlock<'b>,
    pub readout: Option<ReadoutFacts<'b>>,
    pub channels: Vec<&'b str>,
    /// The names of its controls, in panel order.
    pub controls: Vec<EffectiveBlock<'b>>,
}

#[derive(Clone, Debug)]
pub struct ReadoutFacts<'b> {
    pub block: EffectiveBlock<'b>,
    pub shows: Option<Shown>,
    pub unit: Unit,
    pub full_scale: Val<Indication>,
    pub smallest_step: Val<Indication>,
    pub scatter: Val<Indication>,
    pub scales: Vec<ScaleFacts<'b>>,
}

/// One scale of a dial.
#[derive(Clone, Debug)]
pub struct ScaleFacts<'b> {
    pub name: &'b str,
    /// What one mark means, in base units of the readout.
    pub one_mark: Option<f64>,
    pub marks: Option<f64>,
    /// The smallest part of a mark that can be read, in marks.
    pub smallest_step: Option<f64>,
}

impl ScaleFacts<'_> {
    /// The largest amount it shows, in base units of the readout.
    pub fn end(&self) -> Option<f64> {
        Some(self.one_mark? * self.marks?)
    }

    /// The smallest difference that can be read on it, in base units of the readout.
    pub fn step(&self) -> Option<f64> {
        Some(self.one_mark? * self.smallest_step?)
    }
}

/// Which of several scales an amount is read on: the finest of those that reach so far, by their step or, where one has none, by
/// its mark; of equal ones the shortest. `of` gives the step or mark and the end of a scale.
pub fn scale_that_shows<S>(scales: &[S], amount: f64, of: impl Fn(&S) -> Option<(f64, f64)>) -> Option<&S> {
    let reaches = |end: f64| amount <= end * (1.0 + UNITS_NOISE);
    let fit = scales.iter().filter_map(|scale| Some((scale, of(scale)?))).filter(|(_, (_, end))| reaches(*end));
    fit.min_by(|(_, a), (_, b)| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1))).map(|(scale, _)| scale)
}

/// What conversions of units leave over.
const UNITS_NOISE: f64 = 1e-9;

impl<'b> ReadoutFacts<'b> {
    /// The largest amount that can be read: full scale, or the end of the widest scale. In base units.
    pub fn end(&self) -> Option<f64> {
        let scales = self.scales.iter().filter_map(ScaleFacts::end).max_by(f64::total_cmp);
        self.full_scale.get().map(Indication::value).or(scales)
    }

    /// The same for one reading: the end of the scale on which it was read.
    pub fn end_for(&self, reading: &StatedReading) -> Option<f64> {
        if reading.amount.dimension() != Dimension::MARK {
            return self.end();
        }
        self.scale_of(reading)?.end()
    }

    /// The scale on which marks were read: the one that is named, else the only one. `None` for what is not read in marks.
    pub fn scale_of(&self, reading: &StatedReading) -> Option<&ScaleFacts<'b>> {
        if reading.amount.dimension() != Dimension::MARK {
            return None;
        }
        match (&reading.scale, self.scales.as_slice()) {
            (Some(name), scales) => scales.iter().find(|scale| *scale.name == *name.text),
            (None, [only]) => Some(only),
            (None, _) => None,
        }
    }

    /// The scale on which an amount is read, as [`scale_that_shows`] chooses.
    pub fn scale_for(&self, amount: Indication) -> Option<&ScaleFacts<'b>> {
        scale_that_shows(&self.scales, amount.value(), |scale| Some((scale.step().or(scale.one_mark)?, scale.end()?)))
    }

    /// The smallest difference that can be read at an amount: on the scale that shows it, else the readout's own.
    pub fn step_for(&self, amount: Indication) -> Option<Indication> {
        let of_scale = self.scale_for(amount).and_then(ScaleFacts::step);
        of_scale.map(Indication::new).or(self.smallest_step.get())
    }

    /// How it shows an unbalance; `None` where it shows none, or does not say.
    pub fn mode(&self) -> Option<Mode> {
        self.shows.and_then(Mode::of)
    }

    pub fn is_in_divisions(&self) -> bool {
        self.shows == Some(Shown::Divisions)
    }
}

impl<'b> MachineFacts<'b> {
    /// Whether one of its controls takes the layout; the distances are then set as amounts.
    pub fn asks_for_layout(&self) -> bool {
        self.controls.iter().any(|control| control.choice(control::TAKES) == Some(Taken::Layout))
    }

    /// By the facts of today, or those that were kept of another day.
    pub(in crate::book::results) fn of(facts: &Facts<'b>, id: ItemId, block: EffectiveBlock<'b>) -> Self {
        let channels = match block.field(machine::CHANNELS).map(|field| &field.field.value) {
            Some(FieldValue::Names(names)) => names.iter().map(|name| &*name.text).collect(),
            _ => Vec::new(),
        };
        let readout = block.inner(Kind::Readout).next().map(|readout| readout_of(facts, readout));
        let controls = block.inner(Kind::Control).cloned().collect();
        Self { id, readout, channels, controls, block }
    }
}

fn readout_of<'b>(facts: &Facts<'b>, block: &EffectiveBlock<'b>) -> ReadoutFacts<'b> {
    let shows = block.choice(readout::SHOWS);
    let stated = match block.field(readout::UNIT).map(|field| &field.field.value) {
        Some(FieldValue::Unit(unit)) => Some(*unit),
        _ => None,
    };
    let usual = match shows {
        Some(Shown::Unbalance) => facts.shop.unbalance_unit,
        Some(Shown::MassAtSetRadius) => facts.shop.shown(Unit::GRAM),
        Some(Shown::Displacement) => Unit::MICROMETRE,
        Some(Shown::Velocity) => facts.shop.shown(Unit::MILLIMETRE_PER_SECOND),
        Some(Shown::Divisions) | None => Unit::DIVISION,
    };
    let unit = stated.filter(|unit| unit.dimension() == usual.dimension()).unwrap_or(usual);
    // An amount of another dimension is no amount on this readout; that has a diagnostic of its own.
    let amount = |block: &EffectiveBlock<'b>, fact: Fact<ReadoutAmount>| -> Val<Indication> {
        let value = facts.quantity(block, fact);
        match value.is_known() && value.unit.dimension() != unit.dimension() {
            true => Val::missing(value.origin, Reason::Unreadable, unit),
            false => value,
        }
    };
    let scales = block
        .inner(Kind::Scale)
        .map(|scale| ScaleFacts {
            name: scale.name_text(),
            one_mark: amount(scale, scale::ONE_MARK_IS).get().map(Indication::value),
            marks: facts.number(scale, scale::MARKS).get().map(Ratio::value),
            smallest_step: facts.quantity(scale, scale::SMALLEST_STEP).get().map(Indication::value),
        })
        .collect();
    ReadoutFacts {
        shows,
        unit,
        full_scale: amount(block, readout::FULL_SCALE),
        smallest_step: amount(block, readout::SMALLEST_STEP),
        scatter: amount(block, readout::SCATTER),
        scales,
        block: block.clone(),
    }
}

/// Whether an amount on the readout is stated in the dimension that the readout shows.
pub fn suits_readout(dimension: Dimension, readout: &ReadoutFacts<'_>) -> bool {
    dimension == readout.unit.dimension() || dimension == Dimension::MARK && !readout.scales.is_empty()
}
