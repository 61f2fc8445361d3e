//! Where holes, flats or arcs can go round a plane, and which of them make a correction.

use super::PlaneResults;
use super::allowed::{OFF_THE_EDGE, half_width};
use super::carried::{Carried, CarriedCut};
use super::places::barred;
use super::removal::{Cut, Geometry};
use crate::book::readers::Facts;
use crate::mechanics::correction::holes::{equal_holes, spacing_angle, up_to_whole_degree};
use crate::mechanics::correction::places::AngularRange;
use crate::mechanics::correction::spread::{Way, over_ways};
use crate::units::{Angle, Length, Mass, Typed, Unbalance, Vector};
use crate::vocabulary::plane;
use crate::vocabulary::plane::Method;

/// Holes that touch leave no web: one and a half diameters is the usual least distance.
pub(in crate::book::results) const USUAL_SPACING: f64 = 1.5;

/// More holes than this on one side of a direction are not tried.
const MOST_TO_A_SIDE: u32 = 12;

/// A cut that is there goes deeper, alone, where that leaves less than this share of the plane's tolerance. Source: common
/// practice, no source.
const GOOD_ENOUGH: f64 = 0.25;

/// The room round a plane that is cut.
#[derive(Clone)]
pub(in crate::book::results) struct Room<'p> {
    geometry: &'p Geometry,
    method: Method,
    barred: Vec<AngularRange>,
    /// Each with half the angle that no middle of another cut may come into.
    old: Vec<(Angle, Angle)>,
    /// Between the middles of two holes.
    spacing: Option<Length>,
    /// From the middle of a cut to its edge.
    half: Angle,
    /// The deepest that a cut may be, and what it then takes.
    deepest: Length,
    one: Unbalance,
    /// How many cuts may be side by side.
    at_most: u32,
    /// The cuts that can go deeper.
    deepen: Vec<Deepen>,
    /// The same as `old`, once these are as deep as they may be.
    old_once_deepest: Vec<(Angle, Angle)>,
    /// What may be left where that saves a cut.
    good_enough: Unbalance,
}

/// A cut that is there and can go deeper.
#[derive(Clone, Copy)]
struct Deepen {
    angle: Angle,
    from: Length,
    takes: Unbalance,
    /// What it then takes more.
    most: Unbalance,
}

/// A cut that is there and is made deeper.
#[derive(Clone, Copy)]
pub(in crate::book::results) struct Deeper {
    pub angle: Angle,
    pub from: Length,
    pub to: Length,
    /// What it takes more.
    pub more: Unbalance,
}

/// One cut of a proposal.
pub(in crate::book::results) type Share = (Angle, Unbalance);

/// The cuts that make a correction.
pub(in crate::book::results) struct Arranged {
    pub cuts: Vec<Share>,
    pub deeper: Vec<Deeper>,
    /// What the plane cannot take.
    pub not_reached: Vector<Unbalance>,
    /// What the point of a drill leaves.
    pub by_rounding: Vector<Unbalance>,
}

impl<'p> Room<'p> {
    /// `None` where the plane is not cut, or a fact of the cut is missing.
    pub fn of(facts: &Facts<'_>, plane: &'p PlaneResults<'_>, carried: &Carried) -> Option<Self> {
        let (geometry, method) = (&plane.geometry, plane.method?);
        let cut = geometry.cut(method)?;
        let half = half_width(plane);
        let holes = matches!(cut, Cut::AxialHole | Cut::RadialHole);
        let deepest = deepest(facts, plane, cut)?;
        let stated = || facts.quantity::<Length>(&plane.block, plane::HOLE_SPACING_AT_LEAST).get();
        let spacing = || stated().or(geometry.hole_diameter.get().map(|diameter| diameter * USUAL_SPACING));
        let number = facts.number(&plane.block, plane::HOLES_AT_MOST).get().map_or(1.0, |holes| holes.value());
        let mut room = Self {
            geometry,
            method,
            barred: barred(&plane.block).into_iter().map(|range| range.widened(half)).collect(),
            old: Vec::new(),
            spacing: if holes { spacing() } else { None },
            half,
            deepest,
            one: geometry.piece(method, deepest)?.unbalance,
            at_most: if holes { (number as u32).max(1) } else { 1 },
            deepen: Vec::new(),
            old_once_deepest: Vec::new(),
            good_enough: plane.tolerance.get().map_or(Unbalance::ZERO, |tolerance| tolerance * GOOD_ENOUGH),
        };
        let all_round = Angle::degrees(180.0);
        let old = |of: &CarriedCut| {
            let least = room.least_apart(of.depth.unwrap_or(deepest));
            (of.angle, least.map_or(all_round, |least| off_from(of.angle, least)))
        };
        let deepest_of = |of: &CarriedCut| old(&CarriedCut { depth: Some(deepest), ..*of });
        let once_deepest = carried.cuts.iter().map(deepest_of).collect();
        room.old = carried.cuts.iter().map(old).collect();
        room.old_once_deepest = once_deepest;
        room.deepen = carried.cuts.iter().filter_map(|cut| room.deepen(cut, &carried.cuts)).collect();
        Some(room)
    }

