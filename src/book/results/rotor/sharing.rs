//! A correction plane's share of the rotor's tolerance.

use super::base::{Base, Found, ToleranceRule};
use crate::book::derive::Val;
use crate::book::effective::{EffectiveBlock, EffectiveField};
use crate::book::files::ItemId;
use crate::book::formulas as by;
use crate::book::origin::Reason;
use crate::book::results::values::entry::{Recorder, Spot, origin};
use crate::mechanics::planes::{self, Levers, PlaneRule};
use crate::mechanics::{DomainError, Input, Requirement};
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::units::{Length, Ratio, Unbalance};
use crate::vocabulary::tolerance::PlanesBalanced;
use crate::vocabulary::{Choice, Fact, plane, result, rotor, tolerance};

/// What a plane may keep: as the sheet states it, as the rotor's tolerance leaves it, and what holds of the two.
#[derive(Clone, Debug)]
pub(in crate::book::results) struct PlaneTolerance {
    pub stated: Option<Val<Unbalance>>,
    pub shared: Option<Val<Unbalance>>,
    pub holds: Val<Unbalance>,
}

/// Which planes the tolerance is shared by: all, or those that the assembly may be corrected in.
pub(in crate::book::results) fn sharing(rotor: &EffectiveBlock<'_>, blocks: &[EffectiveBlock<'_>]) -> Vec<bool> {
    let only: Option<Vec<&str>> = match rotor.field(rotor::CORRECT_ONLY_IN).map(|field| &field.field.value) {
        Some(FieldValue::Names(names)) => Some(names.iter().map(|name| &*name.text).collect()),
        _ => None,
    };
    blocks.iter().map(|block| only.as_ref().is_none_or(|only| only.contains(&block.name_text()))).collect()
}

/// A plane's block, its axial place, and whether it shares the rotor's tolerance.
pub(in crate::book::results) type Placed<'b> = (EffectiveBlock<'b>, Val<Length>, bool);

/// The planes that share, with what the sheet states of each.
pub(in crate::book::results) struct Shares<'a, 'b, 'v> {
    tolerance: Option<&'a EffectiveBlock<'b>>,
    id: ItemId,
    base: &'a Base<'v>,
    found: &'a Found,
    planes: &'a [Placed<'b>],
    /// How many planes share.
    count: usize,
    stated: Vec<Option<Val<Unbalance>>>,
    /// What is stated holds as it is given.
    as_given: bool,
}

impl<'a, 'b, 'v> Shares<'a, 'b, 'v> {
    pub fn new(
        recorder: &Recorder<'b>,
        (rotor, id): (&'a EffectiveBlock<'b>, ItemId),
        base: &'a Base<'v>,
        found: &'a Found,
        planes: &'a [Placed<'b>],
    ) -> Self {
        let tolerance = rotor.inner(Kind::Tolerance).next();
        let stated_of = |block| stated(recorder, tolerance?, block);
        let stated: Vec<_> = planes.iter().map(|(block, ..)| stated_of(block)).collect();
        let as_given = stated_hold(planes, &stated, base, found);
        let count = planes.iter().filter(|(_, _, shares)| *shares).count();
        Self { tolerance, id, base, found, planes, count, stated, as_given }
    }

    /// The tolerance of the n-th plane, recorded.
    pub fn tolerance(&self, recorder: &mut Recorder<'b>, n: usize) -> PlaneTolerance {
        let Self { tolerance, id, base, found, planes, count, .. } = *self;
        let (block, at, _) = &planes[n];
        let partner = (0..planes.len()).find(|other| *other != n && planes[*other].2).map(|other| &planes[other].1);
        let plane = Sharing { tolerance, block, id, base, found, count, at, partner };
        plane.work_out(recorder, self.stated[n].clone(), self.as_given)
    }
}

