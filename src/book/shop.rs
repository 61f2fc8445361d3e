//! The shop's rules, read once a book.

use crate::sheet::{Block, FieldValue};
use crate::syntax::Kind;
use crate::units::{Dimension, Ratio, Typed, Unit};
use crate::vocabulary::shop::BudgetLine;
use crate::vocabulary::{AnyFact, Choice, Fact, Percentage, instrument, shop};

/// What the `shop` block says, with the defaults where it says nothing.
#[derive(Clone, Debug)]
pub struct ShopRules {
    /// The units of what is worked out, as the shop names them.
    pub show_in: Vec<Unit>,
    pub unbalance_unit: Unit,
    /// How many times the tolerance a calibration unbalance should be.
    pub calibration_unbalance: (Ratio, Ratio),
    /// Highest accepted expanded uncertainty of a reading to set.
    pub calibration_uncertainty: Ratio,
    /// Highest accepted correction plane interference ratio.
    pub interference: Ratio,
    /// Lines of the budget without which nothing is within.
    pub verdict_needs: Vec<Box<str>>,
    pub instruments: Vec<Instrument>,
}

/// A scale, calliper or protractor of the shop. All in base units of its dimension.
#[derive(Clone, Debug)]
pub struct Instrument {
    pub name: Box<str>,
    pub dimension: Dimension,
    pub low: f64,
    pub high: f64,
    pub resolution: f64,
}

impl Default for ShopRules {
    fn default() -> Self {
        Self {
            show_in: Vec::new(),
            unbalance_unit: Unit::GRAM_MILLIMETRE,
            calibration_unbalance: (Ratio::new(5.0), Ratio::new(20.0)),
            calibration_uncertainty: Ratio::percent(5.0),
            interference: Ratio::percent(5.0),
            verdict_needs: Vec::new(),
            instruments: Vec::new(),
        }
    }
}

impl ShopRules {
    pub(super) fn read(block: &Block) -> Self {
        let value = |fact: AnyFact| block.field(fact).map(|field| &field.value);
        let percentage = |fact: Fact<Percentage>, default: Ratio| match value(fact.any()) {
            Some(FieldValue::Quantity(stated)) => Ratio::from_base(stated.base),
            _ => default,
        };
        let default = Self::default();
        let show_in = match value(shop::SHOW_IN.any()) {
            Some(FieldValue::Units(units)) => units.clone(),
            _ => default.show_in,
        };
        Self {
            unbalance_unit: among(&show_in, default.unbalance_unit),
            show_in,
            calibration_unbalance: match value(shop::CALIBRATION_UNBALANCE.any()) {
                Some(FieldValue::NumberRange(low, high)) => (Ratio::new(*low), Ratio::new(*high)),
                _ => default.calibration_unbalance,
            },
            calibration_uncertainty: percentage(shop::CALIBRATION_UNCERTAINTY, default.calibration_uncertainty),
            interference: percentage(shop::INTERFERENCE, default.interference),
            verdict_needs: match value(shop::VERDICT_NEEDS.any()) {
                Some(FieldValue::Names(names)) => names.iter().map(|name| (&*name.text).into()).collect(),
                // A demand that cannot be read is not met: all that may be demanded is.
                Some(_) => BudgetLine::WORDS.iter().map(|line| (*line).into()).collect(),
                None => Vec::new(),
            },
            instruments: block.inner(Kind::Instrument).filter_map(instrument).collect(),
        }
    }

    /// What the shop shows an amount in for which the program would take this unit.
    pub fn shown(&self, unit: Unit) -> Unit {
        among(&self.show_in, unit)
    }

    /// In which a couple is shown: as the shop says, else the unbalance's own unit times its length.
    pub fn couple_unit(&self) -> Unit {
        let own = Unit::parse(&format!("{}²", self.unbalance_unit)).ok();
        let own = own.filter(|unit| unit.dimension() == Dimension::COUPLE);
        self.shown(own.unwrap_or(Unit::GRAM_SQUARE_MILLIMETRE))
    }

    /// The instrument of this name, or the finest of those that measure this dimension and whose range holds the value.
    pub fn instrument(&self, name: Option<&str>, dimension: Dimension, base: f64) -> Option<&Instrument> {
        let fits = |instrument: &&Instrument| instrument.dimension == dimension;
        if let Some(name) = name
            && let Some(named) = self.instruments.iter().filter(fits).find(|instrument| *instrument.name == *name)
        {
            return Some(named);
        }
        self.instruments
            .iter()
            .filter(fits)
            .filter(|instrument| (instrument.low..=instrument.high).contains(&base.abs()))
            .min_by(|a, b| a.resolution.total_cmp(&b.resolution))
    }
}

/// The unit of the same dimension among these, else the unit itself.
fn among(units: &[Unit], unit: Unit) -> Unit {
    units.iter().copied().find(|other| other.dimension() == unit.dimension()).unwrap_or(unit)
}

fn instrument(block: &Block) -> Option<Instrument> {
    let Some(FieldValue::Quantity(resolution)) = block.field(instrument::RESOLUTION).map(|field| &field.value) else {
        return None;
    };
    let (low, high) = match block.field(instrument::RANGE).map(|field| &field.value) {
        Some(FieldValue::Range(range)) => {
            (range.low.map_or(0.0, |low| low.base), range.high.map_or(f64::INFINITY, |high| high.base))
        }
        _ => (0.0, f64::INFINITY),
    };
    Some(Instrument {
        name: block.name.as_ref()?.text.clone(),
        dimension: resolution.dimension(),
        low,
        high,
        resolution: resolution.base,
    })
}
