//! A correction plane: its share of the tolerance, its radius, and what can be corrected in it.

pub(in crate::book::results) mod allowed;
pub(in crate::book::results) mod called_for;
pub(in crate::book::results) mod capacity;
pub(in crate::book::results) mod making;
pub(in crate::book::results) mod removal;

use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::files::ItemId;
use crate::book::results::entry::Recorder;
use crate::book::results::rotor::sharing::{Shares, sharing};
use crate::book::results::rotor::tolerance::{Base, Found};
use crate::syntax::Kind;
use crate::units::{Length, Unbalance};
use crate::vocabulary::plane::{CorrectBy, Method};
use crate::vocabulary::{plane, rotor};
use removal::Geometry;

/// What is computed of one plane.
#[derive(Clone, Debug)]
pub struct PlaneResults<'b> {
    pub name: &'b str,
    pub block: EffectiveBlock<'b>,
    pub at: Val<Length>,
    pub tolerance: Val<Unbalance>,
    /// As the sheet states it for this plane.
    pub stated_tolerance: Option<Val<Unbalance>>,
    /// As the rotor's tolerance is shared; `None` when only tolerances of planes are stated.
    pub shared_tolerance: Option<Val<Unbalance>>,
    /// To the centre of mass of the correction.
    pub radius: Val<Length>,
    pub method: Option<Method>,
    pub geometry: Geometry,
    /// The most that can be corrected; `None` when the plane does not say how it is corrected.
    pub greatest: Option<Val<Unbalance>>,
    /// Whether it is one of the planes that the rotor's tolerance is shared by.
    pub shares_tolerance: bool,
}

impl PlaneResults<'_> {
    /// What the plane does.
    pub fn correct(&self) -> Option<CorrectBy> {
        self.block.choice(plane::CORRECT)
    }
}

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
        let radius = capacity::correction_radius(recorder, block, id, method, &geometry);
        let greatest = capacity::greatest(recorder, (block, id), sense, method, &geometry, &radius);
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
            greatest,
            shares_tolerance: *shares_tolerance,
        });
    }
    results
}
