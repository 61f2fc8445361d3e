//! What the machine carries, and each of its supports.

use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::files::ItemId;
use crate::book::formulas::{self as by, Formula};
use crate::book::origin::Reason;
use crate::book::results::plane::extra;
use crate::book::results::rotor::results::RotorResults;
use crate::book::results::values::entry::{Recorder, Spot, origin};
use crate::book::results::values::not_computed::WhyNot;
use crate::book::vectors::{Gathered, amounts};
use crate::mechanics::weighing::{self, Placed};
use crate::syntax::Kind;
use crate::units::{Length, Mass, Unit};
use crate::vocabulary::extra_mass::On;
use crate::vocabulary::{ResultSpec, arbor, extra_mass, result, rotor, setup};

/// The rotor, its arbor, and the extra masses that are put on for the run.
pub(in crate::book::results) fn mass_on_machine<'b>(
    recorder: &mut Recorder<'b>,
    block: &EffectiveBlock<'b>,
    id: ItemId,
    rotor: Option<&RotorResults<'b>>,
    arbor: Option<&EffectiveBlock<'b>>,
) -> Val<Mass> {
    let spot = Spot::beside(block, id, block.field(setup::ARBOR).or_else(|| block.field(setup::ROTOR)));
    let spec = &result::MASS_ON_MACHINE;
    let Some(rotor) = rotor else {
        recorder.not_asked(&spot, &[spec], recorder.no_such_item(block, setup::ROTOR));
        let origin = recorder.facts.origin(block, setup::ROTOR, block.field(setup::ROTOR));
        return Val::missing(origin, Reason::NoSuchItem, Unit::KILOGRAM);
    };
    let unit = if rotor.mass.is_known() { rotor.mass.unit } else { Unit::KILOGRAM };
    let arbor: Option<Val<Mass>> = arbor.map(|arbor| recorder.facts.quantity(arbor, arbor::MASS));
    let extra = put_on(recorder, &[&rotor.block, block], &spot);
    match (&arbor, &extra) {
        (Some(arbor), Some(extra)) => {
            let inputs = (&rotor.mass, arbor, extra);
            let sum = |(rotor, arbor, extra)| Ok(rotor + arbor + extra);
            recorder.work_out(&spot, spec, unit, &by::WITH_ARBOR_AND_EXTRA_MASSES, inputs, sum)
        }
        (Some(arbor), None) => {
            let inputs = (&rotor.mass, arbor);
            recorder.work_out(&spot, spec, unit, &by::WITH_ARBOR, inputs, |(rotor, arbor)| Ok(rotor + arbor))
        }
        (None, Some(extra)) => {
            let inputs = (&rotor.mass, extra);
            recorder.work_out(&spot, spec, unit, &by::WITH_EXTRA, inputs, |(rotor, extra)| Ok(rotor + extra))
        }
        (None, None) => recorder.work_out(&spot, spec, unit, &by::ROTOR_ALONE, (&rotor.mass,), |(mass,)| Ok(mass)),
    }
}

/// What the extra masses that are put on for the run weigh together; `None` where there are none.
fn put_on<'b>(recorder: &Recorder<'b>, blocks: &[&EffectiveBlock<'b>], spot: &Spot) -> Option<Val<Mass>> {
    let extra = blocks.iter().flat_map(|block| block.inner(Kind::ExtraMass));
    let on = extra.filter(|mass| mass.choice(extra_mass::ON).is_some_and(On::is_put_on));
    let masses: Vec<Val<Mass>> = on.map(|mass| recorder.facts.quantity(mass, extra_mass::MASS)).collect();
    if masses.is_empty() {
        return None;
    }
    let mut gathered = Gathered::new();
    let at: Vec<usize> = masses.iter().map(|mass| gathered.value(mass)).collect();
    let under = (origin(spot, &result::MASS_ON_MACHINE), masses[0].unit);
    Some(gathered.work_out_one(under, None, |numbers| Ok(at.iter().map(|at| numbers.value::<Mass>(*at)).sum())))
}

