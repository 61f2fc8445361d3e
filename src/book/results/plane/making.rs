//! How a plane's method makes a correction: depth, holes side by side, shares of places, sliding weights.

use std::sync::Arc;

use super::PlaneResults;
use super::allowed::towards;
use super::carried::{Carried, mass_of};
use super::cutting::{Arranged, Deeper, Room, Share};
use super::moves::{Done, Moves};
use crate::book::derive::Val;
use crate::book::origin::Missing;
use crate::book::results::values::entry::{Column, Meaning, Outcome, Recorder, RowHead, Spot, origin};
use crate::book::results::values::not_computed::WhyNot;
use crate::book::vectors::VectorVal;
use crate::mechanics::correction::spread::{Way, over_ways};
use crate::units::{Angle, Length, Mass, Typed, Unbalance, Unit, Vector};
use crate::vocabulary::plane::Method;
use crate::vocabulary::{ResultSpec, Sense, correction, plane, result, trial};

/// What the method of a plane makes of an unbalance.
pub(in crate::book::results) const MADE_BY_METHOD: [&ResultSpec; 5] = [
    &result::CORRECTION_DEPTH,
    &result::CORRECTION_HOLES,
    &result::CORRECTION_PLACES,
    &result::LEFT_BY_ROUNDING,
    &result::NOT_REACHED,
];

/// One plane's way of making a correction.
pub(in crate::book::results) struct Making<'a, 'b> {
    /// The direction in which the rotor's angles count.
    pub sense: &'a Result<Sense, Arc<Missing>>,
    pub plane: &'a PlaneResults<'b>,
    /// `None` where mass may be put on or taken off: then it is put on.
    pub adds: Option<bool>,
    /// To the centre of mass of the correction.
    pub radius: &'a Val<Length>,
    /// What the plane carries already.
    pub carried: &'a Carried,
}

/// One row of the table of a correction.
struct Row {
    /// The place by number, from 0, where it has one.
    place: Option<usize>,
    angle: Angle,
    mass: Mass,
    depth: Option<Length>,
    /// By how much a cut that is there gets deeper.
    deeper: Option<Length>,
}

