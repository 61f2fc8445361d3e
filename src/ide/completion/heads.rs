//! The start of a line: keys that the block still lacks, kinds that may stand here, names, results.

use super::context::{Context, Sign};
use super::names::{self, Known};
use super::snippet::{Sketch, escaped, plain, sketch};
use super::{Completion, CompletionKind};
use crate::book::Computed;
use crate::check;
use crate::ide::hover::{of_key, of_kind};
use crate::ide::results::ByBlock;
use crate::ide::{explain, known, results};
use crate::sheet::{Block, Field, quote};
use crate::syntax::{Kind, LineKind};
use crate::text::Span;
use crate::vocabulary::{self, Became, BlockSpec, Choice, End, Former, KeySpec, NameOf, Need, shop};

pub(super) fn at(context: &Context<'_, '_>, typed: Span) -> Vec<Completion> {
    let mut found = Vec::new();
    let sign = context.sign_behind();
    let bare = !context.in_string();
    let may_be = |what: Sign| sign.is_none_or(|sign| sign == what);
    if bare
        && may_be(Sign::Colon)
        && let Some(spec) = context.spec()
    {
        let inherited = inherited(context);
        keys(context, spec, typed, &inherited, &mut found);
    }
    if bare && may_be(Sign::Arrow) {
        pins(context, typed, &mut found);
    }
    if may_be(Sign::Colon) {
        named_facts(context, typed, &mut found);
    }
    if bare && may_be(Sign::Brace) {
        kinds(context, typed, &mut found);
    }
    found
}

/// The block around the line, as the sheet has it.
fn block<'b>(context: &Context<'_, 'b>) -> Option<&'b Block> {
    context.blocks.as_ref().map(|blocks| blocks.innermost())
}

/// The facts of the block on other lines than the one that is being typed.
fn others<'b>(context: &Context<'_, 'b>) -> Vec<&'b Field> {
    let line = context.place.line.span;
    let fields = block(context).map_or(&[][..], |block| &block.fields);
    fields.iter().filter(|field| !(line.start <= field.head.start && field.head.end <= line.end)).collect()
}

/// The keys of the block that came over from another setup.
fn inherited(context: &Context<'_, '_>) -> Vec<&'static str> {
    let (Some(id), Some(own)) = (context.item(), block(context)) else { return Vec::new() };
    if context.around.first() != Some(&Kind::Setup) {
        return Vec::new();
    }
    let Some(Computed::Setup(setup)) = context.computed() else { return Vec::new() };
    let Some(block) = known::find(&setup.block, own) else { return Vec::new() };
    block.fields.iter().filter(|field| field.item != id).map(|field| field.field.key.name).collect()
}

fn keys(
    context: &Context<'_, '_>,
    spec: &'static BlockSpec,
    typed: Span,
    inherited: &[&str],
    found: &mut Vec<Completion>,
) {
    let others = others(context);
    let has = |key: &KeySpec| others.iter().any(|field| field.key.name == key.name);
    let said_otherwise = |key: &KeySpec| {
        key.group.is_some() && others.iter().any(|field| field.key.group == key.group && field.key.name != key.name)
    };
    for key in spec.keys {
        if (has(key) && !key.repeats && key.head_name.is_none()) || said_otherwise(key) {
            continue;
        }
        let rank = match key.need {
            _ if inherited.contains(&key.name) => 5,
            Need::Must if has(key) => 4,
            Need::Must => 0,
            Need::Derived => 1,
            Need::Optional if key.is(shop::NOTE) => 6,
            Need::Optional => 2,
        };
        let heads = match key.head_name {
            None => vec![key.name.to_owned()],
            Some(of) => heads_with_names(context, spec, key, of, &others),
        };
        for head in heads {
            let completion = fact(context, &head, key, typed);
            found.push(Completion { rank, documentation: Some(of_key(spec, key)), ..completion });
        }
    }
    former(context, spec, typed, found);
}

/// Names that the block once had, for whoever still types them: what is written is what they became.
fn former(context: &Context<'_, '_>, spec: &'static BlockSpec, typed: Span, found: &mut Vec<Completion>) {
    let begun = context.text(Span::new(typed.start, context.offset));
    let meant = |former: &&Former| !begun.is_empty() && former.name.starts_with(begun);
    for former in vocabulary::former_facts(spec.kind).filter(meant) {
        let now: &[&str] = match &former.became {
            Became::Renamed(now) | Became::Joined { to: now, .. } => &[*now],
            Became::Either(several) => several,
            Became::Retired(_) => &[],
        };
        for key in now.iter().filter_map(|now| spec.key(now)) {
            let completion = fact(context, key.name, key, typed);
            found.push(Completion {
                label: former.name.to_owned(),
                detail: Some(format!("now `{}`", key.name)),
                documentation: Some(of_key(spec, key)),
                rank: 7,
                is_obsolete: true,
                ..completion
            });
        }
    }
}

