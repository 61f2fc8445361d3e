//! The names that a block may use: planes of its rotor, channels and controls of its machine, runs, instruments.
//!
//! Nothing is known, and nothing said, where the item that owns the names cannot be found or cannot be read.

use std::cell::OnceCell;

use rustc_hash::FxHashSet;

use super::context::{ItemContext, Sink};
use super::diagnostic::{Draft, FileEdit};
use super::wording;
use crate::book::{Book, EffectiveBlock, EffectiveField, ItemId, effective};
use crate::sheet::{Block, Field, FieldValue, NameAt, Names};
use crate::syntax::{Kind, SyntaxErrorKind};
use crate::text::Edit;
use crate::vocabulary::{AnyFact, Fact, NameOf, OfKind, To, ValueType, machine, record, setup};

/// The names there are of one kind, and the item that has them.
pub struct Known<'b> {
    pub names: Vec<&'b str>,
    pub owner: ItemId,
}

/// The item that a fact of this block names; `None` also when several have the name.
pub fn item_named<K: OfKind>(book: &Book, block: &EffectiveBlock<'_>, fact: Fact<To<K>>) -> Option<ItemId> {
    let FieldValue::Name(name) = &block.field(fact)?.field.value else { return None };
    book.find(K::KIND, &name.text).ok()
}

/// The item of this kind that the item at hand is about: itself, or what its facts or its setup's facts name.
pub fn owner(context: &ItemContext<'_, '_>, kind: Kind) -> Option<ItemId> {
    let (book, block) = (context.book(), context.effective());
    match context.block.kind {
        own if own == kind => Some(context.id),
        Kind::Setup => of_setup(book, block, kind),
        Kind::Record => {
            let setup = item_named(book, block, record::SETUP)?;
            match kind {
                Kind::Setup => Some(setup),
                _ => of_setup(book, &effective(book, setup).0, kind),
            }
        }
        _ => None,
    }
}

fn of_setup(book: &Book, setup: &EffectiveBlock<'_>, kind: Kind) -> Option<ItemId> {
    match kind {
        Kind::Rotor => item_named(book, setup, setup::ROTOR),
        Kind::Machine => item_named(book, setup, setup::MACHINE),
        _ => None,
    }
}

/// The names of the owner's inner blocks of one kind: a rotor's planes, a machine's controls, a record's runs.
pub fn of_blocks<'b>(context: &ItemContext<'b, '_>, owner: Kind, inner: Kind) -> Option<Known<'b>> {
    let id = self::owner(context, owner)?;
    let block = context.book().item(id);
    let names: Option<Vec<&str>> = block.inner(inner).map(|block| Some(&*block.name.as_ref()?.text)).collect();
    readable(context.book(), id).then_some(Known { names: names?, owner: id })
}

/// The names of the machine's measuring channels.
pub fn channels<'b>(context: &ItemContext<'b, '_>) -> Option<Known<'b>> {
    let owner = self::owner(context, Kind::Machine)?;
    let FieldValue::Names(names) = &context.book().item(owner).field(machine::CHANNELS)?.value else { return None };
    Some(Known { names: names.iter().map(|name| &*name.text).collect(), owner })
}

/// Whether every line of an item could be read as something; a lost heading may have been the one that is asked for.
pub fn readable(book: &Book, id: ItemId) -> bool {
    let block = book.item(id);
    let mut errors = book.file(id.file).errors.iter().filter(|error| block.span.touches(error.span));
    !errors.any(|error| {
        use SyntaxErrorKind as E;
        matches!(
            error.kind,
            E::JunkLine
                | E::UnfinishedLine
                | E::UnknownKind
                | E::BadBlockName
                | E::MisplacedBlock
                | E::UnclosedBlock
                | E::StrayClose
                | E::HeadingShape
                | E::TextAfterBrace
                | E::ConflictMarkers
        )
    })
}

/// Where a block and the blocks in it use a name of this kind: in headings, before the colon and after it.
pub fn uses(block: &Block, of: NameOf) -> Vec<&NameAt> {
    let mut found = Vec::new();
    if block.spec().name == Some(of) {
        found.extend(&block.name);
    }
    for field in &block.fields {
        found.extend(uses_in(field, of, block));
    }
    for inner in &block.blocks {
        found.extend(uses(inner, of));
    }
    found
}