    /// How a cut that is there goes deeper; `None` where it is as deep as it may be, or then runs into another.
    fn deepen(&self, cut: &CarriedCut, all: &[CarriedCut]) -> Option<Deepen> {
        let from = cut.depth.filter(|from| *from < self.deepest)?;
        let takes = self.geometry.piece(self.method, from)?.unbalance;
        let is_barred = self.barred.iter().any(|range| range.contains(cut.angle));
        let in_the_way = |other: &CarriedCut| {
            let apart = self.least_apart(other.depth.unwrap_or(self.deepest)).unwrap_or(Angle::degrees(180.0));
            let is_same = other.angle == cut.angle && other.depth == cut.depth;
            // Angles are known to half a degree.
            !is_same && short_way(other.angle - cut.angle) < apart - Angle::degrees(0.5)
        };
        let most = (self.one - takes).max(Unbalance::ZERO);
        let can = most > Unbalance::ZERO && !is_barred && !all.iter().any(in_the_way);
        can.then_some(Deepen { angle: cut.angle, from, takes, most })
    }

    /// The angle from one cut to the next, one of them at most this deep: what they need, up to the next whole degree.
    fn apart(&self, depth: Length) -> Option<Angle> {
        self.least_apart(depth).map(up_to_whole_degree)
    }

    /// The least angle between the middles of two cuts, one of them at most this deep; `None` where there is none
    /// within a half turn.
    fn least_apart(&self, depth: Length) -> Option<Angle> {
        match self.spacing {
            Some(spacing) => spacing_angle(spacing, self.geometry.radius_at(self.method, depth)?).ok(),
            None => Some(self.half * 2.0),
        }
    }

    fn is_free(&self, angle: Angle) -> bool {
        let near = |(at, apart): &(Angle, Angle)| short_way(*at - angle) < *apart - Angle::degrees(1e-9);
        !self.barred.iter().any(|range| range.contains(angle)) && !self.old.iter().any(near)
    }

    /// The first free middle from an angle on, with increasing angle or against it.
    fn first_free(&self, from: Angle, against: bool) -> Option<Angle> {
        let sign = if against { -1.0 } else { 1.0 };
        let mut at = from;
        let mut gone = 0.0;
        while gone < 360.0 {
            if self.is_free(at) {
                return Some(at.within_one_turn());
            }
            let step = self.way_out(at, sign);
            gone += step.in_degrees();
            at = at + step * sign;
        }
        None
    }

    /// How far it is out of what bars an angle.
    fn way_out(&self, at: Angle, sign: f64) -> Angle {
        let of_range = |range: &AngularRange| {
            let edge = if sign > 0.0 { range.to } else { range.from };
            ((edge - at) * sign).within_one_turn() + Angle::degrees(OFF_THE_EDGE)
        };
        let of_old = |(old, apart): &(Angle, Angle)| ((*old - at) * sign + *apart).within_one_turn();
        let range = self.barred.iter().find(|range| range.contains(at)).map(of_range);
        let old = self.old.iter().find(|(old, apart)| short_way(*old - at) < *apart).map(of_old);
        range.or(old).unwrap_or(Angle::ZERO).max(Angle::degrees(1e-6))
    }