/// `reading left`, `reading right`: the key with each name that has no such line yet.
fn heads_with_names(
    context: &Context<'_, '_>,
    spec: &BlockSpec,
    key: &KeySpec,
    of: NameOf,
    others: &[&Field],
) -> Vec<String> {
    let known = names::known(context, of);
    if known.is_empty() {
        return vec![key.name.to_owned()];
    }
    let has = |name: &str| {
        others
            .iter()
            .any(|field| field.key.name == key.name && field.name.as_ref().is_some_and(|other| *other.text == *name))
    };
    let free = known.into_iter().filter(|known| !has(&known.name));
    free.map(|known| format!("{} {}", key.name, quote::after_key(spec.kind, key.name, &known.name))).collect()
}

/// A fact with its colon and a sketch of its value; the head alone where the line has its colon already.
fn fact(context: &Context<'_, '_>, head: &str, key: &KeySpec, typed: Span) -> Completion {
    if context.sign_behind().is_some() {
        return Completion::new(head, CompletionKind::Key, typed, head);
    }
    let detail = Some(check::expected_at_a_glance(key));
    let needs_name = key.head_name.is_some() && head == key.name;
    if needs_name {
        let completion = Completion::new(head, CompletionKind::Key, typed, format!("{head} "));
        return Completion { detail, ..completion };
    }
    match sketch(context, key) {
        Sketch::OneOf => {
            let completion = Completion::new(head, CompletionKind::Key, typed, format!("{head}: "));
            Completion { detail, goes_on: true, ..completion }
        }
        Sketch::Snippet(snippet) => {
            let completion = Completion::new(head, CompletionKind::Key, typed, format!("{head}: "));
            Completion { detail, snippet: Some(format!("{}: {snippet}", escaped(head))), ..completion }
        }
    }
}

/// Controls in `settings` and planes in `tolerance` that have no line yet.
fn named_facts(context: &Context<'_, '_>, typed: Span, found: &mut Vec<Completion>) {
    let Some(spec) = context.spec() else { return };
    let Some(named) = &spec.named_facts else { return };
    let others = others(context);
    let line = context.place.line.span;
    let pins = block(context).map_or(&[][..], |block| &block.pins);
    let is_pinned = |name: &str| pins.iter().any(|pin| *pin.name == *name && !line.touches(pin.head));
    let has = |name: &str| {
        is_pinned(name) || others.iter().any(|field| field.name.as_ref().is_some_and(|other| *other.text == *name))
    };
    for known in names::known(context, named.name).into_iter().filter(|known| !has(&known.name)) {
        let Known { name, detail, .. } = known;
        let written = match context.in_string() {
            true => check::quoted(&name),
            false => quote::as_head(spec.kind, &name),
        };
        let completion = fact(context, &written, &named.spec, typed);
        let filter = context.in_string().then(|| check::quoted(&name));
        let documentation = Some(of_key(spec, &named.spec));
        let detail = Some(detail);
        found.push(Completion { label: name, kind: CompletionKind::Name, filter, detail, documentation, ..completion });
    }
}

/// Kinds of blocks that may stand here; of those that stand once, the ones that are missing.
fn kinds(context: &Context<'_, '_>, typed: Span, found: &mut Vec<Completion>) {
    let parent = context.around.last().copied();
    let here = block(context);
    for kind in Kind::all_in(parent) {
        let stands = here.is_some_and(|block| block.inner(kind).next().is_some());
        let shop_stands = kind == Kind::Shop && context.book.shop().is_some();
        if (!kind.takes_name() && stands) || shop_stands {
            continue;
        }
        let documentation = Some(of_kind(kind));
        let detail = Some(vocabulary::block(kind).meaning.to_owned());
        let completion = match vocabulary::block(kind).name {
            _ if context.sign_behind().is_some() => {
                Completion::new(kind.words(), CompletionKind::Block, typed, kind.words())
            }
            None => opened(kind.words(), kind.words(), typed),
            Some(NameOf::Own) => {
                let name = if kind.is_item() { "\"$1\"" } else { "$1" };
                opened(kind.words(), &format!("{kind} {name}"), typed)
            }
            Some(_) => {
                let text = format!("{kind} ");
                Completion { goes_on: true, ..Completion::new(kind.words(), CompletionKind::Block, typed, text) }
            }
        };
        found.push(Completion { rank: 3, documentation, detail, ..completion });
    }
}