/// The names of this kind in one fact.
pub fn uses_in<'b>(field: &'b Field, of: NameOf, block: &Block) -> Vec<&'b NameAt> {
    let mut found = Vec::new();
    let alone = block.spec().named_facts.as_ref().filter(|named| std::ptr::eq(field.key, &named.spec));
    // What comes before the colon of a line that cannot be read may be meant for a key.
    let unreadable = field.value == FieldValue::Hole;
    if field.key.head_name == Some(of) || alone.is_some_and(|named| named.name == of && !unreadable) {
        found.extend(&field.name);
    }
    match (&field.value, field.key.value) {
        (FieldValue::Name(name), ValueType::Name(named)) if named == of => found.push(name),
        (FieldValue::Names(names), ValueType::Names(named)) if named == of => found.extend(names),
        _ => {}
    }
    found
}

/// Reports each name of this kind that the item uses and its owner has not, in the order in which they stand.
pub fn report_unknown(context: &ItemContext<'_, '_>, sink: &mut Sink, of: NameOf, known: &Known<'_>) {
    let there: FxHashSet<&str> = known.names.iter().copied().collect();
    let alike: OnceCell<Names> = OnceCell::new();
    for name in uses(context.block, of).into_iter().filter(|name| !there.contains(&*name.text)) {
        let alike = alike.get_or_init(|| known.names.iter().copied().collect());
        sink.report(unknown(context, name, of, (known, alike)));
    }
}

fn unknown(context: &ItemContext<'_, '_>, name: &NameAt, of: NameOf, (known, alike): (&Known<'_>, &Names)) -> Draft {
    let noun = noun(of);
    let owner = context.book().item(known.owner);
    let owner_called = called(owner);
    let message = match known.names.is_empty() {
        true => format!("{owner_called} has no {noun}s, and `{}` is named as one", name.text),
        false => format!("{owner_called} has no {noun} `{}`", name.text),
    };
    let draft = context.draft(name.span, message);
    let draft = match known.owner == context.id {
        true => draft,
        false => draft.related(known.owner.file, owner.heading, format!("{owner_called} is described here")),
    };
    did_you_mean(draft, name, alike, |all| format!("it has {all}"))
}

fn noun(of: NameOf) -> &'static str {
    match of {
        NameOf::Plane => Kind::Plane.words(),
        NameOf::Channel => setup::CHANNEL.words(),
        NameOf::Control => Kind::Control.words(),
        NameOf::Instrument => Kind::Instrument.words(),
        NameOf::Run => Kind::Run.words(),
        NameOf::ExtraMass => Kind::ExtraMass.words(),
        NameOf::Proof => Kind::Proof.words(),
        _ => "name",
    }
}

/// "machine "soft bench"", "the shop"
pub fn called(item: &Block) -> String {
    match &item.name {
        Some(name) => format!("{} {}", item.kind, wording::quoted(&name.text)),
        None => format!("the {}", item.kind),
    }
}

/// Adds the nearest of the names as help, with a fix when only letters differ; else the list of them all.
pub fn did_you_mean(draft: Draft, name: &NameAt, names: &Names, list: impl Fn(String) -> String) -> Draft {
    const MOST: usize = 8;
    if let Some(meant) = names.nearest(&name.text) {
        let written = wording::name_as_written(meant);
        let draft = draft.help(format!("did you mean {}?", wording::shown(&written)));
        // Two numbers apart are two rotors, however alike their names are.
        return match digits(meant) == digits(&name.text) {
            true => draft.fix(format!("Write {}", wording::shown(&written)), Edit::replace(name.span, written)),
            false => draft,
        };
    }
    let holding = names.holding(&name.text).take(MOST);
    let longer: Vec<String> = holding.map(|other| format!("`{}`", wording::name_as_written(other))).collect();
    match (longer.len(), names.all().len()) {
        (1..=3, _) => {
            let holding: Vec<&str> = names.holding(&name.text).take(MOST).collect();
            choose(draft.help(format!("did you mean {}?", wording::or_list(&longer))), name, &holding)
        }
        (_, 0) => draft,
        (_, 1..=MOST) => choose(draft.help(list(wording::and_list(&in_backticks(names.all())))), name, names.all()),
        _ => draft.help(list(format!("{} and others", in_backticks(&names.all()[..MOST]).join(", ")))),
    }
}