    /// The cuts that make what is wanted, or what comes nearest to it, and what they leave.
    pub fn arrange(&self, wanted: Vector<Unbalance>) -> Arranged {
        let new = self.new_cuts(wanted);
        let is_one_and_all = new.cuts.len() == 1 && new.not_reached == Vector::zero();
        if self.deepen.is_empty() || is_one_and_all {
            return new;
        }
        // A cut saved is worth what may be left.
        let left = |one: &Arranged| (one.not_reached + one.by_rounding).amount().max(self.good_enough).base();
        let enough = wanted.amount() * 1e-6;
        let exactly = |one: &Arranged| (one.not_reached + one.by_rounding).amount().max(enough).base();
        let number = |one: &Arranged| one.cuts.len() + one.deeper.len();
        let taken = |one: &Arranged| {
            let cuts: Unbalance = one.cuts.iter().map(|(_, share)| *share).sum();
            (cuts + one.deeper.iter().map(|deeper| deeper.more).sum::<Unbalance>()).base()
        };
        let ways = self.with_deeper(wanted).into_iter().chain([new]);
        let best = ways.min_by(|a, b| {
            let by_number = left(a).total_cmp(&left(b)).then(number(a).cmp(&number(b)));
            by_number.then(exactly(a).total_cmp(&exactly(b))).then(taken(a).total_cmp(&taken(b)))
        });
        best.unwrap_or_else(|| self.to_drill(wanted, Vector::zero(), Vec::new()))
    }

    /// Cuts that are there made deeper, alone and beside new ones.
    fn with_deeper(&self, wanted: Vector<Unbalance>) -> Vec<Arranged> {
        let off = |one: &Deepen| short_way(one.angle - wanted.angle()).in_degrees();
        let mut deepen: Vec<&Deepen> = self.deepen.iter().filter(|one| off(one) < 90.0).collect();
        deepen.sort_by(|a, b| off(a).total_cmp(&off(b)));
        deepen.truncate(2);
        let Some(nearest) = deepen.first() else { return Vec::new() };
        let room = Self { old: self.old_once_deepest.clone(), deepen: Vec::new(), ..self.clone() };
        let beside = room.sets(wanted.angle(), false);
        let sets = beside.into_iter().map(|(set, most)| (set, most, &deepen[..]));
        let alone = [(Vec::new(), self.one, std::slice::from_ref(nearest)), (Vec::new(), self.one, &deepen[..])];
        let arranged = alone.into_iter().chain(sets).filter_map(|(set, most, deepen)| {
            let ways = deepen.iter().map(|one| Way::new(one.angle, Some(one.most)));
            let ways: Vec<Way<Unbalance>> = ways.chain(set.iter().map(|at| Way::new(*at, Some(most)))).collect();
            let spread = over_ways(wanted, &ways).ok()?;
            let (deeper, new): (Vec<_>, Vec<_>) = spread.shares.into_iter().partition(|(way, _)| *way < deepen.len());
            let new = new.into_iter().map(|(way, share)| (set[way - deepen.len()], share)).collect();
            let deeper = deeper.into_iter().map(|(way, more)| self.deeper(deepen[way], more));
            let deeper = deeper.collect::<Option<Vec<Deeper>>>().filter(|deeper| !deeper.is_empty())?;
            let by_deeper: Vector<Unbalance> = deeper.iter().map(|one| Vector::from_polar(one.more, one.angle)).sum();
            let arranged = self.to_drill(spread.left, wanted - spread.left - by_deeper, new);
            Some(Arranged { deeper, ..arranged })
        });
        arranged.collect()
    }

    fn deeper(&self, of: &Deepen, more: Unbalance) -> Option<Deeper> {
        let to = if more >= of.most { self.deepest } else { self.geometry.depth(self.method, of.takes + more)? };
        Some(Deeper { angle: of.angle, from: of.from, to: to.min(self.deepest), more })
    }

