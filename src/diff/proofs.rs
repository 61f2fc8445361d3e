//! Proofs that are not what they were: of which something else is said while they read the same, or that read otherwise
//! under one date.

use super::renames::Renames;
use super::value::same;
use crate::book::{Book, ItemId};
use crate::check::{REPEATED, Rewriting};
use crate::sheet::{Block, Field, FieldValue};
use crate::syntax::Kind;
use crate::text::Span;
use crate::vocabulary::{KeySpec, proof, setup};

/// A proof whose date, or what it was made with, was changed while no reading in it was, or fewer than half of them; or
/// with other readings under its date.
pub(super) struct Rewritten<'b> {
    /// The heading of the proof as it is now.
    pub heading: Span,
    pub name: &'b str,
    pub how: Rewriting,
    /// The lines that are others, as they begin.
    pub heads: Vec<String>,
}

/// The rewritten proofs of a setup in two versions.
pub(super) fn rewritten<'b>(old: (&Book, ItemId), new: (&'b Book, ItemId), renames: &Renames) -> Vec<Rewritten<'b>> {
    let (before, after) = (old.0.item(old.1), new.0.item(new.1));
    if after.kind != Kind::Setup {
        return Vec::new();
    }
    let renames = &renames.within(old.0, old.1);
    let is_gone = |then: &Block| !after.inner(Kind::Proof).any(|now| now.name_text() == then.name_text());
    let compare = |now: &'b Block| {
        let rewritten = |how, heads| Rewritten { heading: now.heading, name: now.name_text(), how, heads };
        let all = before.inner(Kind::Proof).filter(|then| repeats(then, now, renames));
        // What is nearest to it: a proof that stands there as it was is nearest to itself.
        let nearest = all.max_by_key(|then| (reads_the_same(then, now, renames), repeated(then, now, renames).0));
        if let Some(then) = nearest {
            let heads = others(then, now, renames);
            if !heads.is_empty() {
                let (same, readings) = repeated(then, now, renames);
                return Some(rewritten(Rewriting::MadeOtherwise { same, readings }, heads));
            }
        }
        let is_named = |then: &&Block| then.name_text() == now.name_text();
        // Another name for it makes no other proof of a day.
        let itself = before.inner(Kind::Proof).find(is_named).or_else(|| {
            let is_new = !before.inner(Kind::Proof).any(|then| is_named(&then));
            before
                .inner(Kind::Proof)
                .find(|then| is_new && is_gone(then) && date(then).is_some() && is_of_one_day(then, now))
        })?;
        let heads = if is_of_one_day(itself, now) { read_otherwise(itself, now, renames) } else { Vec::new() };
        (!heads.is_empty()).then(|| rewritten(Rewriting::ReadOtherwise, heads))
    };
    after.inner(Kind::Proof).filter_map(compare).collect()
}

/// The proofs of a setup that are in it no more, under any name.
pub(super) fn gone<'b>(old: (&'b Book, ItemId), new: (&Book, ItemId), renames: &Renames) -> Vec<&'b str> {
    let (before, after) = (old.0.item(old.1), new.0.item(new.1));
    let stays = |then: &Block| {
        let is_it = |now: &Block| {
            now.name_text() == then.name_text()
                || reads_the_same(then, now, renames)
                || (date(then).is_some() && is_of_one_day(then, now))
        };
        after.inner(Kind::Proof).any(is_it)
    };
    before.inner(Kind::Proof).filter(|then| !stays(then)).map(Block::name_text).collect()
}

/// Facts of a proof that say who made it or remark on it.
pub(super) fn is_beside_the_point(key: Option<&KeySpec>) -> bool {
    key.is_some_and(|key| key.is(proof::BY) || key.is(setup::NOTE))
}

/// The readings of a proof: what is not said of it, and its masses with theirs.
fn readings(block: &Block) -> impl Iterator<Item = &Field> {
    block.fields.iter().filter(|field| !field.key.is(proof::DATE) && !is_beside_the_point(Some(field.key)))
}

/// Whether a proof was not read anew: its readings are those of another, all of them or most.
fn repeats(then: &Block, now: &Block, renames: &Renames) -> bool {
    let (same, readings) = repeated(then, now, renames);
    reads_the_same(then, now, renames) || (same >= REPEATED && 2 * same > readings)
}

