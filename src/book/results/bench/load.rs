//! What the machine carries.

use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::files::ItemId;
use crate::book::formulas as by;
use crate::book::origin::Reason;
use crate::book::results::rotor::results::RotorResults;
use crate::book::results::values::entry::{Recorder, Spot, origin};
use crate::book::vectors::Gathered;
use crate::syntax::Kind;
use crate::units::{Mass, Unit};
use crate::vocabulary::extra_mass::On;
use crate::vocabulary::{arbor, extra_mass, result, setup};

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
