//! What can be done about an unbalance with masses: put on where there is room, taken off where some are.

use super::PlaneResults;
use super::allowed::{most_per_place, towards};
use super::carried::{Carried, CarriedMass};
use super::cutting::{deepest, to_drill};
use super::ring::Ring;
use crate::book::results::values::entry::{Recorder, Spot};
use crate::mechanics::correction::spread::{Spread, Way, in_whole_pieces, over_ways, together};
use crate::units::{Angle, Length, Unbalance, Vector};
use crate::vocabulary::plane;

/// A mass that comes off again counts half of one that is put on: so masses a third of a turn and more from where one
/// is wanted are taken off rather than opposed. Source: common practice, no source.
const COMES_OFF: f64 = 0.5;

/// A mass that makes less than this of its plane's tolerance is left out beside another. Source: common practice, no source.
const CRUMB: f64 = 0.02;

/// One thing that can be done in a plane.
#[derive(Clone, Copy, Debug)]
pub(in crate::book::results) struct Move {
    /// The place by number, from 0, where it has one.
    pub place: Option<usize>,
    pub angle: Angle,
    /// What is on comes off, where the plane is added to; what was taken off comes back, where it is taken from.
    pub is_undone: bool,
    pub way: Way<Unbalance>,
}

/// The moves of a plane.
pub(in crate::book::results) struct Moves<'a, 'b> {
    pub plane: &'a PlaneResults<'b>,
    pub carried: &'a Carried,
    /// Whether the plane is taken from rather than added to.
    pub removes: bool,
    /// To the centre of mass of the correction.
    pub radius: Length,
}

/// What is to be done, and how much of it.
pub(in crate::book::results) struct Done {
    pub moves: Vec<(Move, Unbalance)>,
    /// What the plane cannot take.
    pub not_reached: Vector<Unbalance>,
    /// What whole pieces, or the point of a drill, leave.
    pub by_rounding: Vector<Unbalance>,
}

