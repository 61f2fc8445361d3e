use crate::check::facts::{self, keys_left};
use crate::check::{Draft, FileContext, FileEdit, wording};
use crate::sheet::{self, FactProblem, FactProblemKind};
use crate::syntax::Kind;
use crate::text::{Edit, Span};
use crate::vocabulary;
use crate::vocabulary::{Became, Former, former_fact, results_of};

pub(super) fn say(context: &FileContext<'_>, problem: &FactProblem) -> Option<Draft> {
    let FactProblemKind::UnknownKey { block, suggestion } = problem.kind else { return None };
    let written = context.text(problem.span);
    let found = wording::shown(written);
    let draft = context.draft(problem.span, format!("{} has no fact {found}", wording::a_kind(block)));
    let words = spaced(written.trim_matches('"'));
    Some(
        former(context, &draft, problem.span, block)
            .or_else(|| unquoted(&draft, problem.span, written, suggestion))
            .or_else(|| result(context, &draft, problem.span, block, &words))
            .or_else(|| one_or_other(&draft, block, &words))
            .or_else(|| further_in(&draft, block, &words))
            .or_else(|| mended(&draft, problem.span, suggestion?))
            .or_else(|| with_name(&draft, block, &words))
            .or_else(|| before_name(&draft, problem.span, block, written))
            .or_else(|| elsewhere(&draft, block, &words))
            .unwrap_or_else(|| draft.help(keys(context, problem.span, block))),
    )
}

/// A fact of an earlier version, with the name after its words where it has one.
fn former(context: &FileContext<'_>, draft: &Draft, span: Span, block: Kind) -> Option<Draft> {
    let written = context.text(span);
    let bare = written.split('"').next().unwrap_or_default();
    let (words, name) = match former_fact(block, &spaced(bare)) {
        Some(_) => (bare, written[bare.len()..].trim_matches('"')),
        None => bare.trim_end().rsplit_once(char::is_whitespace)?,
    };
    let Former { became, since, .. } = former_fact(block, &spaced(words))?;
    let named = |now: &str| if name.is_empty() { now.to_owned() } else { format!("{now} {name}") };
    let draft = draft.clone().obsolete();
    let renamed = |draft: Draft, now: &str| {
        let now = named(now);
        draft.fix(format!("Write `{now}`"), Edit::replace(span, now))
    };
    Some(match became {
        Became::Renamed(now) => renamed(draft.help(format!("it is called `{now}` since version {since}")), now),
        Became::Either(several) => {
            let words: Vec<String> = several.iter().map(|now| format!("`{}`", named(now))).collect();
            let draft = draft.help(format!("it is called {} since version {since}", wording::or_list(&words)));
            several.iter().fold(draft, |draft, now| renamed(draft, now))
        }
        Became::Joined { to, by } => {
            let draft = draft.help(format!("it belongs in `{to}` since version {since}: `{to}: …{by}…`"));
            let edits = joined(context, span, to, by);
            edits.into_iter().fold(draft, |draft, edits| draft.fix_of(format!("Write it after `{to}`"), edits))
        }
        Became::Retired(why) => draft
            .help(format!("it is gone since version {since}: {why}"))
            .fix("Take it out", facts::delete_line(context.source, span)),
    })
}

/// The value of a line after the value of another fact of its block.
fn joined(context: &FileContext<'_>, span: Span, to: &str, by: &str) -> Option<Vec<FileEdit>> {
    let block = facts::block_at(context.source, span)?;
    let other = block.fields.iter().find(|field| field.key.name == to)?;
    let line = facts::line_around(&context.source.text, span.start);
    let value = line.split_once(':')?.1.split('#').next()?.trim();
    let behind = Edit::insert(other.value_span.end, format!("{by}{value}"));
    let edits = [behind, facts::delete_line(context.source, span)];
    Some(edits.into_iter().map(|edit| FileEdit { file: context.file, edit }).collect())
}

