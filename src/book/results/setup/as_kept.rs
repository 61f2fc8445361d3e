//! A setup and its rotor as one of its proofs says they were, or by what a record says it was run.

use crate::book::derive::Val;
use crate::book::effective::{EffectiveBlock, EffectiveField};
use crate::book::origin::Step;
use crate::book::readers::Facts;
use crate::book::results::rotor::base::ToleranceRule;
use crate::book::results::rotor::limits::{Acts, Limit, Standing, as_unbalance};
use crate::book::results::rotor::results::RotorResults;
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::units::Unbalance;
use crate::vocabulary::{self, AnyFact, Bearing, KeySpec, Of, influence, proven_with, setup};

/// The fact of today that a fact of `proven with` is kept of, and the kind of block that it is in.
fn home(kept: AnyFact) -> Option<(Kind, &'static KeySpec)> {
    Kind::ALL.into_iter().find_map(|kind| {
        let spec = vocabulary::block(kind);
        let mut keys = spec.keys.iter().chain(spec.named_facts.as_ref().map(|named| &named.spec));
        Some((kind, keys.find(|key| key.proven_as == Some(kept))?))
    })
}

/// Lays what was proven over the facts of today.
pub(super) fn lay_over<'b>(
    setup: &mut EffectiveBlock<'b>,
    mut rotor: Option<&mut EffectiveBlock<'b>>,
    with: &EffectiveBlock<'b>,
) {
    for kept in &with.fields {
        let Some((kind, key)) = home(AnyFact::of_key(kept.field.key)) else { continue };
        let of = kept.field.name.as_ref();
        let into = match kind {
            Kind::Setup => Some(&mut *setup),
            Kind::Rotor => rotor.as_deref_mut(),
            Kind::Plane => rotor.as_deref_mut().and_then(|rotor| inner(rotor, kind, of.map(|of| &*of.text))),
            Kind::Settings => inner(setup, kind, None),
            _ => Some(calibration(setup, kind, kept, with)),
        };
        if let Some(into) = into {
            let named = key.head_name.is_some() || kind == Kind::Settings;
            lay(into, EffectiveField { key, ..*kept }, named);
        }
    }
}

fn inner<'e, 'b>(
    block: &'e mut EffectiveBlock<'b>,
    kind: Kind,
    name: Option<&str>,
) -> Option<&'e mut EffectiveBlock<'b>> {
    block.blocks.iter_mut().find(|inner| inner.kind == kind && name.is_none_or(|name| inner.name_text() == name))
}

/// The calibration of the plane that a fact is of; one that the sheet has no more comes back.
fn calibration<'e, 'b>(
    setup: &'e mut EffectiveBlock<'b>,
    kind: Kind,
    kept: &EffectiveField<'b>,
    with: &EffectiveBlock<'b>,
) -> &'e mut EffectiveBlock<'b> {
    let name = kept.field.name.as_ref();
    let plane = name.map_or("", |name| &*name.text);
    let found = setup.blocks.iter().position(|block| block.kind == kind && block.name_text() == plane);
    let at = found.unwrap_or_else(|| {
        let path = setup.path.then(Step::named(kind, plane));
        let (fields, blocks) = Default::default();
        setup.blocks.push(EffectiveBlock { kind, name, path, own: None, fields, blocks, ..*with });
        setup.blocks.len() - 1
    });
    &mut setup.blocks[at]
}

/// Puts a fact in place of the one of the same key or group, and for a name of the one of that name.
fn lay<'b>(into: &mut EffectiveBlock<'b>, laid: EffectiveField<'b>, named: bool) {
    let name = |field: &EffectiveField<'_>| field.field.name.as_ref().map(|name| name.text.clone());
    let of_same = |other: &EffectiveField<'b>| {
        let same_key = std::ptr::eq(other.key, laid.key) && (!named || name(other) == name(&laid));
        same_key || laid.key.group.is_some() && laid.key.group == other.key.group
    };
    into.fields.retain(|other| !of_same(other));
    into.fields.push(laid);
}

/// Takes the speed at which influences were found for the speed of the setup.
pub(super) fn lay_speed<'b>(setup: &mut EffectiveBlock<'b>, kept: &EffectiveBlock<'b>) {
    let speed = kept.inner(Kind::Influence).find_map(|block| block.field(influence::SPEED));
    let key = vocabulary::block(Kind::Setup).key(setup::BALANCING_SPEED.words());
    if let (Some(speed), Some(key)) = (speed, key) {
        lay(setup, EffectiveField { key, ..speed }, false);
    }
}

impl<'b> RotorResults<'b> {
    /// With the limits that were kept in place of those of today, where any were. A limit that came later judges nothing.
    pub(super) fn with_limits(mut self, facts: &Facts<'b>, kept: &EffectiveBlock<'b>) -> Self {
        let of_kept = |of: &Of| kept_limit(facts, kept, of).filter(|amount| !amount.is_left_out());
        if !super::vibration::keeps_limits(kept) {
            return self;
        }
        let bearings = Bearing::BOTH.map(|bearing| of_kept(&Of::Bearing(bearing)));
        let [sum, couple] = [Of::Static, Of::Couple].map(|of| of_kept(&of).map(|amount| (of, amount)));
        self.limits.retain_mut(|limit| match of_kept(&limit.of) {
            Some(amount) => {
                limit.amount = amount;
                true
            }
            None => false,
        });
        let about = self.mass_centre.clone();
        for ((of, amount), acts) in
            [sum.map(|sum| (sum, Acts::Sum)), couple.map(|couple| (couple, Acts::About(Box::new(about))))]
                .into_iter()
                .flatten()
        {
            if self.limits.iter().all(|limit| limit.of != of) {
                self.limits.push(Limit { of, amount, acts, standing: Standing::Stated });
            }
        }
        for plane in &mut self.planes {
            if let Some(amount) = of_kept(&Of::Plane(plane.name.into())) {
                plane.tolerance = amount;
            }
        }
        let at_bearings = bearings.iter().all(Option::is_some);
        if let [Some(a), Some(b)] = bearings {
            self.at_bearings = [a, b];
        }
        if !at_bearings {
            self.governing = Some(ToleranceRule::Planes);
        } else if self.governing == Some(ToleranceRule::Planes) {
            self.governing = None;
        }
        self
    }
}

fn kept_limit<'b>(facts: &Facts<'b>, kept: &EffectiveBlock<'b>, of: &Of) -> Option<Val<Unbalance>> {
    Some(match of {
        Of::Bearing(Bearing::A) => facts.quantity(kept, proven_with::LIMIT_AT_BEARING_A),
        Of::Bearing(Bearing::B) => facts.quantity(kept, proven_with::LIMIT_AT_BEARING_B),
        Of::Static => facts.quantity(kept, proven_with::LIMIT_STATIC),
        Of::Couple => as_unbalance(&facts.quantity(kept, proven_with::LIMIT_COUPLE)),
        Of::Plane(plane) => {
            let (_, field) = kept.named(proven_with::LIMIT_IN).find(|(name, _)| *name.text == **plane)?;
            let FieldValue::Quantity(stated) = &field.field.value else { return None };
            let origin = facts.origin(kept, proven_with::LIMIT_IN, Some(field));
            facts.stated(kept, field, stated, origin)
        }
        Of::Channel(_) | Of::ChannelAndPlane { .. } | Of::Control(_) => return None,
    })
}