/// Offers each of these names for one.
fn choose<S: AsRef<str>>(draft: Draft, name: &NameAt, names: &[S]) -> Draft {
    let file = draft.place.file;
    names.iter().fold(draft, |draft, other| {
        let written = wording::name_as_written(other.as_ref());
        let title = format!("Write {}", wording::shown(&written));
        draft.choice(title, vec![FileEdit { file, edit: Edit::replace(name.span, written) }])
    })
}

fn digits(name: &str) -> String {
    name.chars().filter(char::is_ascii_digit).collect()
}

pub fn in_backticks<S: AsRef<str>>(names: &[S]) -> Vec<String> {
    names.iter().map(|name| format!("`{}`", name.as_ref())).collect()
}

/// Facts that came over from another setup and name what this one's own rotor or machine has not.
pub fn report_inherited(context: &ItemContext<'_, '_>, sink: &mut Sink, of: NameOf, by: AnyFact, known: &Known<'_>) {
    if context.block.kind != Kind::Setup || context.block.field(by).is_none() {
        return;
    }
    let Some(like) = context.block.field(setup::LIKE) else { return };
    let lost = inherited(context, of, known);
    let Some((first, _)) = lost.first() else { return };
    let head = |field: &EffectiveField<'_>| wording::shown(context.text(field.item.file, field.field.head));
    let heads: Vec<String> = lost.iter().map(|(field, _)| head(field)).collect();
    let names: Vec<String> = lost.iter().map(|(_, name)| wording::shown(&name.text)).collect();
    let message = format!(
        "{} {} taken over from {}, and {} has no {} {}",
        wording::and_list(&heads),
        if heads.len() == 1 { "is" } else { "are" },
        called(context.book().item(first.item)),
        called(context.book().item(known.owner)),
        noun(of),
        wording::or_list(&names)
    );
    let has = wording::and_list(&in_backticks(&known.names));
    let draft = context.draft(like.value_span, message).help(match has.is_empty() {
        true => "state these facts here, or name them in `leave out`".to_owned(),
        false => format!("state these facts here, for it has {has}; or name them in `leave out`"),
    });
    sink.report(
        lost.iter()
            .fold(draft, |draft, (field, name)| draft.related(field.item.file, name.span, "taken over from here")),
    );
}

/// Each fact taken over that uses a name nobody knows here. A line whose channel is lost is lost whole.
fn inherited<'b>(
    context: &ItemContext<'b, '_>,
    of: NameOf,
    known: &Known<'_>,
) -> Vec<(EffectiveField<'b>, &'b NameAt)> {
    let channels = channels(context).filter(|_| of != NameOf::Channel);
    let lost_channel = |field: &Field| {
        let channel = field.name.as_ref().filter(|_| field.key.head_name == Some(NameOf::Channel));
        channels.as_ref().zip(channel).is_some_and(|(known, name)| !known.names.contains(&&*name.text))
    };
    let facts = context.effective().fields.iter().filter(|field| field.item != context.id);
    let facts = facts.filter(|field| !lost_channel(field.field));
    let uses = facts.flat_map(|field| {
        let block = context.book().item(field.item);
        uses_in(field.field, of, block).into_iter().map(move |name| (*field, name))
    });
    uses.filter(|(_, name)| !known.names.contains(&&*name.text)).collect()
}

/// The instruments of the shop; `None` for a file that belongs to no shop.
pub fn instruments(book: &Book) -> Option<Known<'_>> {
    let owner = book.shop_id()?;
    let names: Option<Vec<&str>> =
        book.item(owner).inner(Kind::Instrument).map(|instrument| Some(&*instrument.name.as_ref()?.text)).collect();
    readable(book, owner).then_some(Known { names: names?, owner })
}
