//! The rotor: mass, mass centre and journal loads, then everything that rests on them.

pub(in crate::book::results) mod assembly;
pub(in crate::book::results) mod base;
pub(in crate::book::results) mod bearings;
pub(in crate::book::results) mod clocking;
pub(in crate::book::results) mod kept;
pub(in crate::book::results) mod keyway;
pub(in crate::book::results) mod limits;
mod planes;
pub(in crate::book::results) mod results;
pub(in crate::book::results) mod rules;
mod seated;
pub(in crate::book::results) mod seen;
mod share_formula;
pub(in crate::book::results) mod sharing;
pub(in crate::book::results) mod tolerance;

use crate::book::derive::Val;
use crate::book::effective::{EffectiveBlock, effective};
use crate::book::files::ItemId;
use crate::book::formulas as by;
use crate::book::origin::Reason;
use crate::book::results::computing::Computing;
use crate::book::results::values::entry::{Recorder, Spot};
use crate::book::results::values::not_computed::WhyNot;
use crate::mechanics::weighing::{self, Placed};
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::units::{Length, Mass, Unit};
use crate::vocabulary::tolerance::WeightOverSpeedRule;
use crate::vocabulary::{self, result, rotor};
use base::Base;
use kept::KeptLimits;
use results::{PartResults, RotorResults};

impl<'b> RotorResults<'b> {
    pub fn of(computing: &Computing<'b>, id: ItemId) -> Self {
        Self::of_block(computing, id, effective(computing.book(), id).0, None)
    }

    /// The same of facts that hold in place of those of the item, and by the limits that are kept of another day.
    pub(in crate::book::results) fn of_block(
        computing: &Computing<'b>,
        id: ItemId,
        block: EffectiveBlock<'b>,
        kept: Option<&KeptLimits<'b>>,
    ) -> Self {
        let mut recorder = Recorder::new(computing.facts());
        let mut parts = assembly::parts(computing, &block, id);
        let Masses { mass, mass_centre, by_weighing, by_parts } = masses(&mut recorder, &block, id, &parts);
        let bearings = [0, 1].map(|n| recorder.facts.nth(&block, rotor::BEARINGS, n));
        let journal_loads = journal_loads(&mut recorder, &block, id, &mass, &mass_centre, &bearings);
        let service_speed = recorder.facts.upper_end(&block, rotor::HIGHEST_SERVICE_SPEED);
        let safe_speed = recorder.facts.quantity(&block, rotor::HIGHEST_SAFE_SPEED);
        let base = Base {
            mass: &mass,
            mass_centre: &mass_centre,
            bearings: &bearings,
            journal_loads: &journal_loads,
            service_speed: &service_speed,
        };
        let is_overhung = base.is_overhung(&block);
        let found = tolerance::of(computing, &mut recorder, &block, id, &base);
        let (planes, limits) = planes::of(&mut recorder, &block, id, &base, (&found, kept));
        let at_bearings = kept.map(|kept| kept.at_bearings(&found.at_bearings)).unwrap_or(found.at_bearings);
        tolerance::static_and_couple(&mut recorder, &block, id);
        let keyways = keyway::of(&mut recorder, &block, id);
        let left_for_assembly = assembly::results(&mut recorder, &block, id, &mut parts, (&found.permissible, &limits));
        let clocking = clocking::of(computing, &mut recorder, &block, id, &parts, &planes);
        Self {
            id,
            mass,
            mass_centre,
            by_weighing,
            by_parts,
            bearings,
            is_overhung,
            journal_loads,
            service_speed,
            safe_speed,
            rules: found.rules,
            governing: found.governing,
            permissible: found.permissible,
            permissible_specific: found.specific,
            at_bearings,
            shared_at_bearings: found.shared_at_bearings,
            limits,
            planes,
            parts,
            keyways,
            left_for_assembly,
            clocking,
            entries: recorder.entries,
            not_computed: recorder.not_computed,
            block,
        }
    }
}

struct Masses {
    mass: Val<Mass>,
    mass_centre: Val<Length>,
    by_weighing: Option<(Val<Mass>, Val<Length>)>,
    by_parts: Option<(Val<Mass>, Val<Length>)>,
}

/// Mass and mass centre: as stated, from weighing at two places, or from the parts.
fn masses<'b>(
    recorder: &mut Recorder<'b>,
    block: &EffectiveBlock<'b>,
    id: ItemId,
    parts: &[PartResults<'b>],
) -> Masses {
    let stated_mass: Val<Mass> = recorder.facts.quantity(block, rotor::MASS);
    let stated_centre: Val<Length> = recorder.facts.quantity(block, rotor::MASS_CENTRE);
    let by_weighing = block.field(rotor::WEIGHED).map(|field| weighed(recorder, block, id, field));
    let parts_count = stated_mass.is_left_out() && by_weighing.is_none();
    let by_parts = assembly::mass_and_centre(recorder, block, id, parts, parts_count);
    let (mass, mass_centre) = match (&by_weighing, &by_parts) {
        (Some((mass, centre)), _) => (stated_mass.or(|| mass.clone()), stated_centre.or(|| centre.clone())),
        (None, Some((mass, centre))) if parts_count => (mass.clone(), stated_centre.or(|| centre.clone())),
        _ => (stated_mass, stated_centre),
    };
    not_found(recorder, block, id);
    Masses { mass, mass_centre, by_weighing, by_parts }
}

