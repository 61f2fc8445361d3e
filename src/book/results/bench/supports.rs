//! How planes and supports lie to each other, and at which radii is corrected.

use std::sync::Arc;

use super::machine::MachineFacts;
use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::files::ItemId;
use crate::book::formulas::{self as by, Formula};
use crate::book::origin::{Missing, Origin, Reason};
use crate::book::results::plane::PlaneResults;
use crate::book::results::rotor::results::RotorResults;
use crate::book::results::values::entry::{Recorder, Spot, origin};
use crate::book::results::values::not_computed::WhyNot;
use crate::mechanics::hard_supports::{self, Dimensions};
use crate::units::{Length, Unit};
use crate::vocabulary::setup::Layout;
use crate::vocabulary::{Choice, Fact, ResultSpec, control, machine, result, setup};

/// How the rotor lies in the machine: as the sheet states it, else as it follows from the places. Distances are signed,
/// positive towards the right support.
pub(in crate::book::results) struct Laid {
    pub layout: Result<Layout, Arc<Missing>>,
    pub left_support_to_left_plane: Val<Length>,
    pub between_planes: Val<Length>,
    pub right_plane_to_right_support: Val<Length>,
    pub left_radius: Val<Length>,
    pub right_radius: Val<Length>,
    /// The places of the supports, left first; `None` where they are not given.
    pub supports: Option<[Val<Length>; 2]>,
}

/// A plane on one side of the machine, or why there is none.
pub(in crate::book::results) type Side<'a, 'b> = Result<&'a PlaneResults<'b>, WhyNot>;

/// What it is worked out from.
pub(in crate::book::results) struct Work<'a, 'b> {
    pub setup: &'a EffectiveBlock<'b>,
    pub id: ItemId,
    pub rotor: Option<&'a RotorResults<'b>>,
    pub machine: Option<&'a MachineFacts<'b>>,
    pub channels: &'a [(&'b str, &'b str)],
}

/// One of the lengths, as fact and as result.
#[derive(Clone, Copy)]
struct Measure {
    fact: Fact<Length>,
    spec: &'static ResultSpec,
    formula: &'static Formula,
}

const LEFT_SUPPORT_TO_LEFT_PLANE: Measure = Measure {
    fact: setup::LEFT_SUPPORT_TO_LEFT_PLANE,
    spec: &result::LEFT_SUPPORT_TO_LEFT_PLANE,
    formula: &by::LEFT_SUPPORT_TO_LEFT_PLANE,
};
const BETWEEN_PLANES: Measure =
    Measure { fact: setup::BETWEEN_PLANES, spec: &result::BETWEEN_PLANES, formula: &by::BETWEEN_PLANES };
const RIGHT_PLANE_TO_RIGHT_SUPPORT: Measure = Measure {
    fact: setup::RIGHT_PLANE_TO_RIGHT_SUPPORT,
    spec: &result::RIGHT_PLANE_TO_RIGHT_SUPPORT,
    formula: &by::RIGHT_PLANE_TO_RIGHT_SUPPORT,
};
const LEFT_RADIUS: Measure =
    Measure { fact: setup::LEFT_RADIUS, spec: &result::LEFT_RADIUS, formula: &by::LEFT_RADIUS };
const RIGHT_RADIUS: Measure =
    Measure { fact: setup::RIGHT_RADIUS, spec: &result::RIGHT_RADIUS, formula: &by::RIGHT_RADIUS };

impl<'a, 'b> Work<'a, 'b> {
    /// The planes that the left and the right channel read, wherever they are.
    pub fn read_by_channels(&self, recorder: &Recorder<'b>) -> [Side<'a, 'b>; 2] {
        let names: &[&str] = self.machine.map_or(&[], |machine| &machine.channels);
        [("the left channel", 0), ("the right channel", 1)].map(|(side, n)| {
            let rotor = self.rotor.ok_or_else(|| recorder.no_such_item(self.setup, setup::ROTOR))?;
            // A machine that does not name its channels has them in the order of the sheet.
            let line = match names.get(n) {
                Some(name) => self.channels.iter().find(|(channel, _)| channel == name),
                None => self.channels.get(n).filter(|_| names.is_empty()),
            };
            let says = || WhyNot::Says(format!("no `channel` line says which plane {side} reads").into());
            let (_, plane) = line.ok_or_else(says)?;
            rotor.plane(plane).ok_or_else(|| "the rotor has no plane of the name that a `channel` line says".into())
        })
    }

