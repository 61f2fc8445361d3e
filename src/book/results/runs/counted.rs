//! What a run tells of each plane, as it counts.

use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::origin::Reason;
use crate::book::results::measuring::Found;
use crate::book::results::plane::extra::{self as extra_masses, ExtraMass};
use crate::book::results::values::entry::Recorder;
use crate::sheet::FieldValue;
use crate::units::Length;
use crate::vocabulary::extra_mass::On;
use crate::vocabulary::run;

/// The extra masses as they count in a run: without those that it says were not on.
pub(in crate::book::results) fn as_run<'b>(block: &EffectiveBlock<'b>, extra: &[ExtraMass<'b>]) -> Vec<ExtraMass<'b>> {
    let off = |mass: &ExtraMass<'_>| match block.field(run::WITHOUT).map(|field| &field.field.value) {
        Some(FieldValue::Names(names)) => names.iter().any(|name| *name.text == *mass.name),
        _ => false,
    };
    // What the rotor has in service and had not in the run is put into what was read.
    let as_run = |mass: &ExtraMass<'b>| match mass.on.filter(|_| off(mass)) {
        Some(On::OnlyWhileBalancing) => None,
        Some(On::Always | On::AsInService) => Some(ExtraMass { on: Some(On::OnlyInService), ..mass.clone() }),
        Some(On::OnlyInService) | None => Some(mass.clone()),
    };
    extra.iter().filter_map(as_run).collect()
}

/// What was read, without the extra masses that are not the rotor's and with those that it has in service.
pub(in crate::book::results) fn counted<'b>(
    recorder: &Recorder<'b>,
    on: &[&ExtraMass<'b>],
    at: &[Val<Length>],
    found: &[Found],
) -> Vec<Found> {
    let one = |(n, found): (usize, &Found)| match found {
        Found::Vector(read) => Found::Vector(extra_masses::counted(recorder, on, (at, n), read)),
        // Of amounts alone a stated error cannot be taken out: it counts in the budget.
        Found::Amount(amount) => {
            match on.iter().find(|mass| mass.counts() && mass.error.is_none() && amount.is_known()) {
                Some(mass) => {
                    let why = format!("extra mass \"{}\" cannot be taken account of without an angle", mass.name);
                    Found::Amount(Val::missing(amount.origin.clone(), Reason::Impossible(why.into()), amount.unit))
                }
                None => found.clone(),
            }
        }
    };
    found.iter().enumerate().map(one).collect()
}