/// Says why mass and mass centre are no results, where they are none.
fn not_found<'b>(recorder: &mut Recorder<'b>, block: &EffectiveBlock<'b>, id: ItemId) {
    let neither = "it follows from `weighed` or from the parts, and neither is given";
    let no_places = "it follows from `weighed` or from the places of the parts, and neither is given";
    let both = [
        (&result::MASS, block.field(rotor::MASS).map(|_| rotor::MASS.any()), neither),
        (&result::MASS_CENTRE, block.field(rotor::MASS_CENTRE).map(|_| rotor::MASS_CENTRE.any()), no_places),
    ];
    for (spec, given, otherwise) in both {
        if !recorder.entries.iter().any(|entry| entry.is(spec)) {
            let why = given.map_or_else(|| otherwise.into(), WhyNot::Given);
            recorder.not_asked(&Spot::heading(block, id), &[spec], why);
        }
    }
}

fn weighed<'b>(
    recorder: &mut Recorder<'b>,
    block: &EffectiveBlock<'b>,
    id: ItemId,
    field: crate::book::effective::EffectiveField<'b>,
) -> (Val<Mass>, Val<Length>) {
    let spot = Spot::beside(block, id, Some(field));
    let origin = recorder.facts.origin(block, rotor::WEIGHED, Some(field));
    let FieldValue::Weighing(pairs) = &field.field.value else {
        let hole = |origin| Val::missing(origin, Reason::Unreadable, Unit::ONE);
        let centre = Val::missing(origin.clone(), Reason::Unreadable, Unit::ONE);
        return (hole(origin), centre);
    };
    let mass = |n: usize| recorder.facts.nth_stated::<Mass>(block, field, (n, &pairs[n].0), origin.clone());
    let place = |n: usize| {
        let mut place: Val<Length> = recorder.facts.stated(block, field, &pairs[n].1, origin.clone());
        place.contributions = Default::default();
        place
    };
    let (m1, m2, z1, z2) = (mass(0), mass(1), place(0), place(1));
    let unit = pairs[0].0.unit;
    let whole = recorder.on_the_way(&spot, &result::MASS, unit, &by::WEIGHED_MASS, (&m1, &m2), |(m1, m2)| Ok(m1 + m2));
    let centre = recorder.on_the_way(
        &spot,
        &result::MASS_CENTRE,
        pairs[0].1.unit,
        &by::WEIGHED_CENTRE,
        (&m1, &z1, &m2, &z2),
        |(m1, z1, m2, z2)| {
            let first = Placed { mass: m1, at: z1 };
            weighing::weighed_at_two_places(first, Placed { mass: m2, at: z2 }).map(|whole| whole.at)
        },
    );
    // What is stated beside it holds: then the weighing is only held against it, and is no result of the rotor.
    if block.field(rotor::MASS).is_none() {
        recorder.keep(&spot, &result::MASS, &whole);
    }
    if block.field(rotor::MASS_CENTRE).is_none() {
        recorder.keep(&spot, &result::MASS_CENTRE, &centre);
    }
    (whole, centre)
}

fn journal_loads<'b>(
    recorder: &mut Recorder<'b>,
    block: &EffectiveBlock<'b>,
    id: ItemId,
    mass: &Val<Mass>,
    centre: &Val<Length>,
    bearings: &[Val<Length>; 2],
) -> [Val<Mass>; 2] {
    let field = block.field(rotor::WEIGHED).or_else(|| block.field(rotor::MASS));
    let spot = Spot::beside(block, id, field);
    let unit = if mass.is_known() { mass.unit } else { Unit::KILOGRAM };
    let inputs = (mass, centre, &bearings[0], &bearings[1]);
    let tolerance = block.inner(Kind::Tolerance).next();
    let needed = tolerance.and_then(|block| block.choice(vocabulary::tolerance::RULE))
        == Some(WeightOverSpeedRule::ByJournalLoad);
    let specs = [(&result::JOURNAL_LOAD_A, &by::LOAD_AT_A), (&result::JOURNAL_LOAD_B, &by::LOAD_AT_B)];
    [0, 1].map(|n| {
        let (spec, formula) = specs[n];
        let f = move |(mass, at, a, b)| weighing::journal_loads(Placed { mass, at }, a, b).map(|loads| loads[n]);
        // Not every rotor states where its bearings are: then nobody misses the loads, unless its tolerance needs them.
        if !bearings[0].is_left_out() || needed {
            recorder.work_out(&spot, spec, unit, formula, inputs, f)
        } else {
            recorder.not_asked(&spot, &[spec], WhyNot::LeftOut(rotor::BEARINGS.any()));
            recorder.on_the_way(&spot, spec, unit, formula, inputs, f)
        }
    })
}
