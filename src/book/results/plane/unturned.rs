//! What a plane that carries nothing yet makes of an unbalance before its angle is known: at one of its places, and
//! half-way between two.

use super::PlaneResults;
use super::allowed::towards;
use super::carried::{Carried, mass_of};
use super::cutting::Room;
use super::moves::Moves;
use crate::book::results::values::entry::{Recorder, Spot};
use crate::units::{Angle, Length, Mass, Typed, Unbalance, Vector};
use crate::vocabulary::plane::{CorrectBy, Method};

/// Where the correction is wanted.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(in crate::book::results) enum Wanted {
    /// At a place; on a plane without places, where nothing is barred.
    AtPlace,
    HalfWay,
}

/// What is done about an unbalance, the same at every place.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(in crate::book::results) struct Unturned {
    /// All of it; `None` where nothing is worth doing.
    pub mass: Option<Mass>,
    /// Of each cut; `None` where they are not alike.
    pub depth: Option<Length>,
    pub cuts: Option<u32>,
    pub pieces: Option<u32>,
    /// From one of several cuts at no place to the next.
    pub apart: Option<Angle>,
    /// The most that it leaves.
    pub left: Unbalance,
}

/// Several places share it so, where the same angle beside another place gives the same: in base units, relative.
const ALIKE: f64 = 1e-6;

/// Two ways that differ by less than this share of the correction are equally good. Source: common practice, no source.
const AS_GOOD: f64 = 1e-3;

impl<'b> PlaneResults<'b> {
    /// What the plane's method makes of an unbalance, by the computation of a record's correction; `None` where the places
    /// do it differently, a fact is missing, or no two places are beside each other.
    pub(in crate::book::results) fn unturned(
        &self,
        recorder: &Recorder<'b>,
        spot: &Spot,
        unbalance: Unbalance,
        wanted: Wanted,
    ) -> Option<Unturned> {
        let directions = self.directions(wanted);
        if self.places.is_none() {
            let ways = directions.into_iter().filter_map(|angle| self.towards_angle(recorder, spot, unbalance, angle));
            let ways: Vec<Unturned> = ways.collect();
            // The barred ranges of a plane are on its card: it is enough that there is room elsewhere. Beside one of them
            // cuts are not alike, though they may leave a hair less.
            let least = ways.iter().map(|one| one.left).reduce(|a, b| if b < a { b } else { a })?;
            let is_as_good = |one: &Unturned| one.left - least <= unbalance * AS_GOOD;
            return ways.into_iter().filter(is_as_good).min_by_key(|one| (one.depth.is_none(), one.cuts));
        }
        let mut ways = directions.into_iter().map(|angle| self.towards_angle(recorder, spot, unbalance, angle));
        let first = ways.next()??;
        ways.try_fold(first, |all, one| {
            let one = one?;
            all.is_like(&one).then(|| Unturned { left: all.left.max(one.left), ..all })
        })
    }

    /// The angles to look at. Where every place is free, the first of them and the first gap are as all others.
    fn directions(&self, wanted: Wanted) -> Vec<Angle> {
        let Some(places) = &self.places else {
            return match wanted {
                Wanted::AtPlace => (0..360).step_by(15).map(|angle| Angle::degrees(f64::from(angle))).collect(),
                Wanted::HalfWay => Vec::new(),
            };
        };
        let count = places.angles.len();
        let is_free = |place: &usize| places.free.contains(place);
        let half_way = |place: usize| {
            let (one, next) = (places.angles[place], places.angles[(place + 1) % count]);
            let apart = (next - one).within_one_turn();
            let apart = if apart > Angle::degrees(180.0) { apart - Angle::degrees(360.0) } else { apart };
            one + apart * 0.5
        };
        let mut angles: Vec<Angle> = match wanted {
            Wanted::AtPlace => places.free.iter().map(|place| places.angles[*place]).collect(),
            // Two places half a turn apart have no way between them.
            Wanted::HalfWay if count < 3 => Vec::new(),
            Wanted::HalfWay => {
                let beside = |place: &usize| is_free(place) && is_free(&((place + 1) % count));
                (0..count).filter(beside).map(half_way).collect()
            }
        };
        if places.free.len() == count {
            angles.truncate(1);
        }
        angles
    }

