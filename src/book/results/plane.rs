//! A correction plane: its share of the tolerance, its radius, and what can be corrected in it.

use super::capacity;
use super::entry::{Recorder, Spot};
use super::removal::Geometry;
use super::tolerance::{Base, Found};
use crate::book::catalogue as result;
use crate::book::derive::Val;
use crate::book::effective::{EffectiveBlock, EffectiveField};
use crate::book::files::ItemId;
use crate::book::formulas as by;
use crate::mechanics::planes::{self, Levers};
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::units::{Length, Ratio, Unbalance};

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
    /// What the plane does: `remove`, `add` or `either`.
    pub fn correct(&self) -> Option<&'static str> {
        choice(&self.block, "correct")
    }
}

pub(super) fn choice(block: &EffectiveBlock<'_>, key: &str) -> Option<&'static str> {
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

pub(super) fn of<'b>(
    recorder: &mut Recorder<'b>,
    rotor: &EffectiveBlock<'b>,
    id: ItemId,
    base: &Base<'_>,
    found: &Found,
) -> Vec<PlaneResults<'b>> {
    let blocks: Vec<EffectiveBlock<'b>> = rotor.inner(Kind::Plane).cloned().collect();
    let shares = sharing(rotor, &blocks);
    let at: Vec<Val<Length>> = blocks.iter().map(|block| recorder.facts.quantity(block, "at")).collect();
    let mut results = Vec::with_capacity(blocks.len());
    for (n, block) in blocks.iter().enumerate() {
        let partner = (0..blocks.len()).find(|other| *other != n && shares[*other]);
        let count = shares.iter().filter(|share| **share).count();
        let tolerance = Sharing { rotor, block, id, base, found, count, at: &at[n], partner: partner.map(|m| &at[m]) };
        let tolerance = tolerance.work_out(recorder);
        let geometry = Geometry::of(recorder, block);
        let method = method(block);
        let radius = capacity::correction_radius(recorder, block, id, method, &geometry);
        let greatest = capacity::greatest(recorder, block, id, method, &geometry, &radius);
        results.push(PlaneResults {
            name: block.name_text(),
            block: block.clone(),
            at: at[n].clone(),
            tolerance,
            radius,
            method,
            geometry,
            greatest,
            shares_tolerance: shares[n],
        });
    }
    results
}

/// Which planes the tolerance is shared by: all, or those that the assembly may be corrected in.
fn sharing(rotor: &EffectiveBlock<'_>, blocks: &[EffectiveBlock<'_>]) -> Vec<bool> {
    let only: Option<Vec<&str>> = match rotor.field("correct only in").map(|field| &field.field.value) {
        Some(FieldValue::Names(names)) => Some(names.iter().map(|name| &*name.text).collect()),
        _ => None,
    };
    blocks.iter().map(|block| only.as_ref().is_none_or(|only| only.contains(&block.name_text()))).collect()
}

/// One plane's share of the tolerance.
struct Sharing<'a, 'b, 'v> {
    rotor: &'a EffectiveBlock<'b>,
    block: &'a EffectiveBlock<'b>,
    id: ItemId,
    base: &'a Base<'v>,
    found: &'a Found,
    /// How many planes share.
    count: usize,
    at: &'a Val<Length>,
    /// The axial place of the other plane that shares.
    partner: Option<&'a Val<Length>>,
}

impl<'b> Sharing<'_, 'b, '_> {
    fn work_out(&self, recorder: &mut Recorder<'b>) -> Val<Unbalance> {
        let field = ["radius", "diameter", "at"].into_iter().find_map(|key| self.block.field(key));
        let spot = Spot::beside(self.block, self.id, field);
        let stated = self.stated(recorder);
        let only_planes_are_stated = matches!(self.found.rules[..], [(super::tolerance::ToleranceRule::Planes, _)]);
        let shared = (!only_planes_are_stated || stated.is_none()).then(|| self.shared(recorder, &spot));
        let value = match (stated, shared) {
            (Some(stated), Some(shared)) if shared.get() < stated.get() && shared.is_known() => shared,
            (Some(stated), _) => {
                let unit = stated.unit;
                recorder
                    .on_the_way(&spot, &result::PLANE_TOLERANCE, unit, &by::PLANE_AS_GIVEN, (&stated,), |(u,)| Ok(u))
            }
            (None, Some(shared)) => shared,
            (None, None) => return recorder.impossible(&spot, &result::PLANE_TOLERANCE, "the rotor has no tolerance"),
        };
        recorder.keep(&spot, &result::PLANE_TOLERANCE, &value);
        Val { origin: super::entry::origin(&spot, &result::PLANE_TOLERANCE), ..value }
    }

