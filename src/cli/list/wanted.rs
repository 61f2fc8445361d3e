//! Facts and results of items as columns of the list, and what an item must hold to be listed.

use super::due;
use crate::book::{self, Computed, Computing, Day, EffectiveBlock, EffectiveField, ItemId, Outcome};
use crate::cli::Failure;
use crate::sheet::{FieldValue, nearest};
use crate::syntax::Kind;
use crate::vocabulary::{self, KeySpec, ValueType};

/// A fact or result by the words of a sheet: `status`, `tolerance / grade`, `calibrate hub / reading`; of several, all.
pub(super) fn text(computing: &Computing<'_>, id: ItemId, wanted: &str) -> Option<String> {
    let mut all = values(computing, id, wanted);
    all.dedup();
    (!all.is_empty()).then(|| all.join(", "))
}

/// The same, each by itself.
pub(super) fn values(computing: &Computing<'_>, id: ItemId, wanted: &str) -> Vec<String> {
    let computed = computing.item(id);
    let parts: Vec<&str> = wanted.split(" / ").map(str::trim).collect();
    let Some((name, blocks)) = parts.split_last() else { return Vec::new() };
    let one = |text: Option<String>| text.into_iter().collect::<Vec<_>>();
    match *name {
        NAME if blocks.is_empty() => return vec![computing.book().item(id).name_text().to_owned()],
        VOID if blocks.is_empty() => return one(void(&computed)),
        OVERDUE if blocks.is_empty() => return one(due::overdue(computing, id, due::today())),
        _ => {}
    }
    let headings = |blocks: Vec<&EffectiveBlock<'_>>| blocks.iter().map(|block| book::heading(block.written)).collect();
    let ways: [&dyn Fn() -> Vec<String>; 4] = [
        &|| facts(computing, &inner(computed.effective(), blocks), name),
        &|| one(result(computing, &computed, blocks, name)),
        &|| of_what_it_names(computing, &computed, &parts),
        &|| headings(inner(computed.effective(), &parts)),
    ];
    ways.iter().map(|way| way()).find(|found| !found.is_empty()).unwrap_or_default()
}

/// What an item is called, as a column.
const NAME: &str = "name";

/// Why the calibration of a setup does not hold.
pub(super) const VOID: &str = "void";

/// What of an item is past its interval.
pub(super) const OVERDUE: &str = "overdue";

/// Of a record, why the calibration that it was run on did not hold.
fn void(computed: &Computed<'_>) -> Option<String> {
    let (setup, binding) = match computed {
        Computed::Setup(setup) => (Some(setup), None),
        Computed::Record(record) => (record.setup.as_ref(), record.binding.as_ref()),
        _ => return None,
    };
    let untimely = binding.and_then(|binding| binding.untimely).map(|untimely| untimely.words());
    let causes = setup.into_iter().flat_map(|setup| &setup.void_causes).map(|cause| cause.what.to_string());
    let causes: Vec<String> = untimely.into_iter().chain(causes).collect();
    (!causes.is_empty()).then(|| causes.join("; "))
}

/// `machine / serviced`: a fact or result of the item that a fact names.
fn of_what_it_names(computing: &Computing<'_>, computed: &Computed<'_>, parts: &[&str]) -> Vec<String> {
    let Some((first, rest)) = parts.split_first().filter(|(_, rest)| !rest.is_empty()) else { return Vec::new() };
    let field = computed.effective().fields.iter().find(|field| book::head_of(field.field) == *first);
    let named = field.and_then(|field| match (field.field.key.value, &field.field.value) {
        (ValueType::Reference(kind), FieldValue::Name(name)) => computing.book().find(kind, &name.text).ok(),
        _ => None,
    });
    named.map(|named| values(computing, named, &rest.join(" / "))).unwrap_or_default()
}

/// The blocks of these headings within each other; all of a kind where no name follows it.
fn inner<'e, 'b>(from: &'e EffectiveBlock<'b>, path: &[&str]) -> Vec<&'e EffectiveBlock<'b>> {
    path.iter().fold(vec![from], |blocks, heading| {
        let all: Vec<&EffectiveBlock<'b>> = blocks.into_iter().flat_map(|block| &block.blocks).collect();
        let is_it = |inner: &&EffectiveBlock<'b>| book::heading(inner.written) == *heading;
        match all.iter().copied().find(is_it) {
            Some(one) => vec![one],
            None => all.into_iter().filter(|inner| inner.kind.words() == *heading).collect(),
        }
    })
}

/// As they are written; of several days the latest.
fn facts(computing: &Computing<'_>, blocks: &[&EffectiveBlock<'_>], head: &str) -> Vec<String> {
    let all = blocks.iter().flat_map(|block| &block.fields);
    let found: Vec<&EffectiveField<'_>> = all.filter(|field| book::head_of(field.field) == head).collect();
    let written = |field: &&EffectiveField<'_>| {
        let written = field.field.value_span.of(&computing.book().file(field.item.file).text);
        let quoted = written.strip_prefix('"').and_then(|text| text.strip_suffix('"'));
        quoted.map_or_else(|| written.to_owned(), |text| text.replace("\"\"", "\""))
    };
    let (first, rest) = match found.split_first() {
        Some(found) => found,
        None => {
            let key = blocks.first().and_then(|block| block.written.spec().key(head));
            return key.and_then(|key| key.default).map(str::to_owned).into_iter().collect();
        }
    };
    if found.iter().all(|field| Day::of(&field.field.value).is_some()) {
        let latest = rest.iter().fold(first, |latest, field| if is_later(field, latest) { field } else { latest });
        return vec![written(latest)];
    }
    found.iter().map(written).collect()
}

