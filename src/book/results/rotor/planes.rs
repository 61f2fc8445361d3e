//! The correction planes of a rotor, each with its share of the tolerance.

use super::base::{Base, Found};
use super::sharing::{Shares, sharing};
use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::files::ItemId;
use crate::book::results::plane::PlaneResults;
use crate::book::results::plane::capacity::{correction_radius, greatest};
use crate::book::results::plane::places::Places;
use crate::book::results::plane::removal::Geometry;
use crate::book::results::values::entry::Recorder;
use crate::syntax::Kind;
use crate::units::Length;
use crate::vocabulary::{plane, rotor};

pub(in crate::book::results) fn of<'b>(
    recorder: &mut Recorder<'b>,
    rotor: &EffectiveBlock<'b>,
    id: ItemId,
    base: &Base<'_>,
    found: &Found,
) -> Vec<PlaneResults<'b>> {
    let blocks: Vec<EffectiveBlock<'b>> = rotor.inner(Kind::Plane).cloned().collect();
    let shares = sharing(rotor, &blocks);
    let planes: Vec<_> = blocks
        .into_iter()
        .zip(shares)
        .map(|(block, shares)| {
            let at: Val<Length> = recorder.facts.quantity(&block, plane::AT);
            (block, at, shares)
        })
        .collect();
    let shared = Shares::new(recorder, (rotor, id), base, found, &planes);
    let sense = rotor.choice(rotor::ANGLES_COUNT);
    let mut results = Vec::with_capacity(planes.len());
    for (n, (block, at, shares_tolerance)) in planes.iter().enumerate() {
        let tolerance = shared.tolerance(recorder, n);
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
    results
}
