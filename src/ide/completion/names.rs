//! Names that a place may take: items of the whole book, and what belongs to the rotor, the machine, the record.

use super::context::Context;
use super::{Completion, CompletionKind};
use crate::book::{BUILT_IN, Book, ItemId};
use crate::check;
use crate::ide::names::Owners;
use crate::ide::symbols::is_withdrawn;
use crate::sheet::{Block, FieldValue};
use crate::syntax::Kind;
use crate::text::Span;
use crate::vocabulary::{AnyFact, NameOf, control, extra_mass, instrument, machine, plane, proof, run, scale};

/// A name with a few words on what it names.
pub(super) struct Known {
    pub name: String,
    pub detail: String,
    /// Markdown.
    pub about: Option<String>,
    /// It is no longer in use.
    pub is_obsolete: bool,
}

/// The names of one sort that hold at the cursor.
pub(super) fn known(context: &Context<'_, '_>, of: NameOf) -> Vec<Known> {
    let book = context.book;
    let owners = context.item().map(|item| Owners::new(book, item));
    match of {
        NameOf::Item(kind) => items(context, kind),
        NameOf::Plane => {
            inner(book, owners.and_then(|owners| owners.rotor), Kind::Plane, &[plane::AT.any(), plane::RADIUS.any()])
        }
        NameOf::PlaneOfPart => inner(book, part(context), Kind::Plane, &[plane::AT.any(), plane::RADIUS.any()]),
        NameOf::Control => inner(
            book,
            owners.and_then(|owners| owners.machine),
            Kind::Control,
            &[control::RANGE.any(), control::POSITIONS.any(), control::NOTE.any()],
        ),
        NameOf::Channel => channels(book, owners.and_then(|owners| owners.machine)),
        NameOf::Instrument => {
            inner(book, book.shop_id(), Kind::Instrument, &[instrument::MEASURES.any(), instrument::RESOLUTION.any()])
        }
        NameOf::ExtraMass => {
            inner(book, owners.and_then(|owners| owners.rotor), Kind::ExtraMass, &[extra_mass::MASS.any()])
        }
        NameOf::Run => inner(book, context.item(), Kind::Run, &[run::SPEED.any()]),
        NameOf::Proof => inner(book, owners.and_then(|owners| owners.setup), Kind::Proof, &[proof::DATE.any()]),
        NameOf::Code => codes(),
        NameOf::Listed(choices) => choices.explained().map(|(name, meaning)| plain(name, meaning)).collect(),
        NameOf::Place => places(context, owners.and_then(|owners| owners.rotor)),
        NameOf::Own | NameOf::Position => Vec::new(),
    }
}

/// The rotor that the block is a part of an assembly by.
fn part(context: &Context<'_, '_>) -> Option<ItemId> {
    let name = context.blocks.as_ref()?.innermost().name.as_ref()?;
    context.book.find(Kind::Rotor, &name.text).ok()
}

/// The scales of the machine's readout.
pub(super) fn scales(context: &Context<'_, '_>) -> Vec<Known> {
    let owners = context.item().map(|item| Owners::new(context.book, item));
    let Some(machine) = owners.and_then(|owners| owners.machine) else { return Vec::new() };
    let readouts = context.book.item(machine).inner(Kind::Readout);
    readouts
        .flat_map(|readout| of_blocks(context.book, machine, readout, Kind::Scale, &[scale::ONE_MARK_IS.any()]))
        .collect()
}

fn plain(name: &str, detail: impl Into<String>) -> Known {
    Known { name: name.to_owned(), detail: detail.into(), about: None, is_obsolete: false }
}