    /// New cuts that make what is wanted, or what comes nearest to it.
    fn new_cuts(&self, wanted: Vector<Unbalance>) -> Arranged {
        let direction = wanted.angle();
        let free = self.is_free(direction);
        if free && wanted.amount() <= self.one {
            return self.to_drill(Vector::zero(), wanted, vec![(direction, wanted.amount())]);
        }
        if free && let Some(cuts) = self.equal(wanted) {
            return Arranged { cuts, deeper: Vec::new(), not_reached: Vector::zero(), by_rounding: Vector::zero() };
        }
        let sets = self.sets(direction, free);
        let enough = wanted.amount() * 1e-6;
        // What is left is what the point of the drill leaves too; to cut nothing is one way.
        let left = |one: &Arranged| (one.not_reached + one.by_rounding).amount().max(enough).base();
        let arranged = sets.iter().filter_map(|set| self.on_set(wanted, set));
        let arranged = arranged.map(|(shares, left)| self.to_drill(left, wanted - left, shares));
        let best = arranged.min_by(|a, b| left(a).total_cmp(&left(b)).then(a.cuts.len().cmp(&b.cuts.len())));
        best.unwrap_or_else(|| self.to_drill(wanted, Vector::zero(), Vec::new()))
    }

    /// Equal holes about the direction, the fewest that make all of it, where all of them have room.
    fn equal(&self, wanted: Vector<Unbalance>) -> Option<Vec<Share>> {
        let depth = |each: Unbalance| self.geometry.depth(self.method, each);
        let apart = |depth: Length| self.least_apart(depth);
        // Holes apart never do more together than all of them at one angle.
        let enough = |holes: &u32| self.one * f64::from(*holes) >= wanted.amount();
        (2..=self.at_most).filter(enough).find_map(|holes| {
            let (depth, apart) = equal_holes(wanted.amount(), holes, self.deepest, depth, apart)?;
            let one = self.geometry.piece(self.method, depth)?.unbalance;
            let middle = (f64::from(holes) - 1.0) / 2.0;
            let angle = |n: u32| (wanted.angle() + apart * (f64::from(n) - middle)).within_one_turn();
            let shares: Vec<Share> = (0..holes).map(|n| (angle(n), one)).collect();
            shares.iter().all(|(angle, _)| self.is_free(*angle)).then_some(shares)
        })
    }

    /// Sets of middles to choose from, each with the most that one of its cuts takes: outward from the direction to
    /// either side, as near as cuts of several depths may be.
    fn sets(&self, direction: Angle, free: bool) -> Vec<(Vec<Angle>, Unbalance)> {
        let most = self.at_most.min(MOST_TO_A_SIDE);
        let numbers = (1..=most).flat_map(|n| [(n, n), (n, n - 1), (n - 1, n)]);
        // Beside what is barred, one correction takes a cut to either side.
        let most_in_all = if free { self.at_most } else { self.at_most.max(2) };
        let numbers: Vec<(u32, u32)> = numbers.filter(|(a, b)| a + b <= most_in_all).collect();
        let mut sets = Vec::new();
        for share in [1.0, 0.8, 0.6, 0.4] {
            let depth = self.deepest * share;
            let (Some(apart), Some(piece)) = (self.apart(depth), self.geometry.piece(self.method, depth)) else {
                continue;
            };
            for starts in self.starts(direction, apart) {
                for (after, before) in &numbers {
                    let mut set = self.row(starts[0], apart, *after, false);
                    set.extend(self.row(starts[1], apart, *before, true));
                    if self.keep_apart(&set, apart) {
                        sets.push((set, piece.unbalance));
                    }
                }
            }
        }
        sets
    }

