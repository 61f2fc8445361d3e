//! The account of what planes carry: what each correction put on, and what it took off.

use super::stated::{Part, SAID_BY, Stated};
use crate::book::results::plane::PlaneResults;
use crate::book::results::plane::carried::{Carried, CarriedCut, CarriedMass};
use crate::book::results::plane::cutting::Room;
use crate::book::results::values::entry::Recorder;
use crate::book::results::values::not_computed::WhyNot;
use crate::units::{Angle, Length, Mass, Unbalance, Vector};

/// What a plane carries after a correction. One that does not state what was done leaves that open.
pub(in crate::book::results) fn after<'b>(
    recorder: &Recorder<'b>,
    stated: Stated<'_, 'b>,
    plane: &PlaneResults<'b>,
    adds: Option<bool>,
    before: &Carried,
) -> Carried {
    let mut then = before.clone();
    let spot = stated.spot(&SAID_BY);
    let entry = Entry { recorder, plane, radius: stated.radius(recorder, plane, before).get() };
    let parts = stated.parts(recorder, (&spot, plane), before).unwrap_or_default();
    let known = !parts.is_empty() && parts.iter().all(|part| entry.enter(&mut then, part, adds).is_some());
    if !known && then.not_known.is_none() {
        let why = format!("a correction in plane {} before does not state what was done", plane.name);
        then.not_known = Some(WhyNot::Says(why.into()));
    }
    then
}

/// One line of the account.
struct Entry<'a, 'b> {
    recorder: &'a Recorder<'b>,
    plane: &'a PlaneResults<'b>,
    radius: Option<Length>,
}

impl Entry<'_, '_> {
    /// `None` where something of it is not known.
    fn enter(&self, carried: &mut Carried, part: &Part, adds: Option<bool>) -> Option<()> {
        let (angle, unbalance) = (part.angle.get()?, part.unbalance.get()?);
        let place = part.place.or_else(|| Carried::place_at(self.plane.places.as_ref(), angle));
        if part.adds.or(adds)? {
            carried.put_on(CarriedMass { place, angle, mass: part.mass?, radius: self.radius? });
            return Some(());
        }
        let taken = match part.mass {
            Some(mass) => {
                let rest = carried.take_off(place, angle, mass);
                if mass == Mass::ZERO { Unbalance::ZERO } else { unbalance * (rest / mass).value() }
            }
            None => unbalance,
        };
        self.cut(carried, place, angle, taken, part.depth);
        Some(())
    }

    /// Material taken off: one cut where its depth or its place is stated, else as many as the plane needs for so much.
    fn cut(&self, carried: &mut Carried, place: Option<usize>, angle: Angle, taken: Unbalance, depth: Option<Length>) {
        let depth_of = |taken| self.plane.method.and_then(|method| self.plane.geometry.depth(method, taken));
        // Where a cut is, there is no new one: it was made deeper.
        let same = carried.cut_at(angle).filter(|_| place.is_none() && taken > Unbalance::ZERO);
        let to = same.and_then(|same| depth.or_else(|| depth_of(same.unbalance + taken)));
        if let Some((to, same)) = to.zip(same).filter(|(to, same)| same.depth.is_some_and(|before| before < *to)) {
            let at = same.angle;
            carried.deepen(at, taken, Some(to));
            return;
        }
        let alone = depth.is_some() || place.is_some();
        let room = Room::of(&self.recorder.facts, self.plane, &Carried::default()).filter(|_| !alone);
        let several =
            room.map(|room| room.arrange(Vector::from_polar(taken, angle)).cuts).filter(|cuts| cuts.len() > 1);
        for (angle, unbalance) in several.unwrap_or_else(|| vec![(angle, taken)]) {
            carried.cut(CarriedCut { place, angle, unbalance, depth: depth.or_else(|| depth_of(unbalance)) });
        }
    }
}
