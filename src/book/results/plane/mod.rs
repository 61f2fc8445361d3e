//! A correction plane: its share of the tolerance, its radius, and what can be corrected in it.

pub(in crate::book::results) mod allowed;
pub(in crate::book::results) mod called_for;
pub(in crate::book::results) mod capacity;
pub(in crate::book::results) mod making;
pub(in crate::book::results) mod removal;

use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::files::ItemId;
use crate::book::results::angles::stated_choice;
use crate::book::results::entry::{Recorder, Sense};
use crate::book::results::not_computed::WhyNot;
use crate::book::results::rotor::sharing::{Shares, sharing};
use crate::book::results::rotor::tolerance::{Base, Found};
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::units::{Length, Unbalance};
use crate::vocabulary::plane;
use removal::Geometry;

/// How a plane is corrected.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Method {
    Drilling,
    Milling,
    Grinding,
    SlidingWeights,
    SlotFiller,
    /// Masses put on or taken off whole: clamps, screws, washers, weld, putty.
    Pieces,
}

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
    /// Why no depth takes off a known unbalance.
    pub(in crate::book::results) fn why_no_depth(&self) -> WhyNot {
        let geometry = &self.geometry;
        let cut = match self.method {
            Some(Method::Drilling) if geometry.axial => Some(&geometry.pitch_radius),
            Some(Method::Drilling | Method::Milling | Method::Grinding) => Some(&geometry.surface),
            Some(Method::SlidingWeights | Method::SlotFiller | Method::Pieces) => None,
            None => return WhyNot::LeftOut(plane::METHOD.any()),
        };
        let Some(radius) = cut else { return "the plane is not drilled, milled or ground".into() };
        let size = if self.method == Some(Method::Drilling) { &geometry.hole_diameter } else { &geometry.width };
        let lengths = [radius, size].into_iter();
        if let Some(missing) = lengths.filter_map(|length| length.known.as_ref().err()).next() {
            return WhyNot::Lacks(missing.clone());
        }
        let full_arc = (self.method == Some(Method::Grinding)).then_some(&geometry.full_arc);
        if let Some(Err(missing)) = full_arc.map(|arc| &arc.known) {
            return WhyNot::Lacks(missing.clone());
        }
        if let Err(missing) = &geometry.density.known {
            return WhyNot::Lacks(missing.clone());
        }
        "no depth that the plane allows takes off so much".into()
    }

    /// What the plane does: `remove`, `add` or `either`.
    pub fn correct(&self) -> Option<&'static str> {
        choice(&self.block, "correct")
    }
}

pub(in crate::book::results) fn choice(block: &EffectiveBlock<'_>, key: &str) -> Option<&'static str> {
    match block.field(key).map(|field| &field.field.value) {
        Some(FieldValue::Choice(choice)) => Some(choice),
        _ => None,
    }
}

fn method(block: &EffectiveBlock<'_>) -> Option<Method> {
    Some(match choice(block, "method")? {
        "drilling" => Method::Drilling,
        "milling" => Method::Milling,
        "grinding" => Method::Grinding,
        "sliding weights" => Method::SlidingWeights,
        "slot filler" => Method::SlotFiller,
        _ => Method::Pieces,
    })
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
    let sense = stated_choice(rotor, "angles count").ok().and_then(Sense::of);
    let mut results = Vec::with_capacity(planes.len());
    for (n, (block, at, shares_tolerance)) in planes.iter().enumerate() {
        let tolerance = shared.tolerance(recorder, n);
        let geometry = Geometry::of(recorder, block);
        let method = method(block);
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