    /// The same; where no channel is said to read anything, the two planes by their places.
    fn sides(&self, recorder: &Recorder<'b>, towards_right: f64) -> [Side<'a, 'b>; 2] {
        if !self.channels.is_empty() {
            return self.read_by_channels(recorder);
        }
        let planes = self.rotor.iter().flat_map(|rotor| &rotor.planes).filter(|plane| plane.shares_tolerance);
        let planes: Vec<&'a PlaneResults<'b>> = planes.collect();
        let [first, second] = planes[..] else {
            return [(); 2].map(|()| Err("it needs two planes that are read".into()));
        };
        match (first.at.get(), second.at.get()) {
            (Some(one), Some(other)) if (other - one).in_metres() * towards_right < 0.0 => [Ok(second), Ok(first)],
            _ => [Ok(first), Ok(second)],
        }
    }

    pub fn laid(&self, recorder: &mut Recorder<'b>) -> Laid {
        let field = self.setup.field(setup::SUPPORTS_AT);
        let spot = Spot::beside(self.setup, self.id, field);
        let supports = [0, 1].map(|n| recorder.facts.nth(self.setup, setup::SUPPORTS_AT, n));
        let is_asked = self.is_asked(recorder);
        // A rotor may lie either way round in the machine: left is where the left support stands.
        let towards_right = match supports.each_ref().map(Val::get) {
            [Some(left), Some(right)] if right < left => -1.0,
            _ => 1.0,
        };
        let sides = match &is_asked {
            Ok(()) => self.sides(recorder, towards_right),
            Err(why) => [Err(why.clone()), Err(why.clone())],
        };
        let unit = if supports[0].is_known() { supports[0].unit } else { Unit::MILLIMETRE };
        let support = |n: usize| match field {
            Some(_) => known(&supports[n]),
            None => Err(WhyNot::LeftOut(setup::SUPPORTS_AT.any())),
        };
        let plane = |n: usize| sides[n].clone().and_then(|plane: &PlaneResults<'b>| known(&plane.at));
        let mut distance = |of: Measure, from: Result<Val<Length>, WhyNot>, to: Result<Val<Length>, WhyNot>| {
            // Which way is right, only the supports say.
            let ends = is_asked.clone().and(support(0)).and(from).and_then(|from| Ok((from, to?)));
            match ends {
                Ok((from, to)) => {
                    let f = |(from, to): (Length, Length)| Ok((to - from) * towards_right);
                    recorder.work_out(&spot, of.spec, unit, of.formula, (&from, &to), f)
                }
                Err(why) => self.left_out(recorder, &spot, of.spec, why),
            }
        };
        let distances = [
            distance(LEFT_SUPPORT_TO_LEFT_PLANE, support(0), plane(0)),
            distance(BETWEEN_PLANES, plane(0), plane(1)),
            distance(RIGHT_PLANE_TO_RIGHT_SUPPORT, plane(1), support(1)),
        ];
        let mut radius = |of: Measure, n: usize| match is_asked.clone().and(sides[n].clone()) {
            Ok(plane) => {
                recorder.work_out(&spot, of.spec, unit, of.formula, (&plane.radius,), |(radius,): (Length,)| Ok(radius))
            }
            Err(why) => self.left_out(recorder, &spot, of.spec, why),
        };
        let [left_radius, right_radius] = [radius(LEFT_RADIUS, 0), radius(RIGHT_RADIUS, 1)];
        let by_places = distances.clone();
        let stated = |of: Measure, computed: Val<Length>| recorder.facts.quantity(self.setup, of.fact).or(|| computed);
        let [d1, d, d2] = distances;
        let mut laid = Laid {
            left_support_to_left_plane: stated(LEFT_SUPPORT_TO_LEFT_PLANE, d1),
            between_planes: stated(BETWEEN_PLANES, d),
            right_plane_to_right_support: stated(RIGHT_PLANE_TO_RIGHT_SUPPORT, d2),
            left_radius: stated(LEFT_RADIUS, left_radius),
            right_radius: stated(RIGHT_RADIUS, right_radius),
            supports: field.map(|_| supports.clone()),
            layout: Err(Arc::new(Missing { origin: origin(&spot, &result::LAYOUT), reason: Reason::NotGiven })),
        };
        laid.layout = self.layout(recorder, &spot, is_asked, &by_places, &laid);
        laid
    }

    /// Whether the machine wants any of it.
    fn is_asked(&self, recorder: &Recorder<'b>) -> Result<(), WhyNot> {
        let machine = self.machine.ok_or_else(|| recorder.no_such_item(self.setup, setup::MACHINE))?;
        self.rotor.ok_or_else(|| recorder.no_such_item(self.setup, setup::ROTOR))?;
        let hard = machine.block.choice(machine::SUPPORTS) == Some(machine::Supports::Hard);
        let takes = machine.controls.iter().any(|control| control.field(control::TAKES).is_some());
        (hard || takes).then_some(()).ok_or_else(|| "the machine's supports are not hard: nothing is set by it".into())
    }

    /// Says why a result is left out; what needs it lacks it for the same reason.
    fn left_out(
        &self,
        recorder: &mut Recorder<'b>,
        spot: &Spot,
        spec: &'static ResultSpec,
        why: WhyNot,
    ) -> Val<Length> {
        let of = origin(spot, spec);
        let missing = lacking(recorder, self.setup, of.clone(), &why);
        recorder.not_asked(spot, &[spec], why);
        Val { known: Err(missing), ..Val::missing(of, Reason::NotGiven, Unit::ONE) }
    }

    /// As it is stated, else as the distances make it: by the places where they are known, else by what is stated.
    fn layout(
        &self,
        recorder: &mut Recorder<'b>,
        spot: &Spot,
        is_asked: Result<(), WhyNot>,
        by_places: &[Val<Length>; 3],
        laid: &Laid,
    ) -> Result<Layout, Arc<Missing>> {
        let [d1, d, d2] = match by_places.iter().all(Val::is_known) {
            true => by_places.each_ref(),
            false => [&laid.left_support_to_left_plane, &laid.between_planes, &laid.right_plane_to_right_support],
        };
        let worked_out = is_asked.and_then(|()| {
            let one = |distance: &Val<Length>| distance.known.clone().map_err(WhyNot::Lacks);
            let dimensions = Dimensions {
                left_support_to_left_plane: one(d1)?,
                between_planes: one(d)?,
                right_plane_to_right_support: one(d2)?,
            };
            let dimensions = dimensions.checked().map_err(|error| WhyNot::Says(error.to_string().into()))?;
            Ok(as_sheets_say(dimensions.layout()))
        });
        let worked_out = match worked_out {
            Ok(layout) => {
                recorder.words(spot, &result::LAYOUT, layout.words());
                Ok(layout)
            }
            Err(why) => {
                let missing = lacking(recorder, self.setup, origin(spot, &result::LAYOUT), &why);
                recorder.not_asked(spot, &[&result::LAYOUT], why);
                Err(missing)
            }
        };
        match self.setup.field(setup::LAYOUT) {
            Some(_) => self.setup.stated_choice(setup::LAYOUT),
            None => worked_out,
        }
    }
}

/// What a result lacks that is left out for this reason.
pub(in crate::book::results) fn lacking<'b>(
    recorder: &Recorder<'b>,
    setup: &EffectiveBlock<'b>,
    of: Origin,
    why: &WhyNot,
) -> Arc<Missing> {
    match why {
        WhyNot::Lacks(missing) | WhyNot::NoRadius(missing) => missing.clone(),
        WhyNot::LeftOut(fact) => {
            Arc::new(Missing { origin: recorder.facts.origin(setup, *fact, None), reason: Reason::NotGiven })
        }
        why => Arc::new(Missing { origin: of, reason: Reason::Impossible(why.words(recorder.facts.book).into()) }),
    }
}

fn known(value: &Val<Length>) -> Result<Val<Length>, WhyNot> {
    value.known.clone().map(|_| value.clone()).map_err(WhyNot::Lacks)
}

fn as_sheets_say(layout: hard_supports::Layout) -> Layout {
    match layout {
        hard_supports::Layout::PlanesBetweenSupports => Layout::PlanesBetweenSupports,
        hard_supports::Layout::LeftPlaneOutside => Layout::LeftPlaneOutside,
        hard_supports::Layout::RightPlaneOutside => Layout::RightPlaneOutside,
        hard_supports::Layout::BothOutside => Layout::OnePlaneOutsideEachSupport,
        hard_supports::Layout::BothOutsideLeft => Layout::BothOutsideLeft,
        hard_supports::Layout::BothOutsideRight => Layout::BothOutsideRight,
    }
}
