//! What the machine carries.

use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::files::ItemId;
use crate::book::formulas as by;
use crate::book::origin::Reason;
use crate::book::results::rotor::results::RotorResults;
use crate::book::results::values::entry::{Recorder, Spot};
use crate::units::{Mass, Unit};
use crate::vocabulary::{arbor, result, setup};

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
    match arbor {
        Some(arbor) => {
            let mass: Val<Mass> = recorder.facts.quantity(arbor, arbor::MASS);
            recorder
                .work_out(&spot, spec, unit, &by::WITH_ARBOR, (&rotor.mass, &mass), |(rotor, arbor)| Ok(rotor + arbor))
        }
        None => recorder.work_out(&spot, spec, unit, &by::ROTOR_ALONE, (&rotor.mass,), |(mass,)| Ok(mass)),
    }
}
