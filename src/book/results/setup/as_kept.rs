//! A setup and its rotor as one of its proofs says they were, or by what a record says it was run.

use crate::book::effective::{EffectiveBlock, EffectiveField};
use crate::book::origin::Step;
use crate::sheet::NameAt;
use crate::syntax::Kind;
use crate::vocabulary::{self, AnyFact, Fact, KeySpec, as_run, influence, plane, setup};

/// The fact of today that a fact is kept of, and the kind of block that it is in.
fn home(kept: AnyFact) -> Option<(Kind, &'static KeySpec)> {
    Kind::ALL.into_iter().find_map(|kind| {
        let spec = vocabulary::block(kind);
        let mut keys = spec.keys.iter().chain(spec.named_facts.as_ref().map(|named| &named.spec));
        Some((kind, keys.find(|key| key.proven_as == Some(kept))?))
    })
}

/// Lays what is kept of a machine's readout over the facts of today.
pub(super) fn lay_over_readout<'b>(machine: &mut EffectiveBlock<'b>, with: &EffectiveBlock<'b>) {
    let Some(readout) = inner(machine, Kind::Readout, None) else { return };
    for kept in &with.fields {
        if let Some((Kind::Readout, key)) = home(AnyFact::of_key(kept.field.key)) {
            lay(readout, EffectiveField { key, ..*kept }, false);
        }
    }
}

/// Lays what is kept over the facts of today.
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
            Kind::Tolerance => rotor.as_deref_mut().and_then(|rotor| inner(rotor, kind, None)),
            Kind::Settings => inner(setup, kind, None),
            // Of the machine, which is not known before it is laid over.
            Kind::Readout => None,
            _ => Some(calibration(setup, kind, kept, with)),
        };
        if let Some(into) = into {
            let named = key.head_name.is_some() || kind == Kind::Settings;
            // Places of that day have the numbers of that day, or none, and were free or taken that day.
            if key.is(plane::PLACES) {
                let is_numbered = is_kept(with, as_run::PLACES_NUMBERED_IN, of);
                let is_used = is_kept(with, as_run::PLACES_USED_IN, of);
                into.fields.retain(|field| {
                    (is_numbered || !field.key.is(plane::PLACES_NUMBERED))
                        && (is_used || !field.key.is(plane::PLACES_USED))
                });
            }
            lay(into, EffectiveField { key, ..*kept }, named);
        }
    }
}

fn is_kept<T>(with: &EffectiveBlock<'_>, fact: Fact<T>, of: Option<&NameAt>) -> bool {
    with.named(fact).any(|(name, _)| of.is_some_and(|of| of.text == name.text))
}

/// Whether what is kept names all facts and not the limits and influences alone: a calibration that it does not name was not
/// there.
pub(super) fn says_all(kept: &EffectiveBlock<'_>) -> bool {
    kept.field(as_run::BALANCING_SPEED).is_some()
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