    fn stated(&self, recorder: &Recorder<'b>) -> Option<Val<Unbalance>> {
        let tolerance = self.rotor.inner(Kind::Tolerance).next()?;
        let (_, field): (_, EffectiveField<'b>) =
            tolerance.named("plane").find(|(name, _)| *name.text == *self.block.name_text())?;
        let FieldValue::Quantity(stated) = &field.field.value else { return None };
        let origin = recorder.facts.origin(tolerance, "plane", Some(field));
        Some(recorder.facts.stated(tolerance, field, stated, origin))
    }

    fn shared(&self, recorder: &Recorder<'b>, spot: &Spot) -> Val<Unbalance> {
        let spec = &result::PLANE_TOLERANCE;
        let unit = recorder.facts.shop.unbalance_unit;
        let permissible = &self.found.permissible;
        let one = self.rotor.inner(Kind::Tolerance).next().and_then(|block| choice(block, "planes")) == Some("one");
        if one || self.count == 1 {
            return recorder.on_the_way(spot, spec, unit, &by::WHOLE_IN_ONE_PLANE, (permissible,), |(total,)| {
                planes::single_plane_limit(total)
            });
        }
        let Some(partner) = self.partner.filter(|_| self.count == 2) else {
            let why = "more than two planes share the tolerance; give each its own, or name two in `correct only in`";
            let origin = super::entry::origin(spot, spec);
            return Val::missing(origin, crate::book::origin::Reason::Impossible(why.into()), unit);
        };
        if self.base.bearings[0].is_left_out() {
            return recorder
                .on_the_way(spot, spec, unit, &by::HALF_WITHOUT_BEARINGS, (permissible,), |(total,)| Ok(total * 0.5));
        }
        self.by_levers(recorder, spot, partner)
    }

    fn by_levers(&self, recorder: &Recorder<'b>, spot: &Spot, partner: &Val<Length>) -> Val<Unbalance> {
        let spec = &result::PLANE_TOLERANCE;
        let unit = recorder.facts.shop.unbalance_unit;
        let split = self.rotor.inner(Kind::Tolerance).next().and_then(|block| choice(block, "split between planes"));
        let [at_a, at_b] = &self.found.at_bearings;
        let [z_a, z_b] = self.base.bearings;
        let centre = self.base.mass_centre;
        let total = self.found.permissible.get();
        let limit = move |u_a, u_b, z_a, z_b, own: Length, other: Length, share: Option<Ratio>| {
            let levers = Levers::new([z_a, z_b], [own, other])?;
            let limits = match (share, total) {
                (None, Some(total)) => planes::limits(&levers, [u_a, u_b], total, Ratio::new(0.5))?,
                (share, _) => planes::by_share(&levers, [u_a, u_b], share.unwrap_or(Ratio::new(0.5)))?,
            };
            Ok(limits.planes[0])
        };
        if split == Some("as mass") {
            let inputs = (at_a, at_b, z_a, z_b, self.at, partner, centre);
            return recorder.on_the_way(
                spot,
                spec,
                unit,
                &by::PLANE_SHARE,
                inputs,
                |(u_a, u_b, z_a, z_b, own, other, z)| {
                    let share = planes::share_as_mass([own, other], z)?;
                    limit(u_a, u_b, z_a, z_b, own, other, Some(share))
                },
            );
        }
        let share = (split == Some("equal")).then(|| Ratio::new(0.5));
        let inputs = (at_a, at_b, z_a, z_b, self.at, partner);
        recorder.on_the_way(
            spot,
            spec,
            unit,
            &by::PLANE_SHARE_WITHOUT_CENTRE,
            inputs,
            |(u_a, u_b, z_a, z_b, own, other)| limit(u_a, u_b, z_a, z_b, own, other, share),
        )
    }
}