fn is_later(field: &EffectiveField<'_>, than: &EffectiveField<'_>) -> bool {
    Day::of(&than.field.value).zip(Day::of(&field.field.value)).is_some_and(|(then, now)| now > then)
}

fn result(computing: &Computing<'_>, computed: &Computed<'_>, blocks: &[&str], name: &str) -> Option<String> {
    let entry = computed
        .entries()
        .iter()
        .find(|entry| entry.path.headings().eq(blocks.iter().copied()) && entry.name() == name)?;
    // In a list a hole is an empty cell.
    (!matches!(entry.outcome, Outcome::Missing(_))).then(|| book::text_of(computing.book(), entry))
}

/// `Err` when no item can have such a fact or result, whatever is in the books.
pub(in crate::cli) fn known(books: &[Computing<'_>], wanted: &str) -> Result<(), Failure> {
    let parts: Vec<&str> = wanted.split(" / ").map(str::trim).collect();
    let Some((name, blocks)) = parts.split_last() else { return Ok(()) };
    let items = || Kind::ALL.into_iter().filter(|kind| kind.is_item());
    // The kinds of items that a fact of this head names.
    let named_by = |head: &str| -> Vec<Kind> {
        let keys = items().flat_map(|kind| vocabulary::block(kind).keys).filter(|key| key.name == head);
        let named = |key: &KeySpec| match key.value {
            ValueType::Reference(kind) => Some(kind),
            _ => None,
        };
        keys.filter_map(named).collect()
    };
    let (kinds, blocks) = match blocks.split_first().map(|(first, rest)| (named_by(first), rest)) {
        Some((named, rest)) if !named.is_empty() => (named, rest),
        _ => (items().collect(), blocks),
    };
    let innermost = blocks.iter().try_fold(kinds, |_, heading| kinds_of(heading).ok_or(*heading));
    let kinds = innermost.map_err(|heading| {
        let words = Kind::ALL.into_iter().filter(|kind| !kind.is_item()).map(Kind::words);
        helped(Failure::new(format!("no item has a block `{heading}`")), nearest(heading, words))
    })?;
    let in_use = || books.iter().any(|book| book.book().items().any(|id| text(book, id, wanted).is_some()));
    let is_block = kinds_of(name).is_some();
    if [NAME, VOID, OVERDUE].contains(name) || is_block || kinds.iter().any(|kind| may_have(*kind, name)) || in_use() {
        return Ok(());
    }
    let names = kinds.iter().flat_map(|kind| names(*kind)).chain([NAME, VOID, OVERDUE]);
    Err(helped(Failure::new(format!("no item has a fact or result `{wanted}`")), nearest(name, names)))
}

/// `Err` when no item of this kind can have it.
pub(super) fn known_of(books: &[Computing<'_>], kind: Kind, wanted: &str) -> Result<(), Failure> {
    let parts: Vec<&str> = wanted.split(" / ").map(str::trim).collect();
    let (first, is_alone) = (parts.first().copied().unwrap_or_default(), parts.len() == 1);
    let has_block = || kinds_of(first).is_some_and(|kinds| kinds.iter().any(|inner| inner.stands_in(Some(kind))));
    let may = match first {
        VOID if is_alone => matches!(kind, Kind::Setup | Kind::Record),
        OVERDUE if is_alone => matches!(kind, Kind::Machine | Kind::Setup),
        NAME if is_alone => true,
        _ => may_have(kind, first) || has_block(),
    };
    let in_use = || {
        let of_kind = |book: &&Computing<'_>, id: &ItemId| book.book().item(*id).kind == kind;
        books
            .iter()
            .any(|book| book.book().items().filter(|id| of_kind(&book, id)).any(|id| text(book, id, wanted).is_some()))
    };
    if may || in_use() {
        return Ok(());
    }
    let why = match first {
        VOID => format!("a {kind} has no calibration that could be void"),
        OVERDUE => format!("nothing of a {kind} is due after an interval"),
        _ => format!("no {kind} has a fact or result `{wanted}`"),
    };
    Err(helped(Failure::new(why), nearest(first, names(kind))))
}

/// `Err` when a fact is one of some words, and this is none of them.
pub(super) fn choice(kind: Option<Kind>, wanted: &str, word: &str) -> Result<(), Failure> {
    let parts: Vec<&str> = wanted.split(" / ").map(str::trim).collect();
    let kinds = match parts.as_slice() {
        [_] => Kind::ALL.into_iter().filter(|one| one.is_item() && kind.is_none_or(|kind| kind == *one)).collect(),
        [.., heading, _] => kinds_of(heading).unwrap_or_default(),
        [] => Vec::new(),
    };
    let Some(name) = parts.last() else { return Ok(()) };
    let keys: Vec<ValueType> =
        kinds.into_iter().filter_map(|kind| Some(vocabulary::block(kind).key(name)?.value)).collect();
    let words = keys.iter().map(|value| match value {
        ValueType::Choice(choices) => Some(choices.words),
        _ => None,
    });
    let Some(words) = words.collect::<Option<Vec<_>>>().filter(|words| !words.is_empty()) else { return Ok(()) };
    let mut words = words.into_iter().flatten().copied();
    match words.clone().any(|one| one.eq_ignore_ascii_case(word)) {
        true => Ok(()),
        false => {
            let near = nearest(word, words.clone())
                .map(str::to_owned)
                .unwrap_or_else(|| words.next().unwrap_or_default().to_owned());
            Err(Failure::new(format!("`{wanted}` is never `{word}`")).help(format!("did you mean `{near}`?")))
        }
    }
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
