//! Hard supports: the five dimensions to key in.

use super::machine::MachineFacts;
use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::files::ItemId;
use crate::book::formulas as by;
use crate::book::results::plane::PlaneResults;
use crate::book::results::rotor::results::RotorResults;
use crate::book::results::values::entry::{Recorder, Spot};
use crate::book::results::values::not_computed::WhyNot;
use crate::mechanics::hard_supports::{Arrangement, Dimensions};
use crate::sheet::FieldValue;
use crate::units::{Length, Unit};
use crate::vocabulary::setup::Layout;
use crate::vocabulary::{Choice, ResultSpec, machine, result, setup};

const TO_KEY_IN: [&ResultSpec; 6] = [
    &result::ARRANGEMENT,
    &result::DISTANCE_A,
    &result::DISTANCE_B,
    &result::DISTANCE_C,
    &result::RADIUS_1,
    &result::RADIUS_2,
];

/// What the dimensions are found from.
struct Given<'a, 'b> {
    machine: &'a MachineFacts<'b>,
    supports: [Val<Length>; 2],
    planes: [&'a PlaneResults<'b>; 2],
    /// Of the supports, then of the planes.
    places: [Length; 4],
}

fn given<'a, 'b>(
    recorder: &Recorder<'b>,
    setup: &EffectiveBlock<'b>,
    rotor: Option<&'a RotorResults<'b>>,
    machine: Option<&'a MachineFacts<'b>>,
    channels: &[(&str, &str)],
) -> Result<Given<'a, 'b>, WhyNot> {
    let machine = machine.ok_or_else(|| recorder.no_such_item(setup, setup::MACHINE))?;
    let rotor = rotor.ok_or_else(|| recorder.no_such_item(setup, setup::ROTOR))?;
    if machine.block.choice(machine::SUPPORTS) != Some(machine::Supports::Hard) {
        return Err("the machine's supports are not hard: nothing is keyed in".into());
    }
    if setup.field(setup::SUPPORTS_AT).is_none() {
        return Err(WhyNot::LeftOut(setup::SUPPORTS_AT.any()));
    }
    let planes: Vec<&PlaneResults<'b>> = match channels {
        [] => rotor.planes.iter().filter(|plane| plane.shares_tolerance).collect(),
        channels => channels.iter().filter_map(|(_, plane)| rotor.plane(plane)).collect(),
    };
    let [first, second] = planes[..] else { return Err("it needs two planes that are read".into()) };
    let supports = [0, 1].map(|n| recorder.facts.nth(setup, setup::SUPPORTS_AT, n));
    let known = |value: &Val<Length>| value.known.clone().map_err(WhyNot::Lacks);
    let places = [known(&supports[0])?, known(&supports[1])?, known(&first.at)?, known(&second.at)?];
    Ok(Given { machine, supports, planes: [first, second], places })
}

pub(in crate::book::results) fn of<'b>(
    recorder: &mut Recorder<'b>,
    setup: &EffectiveBlock<'b>,
    id: ItemId,
    rotor: Option<&RotorResults<'b>>,
    machine: Option<&MachineFacts<'b>>,
    channels: &[(&str, &str)],
) {
    let spot = Spot::beside(setup, id, setup.field(setup::SUPPORTS_AT));
    let given = match given(recorder, setup, rotor, machine, channels) {
        Ok(given) => given,
        Err(why) => return recorder.not_asked(&spot, &TO_KEY_IN, why),
    };
    let Given { machine, supports, planes: [first, second], places: [left_support, right_support, z1, z2] } = given;
    let unit = match machine.block.field(machine::DIMENSIONS_IN).map(|field| &field.field.value) {
        Some(FieldValue::Unit(unit)) => *unit,
        _ => Unit::MILLIMETRE,
    };
    // A rotor may lie either way round in the machine: left is where the left support stands.
    let turned = if right_support < left_support { -1.0 } else { 1.0 };
    let swapped = (z2 - z1).in_metres() * turned < 0.0;
    let (left, right) = if swapped { (second, first) } else { (first, second) };
    let at = if swapped { [z2, z1] } else { [z1, z2] };
    arrangement(recorder, &spot, turned, [left_support, right_support], at);
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

fn arrangement(recorder: &mut Recorder<'_>, spot: &Spot, turned: f64, supports: [Length; 2], planes: [Length; 2]) {
    let along = |place: Length| place * turned;
    let dimensions = match Dimensions::from_places(supports.map(along), planes.map(along)) {
        Ok(dimensions) => dimensions,
        Err(error) => return recorder.not_asked(spot, &[&result::ARRANGEMENT], WhyNot::Says(error.to_string().into())),
    };
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