    /// Where the rows to both sides begin: in the direction the one or the other, both half an interval off it, or one
    /// right beside what is barred.
    fn starts(&self, direction: Angle, apart: Angle) -> Vec<[Option<Angle>; 2]> {
        let (after, before) = (|at| self.first_free(at, false), |at| self.first_free(at, true));
        let upwards = |first: Option<Angle>| [first, first.and_then(|first| before(first - apart))];
        let downwards = |last: Option<Angle>| [last.and_then(|last| after(last + apart)), last];
        let half = apart * 0.5;
        let mut starts = vec![
            upwards(after(direction)),
            downwards(before(direction)),
            [after(direction + half), before(direction - half)],
        ];
        for (low, high) in
            self.edges().filter(|(low, high)| [low, high].iter().any(|at| short_way(**at - direction) < apart))
        {
            starts.extend([downwards(before(low)), upwards(after(high))]);
        }
        starts
    }

    /// The angles just before and after each stretch that is barred.
    fn edges(&self) -> impl Iterator<Item = (Angle, Angle)> {
        let off = Angle::degrees(OFF_THE_EDGE);
        let ranges = self.barred.iter().map(move |range| (range.from - off, range.to + off));
        ranges.chain(self.old.iter().map(|(old, apart)| (*old - *apart, *old + *apart)))
    }

    fn row(&self, start: Option<Angle>, apart: Angle, number: u32, against: bool) -> Vec<Angle> {
        let sign = if against { -1.0 } else { 1.0 };
        let mut row = Vec::new();
        let mut at = start;
        while let Some(angle) = at.filter(|_| row.len() < number as usize) {
            row.push(angle);
            at = self.first_free(angle + apart * sign, against);
        }
        row
    }

    fn keep_apart(&self, set: &[Angle], apart: Angle) -> bool {
        let near = |a: &Angle, b: &Angle| short_way(*a - *b) < apart - Angle::degrees(1e-6);
        !set.iter().enumerate().any(|(n, a)| set[..n].iter().any(|b| near(a, b)))
    }

    fn on_set(
        &self,
        wanted: Vector<Unbalance>,
        (set, most): &(Vec<Angle>, Unbalance),
    ) -> Option<(Vec<Share>, Vector<Unbalance>)> {
        let ways: Vec<Way<Unbalance>> = set.iter().map(|angle| Way::new(*angle, Some(*most))).collect();
        let spread = over_ways(wanted, &ways).ok()?;
        Some((spread.shares.into_iter().map(|(way, share)| (set[way], share)).collect(), spread.left))
    }

    /// What cuts weigh together, and the radius at which that makes what they make; `None` where they weigh nothing, or one of
    /// them has no depth.
    fn chips(&self, arranged: &Arranged) -> Option<(Mass, Length)> {
        let weight = |(_, share): &Share| {
            let depth = self.geometry.depth(self.method, *share)?;
            self.geometry.mass_at_depth(self.method, depth)
        };
        let at_depth = |depth| self.geometry.mass_at_depth(self.method, depth);
        let weight_more = |one: &Deeper| Some(at_depth(one.to)? - at_depth(one.from)?);
        let weights = arranged.cuts.iter().map(weight).chain(arranged.deeper.iter().map(weight_more));
        let weight: Mass = weights.sum::<Option<_>>()?;
        let of_cuts = arranged.cuts.iter().map(|(at, share)| Vector::from_polar(*share, *at));
        let of_deeper = arranged.deeper.iter().map(|one| Vector::from_polar(one.more, one.angle));
        let made: Vector<Unbalance> = of_cuts.chain(of_deeper).sum();
        (weight > Mass::ZERO).then(|| (weight, Length::from_base((made.amount() / weight).base())))
    }

    /// How deep one cut of this mass is; `None` where one cut cannot take so much.
    fn depth_of_mass(&self, mass: Mass) -> Option<Length> {
        if mass > self.geometry.mass_at_depth(self.method, self.deepest)? {
            return None;
        }
        let (mut low, mut high) = (Length::ZERO, self.deepest);
        for _ in 0..60 {
            let middle = (low + high) * 0.5;
            if self.geometry.mass_at_depth(self.method, middle)? < mass { low = middle } else { high = middle }
        }
        Some(high)
    }

    fn to_drill(&self, not_reached: Vector<Unbalance>, reached: Vector<Unbalance>, shares: Vec<Share>) -> Arranged {
        let cuts = to_drill(self.geometry, self.method, shares);
        let made: Vector<Unbalance> = cuts.iter().map(|(angle, share)| Vector::from_polar(*share, *angle)).sum();
        Arranged { cuts, deeper: Vec::new(), not_reached, by_rounding: reached - made }
    }
}