impl<'b> Moves<'_, 'b> {
    /// The moves that make what is wanted, put on or taken off as the plane does; what comes nearest where none do.
    pub fn choose(&self, recorder: &Recorder<'b>, spot: &Spot, wanted: Vector<Unbalance>) -> Option<Done> {
        let moves = self.all(recorder, spot, wanted.angle());
        let ways: Vec<Way<Unbalance>> = moves.iter().map(|one| one.way).collect();
        let spread = over_ways(wanted, &ways).ok()?;
        let reached = wanted - spread.left;
        let rounded = self.rounded(reached, &ways, &spread);
        let done = rounded.shares.iter().map(|(way, share)| (moves[*way], *share)).collect();
        Some(Done { moves: done, not_reached: spread.left, by_rounding: rounded.left })
    }

    fn rounded(
        &self,
        reached: Vector<Unbalance>,
        ways: &[Way<Unbalance>],
        spread: &Spread<Unbalance>,
    ) -> Spread<Unbalance> {
        let exact = || Spread { shares: spread.shares.clone(), left: Vector::zero() };
        let Some(method) = self.plane.method else { return exact() };
        if self.is_cut() {
            let shares = to_drill(&self.plane.geometry, method, spread.shares.clone());
            return Spread { left: reached - together(ways, &shares), shares };
        }
        let Some(mass) = self.plane.geometry.mass_each.get() else {
            return self.without_crumbs(reached, ways, exact());
        };
        in_whole_pieces(reached, ways, &spread.shares, mass * self.radius).unwrap_or_else(|_| exact())
    }

    /// Without the masses that nobody would weigh out: beside another one, they make next to nothing of the tolerance.
    fn without_crumbs(
        &self,
        reached: Vector<Unbalance>,
        ways: &[Way<Unbalance>],
        exact: Spread<Unbalance>,
    ) -> Spread<Unbalance> {
        let crumb = self.crumb();
        let largest = exact.shares.iter().map(|(_, share)| *share).fold(Unbalance::ZERO, Unbalance::max);
        let crumb = crumb.min(largest);
        if exact.shares.iter().all(|(_, share)| *share >= crumb) {
            return exact;
        }
        let shares: Vec<_> = exact.shares.into_iter().filter(|(_, share)| *share >= crumb).collect();
        Spread { left: reached - together(ways, &shares), shares }
    }

    fn is_cut(&self) -> bool {
        self.removes && self.plane.method.is_some_and(|method| self.plane.geometry.cut(method).is_some())
    }

    fn all(&self, recorder: &Recorder<'b>, spot: &Spot, direction: Angle) -> Vec<Move> {
        let most = self.most(recorder, spot);
        let mut moves: Vec<Move> = match &self.plane.places {
            Some(places) => {
                places.free.iter().filter_map(|place| self.at(Some(*place), places.angles[*place], most)).collect()
            }
            None => match most.filter(|_| !self.removes) {
                Some(most) => self.on_ring(direction, most),
                None => {
                    towards(self.plane, direction).into_iter().filter_map(|angle| self.at(None, angle, most)).collect()
                }
            },
        };
        let half_a_turn = Angle::degrees(180.0);
        let back = |place, angle, most: Unbalance| {
            let towards = if self.removes { angle } else { angle + half_a_turn };
            Way { angle: towards, most: Some(most), cost: COMES_OFF }.of(place, angle, !self.removes)
        };
        moves.extend(self.carried.masses.iter().map(|on| back(on.place, on.angle, on.unbalance())));
        let in_pieces = self.plane.method.is_some_and(|method| method.is_in_pieces());
        let cuts = self.carried.cuts.iter().filter(|_| self.removes && in_pieces);
        moves.extend(cuts.map(|cut| {
            let way = Way { angle: cut.angle + half_a_turn, most: Some(cut.unbalance), cost: COMES_OFF };
            way.of(cut.place, cut.angle, true)
        }));
        moves
    }

    /// The most that one place takes; `None` without a limit.
    fn most(&self, recorder: &Recorder<'b>, spot: &Spot) -> Option<Unbalance> {
        let (geometry, facts) = (&self.plane.geometry, &recorder.facts);
        if self.is_cut() {
            let method = self.plane.method?;
            let deepest = deepest(facts, self.plane, geometry.cut(method)?)?;
            return geometry.piece(method, deepest).map(|piece| piece.unbalance);
        }
        let is_stated = self.plane.places.is_some() || self.plane.block.field(plane::MOST_PER_PLACE).is_some();
        most_per_place(recorder, self.plane, spot).filter(|_| is_stated).map(|mass| mass * self.radius)
    }

    /// On a plane without places, of which each takes so much.
    fn on_ring(&self, direction: Angle, most: Unbalance) -> Vec<Move> {
        let in_pieces = self.plane.method.is_some_and(|method| method.is_in_pieces());
        let piece = self.plane.geometry.mass_each.get().filter(|_| in_pieces).map(|mass| mass * self.radius);
        let ring = Ring::of(self.plane, self.carried, most, piece.unwrap_or(self.crumb()));
        let ways = ring.towards(direction).into_iter();
        ways.map(|(angle, left)| Way::new(angle, Some(left)).of(None, angle, false)).collect()
    }

    fn crumb(&self) -> Unbalance {
        self.plane.tolerance.get().map_or(Unbalance::ZERO, |tolerance| tolerance * CRUMB)
    }

    /// What one place can still take.
    fn at(&self, place: Option<usize>, angle: Angle, most: Option<Unbalance>) -> Option<Move> {
        let room = most.map(|most| (most - self.there(place)).max(Unbalance::ZERO));
        // A hole is not drilled again.
        let is_drilled = self.is_cut() && self.there(place) > Unbalance::ZERO;
        let way = Way::new(angle, room);
        (!is_drilled && room.is_none_or(|room| room > Unbalance::ZERO)).then(|| way.of(place, angle, false))
    }

    /// What is at a numbered place already of what the plane does.
    fn there(&self, place: Option<usize>) -> Unbalance {
        let is_here = |on: &&CarriedMass| on.place == place;
        match (self.removes, place) {
            (_, None) => Unbalance::ZERO,
            (true, Some(place)) => self.carried.taken_at(place),
            (false, Some(_)) => self.carried.masses.iter().filter(is_here).map(CarriedMass::unbalance).sum(),
        }
    }
}

trait Of {
    fn of(self, place: Option<usize>, angle: Angle, is_undone: bool) -> Move;
}

impl Of for Way<Unbalance> {
    fn of(self, place: Option<usize>, angle: Angle, is_undone: bool) -> Move {
        Move { place, angle, is_undone, way: self }
    }
}