fn spaced(words: &str) -> String {
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// `"mass": 3 g`
fn unquoted(draft: &Draft, span: Span, written: &str, suggestion: Option<&'static str>) -> Option<Draft> {
    let key = suggestion.filter(|key| written.trim_matches('"') == *key && written.starts_with('"'))?;
    let help = "the name of a fact has no quotes; a name that the shop has given goes in quotes";
    Some(draft.clone().help(help).fix(format!("Write `{key}`"), Edit::replace(span, key)))
}

/// `permissible unbalance: 81.7 g·mm`: what is computed can only be pinned.
fn result(context: &FileContext<'_>, draft: &Draft, span: Span, block: Kind, words: &str) -> Option<Draft> {
    let result = results_of(block).find(|result| result.name == words)?;
    let behind = &context.source.text[span.end as usize..];
    let colon = span.end + behind.find(':')? as u32;
    let edit = Edit::replace(Span::new(span.end, colon + 1), " =>");
    let help = format!("`{}` is worked out here, not stated: pin it as a result with `=>`", result.name);
    Some(draft.clone().help(help).fix("Pin it with `=>`", edit))
}

/// `max speed`: the tolerance follows the one, the other is only not to be passed.
fn one_or_other(draft: &Draft, block: Kind, words: &str) -> Option<Draft> {
    let meant = sheet::either(words, vocabulary::block(block));
    let meant: Vec<String> = meant
        .iter()
        .map(|key| format!("`{}` ({})", key.name, key.meaning.trim_end_matches('.').replacen("The ", "the ", 1)))
        .collect();
    (!meant.is_empty()).then(|| draft.clone().help(format!("write which is meant: {}", wording::or_list(&meant))))
}

fn mended(draft: &Draft, span: Span, key: &str) -> Option<Draft> {
    let help = format!("did you mean `{key}`?");
    Some(draft.clone().help(help).fix(format!("Write `{key}`"), Edit::replace(span, key)))
}

/// `radius hub: 134 mm`
fn with_name(draft: &Draft, block: Kind, words: &str) -> Option<Draft> {
    let (first, last) = words.rsplit_once(' ')?;
    let key = vocabulary::block(block).key(first)?;
    Some(draft.clone().help(format!("`{}` is alone before the colon, without `{last}`", key.name)))
}

/// `balancing speed` in a rotor: a fact of another kind of block.
/// `chanel left`: a key that carries a name, misspelled.
fn before_name(draft: &Draft, span: Span, block: Kind, written: &str) -> Option<Draft> {
    let (first, last) = written.rsplit_once(' ')?;
    let carrying = vocabulary::block(block).keys.iter().filter(|key| key.head_name.is_some());
    let key = sheet::nearest(first, carrying.map(|key| key.name))?;
    let place = Span::new(span.start, span.start + first.len() as u32);
    let help = format!("did you mean `{key} {last}`?");
    Some(draft.clone().help(help).fix(format!("Write `{key}`"), Edit::replace(place, key)))
}

fn elsewhere(draft: &Draft, block: Kind, words: &str) -> Option<Draft> {
    let homes: Vec<String> = Kind::ALL
        .into_iter()
        .filter(|kind| *kind != block && vocabulary::block(*kind).key(words).is_some())
        .map(wording::a_kind)
        .collect();
    let several = homes.len() > 3;
    (!homes.is_empty() && !several)
        .then(|| draft.clone().help(format!("`{words}` is a fact of {}", wording::or_list(&homes))))
}

/// `balancing speed` in a proof: a fact of the one kind of block inside this one that has it, with a name or without.
fn further_in(draft: &Draft, block: Kind, words: &str) -> Option<Draft> {
    let has = |kind: &Kind| {
        let spec = vocabulary::block(*kind);
        let named =
            || words.rsplit_once(' ').and_then(|(first, _)| spec.key(first)).is_some_and(|key| key.head_name.is_some());
        spec.key(words).is_some() || named()
    };
    let mut kinds = Kind::all_in(Some(block)).filter(has);
    let (kind, None) = (kinds.next()?, kinds.next()) else { return None };
    Some(draft.clone().help(format!("write it in `{kind} {{ … }}`, inside this block")))
}

/// What may stand here instead, the nearest first where one is near.
fn keys(context: &FileContext<'_>, span: Span, kind: Kind) -> String {
    const MOST: usize = 8;
    let spec = vocabulary::block(kind);
    let all: Vec<&str> = match facts::block_at(context.source, span).filter(|block| block.kind == kind) {
        Some(block) => keys_left(block),
        None => spec.keys.iter().map(|key| key.name).collect(),
    };
    let listed = wording::choice_list(&all[..all.len().min(MOST)]);
    match all.len() {
        0..=MOST => format!("it may have {listed}"),
        _ => format!("it may have {listed}, among others; a remark of the shop's own goes into `note: \"…\"`"),
    }
}