/// How many readings of a proof, with those of its masses, are also in another, each under the same head; and how many
/// it has.
fn repeated(then: &Block, now: &Block, renames: &Renames) -> (usize, usize) {
    let read = |field: &&Field| matches!(field.value, FieldValue::Reading(_) | FieldValue::Readings(_));
    let own = now.fields.iter().filter(read);
    let same = own.clone().filter(|field| then.fields.iter().any(|other| is_same(other, field, renames))).count();
    let inner = now.blocks.iter().filter(|inner| inner.kind != Kind::ProvenWith);
    let all = inner.map(|mass| {
        let named = |other: &&Block| is_same_block(other, mass, renames);
        let other = then.inner(mass.kind).find(named);
        let has =
            |field: &&Field| other.is_some_and(|other| other.fields.iter().any(|one| is_same(one, field, renames)));
        let own = mass.fields.iter().filter(read);
        (own.clone().filter(has).count(), own.count())
    });
    all.fold((same, own.count()), |(same, count), (more, of)| (same + more, count + of))
}

/// Whether two proofs hold the same readings, and any.
pub(super) fn reads_the_same(then: &Block, now: &Block, renames: &Renames) -> bool {
    let masses = |block: &Block| block.blocks.iter().filter(|inner| inner.kind != Kind::ProvenWith).count();
    let has_any = readings(now).next().is_some() || masses(now) > 0;
    let same_masses = || {
        let inner = now.blocks.iter().filter(|inner| inner.kind != Kind::ProvenWith);
        inner.into_iter().all(|mass| {
            let is_it = |other: &&Block| is_same_block(other, mass, renames);
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

/// Whether a block of the old proof is one of the new proof.
fn is_same_block(one: &Block, other: &Block, renames: &Renames) -> bool {
    let names = [one.name_text(), renames.block_now(one.kind, one.name_text())];
    one.kind == other.kind && names.contains(&other.name_text())
}

/// Whether a fact of the old proof is one of the new proof.
fn is_same(one: &Field, other: &Field, renames: &Renames) -> bool {
    // A sheet may still say the name from before the renaming.
    let names = [one.name_text(), renames.head_now(Kind::Proof, one)];
    let same_head = std::ptr::eq(one.key, other.key) && names.contains(&other.name_text());
    same_head && same(&one.value, &other.value, one.key, renames)
}

fn date(block: &Block) -> Option<&Field> {
    block.fields.iter().find(|field| field.key.is(proof::DATE))
}

pub(super) fn is_of_one_day(then: &Block, now: &Block) -> bool {
    match (date(then), date(now)) {
        (Some(then), Some(now)) => then.value == now.value,
        (then, now) => then.is_none() && now.is_none(),
    }
}

/// What was said of the proof before, and is now said otherwise or no more.
fn others(then: &Block, now: &Block, renames: &Renames) -> Vec<String> {
    changed((made_with(then), made_with(now)), renames)
}

/// When it was made, and with what.
fn made_with(block: &Block) -> Vec<&Field> {
    let with = block.inner(Kind::ProvenWith).next().into_iter().flat_map(|with| &with.fields);
    date(block).into_iter().chain(with).collect()
}

/// What was read before, in the proof and with its masses, and now reads otherwise or is read no more.
fn read_otherwise(then: &Block, now: &Block, renames: &Renames) -> Vec<String> {
    let mut heads = changed((readings(then).collect(), readings(now).collect()), renames);
    for mass in then.blocks.iter().filter(|inner| inner.kind != Kind::ProvenWith) {
        let is_it = |other: &&Block| is_same_block(mass, other, renames);
        let other = now.inner(mass.kind).find(is_it).map(|other| readings(other).collect()).unwrap_or_default();
        let within = crate::book::heading(mass);
        let all = changed((readings(mass).collect(), other), renames);
        heads.extend(all.into_iter().map(|head| format!("{within} / {head}")));
    }
    heads
}

/// The facts of before that are others or gone. What is only said now, or was a hole, completes them.
fn changed((before, after): (Vec<&Field>, Vec<&Field>), renames: &Renames) -> Vec<String> {
    let stands = |field: &Field| after.iter().any(|other| is_same(field, other, renames));
    let counts = |field: &Field| field.value != FieldValue::Hole && !is_beside_the_point(Some(field.key));
    before.into_iter().filter(|field| counts(field) && !stands(field)).map(crate::book::head_of).collect()
}