/// Each with the formula for the rotor alone, and for several masses.
const ON_SUPPORTS: [(&ResultSpec, [&Formula; 2]); 2] = [
    (&result::LOAD_ON_LEFT_SUPPORT, [&by::LOAD_ON_LEFT_SUPPORT, &by::LOADS_ON_LEFT_SUPPORT]),
    (&result::LOAD_ON_RIGHT_SUPPORT, [&by::LOAD_ON_RIGHT_SUPPORT, &by::LOADS_ON_RIGHT_SUPPORT]),
];

/// What the left and the right support carry of the rotor and of the extra masses that are put on; `None` where places
/// are not stated, or an arbor carries the rotor: nothing says where along it its mass is.
pub(in crate::book::results) fn on_supports<'b>(
    recorder: &mut Recorder<'b>,
    block: &EffectiveBlock<'b>,
    id: ItemId,
    (rotor, on_arbor): (Option<&RotorResults<'b>>, bool),
    supports: Option<&[Val<Length>; 2]>,
) -> Option<[Val<Mass>; 2]> {
    let spot = Spot::beside(block, id, block.field(setup::SUPPORTS_AT));
    let (rotor, supports) = match stated(recorder, block, rotor, on_arbor, supports) {
        Ok(both) => both,
        Err(why) => {
            recorder.not_asked(&spot, &ON_SUPPORTS.map(|(spec, _)| spec), why);
            return None;
        }
    };
    let extra = extra::of(recorder, &[&rotor.block, block], &rotor.planes);
    let extra = extra.iter().filter(|mass| mass.error.is_none() && mass.on.is_some_and(On::is_put_on));
    let parts: Vec<(&Val<Mass>, &Val<Length>)> =
        std::iter::once((&rotor.mass, &rotor.mass_centre)).chain(extra.map(|mass| (&mass.mass, &mass.at))).collect();
    let unit = if rotor.mass.is_known() { rotor.mass.unit } else { Unit::KILOGRAM };
    Some([0, 1].map(|n| {
        let (spec, formulas) = ON_SUPPORTS[n];
        let formula = formulas[usize::from(parts.len() > 1)];
        let mut gathered = Gathered::new();
        let at: Vec<[usize; 2]> = parts.iter().map(|(mass, at)| [gathered.value(*mass), gathered.value(*at)]).collect();
        let ends = supports.each_ref().map(|end| gathered.value(end));
        let worked_out = gathered.work_out(recorder.explained(formula), |numbers| {
            let placed = |[mass, at]: &[usize; 2]| Placed { mass: numbers.value(*mass), at: numbers.value(*at) };
            let parts: Vec<Placed> = at.iter().map(placed).collect();
            let [left, right] = ends.map(|end| numbers.value(end));
            Ok(amounts([weighing::support_loads(&parts, left, right)?[n]]))
        });
        let load = worked_out.value(0, origin(&spot, spec), unit);
        recorder.keep(&spot, spec, &load);
        load
    }))
}

/// The rotor and where its supports are; else why nothing is worked out of them.
fn stated<'a, 'b, 'v>(
    recorder: &Recorder<'b>,
    block: &EffectiveBlock<'b>,
    rotor: Option<&'a RotorResults<'b>>,
    on_arbor: bool,
    supports: Option<&'v [Val<Length>; 2]>,
) -> Result<(&'a RotorResults<'b>, &'v [Val<Length>; 2]), WhyNot> {
    let rotor = rotor.ok_or_else(|| recorder.no_such_item(block, setup::ROTOR))?;
    let supports = supports.ok_or(WhyNot::LeftOut(setup::SUPPORTS_AT.any()))?;
    if on_arbor {
        return Err("an arbor carries the rotor, and nothing says where along it its mass is".into());
    }
    let missing =
        [(rotor.mass.is_left_out(), rotor::MASS.any()), (rotor.mass_centre.is_left_out(), rotor::MASS_CENTRE.any())];
    match missing.into_iter().find(|(is_left_out, _)| *is_left_out) {
        Some((_, fact)) => Err(WhyNot::LeftOut(fact)),
        None => Ok((rotor, supports)),
    }
}