impl<'b> Making<'_, 'b> {
    /// Works out what to do about an unbalance, and returns what the plane cannot take, where it is still in excess.
    pub fn work_out(
        &self,
        recorder: &mut Recorder<'b>,
        spot: &Spot,
        unbalance: &VectorVal<Unbalance>,
    ) -> Option<VectorVal<Unbalance>> {
        let before = recorder.entries.len();
        let not_reached = self.make(recorder, spot, unbalance);
        for (spec, why) in MADE_BY_METHOD.into_iter().zip(self.why_not(unbalance)) {
            if !recorder.entries[before..].iter().any(|entry| entry.is(spec)) {
                recorder.not_asked(spot, &[spec], why);
            }
        }
        not_reached
    }

    /// For each of [`MADE_BY_METHOD`], why this plane has none for such an unbalance.
    fn why_not(&self, unbalance: &VectorVal<Unbalance>) -> [WhyNot; 5] {
        if let Err(missing) = &unbalance.known {
            return std::array::from_fn(|_| WhyNot::Lacks(missing.clone()));
        }
        if let Some(why) = &self.carried.not_known {
            return std::array::from_fn(|_| why.clone());
        }
        let at_places = self.plane.block.field(plane::PLACES).is_some();
        let no_radius = || self.radius.known.as_ref().err().map(|missing| WhyNot::NoRadius(missing.clone()));
        let depth = if at_places { "each place has its own depth".into() } else { self.plane.why_no_depth() };
        let holes = match self.plane.method {
            Some(Method::Drilling) if !at_places => "one hole is enough, or the holes are not alike".into(),
            _ => "the plane is not drilled anywhere round it".into(),
        };
        let places = match at_places {
            true => no_radius().unwrap_or_else(|| "no place is free, or none of them helps".into()),
            false => WhyNot::LeftOut(plane::PLACES.any()),
        };
        let rounding = match &self.plane.geometry.mass_each.known {
            Err(missing) if self.plane.method.is_none_or(Method::is_in_pieces) => WhyNot::Lacks(missing.clone()),
            _ => "nothing is left by whole pieces, or by the point of a drill".into(),
        };
        [depth, holes, places, rounding, "the plane takes all of it".into()]
    }

    fn make(
        &self,
        recorder: &mut Recorder<'b>,
        spot: &Spot,
        unbalance: &VectorVal<Unbalance>,
    ) -> Option<VectorVal<Unbalance>> {
        if self.carried.not_known.is_some() {
            return None;
        }
        let wanted = unbalance.get()? * self.sign();
        let cuts = matches!(self.plane.method, Some(Method::Drilling | Method::Milling | Method::Grinding));
        let left = match self.plane.method {
            Some(Method::SlidingWeights) => self.beyond_weights(recorder, wanted),
            _ if cuts && self.plane.places.is_none() => self.cuts(recorder, spot, unbalance, wanted),
            _ => self.by_masses(recorder, spot, wanted)?,
        };
        self.keep_left(recorder, spot, &result::NOT_REACHED, left * self.sign())
    }

    fn removes(&self) -> bool {
        self.adds == Some(false)
    }

    fn sign(&self) -> f64 {
        if self.removes() { 1.0 } else { -1.0 }
    }

    /// Records what is left, unless it is nothing worth mentioning.
    fn keep_left(
        &self,
        recorder: &mut Recorder<'b>,
        spot: &Spot,
        spec: &'static ResultSpec,
        left: Vector<Unbalance>,
    ) -> Option<VectorVal<Unbalance>> {
        if left.amount() <= Unbalance::kilogram_metres(1e-12) {
            return None;
        }
        let unit = recorder.facts.shop.unbalance_unit;
        let left = VectorVal::exact(left, origin(spot, spec), unit);
        recorder.keep_vector(spot, spec, &left, Meaning::HeavySpot, self.sense);
        Some(left)
    }

    /// Masses or holes at numbered places, masses at free angles; what is on comes off where it is opposed.
    fn by_masses(
        &self,
        recorder: &mut Recorder<'b>,
        spot: &Spot,
        wanted: Vector<Unbalance>,
    ) -> Option<Vector<Unbalance>> {
        let radius = self.radius.get()?;
        let moves = Moves { plane: self.plane, carried: self.carried, removes: self.removes(), radius };
        let Done { moves, not_reached, by_rounding } = moves.choose(recorder, spot, wanted)?;
        let row = |(one, share): &(super::moves::Move, Unbalance)| {
            let depth = self.removes().then(|| self.depth_of(*share)).flatten();
            // The centre of mass of a cut lies where its own depth puts it.
            let of_cut = depth.and_then(|depth| self.plane.geometry.mass_at_depth(self.plane.method?, depth));
            let mass = of_cut.unwrap_or_else(|| mass_of(*share, radius));
            let mass = if one.is_undone { Mass::ZERO - mass } else { mass };
            Row { place: one.place, angle: one.angle, mass, depth, deeper: None }
        };
        let rows: Vec<Row> = moves.iter().map(row).collect();
        // One mass at a free angle has its mass and its angle as results of their own.
        let is_plain = self.plane.places.is_none() && rows.len() == 1 && rows[0].mass > Mass::ZERO;
        let is_all = not_reached.amount() <= wanted.amount() * 1e-9;
        if !(rows.is_empty() || is_plain && is_all) {
            self.table(recorder, spot, &rows);
        }
        if self.plane.places.is_some() || self.plane.geometry.mass_each.is_known() {
            self.keep_left(recorder, spot, &result::LEFT_BY_ROUNDING, by_rounding * self.sign());
        }
        Some(not_reached)
    }

    fn table(&self, recorder: &mut Recorder<'b>, spot: &Spot, rows: &[Row]) {
        let numbered = self.plane.has_numbers();
        let head = |row: &Row| RowHead::new(row.place.map_or_else(String::new, |place| (place + 1).to_string()));
        let heads = if numbered { rows.iter().map(head).collect() } else { Vec::new() };
        let has_depths = rows.iter().any(|row| row.depth.is_some());
        let has_deeper = rows.iter().any(|row| row.deeper.is_some());
        let cells = |row: &Row| {
            let mut cells = vec![Some(row.angle.in_radians()), Some(row.mass.in_kilograms())];
            cells.extend(has_depths.then_some(row.depth.map(Length::in_metres)));
            cells.extend(has_deeper.then_some(row.deeper.map(Length::in_metres)));
            cells
        };
        let mut columns = vec![
            Column { name: correction::ANGLE.words(), unit: Unit::DEGREE },
            Column { name: trial::MASS.words(), unit: recorder.facts.shop.shown(Unit::GRAM) },
        ];
        let length = |name| Column { name, unit: self.plane.geometry.length_unit() };
        columns.extend(has_depths.then(|| length(correction::DEPTH.words())));
        columns.extend(has_deeper.then(|| length(correction::DEEPER)));
        let rows = rows.iter().map(cells).collect();
        recorder.push(spot, &result::CORRECTION_PLACES, Outcome::Table { heads, columns, rows }, None);
    }

    fn depth_of(&self, unbalance: Unbalance) -> Option<Length> {
        self.plane.geometry.depth(self.plane.method?, unbalance)
    }

    /// A hole, flat or arc at the angle; beside what is barred or cut already; several holes where one would be too deep.
    fn cuts(
        &self,
        recorder: &mut Recorder<'b>,
        spot: &Spot,
        unbalance: &VectorVal<Unbalance>,
        wanted: Vector<Unbalance>,
    ) -> Vector<Unbalance> {
        let Some(room) = Room::of(&recorder.facts, self.plane, self.carried) else {
            return self.without_depths(recorder, spot, wanted);
        };
        let Arranged { cuts: shares, deeper, not_reached, by_rounding } = room.arrange(wanted);
        let alone = |share: &Share| (share.0 - wanted.angle()).sin().abs() < 1e-9 && share.1 == wanted.amount();
        match &shares[..] {
            [one] if alone(one) && deeper.is_empty() => {
                let amount = unbalance.amount();
                let spec = &result::CORRECTION_DEPTH;
                self.plane.geometry.depth_for(recorder, spot, spec, self.plane.method, &amount);
            }
            [] if deeper.is_empty() => {}
            _ => self.several(recorder, spot, &shares, &deeper),
        }
        self.keep_left(recorder, spot, &result::LEFT_BY_ROUNDING, by_rounding * self.sign());
        not_reached
    }

    /// What is said of several cuts, or of one that is not what is called for.
    fn several(&self, recorder: &mut Recorder<'b>, spot: &Spot, shares: &[Share], deeper: &[Deeper]) {
        let row = |(angle, share): &Share| {
            let depth = self.depth_of(*share);
            let mass = depth.and_then(|depth| self.plane.geometry.mass_at_depth(self.plane.method?, depth));
            let own = || self.radius.get().map(|radius| mass_of(*share, radius));
            Row { place: None, angle: *angle, mass: mass.or_else(own).unwrap_or(Mass::ZERO), depth, deeper: None }
        };
        let weighs = |depth| self.plane.method.and_then(|method| self.plane.geometry.mass_at_depth(method, depth));
        let row_of_deeper = |one: &Deeper| {
            let mass = weighs(one.to).zip(weighs(one.from)).map_or(Mass::ZERO, |(to, from)| to - from);
            Row { place: None, angle: one.angle, mass, depth: Some(one.to), deeper: Some(one.to - one.from) }
        };
        let rows: Vec<Row> = deeper.iter().map(row_of_deeper).chain(shares.iter().map(row)).collect();
        let alike =
            deeper.is_empty() && shares.iter().all(|(_, share)| (share.base() / shares[0].1.base() - 1.0).abs() < 1e-6);
        if alike && shares.len() > 1 && self.plane.method == Some(Method::Drilling) {
            recorder.push(spot, &result::CORRECTION_HOLES, Outcome::Count(shares.len() as u32), None);
            if let Some(depth) = rows[0].depth {
                let depth = recorder.default(&self.plane.block, plane::DEPTH, depth, self.plane.geometry.length_unit());
                recorder.keep(spot, &result::CORRECTION_DEPTH, &depth);
            }
        }
        self.table(recorder, spot, &rows);
    }

    /// Shares beside a barred range of a plane whose cuts have no depth that can be worked out.
    fn without_depths(&self, recorder: &mut Recorder<'b>, spot: &Spot, wanted: Vector<Unbalance>) -> Vector<Unbalance> {
        let angles = towards(self.plane, wanted.angle());
        let ways: Vec<Way<Unbalance>> = angles.iter().map(|angle| Way::new(*angle, None)).collect();
        let Ok(spread) = over_ways(wanted, &ways) else { return wanted };
        if angles.len() > 1 {
            let shares: Vec<Share> = spread.shares.iter().map(|(way, share)| (angles[*way], *share)).collect();
            self.several(recorder, spot, &shares, &[]);
        }
        spread.left
    }

    /// What all weights of a groove together do not make.
    fn beyond_weights(&self, recorder: &Recorder<'b>, wanted: Vector<Unbalance>) -> Vector<Unbalance> {
        let geometry = &self.plane.geometry;
        let weights =
            recorder.facts.number(&self.plane.block, plane::WEIGHTS).get().map_or(2.0, |weights| weights.value());
        let most = geometry.mass_each.get().zip(self.radius.get()).map(|(mass, radius)| mass * radius * weights);
        match most {
            Some(most) if wanted.amount() > most => Vector::from_polar(wanted.amount() - most, wanted.angle()),
            _ => Vector::zero(),
        }
    }
}