/// Less than the point of the drill takes is the point alone or nothing, whichever is nearer.
pub(in crate::book::results) fn to_drill<P>(
    geometry: &Geometry,
    method: Method,
    shares: Vec<(P, Unbalance)>,
) -> Vec<(P, Unbalance)> {
    let point = geometry.piece(method, Length::ZERO).map_or(Unbalance::ZERO, |piece| piece.unbalance);
    let shares = shares.into_iter().filter(|(_, share)| *share > point * 0.5);
    shares.map(|(place, share)| (place, share.max(point))).collect()
}

/// The deepest that a cut of a plane may be: as allowed, within the wall, and before the axis.
pub(in crate::book::results) fn deepest(facts: &Facts<'_>, plane: &PlaneResults<'_>, cut: Cut) -> Option<Length> {
    let geometry = &plane.geometry;
    let length = |fact| facts.quantity::<Length>(&plane.block, fact).get();
    let tip = match cut {
        Cut::AxialHole | Cut::RadialHole => geometry.drill()?.tip_height().ok()?,
        Cut::Flat | Cut::Arc => Length::ZERO,
    };
    let wall = length(plane::WALL).map(|wall| wall - length(plane::WALL_AT_LEAST).unwrap_or(Length::ZERO) - tip);
    let axis = if cut == Cut::AxialHole { None } else { geometry.surface.get().map(|surface| surface - tip) };
    let limits = [geometry.depth.get(), wall, axis];
    limits.into_iter().flatten().reduce(Length::min).filter(|depth| *depth >= Length::ZERO)
}

/// How far off an old cut, wherever it is, an angle may be that is then rounded to a whole degree.
fn off_from(old: Angle, least: Angle) -> Angle {
    let is_whole = (old - old.to_whole_degree()).in_degrees().abs() < 1e-6;
    if is_whole { up_to_whole_degree(least) } else { least + Angle::degrees(0.5) }
}

fn short_way(angle: Angle) -> Angle {
    let turned = angle.within_one_turn();
    turned.min(Angle::degrees(360.0) - turned)
}

/// What the cuts for an unbalance weigh together, and the radius at which that makes what they make; `None` where the plane is
/// cut at places of its own, not cut at all, or takes nothing.
pub(in crate::book::results) fn chips(
    facts: &Facts<'_>,
    plane: &PlaneResults<'_>,
    carried: &Carried,
    wanted: Vector<Unbalance>,
) -> Option<(Mass, Length)> {
    let room = Room::of(facts, plane, carried).filter(|_| plane.places.is_none())?;
    room.chips(&room.arrange(wanted))
}

/// The radius at which cuts towards an angle make their unbalance, where they weigh so much; `None` where no cuts of the plane
/// do.
pub(in crate::book::results) fn radius_of_mass(
    facts: &Facts<'_>,
    plane: &PlaneResults<'_>,
    carried: &Carried,
    (mass, angle): (Mass, Option<Angle>),
) -> Option<Length> {
    let room = Room::of(facts, plane, carried)?;
    if let Some(depth) = room.depth_of_mass(mass) {
        return Some(room.geometry.piece(room.method, depth)?.radius);
    }
    let angle = angle.filter(|_| plane.places.is_none())?;
    let cuts = |unbalance: Unbalance| room.arrange(Vector::from_polar(unbalance, angle));
    let is_enough = |unbalance| room.chips(&cuts(unbalance)).is_some_and(|(chips, _)| chips >= mass * (1.0 - 1e-9));
    let (mut low, mut high) = (Unbalance::ZERO, mass * room.geometry.radius_at(room.method, Length::ZERO)?);
    if !is_enough(high) {
        return None;
    }
    for _ in 0..40 {
        let middle = (low + high) * 0.5;
        (low, high) = if is_enough(middle) { (low, middle) } else { (middle, high) };
    }
    room.chips(&cuts(high)).map(|(_, radius)| radius)
}