fn stated<'b>(
    recorder: &Recorder<'b>,
    tolerance: &EffectiveBlock<'b>,
    block: &EffectiveBlock<'b>,
) -> Option<Val<Unbalance>> {
    let (_, field): (_, EffectiveField<'b>) =
        tolerance.named(tolerance::PLANE).find(|(name, _)| *name.text == *block.name_text())?;
    let FieldValue::Quantity(stated) = &field.field.value else { return None };
    let origin = recorder.facts.origin(tolerance, tolerance::PLANE, Some(field));
    Some(recorder.facts.stated(tolerance, field, stated, origin))
}

/// Whether two planes are both given a tolerance that keeps both bearing limits at the worst phase: then it holds as
/// given, however unevenly it is shared.
fn stated_hold(planes: &[Placed<'_>], stated: &[Option<Val<Unbalance>>], base: &Base<'_>, found: &Found) -> bool {
    let amounts = |n: usize| Some((planes[n].1.get()?, stated[n].as_ref()?.get()?));
    let known = || {
        let shared: Vec<usize> = (0..planes.len()).filter(|n| planes[*n].2).collect();
        let [first, second] = shared[..] else { return None };
        let ((z1, u1), (z2, u2)) = (amounts(first)?, amounts(second)?);
        let levers = Levers::new([base.bearings[0].get()?, base.bearings[1].get()?], [z1, z2]).ok()?;
        let worst = levers.worst_at_bearings([u1, u2]);
        let limits = [found.at_bearings[0].get()?, found.at_bearings[1].get()?];
        Some((0..2).all(|n| worst[n] <= limits[n] * (1.0 + 1e-9)))
    };
    known().unwrap_or(false)
}

/// One plane's share of the tolerance.
struct Sharing<'a, 'b, 'v> {
    tolerance: Option<&'a EffectiveBlock<'b>>,
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
    fn work_out(&self, recorder: &mut Recorder<'b>, stated: Option<Val<Unbalance>>, as_given: bool) -> PlaneTolerance {
        let field = [plane::RADIUS, plane::DIAMETER, plane::AT].into_iter().find_map(|fact| self.block.field(fact));
        let spot = Spot::beside(self.block, self.id, field);
        let spec = &result::PLANE_TOLERANCE;
        let only_planes_are_stated = matches!(self.found.rules[..], [(ToleranceRule::Planes, _)]);
        let shared = (!only_planes_are_stated || stated.is_none()).then(|| self.shared(recorder, &spot));
        let value = match (&stated, &shared) {
            (Some(stated), Some(shared)) if !as_given && shared.is_known() && shared.get() < stated.get() => {
                shared.clone()
            }
            (Some(stated), _) => {
                let unit = stated.unit;
                recorder.on_the_way(&spot, spec, unit, &by::PLANE_AS_GIVEN, (stated,), |(u,)| Ok(u))
            }
            (None, Some(shared)) => shared.clone(),
            (None, None) => {
                let holds = recorder.impossible(&spot, spec, "the rotor has no tolerance");
                return PlaneTolerance { stated, shared, holds };
            }
        };
        recorder.keep(&spot, spec, &value);
        let holds = Val { origin: origin(&spot, spec), ..value };
        PlaneTolerance { stated, shared, holds }
    }

    fn tolerance_choice<C: Choice>(&self, fact: Fact<C>) -> Option<C> {
        self.tolerance.and_then(|block| block.choice(fact))
    }

    fn shared(&self, recorder: &Recorder<'b>, spot: &Spot) -> Val<Unbalance> {
        let spec = &result::PLANE_TOLERANCE;
        let unit = recorder.facts.shop.unbalance_unit;
        let permissible = &self.found.permissible;
        if self.tolerance_choice(tolerance::PLANES) == Some(PlanesBalanced::One) || self.count == 1 {
            return recorder.on_the_way(spot, spec, unit, &by::WHOLE_IN_ONE_PLANE, (permissible,), |(total,)| {
                planes::single_plane_limit(total)
            });
        }
        let Some(partner) = self.partner.filter(|_| self.count == 2) else {
            let why = "more than two planes share the tolerance; give each its own, or name two in `correct only in`";
            return Val::missing(origin(spot, spec), Reason::Impossible(why.into()), unit);
        };
        if self.base.bearings[0].is_left_out() {
            return recorder
                .on_the_way(spot, spec, unit, &by::HALF_WITHOUT_BEARINGS, (permissible,), |(total,)| Ok(total * 0.5));
        }
        self.by_levers(recorder, spot, partner)
    }

    /// By the levers of the planes at the bearings: by two equations where these give an answer, else in equal shares.
    fn by_levers(&self, recorder: &Recorder<'b>, spot: &Spot, partner: &Val<Length>) -> Val<Unbalance> {
        let spec = &result::PLANE_TOLERANCE;
        let unit = recorder.facts.shop.unbalance_unit;
        let [at_a, at_b] = &self.found.at_bearings;
        let [z_a, z_b] = self.base.bearings;
        let inputs = (at_a, at_b, z_a, z_b, self.at, partner);
        let formula = match self.rule(partner) {
            PlaneRule::TwoEquations => &by::PLANE_BY_TWO_EQUATIONS,
            PlaneRule::GivenShare => &by::PLANE_SHARE_EQUAL,
        };
        let (rule, total) = (self.rule(partner), self.found.permissible.get());
        recorder.on_the_way(spot, spec, unit, formula, inputs, |(u_a, u_b, z_a, z_b, own, other)| {
            let levers = Levers::new([z_a, z_b], [own, other])?;
            match (rule, total) {
                (PlaneRule::TwoEquations, Some(total)) => planes::by_two_equations(&levers, [u_a, u_b], total)?
                    .ok_or(DomainError { what: Input::ToleranceAtBearing, must: Requirement::BeWithinRange }),
                _ => planes::by_share(&levers, [u_a, u_b], Ratio::new(0.5)),
            }
            .map(|limits| limits.planes[0])
        })
    }

    /// Which rule gives the limits here; decided once, so that a result and its formula cannot part ways.
    fn rule(&self, partner: &Val<Length>) -> PlaneRule {
        let by_two_equations = || {
            let bearings = [self.base.bearings[0].get()?, self.base.bearings[1].get()?];
            let levers = Levers::new(bearings, [self.at.get()?, partner.get()?]).ok()?;
            let limits = [self.found.at_bearings[0].get()?, self.found.at_bearings[1].get()?];
            planes::by_two_equations(&levers, limits, self.found.permissible.get()?).ok()?
        };
        match by_two_equations() {
            Some(limits) => limits.rule,
            None => PlaneRule::GivenShare,
        }
    }
}
