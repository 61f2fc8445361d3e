//! The tolerance shared between the bearings.

use super::base::{Base, ToleranceRule};
use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::files::ItemId;
use crate::book::formulas as by;
use crate::book::origin::Reason;
use crate::book::results::values::entry::{Recorder, Spot, origin};
use crate::book::results::values::not_computed::WhyNot;
use crate::mechanics::{allocation, tolerance};
use crate::syntax::Kind;
use crate::units::{Length, Mass, Unbalance, Unit};
use crate::vocabulary::rotor::BearingArrangement;
use crate::vocabulary::{self, Fact, ResultSpec, plane, result, rotor};

const FACTS: [Fact<Unbalance>; 2] = [vocabulary::tolerance::AT_BEARING_A, vocabulary::tolerance::AT_BEARING_B];
const SPECS: [&ResultSpec; 2] = [&result::TOLERANCE_AT_A, &result::TOLERANCE_AT_B];

/// Tolerances at A and B, the lower of what is stated and what is shared, and whether what is stated is the lower.
pub(in crate::book::results) fn of<'b>(
    recorder: &mut Recorder<'b>,
    tolerance: &EffectiveBlock<'b>,
    id: ItemId,
    base: &Base<'_>,
    (shared, is_bound): (&[Val<Unbalance>; 2], bool),
) -> [(Val<Unbalance>, bool); 2] {
    [0, 1].map(|n| {
        let spot = spot(tolerance, id, n);
        let stated: Val<Unbalance> = recorder.facts.quantity(tolerance, FACTS[n]);
        let shared_is_lower = is_bound
            && !base.bearings[0].is_left_out()
            && stated.get().is_some_and(|stated| shared[n].get().is_none_or(|shared| shared < stated));
        if !stated.is_left_out() && !shared_is_lower {
            let (unit, formula) = (stated.unit, &by::BEARING_AS_GIVEN);
            return (recorder.work_out(&spot, SPECS[n], unit, formula, (&stated,), |(u,)| Ok(u)), true);
        }
        if !is_bound {
            recorder.not_asked(&spot, &[SPECS[n]], "nothing is stated that limits what its bearings may have");
        } else if base.bearings[0].is_left_out() {
            // Without bearings there is nothing to share between, and the planes replace them.
            recorder.not_asked(&spot, &[SPECS[n]], WhyNot::LeftOut(rotor::BEARINGS.any()));
        } else {
            recorder.keep(&spot, SPECS[n], &shared[n]);
        }
        (shared[n].clone(), false)
    })
}

/// Tolerances at A and B by the governing rule at each journal, or by the mass centre within the limits.
pub(in crate::book::results) fn shared<'b>(
    recorder: &Recorder<'b>,
    rotor: &EffectiveBlock<'b>,
    tolerance: &EffectiveBlock<'b>,
    id: ItemId,
    base: &Base<'_>,
    binding: Option<&(ToleranceRule, Val<Unbalance>)>,
) -> [Val<Unbalance>; 2] {
    let unit = recorder.facts.shop.unbalance_unit;
    [0, 1].map(|n| {
        let spot = spot(tolerance, id, n);
        let Some((rule, permissible)) = binding else {
            let why = "nothing is stated that limits what its bearings may have";
            return Val::missing(origin(&spot, SPECS[n]), Reason::Impossible(why.into()), unit);
        };
        match rule {
            ToleranceRule::JournalLoad => {
                let inputs = (&base.journal_loads[n], base.service_speed);
                recorder.on_the_way(&spot, SPECS[n], unit, &by::BY_JOURNAL_LOAD_AT_ONE, inputs, |(load, speed)| {
                    tolerance::four_w_over_n(load, speed)
                })
            }
            ToleranceRule::WholeWeight => {
                let inputs: (&Val<Mass>, _) = (base.mass, base.service_speed);
                recorder.on_the_way(&spot, SPECS[n], unit, &by::BY_WHOLE_WEIGHT_AT_ONE, inputs, |(mass, speed)| {
                    tolerance::four_w_over_n(mass, speed)
                })
            }
            _ => by_mass_centre(recorder, rotor, &spot, n, base, permissible, unit),
        }
    })
}

fn spot(tolerance: &EffectiveBlock<'_>, id: ItemId, n: usize) -> Spot {
    Spot::beside(tolerance, id, tolerance.field(FACTS[n]))
}

/// Whether all correction planes stand beyond the bearings on one side, as those of an overhung wheel do.
fn planes_are_beyond<'b>(recorder: &Recorder<'b>, rotor: &EffectiveBlock<'b>, base: &Base<'_>) -> bool {
    let (Some(a), Some(b)) = (base.bearings[0].get(), base.bearings[1].get()) else { return false };
    let places: Vec<Option<Length>> =
        rotor.inner(Kind::Plane).map(|plane| recorder.facts.quantity(plane, plane::AT).get()).collect();
    let all = |beyond: &dyn Fn(Length) -> bool| places.iter().all(|at| at.is_some_and(beyond));
    !places.is_empty() && (all(&|at| at < a.min(b)) || all(&|at| at > a.max(b)))
}

fn by_mass_centre<'b>(
    recorder: &Recorder<'b>,
    rotor: &EffectiveBlock<'b>,
    spot: &Spot,
    n: usize,
    base: &Base<'_>,
    permissible: &Val<Unbalance>,
    unit: Unit,
) -> Val<Unbalance> {
    if base.mass_centre.is_left_out() {
        let why = match rotor.choice(rotor::BEARING_ARRANGEMENT) {
            Some(BearingArrangement::Overhung) => Some("the rotor is overhung and its mass centre is not given"),
            None if planes_are_beyond(recorder, rotor, base) => {
                Some("all planes are beyond the bearings and the mass centre is not given")
            }
            Some(BearingArrangement::Inboard) | None => None,
        };
        if let Some(why) = why {
            return Val::missing(origin(spot, SPECS[n]), Reason::Impossible(why.into()), unit);
        }
        return recorder.on_the_way(spot, SPECS[n], unit, &by::HALF_EACH, (permissible,), |(total,)| {
            allocation::half_each(total).map(|shares| shares.at_a)
        });
    }
    let formula = [&by::SHARE_AT_A, &by::SHARE_AT_B][n];
    let inputs = (permissible, base.mass_centre, &base.bearings[0], &base.bearings[1]);
    let support = base.support(rotor);
    recorder.on_the_way(spot, SPECS[n], unit, formula, inputs, |(total, centre, a, b)| {
        allocation::by_mass_centre(total, a, b, centre, support)
            .map(|shares| if n == 0 { shares.at_a } else { shares.at_b })
    })
}
