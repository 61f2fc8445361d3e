//! How a plane's method makes a correction: depth, holes side by side, shares of places, spread of weights.

use std::sync::Arc;

use super::PlaneResults;
use super::allowed::{most_per_place, towards};
use crate::book::derive::Val;
use crate::book::formulas as by;
use crate::book::origin::Missing;
use crate::book::results::values::entry::{Column, Meaning, Outcome, Recorder, Spot, origin};
use crate::book::results::values::not_computed::WhyNot;
use crate::book::vectors::VectorVal;
use crate::mechanics::correction::holes::{holes_needed, spacing_angle};
use crate::mechanics::correction::sliding::spread_for;
use crate::mechanics::correction::spread::{Spread, in_whole_pieces, over_places};
use crate::units::{Angle, Length, Mass, Ratio, Unbalance, Unit, Vector};
use crate::vocabulary::plane::Method;
use crate::vocabulary::{ResultSpec, Sense, correction, plane, result, trial};

/// What the method of a plane makes of an unbalance.
pub(in crate::book::results) const MADE_BY_METHOD: [&ResultSpec; 6] = [
    &result::CORRECTION_DEPTH,
    &result::CORRECTION_HOLES,
    &result::CORRECTION_PLACES,
    &result::CORRECTION_SPREAD,
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
    fn why_not(&self, unbalance: &VectorVal<Unbalance>) -> [WhyNot; 6] {
        if let Err(missing) = &unbalance.known {
            return std::array::from_fn(|_| WhyNot::Lacks(missing.clone()));
        }
        let at_places = self.plane.block.field(plane::PLACES).is_some();
        let no_radius = || self.radius.known.as_ref().err().map(|missing| WhyNot::NoRadius(missing.clone()));
        let depth = if at_places { "each place has its own depth".into() } else { self.plane.why_no_depth() };
        let holes = match self.plane.method {
            Some(Method::Drilling) if !at_places => "one hole is enough, or even all that are allowed are not".into(),
            _ => "the plane is not drilled anywhere round it".into(),
        };
        let places = match at_places {
            true => no_radius().unwrap_or_else(|| "no place is free, or none of them helps".into()),
            false => WhyNot::LeftOut(plane::PLACES.any()),
        };
        let spread = match self.plane.method {
            Some(Method::SlidingWeights) => match &self.plane.geometry.mass_each.known {
                Err(missing) => WhyNot::Lacks(missing.clone()),
                Ok(_) => no_radius().unwrap_or_else(|| "the pair of weights does not make so much".into()),
            },
            _ => "the plane has no sliding weights".into(),
        };
        let rounding = match &self.plane.geometry.mass_each.known {
            Err(missing) => WhyNot::Lacks(missing.clone()),
            Ok(_) => "nothing is left by whole pieces".into(),
        };
        [depth, holes, places, spread, rounding, "the plane takes all of it".into()]
    }

    fn make(
        &self,
        recorder: &mut Recorder<'b>,
        spot: &Spot,
        unbalance: &VectorVal<Unbalance>,
    ) -> Option<VectorVal<Unbalance>> {
        let sign = if self.adds == Some(false) { 1.0 } else { -1.0 };
        let wanted = unbalance.get()? * sign;
        let left = match self.plane.method {
            _ if self.plane.block.field(plane::PLACES).is_some() => self.at_places(recorder, spot, wanted)?,
            Some(Method::SlidingWeights) => self.sliding(recorder, spot, unbalance, wanted),
            Some(Method::Drilling | Method::Milling | Method::Grinding) => {
                self.cuts(recorder, spot, unbalance, wanted)?
            }
            _ => self.one_piece(recorder, spot, wanted),
        };
        self.keep_left(recorder, spot, &result::NOT_REACHED, left * sign)
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

    /// Shares of the numbered places to either side; further ones where a place takes no more.
    fn at_places(
        &self,
        recorder: &mut Recorder<'b>,
        spot: &Spot,
        wanted: Vector<Unbalance>,
    ) -> Option<Vector<Unbalance>> {
        let places = self.plane.places.as_ref()?;
        let radius = self.radius.get()?;
        let angles: Vec<Angle> = places.free.iter().map(|place| places.angles[*place]).collect();
        if angles.is_empty() {
            return Some(wanted);
        }
        let most = most_per_place(recorder, self.plane, spot).map(|mass| mass * radius);
        let spread = over_places(wanted, &angles, most).ok()?;
        let not_reached = spread.left;
        let spread = self.in_pieces(recorder, spot, &angles, Spread { left: wanted - not_reached, ..spread }, most);
        let number = |(place, _): &(usize, Unbalance)| (places.free[*place] + 1).to_string().into();
        let heads = places.numbered.then(|| spread.shares.iter().map(number).collect());
        self.table(recorder, spot, &angles, &spread.shares, heads.unwrap_or_default());
        Some(not_reached)
    }

    /// Whole washers or screws, with what rounding leaves; `left` of the spread is what they are to make.
    fn in_pieces(
        &self,
        recorder: &mut Recorder<'b>,
        spot: &Spot,
        angles: &[Angle],
        spread: Spread<Unbalance>,
        most: Option<Unbalance>,
    ) -> Spread<Unbalance> {
        let each = self.plane.geometry.mass_each.get().zip(self.radius.get());
        let Some((mass, radius)) = each else { return spread };
        match in_whole_pieces(spread.left, angles, &spread.shares, mass * radius, most) {
            Ok(pieces) => {
                let sign = if self.adds == Some(false) { 1.0 } else { -1.0 };
                self.keep_left(recorder, spot, &result::LEFT_BY_ROUNDING, pieces.left * sign);
                pieces
            }
            Err(_) => spread,
        }
    }

    fn table(
        &self,
        recorder: &mut Recorder<'b>,
        spot: &Spot,
        angles: &[Angle],
        shares: &[(usize, Unbalance)],
        heads: Vec<Box<str>>,
    ) {
        let Some(radius) = self.radius.get() else { return };
        let depths: Vec<Option<Length>> = shares.iter().map(|(_, share)| self.depth_within(*share)).collect();
        let has_depths = depths.iter().any(Option::is_some);
        let rows = shares.iter().zip(&depths).map(|((place, share), depth)| {
            // The centre of mass of a cut lies where its own depth puts it.
            let of_cut = depth.and_then(|depth| self.plane.geometry.mass_at_depth(self.plane.method?, depth));
            let mass = of_cut.unwrap_or_else(|| *share / radius);
            let mut row = vec![Some(angles[*place].in_radians()), Some(mass.in_kilograms())];
            row.extend(has_depths.then_some(depth.map(Length::in_metres)));
            row
        });
        let rows: Vec<Vec<Option<f64>>> = rows.collect();
        let mut columns = vec![
            Column { name: correction::ANGLE.words(), unit: Unit::DEGREE },
            Column { name: trial::MASS.words(), unit: recorder.facts.shop.shown(Unit::GRAM) },
        ];
        columns.extend(
            has_depths.then(|| Column { name: correction::DEPTH.words(), unit: self.plane.geometry.length_unit() }),
        );
        recorder.push(spot, &result::CORRECTION_PLACES, Outcome::Table { heads, columns, rows }, None);
    }

    /// The depth that takes this much, if the plane allows it.
    fn depth_within(&self, unbalance: Unbalance) -> Option<Length> {
        let geometry = &self.plane.geometry;
        let depth = geometry.depth(self.plane.method?, unbalance)?;
        geometry.depth.get().is_none_or(|most| depth <= most * (1.0 + 1e-9)).then_some(depth)
    }

    /// A hole, flat or arc at the angle; two beside a barred range; several holes where one would be too deep.
    fn cuts(
        &self,
        recorder: &mut Recorder<'b>,
        spot: &Spot,
        unbalance: &VectorVal<Unbalance>,
        wanted: Vector<Unbalance>,
    ) -> Option<Vector<Unbalance>> {
        let angles = towards(self.plane, wanted.angle());
        let spread = match angles.len() {
            0 => return Some(wanted),
            1 => Spread { shares: vec![(0, wanted.amount())], left: Vector::zero() },
            _ => over_places(wanted, &angles, None).ok()?,
        };
        if angles.len() > 1 {
            self.table(recorder, spot, &angles, &spread.shares, Vec::new());
        }
        let mut left = spread.left;
        for (place, share) in &spread.shares {
            if self.depth_within(*share).is_some() {
                continue;
            }
            let reach = self.side_by_side(recorder, spot, *share);
            left = left + Vector::from_polar(*share - reach.min(*share), angles[*place]);
        }
        let alone = angles.len() == 1 && self.depth_within(wanted.amount()).is_some();
        if alone {
            let geometry = &self.plane.geometry;
            let amount = unbalance.amount();
            geometry.depth_for(recorder, spot, &result::CORRECTION_DEPTH, self.plane.method, &amount);
        }
        Some(left)
    }

    /// As many equal holes as it takes, up to what the plane allows; returns how much they take off.
    fn side_by_side(&self, recorder: &mut Recorder<'b>, spot: &Spot, wanted: Unbalance) -> Unbalance {
        let most_deep = self.plane.geometry.depth.clone();
        let spec = &result::CORRECTION_HOLES;
        let one = self.plane.geometry.taken_by(recorder, spot, spec, self.plane.method, &most_deep);
        let Some(one) = one.and_then(|one| one.get()) else { return wanted };
        // Less than the drill's point alone takes off has no depth of its own, and needs no second hole.
        if wanted <= one {
            return wanted;
        }
        let Some((holes, depth)) = several_holes(recorder, self.plane, spot, wanted) else { return one };
        let block = &self.plane.block;
        recorder.push(spot, spec, Outcome::Count(holes), None);
        let unit = self.plane.geometry.length_unit();
        let depth = recorder.default(block, plane::DEPTH, depth, unit);
        recorder.keep(spot, &result::CORRECTION_DEPTH, &depth);
        wanted
    }

    /// The angle between two sliding weights, their middle at the light spot.
    fn sliding(
        &self,
        recorder: &mut Recorder<'b>,
        spot: &Spot,
        unbalance: &VectorVal<Unbalance>,
        wanted: Vector<Unbalance>,
    ) -> Vector<Unbalance> {
        let (each, amount) = (&self.plane.geometry.mass_each, unbalance.amount());
        let (Some(mass), Some(radius)) = (each.get(), self.radius.get()) else { return Vector::zero() };
        let most = mass * radius * 2.0;
        if wanted.amount() > most {
            return Vector::from_polar(wanted.amount() - most, wanted.angle());
        }
        let inputs = (&amount, each, self.radius);
        recorder.work_out(
            spot,
            &result::CORRECTION_SPREAD,
            Unit::DEGREE,
            &by::WEIGHTS_APART,
            inputs,
            |(u, m, r): (Unbalance, Mass, Length)| spread_for(u, m, r),
        );
        Vector::zero()
    }

    /// A mass at any angle, up to the most that the plane says one place takes.
    fn one_piece(&self, recorder: &Recorder<'b>, spot: &Spot, wanted: Vector<Unbalance>) -> Vector<Unbalance> {
        let stated = self.plane.block.field(plane::MOST_PER_PLACE).is_some();
        let most = most_per_place(recorder, self.plane, spot).filter(|_| stated).zip(self.radius.get());
        match most {
            Some((mass, radius)) if wanted.amount() > mass * radius => {
                Vector::from_polar(wanted.amount() - mass * radius, wanted.angle())
            }
            _ => Vector::zero(),
        }
    }
}

/// The number of equal holes side by side and the depth of each; `None` when even all that are allowed do not take
/// enough, and where the plane is not drilled.
pub(in crate::book::results) fn several_holes<'b>(
    recorder: &Recorder<'b>,
    plane: &PlaneResults<'b>,
    spot: &Spot,
    wanted: Unbalance,
) -> Option<(u32, Length)> {
    let (geometry, facts) = (&plane.geometry, &recorder.facts);
    if plane.method != Some(Method::Drilling) {
        return None;
    }
    let spec = &result::CORRECTION_HOLES;
    let one = geometry.taken_by(recorder, spot, spec, plane.method, &geometry.depth)?.get()?;
    let most: Ratio = facts.number(&plane.block, plane::HOLES_AT_MOST).get()?;
    let surface = if geometry.axial { geometry.pitch_radius.get()? } else { geometry.surface.get()? };
    let spacing: Val<Length> = facts.quantity(&plane.block, plane::HOLE_SPACING_AT_LEAST);
    let spacing = spacing.get().or(geometry.hole_diameter.get().map(|diameter| diameter * 1.5))?;
    let step = spacing_angle(spacing, surface).ok()?;
    let holes = holes_needed(wanted, one, step).ok().filter(|holes| f64::from(*holes) <= most.value())?;
    let together = crate::mechanics::correction::holes::holes_along_arc(Unbalance::gram_millimetres(1.0), holes, step);
    let each = wanted * (1.0 / (together.ok()? / Unbalance::gram_millimetres(1.0)).value());
    Some((holes, geometry.depth(Method::Drilling, each)?))
}
