//! Proofs of which something else is said than before, and that read the same.

use super::renames::Renames;
use super::value::same;
use crate::book::{Book, ItemId};
use crate::sheet::{Block, Field};
use crate::syntax::Kind;
use crate::text::Span;
use crate::vocabulary::{KeySpec, proof, setup};

/// A proof whose date, or what it was made with, was changed while no reading in it was.
pub(super) struct Rewritten<'b> {
    /// The heading of the proof as it is now.
    pub heading: Span,
    pub name: &'b str,
    /// The lines that are others, as they begin.
    pub heads: Vec<String>,
}

/// The rewritten proofs of a setup in two versions.
pub(super) fn rewritten<'b>(old: (&Book, ItemId), new: (&'b Book, ItemId), renames: &Renames) -> Vec<Rewritten<'b>> {
    let (before, after) = (old.0.item(old.1), new.0.item(new.1));
    let renames = &renames.within(old.0, old.1);
    if after.kind != Kind::Setup {
        return Vec::new();
    }
    let compare = |now: &'b Block| {
        let then = before.inner(Kind::Proof).find(|then| reads_the_same(then, now, renames))?;
        let heads = others(then, now, renames);
        (!heads.is_empty()).then(|| Rewritten { heading: now.heading, name: now.name_text(), heads })
    };
    after.inner(Kind::Proof).filter_map(compare).collect()
}

/// Facts of a proof that say who made it or remark on it.
pub(super) fn is_beside_the_point(key: Option<&KeySpec>) -> bool {
    key.is_some_and(|key| key.is(proof::BY) || key.is(setup::NOTE))
}

/// The readings of a proof: what is not said of it, and its masses with theirs.
fn readings(block: &Block) -> impl Iterator<Item = &Field> {
    block.fields.iter().filter(|field| !field.key.is(proof::DATE) && !is_beside_the_point(Some(field.key)))
}

/// Whether two proofs hold the same readings, and any.
pub(super) fn reads_the_same(then: &Block, now: &Block, renames: &Renames) -> bool {
    let masses = |block: &Block| block.blocks.iter().filter(|inner| inner.kind != Kind::ProvenWith).count();
    let has_any = readings(now).next().is_some() || masses(now) > 0;
    let same_masses = || {
        let inner = now.blocks.iter().filter(|inner| inner.kind != Kind::ProvenWith);
        inner.into_iter().all(|mass| {
            let is_it = |other: &&Block| renames.block_now(other.kind, other.name_text()) == mass.name_text();
            let mut others = then.inner(mass.kind).filter(is_it);
            others.any(|other| same_fields(other, mass, renames))
        })
    };
    has_any && same_fields(then, now, renames) && masses(then) == masses(now) && same_masses()
}

fn same_fields(then: &Block, now: &Block, renames: &Renames) -> bool {
    let holds = |field: &Field| readings(then).any(|other| is_same(other, field, renames));
    readings(then).count() == readings(now).count() && readings(now).all(holds)
}

/// Whether a fact of the old proof is one of the new proof.
fn is_same(one: &Field, other: &Field, renames: &Renames) -> bool {
    let same_head = std::ptr::eq(one.key, other.key) && renames.head_now(Kind::Proof, one) == other.name_text();
    same_head && same(&one.value, &other.value, one.key, renames)
}

/// What was said of the proof before, and is now said otherwise or no more. What is only said now completes it.
fn others(then: &Block, now: &Block, renames: &Renames) -> Vec<String> {
    let date = |block: &'_ Block| block.fields.iter().find(|field| field.key.is(proof::DATE)).cloned();
    let with = |block: &Block| block.inner(Kind::ProvenWith).next().map(|with| with.fields.clone()).unwrap_or_default();
    let (before, after): (Vec<Field>, Vec<Field>) =
        (date(then).into_iter().chain(with(then)).collect(), date(now).into_iter().chain(with(now)).collect());
    let stands = |field: &&Field| after.iter().any(|other| is_same(field, other, renames));
    let changed = before.iter().filter(|field| !is_beside_the_point(Some(field.key)) && !stands(field));
    changed.map(crate::book::head_of).collect()
}