/// A heading with its braces, and the cursor between them.
fn opened(label: &str, heading: &str, replace: Span) -> Completion {
    let text = format!("{} {{\n}}", plain(heading));
    let completion = Completion::new(label, CompletionKind::Block, replace, text);
    Completion { snippet: Some(format!("{heading} {{\n  $0\n}}")), ..completion }
}

/// Results of the block that are known and not pinned yet.
fn pins(context: &Context<'_, '_>, typed: Span, found: &mut Vec<Completion>) {
    let (Some(id), Some(block)) = (context.item(), block(context)) else { return };
    let item = context.book.item(id);
    if !results::has_results(item.kind) {
        return;
    }
    let Some(computed) = context.computed() else { return };
    for entry in ByBlock::of(id, item, computed).entries(block) {
        if results::stands(block, entry) || results::is_as_stated(entry) {
            continue;
        }
        let (Some(line), Some(value)) =
            (results::pin_line(context.book, entry), results::pin_value(context.book, entry))
        else {
            continue;
        };
        let line = if context.sign_behind().is_some() { entry.name().into_owned() } else { line };
        let documentation = explain::result(context.book, id, entry);
        let completion = Completion::new(format!("{} =>", entry.name()), CompletionKind::Result, typed, line);
        let filter = Some(entry.name().into_owned());
        found.push(Completion { rank: 4, detail: Some(value), documentation, filter, ..completion });
    }
}

/// Names after a kind: planes, rotors, codes; with the braces where they are not there yet.
pub(super) fn block_names(context: &Context<'_, '_>, kind: Kind, of: NameOf, name: Span) -> Vec<Completion> {
    let of = match (kind, of) {
        (Kind::Keyway, NameOf::Own) => NameOf::Listed(End::CHOICES),
        (_, of) => of,
    };
    let here = block(context);
    let stands = |name: &str| {
        let repeats = matches!(kind, Kind::MadeOf | Kind::Correction | Kind::Traverse);
        let own = |block: &Block| {
            let line = context.place.line.span;
            line.start <= block.heading.start && block.heading.end <= line.end
        };
        !repeats && here.is_some_and(|block| block.inner(kind).any(|other| other.name_text() == name && !own(other)))
    };
    let free = names::known(context, of).into_iter().filter(|known| !stands(&known.name));
    let completions = free.map(|known| {
        let written = match context.in_string() {
            true => check::quoted(&known.name),
            false => quote::in_heading(&known.name),
        };
        let completion = names::completion(context, known, name, written.clone());
        if context.sign_behind().is_some() {
            return completion;
        }
        // Lines that belong to the block are below already; what it lacks is its brace.
        if matches!(context.place.line.kind, LineKind::Open(_)) {
            return Completion { text: format!("{written} {{"), ..completion };
        }
        let snippet = Some(format!("{} {{\n  $0\n}}", escaped(&written)));
        Completion { text: format!("{written} {{\n}}"), snippet, ..completion }
    });
    completions.collect()
}

/// Names after the words of a key: channels, places.
pub(super) fn names_behind(context: &Context<'_, '_>, key: &'static KeySpec, name: Span) -> Vec<Completion> {
    let (Some(of), Some(spec)) = (key.head_name, context.spec()) else { return Vec::new() };
    let others = others(context);
    let has = |name: &str| {
        others
            .iter()
            .any(|field| field.key.name == key.name && field.name.as_ref().is_some_and(|other| *other.text == *name))
    };
    let free = names::known(context, of).into_iter().filter(|known| !has(&known.name));
    let completions = free.map(|known| {
        let written = match context.in_string() {
            true => check::quoted(&known.name),
            false => quote::after_key(spec.kind, key.name, &known.name),
        };
        let filter = context.in_string().then(|| check::quoted(&known.name));
        let detail = Some(known.detail.clone()).filter(|detail| !detail.is_empty());
        let completion = fact(context, &written, key, name);
        Completion { label: known.name, kind: CompletionKind::Name, filter, detail, ..completion }
    });
    completions.collect()
}
