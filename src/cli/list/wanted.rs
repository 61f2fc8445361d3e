//! Facts and results of items as columns of the list, and what an item must hold to be listed.

use super::due;
use crate::book::{self, Computed, Computing, Day, EffectiveBlock, ItemId, Outcome};
use crate::cli::Failure;
use crate::sheet::{FieldValue, nearest};
use crate::syntax::Kind;
use crate::vocabulary::{self, ValueType};

/// A fact or result by the words of a sheet: `status`, `tolerance / grade`, `calibrate hub / reading`.
pub(super) fn text(computing: &Computing<'_>, id: ItemId, wanted: &str) -> Option<String> {
    let computed = computing.item(id);
    let parts: Vec<&str> = wanted.split(" / ").map(str::trim).collect();
    let (name, blocks) = parts.split_last()?;
    match *name {
        NAME if blocks.is_empty() => return Some(computing.book().item(id).name_text().to_owned()),
        VOID if blocks.is_empty() => return void(&computed),
        OVERDUE if blocks.is_empty() => return due::overdue(computing, id, due::today()),
        _ => {}
    }
    if let Some(fact) = block(computed.effective(), blocks).and_then(|block| fact(computing, block, name)) {
        return Some(fact);
    }
    result(computing, &computed, blocks, name).or_else(|| of_what_it_names(computing, &computed, &parts))
}

/// What an item is called, as a column.
const NAME: &str = "name";

/// Why the calibration of a setup does not hold.
pub(super) const VOID: &str = "void";

/// What of an item is past its interval.
pub(super) const OVERDUE: &str = "overdue";

fn void(computed: &Computed<'_>) -> Option<String> {
    let Computed::Setup(setup) = computed else { return None };
    let causes: Vec<String> = setup.void_causes.iter().map(|cause| cause.what.to_string()).collect();
    (!causes.is_empty()).then(|| causes.join("; "))
}

/// `machine / serviced`: a fact or result of the item that a fact names.
fn of_what_it_names(computing: &Computing<'_>, computed: &Computed<'_>, parts: &[&str]) -> Option<String> {
    let (first, rest) = parts.split_first().filter(|(_, rest)| !rest.is_empty())?;
    let field = computed.effective().fields.iter().find(|field| book::head_of(field.field) == *first)?;
    let (ValueType::Reference(kind), FieldValue::Name(name)) = (field.field.key.value, &field.field.value) else {
        return None;
    };
    let named = computing.book().find(kind, &name.text).ok()?;
    text(computing, named, &rest.join(" / "))
}

fn block<'e, 'b>(from: &'e EffectiveBlock<'b>, path: &[&str]) -> Option<&'e EffectiveBlock<'b>> {
    path.iter()
        .try_fold(from, |block, heading| block.blocks.iter().find(|inner| book::heading(inner.written) == *heading))
}

fn fact(computing: &Computing<'_>, block: &EffectiveBlock<'_>, head: &str) -> Option<String> {
    let mut fields = block.fields.iter().filter(|field| book::head_of(field.field) == head);
    let Some(first) = fields.next() else {
        return block.written.spec().key(head)?.default.map(str::to_owned);
    };
    // Of several days the latest counts.
    let field = fields.fold(first, |latest, field| match (Day::of(&latest.field.value), Day::of(&field.field.value)) {
        (Some(then), Some(now)) if now > then => field,
        _ => latest,
    });
    let written = field.field.value_span.of(&computing.book().file(field.item.file).text);
    let quoted = written.strip_prefix('"').and_then(|text| text.strip_suffix('"'));
    Some(quoted.map_or_else(|| written.to_owned(), |text| text.replace("\"\"", "\"")))
}

fn result(computing: &Computing<'_>, computed: &Computed<'_>, blocks: &[&str], name: &str) -> Option<String> {
    let entry = computed
        .entries()
        .iter()
        .find(|entry| entry.path.headings().eq(blocks.iter().copied()) && entry.name() == name)?;
    // In a list a hole is an empty cell.
    (!matches!(entry.outcome, Outcome::Missing(_))).then(|| book::text_of(computing.book(), entry))
}

/// `Err` when no item can have such a fact or result, whatever stands in the books.
pub(in crate::cli) fn known(books: &[Computing<'_>], wanted: &str) -> Result<(), Failure> {
    let parts: Vec<&str> = wanted.split(" / ").map(str::trim).collect();
    let Some((name, blocks)) = parts.split_last() else { return Ok(()) };
    let kinds: Vec<Kind> = match blocks.last() {
        None => Kind::ALL.into_iter().filter(|kind| kind.is_item()).collect(),
        Some(_) => Vec::new(),
    };
    // Of what an item names, whatever that is.
    let names_an_item = |head: &str| {
        let keys = Kind::ALL.into_iter().filter(|kind| kind.is_item()).flat_map(|kind| vocabulary::block(kind).keys);
        keys.into_iter().any(|key| key.name == head && matches!(key.value, ValueType::Reference(_)))
    };
    let blocks = match blocks.split_first() {
        Some((first, rest)) if names_an_item(first) => rest,
        _ => blocks,
    };
    let innermost = blocks.iter().try_fold(kinds, |_, heading| kinds_of(heading).ok_or(*heading));
    let kinds = innermost.map_err(|heading| {
        let words = Kind::ALL.into_iter().filter(|kind| !kind.is_item()).map(Kind::words);
        helped(Failure::new(format!("no item has a block `{heading}`")), nearest(heading, words))
    })?;
    let in_use = || books.iter().any(|book| book.book().items().any(|id| text(book, id, wanted).is_some()));
    if [NAME, VOID, OVERDUE].contains(name) || kinds.iter().any(|kind| may_have(*kind, name)) || in_use() {
        return Ok(());
    }
    let names = kinds.iter().flat_map(|kind| names(*kind)).chain([NAME, VOID, OVERDUE]);
    Err(helped(Failure::new(format!("no item has a fact or result `{wanted}`")), nearest(name, names)))
}

fn helped(failure: Failure, near: Option<&str>) -> Failure {
    match near {
        Some(near) => failure.help(format!("did you mean `{near}`?")),
        None => {
            failure.help("`rotorbook show NAME` shows what an item has; inner blocks are written `tolerance / grade`")
        }
    }
}

/// The kinds of inner block that a heading may be of.
fn kinds_of(heading: &str) -> Option<Vec<Kind>> {
    let is_of = |kind: &Kind| {
        let rest = heading.strip_prefix(kind.words());
        !kind.is_item() && rest.is_some_and(|rest| rest.is_empty() || rest.starts_with(' '))
    };
    let kinds: Vec<Kind> = Kind::ALL.into_iter().filter(is_of).collect();
    (!kinds.is_empty()).then_some(kinds)
}

fn names(kind: Kind) -> impl Iterator<Item = &'static str> {
    let keys = vocabulary::block(kind).keys.iter().map(|key| key.name);
    keys.chain(vocabulary::results_of(kind).map(|result| result.name))
}

/// Whether such a block may have the fact or result; one of several is followed by what it is of: `channel left`.
fn may_have(kind: Kind, head: &str) -> bool {
    let is_it = |name: &str| head == name;
    let is_one_of = |name: &str| head.strip_prefix(name).is_some_and(|rest| rest.starts_with(' '));
    let spec = vocabulary::block(kind);
    spec.named_facts.is_some()
        || names(kind).any(is_it)
        || spec.keys.iter().any(|key| key.head_name.is_some() && is_one_of(key.name))
        || vocabulary::results_of(kind).any(|result| result.per.is_some() && is_one_of(result.name))
}
