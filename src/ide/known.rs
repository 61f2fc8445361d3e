//! How well a fact is known, and why.

use super::place::Place;
use crate::book::{Computed, Computing, EffectiveBlock, EffectiveField, Facts, Origin, Path};
use crate::sheet::{Block, Limits, Stated};
use crate::units::{self, Amount, Indication, Unit};
use crate::vocabulary::Standing;

#[derive(Clone, Copy)]
pub(super) struct Known {
    /// Standard uncertainty, in base units.
    pub standard: f64,
    pub why: Why,
}

/// Where an uncertainty comes from.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Why {
    Demand,
    Nominal,
    Limits,
    Certificate,
    /// The set of masses that it is one of.
    Set,
    HalfStep,
    Instrument,
}

impl Known {
    /// How well an amount of the fact on this line is known; `None` when the line is no fact that the sheet has.
    pub fn of<'b>(
        computing: &Computing<'b>,
        computed: &Computed<'b>,
        place: &Place<'b>,
        stated: &Stated,
    ) -> Option<Self> {
        let (block, field) = place.field()?;
        let id = place.blocks()?.item;
        let masses = match computed {
            Computed::Setup(setup) => setup.masses,
            _ => None,
        };
        let facts = computing.facts().with_masses(masses);
        let effective = find(computed.effective(), block)?;
        let origin = Origin { item: id, path: Path::item(), name: field.key.name.into(), place: None };
        // Whatever its dimension is, it is the bare amount that is asked about.
        let value = facts.stated::<Indication>(effective, EffectiveField::new(field, id), stated, origin);
        let standard = value.standard_uncertainty();
        let why = match field.key.standing {
            _ if standard > 0.0 => why(&facts, stated, standard),
            Standing::Demand => Why::Demand,
            Standing::Nominal => Why::Nominal,
            Standing::Measured => return None,
        };
        Some(Self { standard, why })
    }

    /// `known to ± 0.058 mm (k = 2), for …`
    pub fn words(&self, unit: Unit) -> String {
        let reason = match self.why {
            Why::Demand => return "a demand, and so exact".to_owned(),
            Why::Nominal => return "nominal: it carries no uncertainty unless `±` states one".to_owned(),
            Why::Limits => "from the limits that come after it",
            Why::Certificate => "as its certificate states",
            Why::Set => "as the set of masses states",
            Why::HalfStep => "for it was read to half a step of its last digit",
            Why::Instrument => "by the resolution of the instrument",
        };
        let expanded = 2.0 * self.standard / unit.factor();
        format!("known to ± {} {unit} (k = 2), {reason}", units::number(expanded, Some(expanded)))
    }
}

fn why(facts: &Facts<'_>, stated: &Stated, standard: f64) -> Why {
    let same = |other: f64| (other / standard - 1.0).abs() < 1e-9;
    match stated.limits {
        Some(Limits::Bounds(_)) => Why::Limits,
        Some(Limits::Expanded(_)) => Why::Certificate,
        None if facts.masses.is_some_and(|set| set.standard.is_some_and(|set| same(set.raw()))) => Why::Set,
        None if same(stated.half_step / 3f64.sqrt()) => Why::HalfStep,
        None => Why::Instrument,
    }
}

/// The block as it holds, of which `own` is what is written.
pub(super) fn find<'c, 'b>(block: &'c EffectiveBlock<'b>, own: &Block) -> Option<&'c EffectiveBlock<'b>> {
    if block.own.is_some_and(|block| std::ptr::eq(block, own)) {
        return Some(block);
    }
    block.blocks.iter().find_map(|inner| find(inner, own))
}
