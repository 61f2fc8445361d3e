//! The correction planes of a rotor, each with its share of the tolerance.

use super::base::{Base, Found};
use super::kept::KeptLimits;
use super::limits::{self, Limit, PlaneAt};
use super::sharing::{Shares, sharing};
use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::files::ItemId;
use crate::book::results::plane::PlaneResults;
use crate::book::results::plane::capacity::{correction_radius, greatest};
use crate::book::results::plane::places::Places;
use crate::book::results::plane::removal::Geometry;
use crate::book::results::values::entry::{Recorder, Spot};
use crate::syntax::Kind;
use crate::units::Length;
use crate::vocabulary::{plane, rotor};

pub(in crate::book::results) fn of<'b>(
    recorder: &mut Recorder<'b>,
    rotor: &EffectiveBlock<'b>,
    id: ItemId,
    base: &Base<'_>,
    (found, kept): (&Found, Option<&KeptLimits<'b>>),
) -> (Vec<PlaneResults<'b>>, Vec<Limit>) {
    let blocks: Vec<EffectiveBlock<'b>> = rotor.inner(Kind::Plane).cloned().collect();
    let shares = sharing(rotor, &blocks);
    let places: Vec<Val<Length>> = blocks.iter().map(|block| recorder.facts.quantity(block, plane::AT)).collect();
    let shared_by: Vec<PlaneAt<'_>> = blocks
        .iter()
        .zip(&places)
        .zip(&shares)
        .filter(|(_, shares)| **shares)
        .map(|((block, at), _)| (block.name_text(), at))
        .collect();
    let limits = limits::of(recorder, (rotor, id), base, found, &shared_by);
    let limits = kept.map_or_else(|| limits.clone(), |kept| kept.limits(base, &limits));
    let shared = Shares { planes: &shared_by, limits: &limits, kept };
    let sense = rotor.choice(rotor::ANGLES_COUNT);
    let mut results = Vec::with_capacity(blocks.len());
    for ((block, at), shares_tolerance) in blocks.iter().zip(&places).zip(&shares) {
        let field = [plane::RADIUS, plane::DIAMETER, plane::AT].into_iter().find_map(|fact| block.field(fact));
        let tolerance = shared.tolerance(recorder, &Spot::beside(block, id, field), block.name_text());
        let geometry = Geometry::of(recorder, block);
        let method = block.choice(plane::METHOD);
        let radius = correction_radius(recorder, block, id, method, &geometry);
        let places = Places::of(block, sense);
        let greatest = greatest(recorder, (block, id), places.as_ref(), method, &geometry, &radius);
        results.push(PlaneResults {
            name: block.name_text(),
            block: block.clone(),
            at: at.clone(),
            tolerance: tolerance.holds,
            stated_tolerance: tolerance.stated,
            shared_tolerance: tolerance.shared,
            radius,
            method,
            geometry,
            places,
            greatest,
            shares_tolerance: *shares_tolerance,
        });
    }
    (results, limits)
}
