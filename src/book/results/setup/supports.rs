//! Hard supports: the five dimensions to key in.

use super::machine::MachineFacts;
use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::files::ItemId;
use crate::book::formulas as by;
use crate::book::results::entry::{Recorder, Spot};
use crate::book::results::plane::PlaneResults;
use crate::book::results::rotor::RotorResults;
use crate::mechanics::hard_supports::{Arrangement, Dimensions};
use crate::sheet::FieldValue;
use crate::units::{Length, Unit};
use crate::vocabulary::setup::Layout;
use crate::vocabulary::{Choice, machine, result, setup};

pub(in crate::book::results) fn of<'b>(
    recorder: &mut Recorder<'b>,
    setup: &EffectiveBlock<'b>,
    id: ItemId,
    rotor: &RotorResults<'b>,
    machine: &MachineFacts<'b>,
    channels: &[(&str, &str)],
) {
    if machine.block.choice(machine::SUPPORTS) != Some(machine::Supports::Hard)
        || setup.field(setup::SUPPORTS_AT).is_none()
    {
        return;
    }
    let planes: Vec<&PlaneResults<'b>> = match channels {
        [] => rotor.planes.iter().filter(|plane| plane.shares_tolerance).collect(),
        channels => channels.iter().filter_map(|(_, plane)| rotor.plane(plane)).collect(),
    };
    let [first, second] = planes[..] else { return };
    let supports = [0, 1].map(|n| recorder.facts.nth(setup, setup::SUPPORTS_AT, n));
    let spot = Spot::beside(setup, id, setup.field(setup::SUPPORTS_AT));
    let unit = match machine.block.field(machine::DIMENSIONS_IN).map(|field| &field.field.value) {
        Some(FieldValue::Unit(unit)) => *unit,
        _ => Unit::MILLIMETRE,
    };
    let known = [&supports[0], &supports[1], &first.at, &second.at].map(Val::get);
    let [Some(left_support), Some(right_support), Some(z1), Some(z2)] = known else { return };
    // A rotor may lie either way round in the machine: left is where the left support stands.
    let turned = if right_support < left_support { -1.0 } else { 1.0 };
    let (left, right) = if (z2 - z1).in_metres() * turned < 0.0 { (second, first) } else { (first, second) };
    arrangement(recorder, &spot, turned, [left_support, right_support], [left, right]);
    let inputs = [
        (&result::DISTANCE_A, &by::SIGNED_DISTANCE, &supports[0], &left.at),
        (&result::DISTANCE_B, &by::DISTANCE, &left.at, &right.at),
        (&result::DISTANCE_C, &by::SIGNED_DISTANCE, &right.at, &supports[1]),
    ];
    for (spec, formula, from, to) in inputs {
        recorder.work_out(&spot, spec, unit, formula, (from, to), |(from, to)| Ok((to - from) * turned));
    }
    for (spec, plane) in [(&result::RADIUS_1, left), (&result::RADIUS_2, right)] {
        recorder.work_out(&spot, spec, unit, &by::RADIUS_AS_GIVEN, (&plane.radius,), |(radius,)| Ok(radius));
    }
}

fn arrangement(
    recorder: &mut Recorder<'_>,
    spot: &Spot,
    turned: f64,
    supports: [Length; 2],
    [left, right]: [&PlaneResults<'_>; 2],
) {
    let (Some(z1), Some(z2)) = (left.at.get(), right.at.get()) else { return };
    let along = |place: Length| place * turned;
    let Ok(dimensions) = Dimensions::from_places(supports.map(along), [z1, z2].map(along)) else { return };
    recorder.words(
        spot,
        &result::ARRANGEMENT,
        match dimensions.arrangement() {
            Arrangement::PlanesBetweenSupports => Layout::PlanesBetweenSupports,
            Arrangement::LeftPlaneOutside => Layout::LeftPlaneOutside,
            Arrangement::RightPlaneOutside => Layout::RightPlaneOutside,
            Arrangement::BothOutside => Layout::OnePlaneOutsideEachSupport,
            Arrangement::BothOutsideLeft => Layout::BothOutsideLeft,
            Arrangement::BothOutsideRight => Layout::BothOutsideRight,
        }
        .words(),
    );
}