/// The items of a kind, but not the one that is being written.
fn items(context: &Context<'_, '_>, kind: Kind) -> Vec<Known> {
    let book = context.book;
    let others = book.names_of(kind).filter(|(_, id)| context.item() != Some(*id));
    let known = |(name, id): (&str, ItemId)| match is_withdrawn(book.item(id)) {
        true => Known { is_obsolete: true, ..plain(name, format!("withdrawn {kind} in {}", book.file(id.file).path)) },
        false => plain(name, format!("{kind} in {}", book.file(id.file).path)),
    };
    let mut found: Vec<Known> = others.map(known).collect();
    if kind == Kind::Material {
        let own: Vec<String> = found.iter().map(|known| known.name.clone()).collect();
        let metals = BUILT_IN.iter().filter(|metal| !own.iter().any(|name| name == metal.name));
        found
            .extend(metals.map(|metal| plain(metal.name, format!("{} kg/m³ ± {} kg/m³", metal.density, metal.spread))));
    }
    found
}

fn inner(book: &Book, owner: Option<ItemId>, kind: Kind, facts: &[AnyFact]) -> Vec<Known> {
    owner.map_or_else(Vec::new, |owner| of_blocks(book, owner, book.item(owner), kind, facts))
}

fn of_blocks(book: &Book, owner: ItemId, block: &Block, kind: Kind, facts: &[AnyFact]) -> Vec<Known> {
    let text = &book.file(owner.file).text;
    let named = block.inner(kind).filter_map(|block| Some((block, block.name.as_ref()?)));
    let known = named.map(|(block, name)| {
        let facts = facts.iter().filter_map(|key| block.field(*key)).filter(|field| !field.value.is_hole());
        let facts: Vec<String> =
            facts.map(|field| format!("{} {}", field.key.name, field.value_span.of(text))).collect();
        plain(&name.text, facts.join(", "))
    });
    known.collect()
}

fn channels(book: &Book, machine: Option<ItemId>) -> Vec<Known> {
    let Some(machine) = machine else { return Vec::new() };
    match book.item(machine).field(machine::CHANNELS).map(|field| &field.value) {
        Some(FieldValue::Names(names)) => {
            let detail = format!("channel of {}", book.item(machine).name_text());
            names.iter().map(|name| plain(&name.text, detail.clone())).collect()
        }
        _ => Vec::new(),
    }
}

fn codes() -> Vec<Known> {
    let known = check::rules().iter().map(|rule| Known {
        name: rule.code.to_owned(),
        detail: format!("{}: {}", rule.severity.word(), rule.title),
        about: Some(rule.page.to_owned()),
        is_obsolete: false,
    });
    known.collect()
}

/// The numbers of the places of the plane that a correction is made in.
fn places(context: &Context<'_, '_>, rotor: Option<ItemId>) -> Vec<Known> {
    let name = context.blocks.as_ref().map(|blocks| blocks.innermost().name_text()).unwrap_or_default();
    let planes = rotor.map(|rotor| context.book.item(rotor).inner(Kind::Plane));
    let plane = planes.and_then(|mut planes| planes.find(|plane| plane.name_text() == name));
    plane.map_or_else(Vec::new, places_of)
}

/// The numbers of the places of the plane that the line is in.
pub(super) fn places_of_block(context: &Context<'_, '_>) -> Vec<Known> {
    context.blocks.as_ref().map_or_else(Vec::new, |blocks| places_of(blocks.innermost()))
}

fn places_of(plane: &Block) -> Vec<Known> {
    if plane.kind != Kind::Plane {
        return Vec::new();
    }
    match plane.field(plane::PLACES).map(|field| &field.value) {
        Some(FieldValue::Places { count, .. }) => {
            let detail = format!("of {count} places in plane {}", plane.name_text());
            (1..=*count).map(|n| plain(&n.to_string(), detail.clone())).collect()
        }
        _ => Vec::new(),
    }
}

/// A name as a completion; `written` is how it is in the text.
pub(super) fn completion(context: &Context<'_, '_>, known: Known, replace: Span, written: String) -> Completion {
    Completion {
        detail: Some(known.detail).filter(|detail| !detail.is_empty()),
        documentation: known.about,
        is_obsolete: known.is_obsolete,
        // Editors compare with all that is replaced, the quote that was typed included.
        filter: context.in_string().then(|| check::quoted(&known.name)),
        ..Completion::new(known.name, CompletionKind::Name, replace, written)
    }
}