    fn towards_angle(
        &self,
        recorder: &Recorder<'b>,
        spot: &Spot,
        unbalance: Unbalance,
        angle: Angle,
    ) -> Option<Unturned> {
        let wanted = Vector::from_polar(unbalance, angle);
        let carried = Carried::default();
        let removes = self.correct() == Some(CorrectBy::Remove);
        let is_cut = removes && self.method.is_some_and(|method| self.geometry.cut(method).is_some());
        if is_cut && self.places.is_none() {
            let room = Room::of(&recorder.facts, self, &carried)?;
            let done = room.arrange(wanted);
            let shares: Vec<Unbalance> = done.cuts.iter().map(|(_, share)| *share).collect();
            let made = self.cut(&shares, (done.not_reached + done.by_rounding).amount());
            let mut angles: Vec<Angle> = done.cuts.iter().map(|(angle, _)| angle.within_one_turn()).collect();
            angles.sort_by(|a, b| a.in_degrees().total_cmp(&b.in_degrees()));
            let to_next = |n: usize| (angles[(n + 1) % angles.len()] - angles[n]).within_one_turn();
            let nearest = (0..angles.len()).map(to_next).reduce(|a, b| if b < a { b } else { a });
            return Some(Unturned { apart: nearest.filter(|_| angles.len() > 1), ..made });
        }
        if self.places.is_none() && towards(self, angle) != [angle] {
            return None;
        }
        let radius = self.radius.get()?;
        let done = Moves { plane: self, carried: &carried, removes, radius }.choose(recorder, spot, wanted)?;
        let shares: Vec<Unbalance> = done.moves.iter().map(|(_, share)| *share).collect();
        let left = (done.not_reached + done.by_rounding).amount();
        if is_cut {
            return Some(self.cut(&shares, left));
        }
        let whole: Unbalance = shares.iter().copied().sum();
        let each = self.geometry.mass_each.get().filter(|_| self.method.is_some_and(Method::is_in_pieces));
        Some(Unturned {
            mass: (whole > Unbalance::ZERO).then(|| mass_of(whole, radius)),
            depth: None,
            cuts: None,
            pieces: each.map(|each| (whole / (each * radius)).value().round() as u32),
            apart: None,
            left,
        })
    }

    fn cut(&self, shares: &[Unbalance], left: Unbalance) -> Unturned {
        let depth = |share: Unbalance| {
            let point = self.point().filter(|point| share <= *point * (1.0 + ALIKE));
            point.map(|_| Length::ZERO).or_else(|| self.geometry.depth(self.method?, share))
        };
        let depths: Option<Vec<Length>> = shares.iter().map(|share| depth(*share)).collect();
        let of_depth = |depth: &Length| self.geometry.mass_at_depth(self.method?, *depth);
        let by_depths = || depths.as_ref()?.iter().map(of_depth).sum::<Option<Mass>>();
        let by_radius = || Some(mass_of(shares.iter().copied().sum(), self.radius.get()?));
        let first = depths.as_ref().and_then(|depths| depths.first().copied());
        let near = |a: Length, b: Length| (a - b).base().abs() <= ALIKE * b.base();
        let alike = |first: &Length| depths.iter().flatten().all(|depth| near(*depth, *first));
        Unturned {
            mass: by_depths().or_else(by_radius).filter(|mass| *mass > Mass::ZERO),
            depth: first.filter(alike),
            cuts: Some(shares.len() as u32),
            pieces: None,
            apart: None,
            left,
        }
    }

    /// What the point of its drill takes before the hole has its full diameter; `None` where nothing is drilled.
    pub fn point(&self) -> Option<Unbalance> {
        let point = self.geometry.piece(self.method?, Length::ZERO)?.unbalance;
        (point > Unbalance::ZERO).then_some(point)
    }
}

impl Unturned {
    fn is_like(&self, other: &Self) -> bool {
        let near = |a: Option<f64>, b: Option<f64>| match (a, b) {
            (Some(a), Some(b)) => (a - b).abs() <= ALIKE * a.abs().max(b.abs()),
            (a, b) => a.is_none() && b.is_none(),
        };
        let depths = near(self.depth.map(|depth| depth.base()), other.depth.map(|depth| depth.base()));
        let masses = near(self.mass.map(|mass| mass.base()), other.mass.map(|mass| mass.base()));
        depths && masses && (self.cuts, self.pieces) == (other.cuts, other.pieces)
    }
}
