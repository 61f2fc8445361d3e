//! Things that share a name because a setup takes over lines that were written for another rotor or machine.

use super::{Named, Owners, descriptions, mentions};
use crate::book::{Book, EffectiveBlock, ItemId, effective};
use crate::syntax::Kind;
use crate::text::Span;
use crate::vocabulary::setup;

/// A thing with all that bear its name for that reason: `channel left: hub` names the plane of both rotors.
pub(in crate::ide) fn with_linked(book: &Book, of: &Named) -> Vec<Named> {
    let mut all = vec![of.clone()];
    if of.owner.is_none() {
        return all;
    }
    let links: Vec<(Named, Named)> = book.items().flat_map(|item| links(book, item, &of.name)).collect();
    let mut done = 0;
    while let Some(next) = all.get(done).cloned() {
        done += 1;
        for (a, b) in &links {
            let other = if *a == next { b } else { a };
            if (*a == next || *b == next) && !all.contains(other) && !descriptions(book, other).is_empty() {
                all.push(other.clone());
            }
        }
    }
    all
}

/// The names that the lines taken over by a setup have where they are written, and what they name for this setup.
fn links(book: &Book, item: ItemId, name: &str) -> Vec<(Named, Named)> {
    let block = book.item(item);
    if block.kind != Kind::Setup || block.field(setup::LIKE).is_none() {
        return Vec::new();
    }
    let mut taken = Vec::new();
    taken_over(&effective(book, item).0, item, &mut taken);
    let own = Owners::new(book, item);
    let mut links = Vec::new();
    for (from, span) in taken {
        let there = Owners::new(book, from);
        let named = mentions(book, from).into_iter().filter(|mention| {
            *mention.of.name == *name && span.start <= mention.span.start && mention.span.end <= span.end
        });
        for mention in named {
            let here = |owner: Option<ItemId>| match owner {
                owner if owner == there.rotor => own.rotor,
                owner if owner == there.machine => own.machine,
                _ => None,
            };
            if let Some(owner) = here(mention.of.owner).filter(|owner| Some(*owner) != mention.of.owner) {
                links.push((mention.of.clone(), Named { owner: Some(owner), ..mention.of }));
            }
        }
    }
    links
}

/// The places of the facts, and of the headings, that a block has from another item.
fn taken_over(block: &EffectiveBlock<'_>, item: ItemId, taken: &mut Vec<(ItemId, Span)>) {
    let facts = block.fields.iter().filter(|field| field.item != item);
    taken.extend(facts.map(|field| (field.item, field.field.head.to(field.field.value_span))));
    for inner in &block.blocks {
        if inner.own.is_none() {
            taken.push((inner.item, inner.written.heading));
        }
        taken_over(inner, item, taken);
    }
}
