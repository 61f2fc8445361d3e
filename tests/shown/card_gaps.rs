//! What a card says is not said, `check` says too: each fact of sheets of the example book is taken out in turn.

use std::collections::BTreeSet;
use std::sync::Arc;

use crate::support::cards::{example_book, printed};
use rotorbook::book::{Book, Computing, FileId, SourceFile};
use rotorbook::card;
use rotorbook::check;
use rotorbook::sheet::Block;
use rotorbook::syntax::Kind;
use rotorbook::text::Span;

/// Two on soft supports, one of them made of parts, one on hard supports, and one by trial runs.
const SETUPS: [&str; 4] = [
    "fan wheel 315 on the soft bench",
    "blower rotor 41 on the soft bench",
    "pump impeller 125 on the stiff bench",
    "fan wheel 400 on the soft bench",
];

/// The ways in which a card says that something is missing.
const GAPS: [&str; 9] = [
    "does not say",
    "not said by the sheet",
    "is missing",
    "not stated",
    "names no source",
    "gives no ",
    "not known",
    "\"none\"",
    "not computed",
];

/// What may be named in place of a fact: what a plane lacks without it, and what a rotor does.
const NAMED_BY: [(&str, &str); 2] = [("pitch diameter", "has no radius"), ("scaled from", "has no tolerance")];

fn gaps(book: &Book, name: &str) -> Option<usize> {
    let id = book.find(Kind::Setup, name).ok()?;
    let card = card::card(&Computing::new(book), id, &[], &printed(), card::Sides::Both)?;
    let all = format!("{card:?}");
    Some(GAPS.iter().map(|gap| all.matches(gap).count()).sum())
}

/// The facts of a block and of those in it: the lines they are on, and the words of which one must name them; of a
/// radius, those of the diameter too.
fn facts(block: &Block, text: &str, found: &mut Vec<(Vec<String>, Span)>) {
    for field in &block.fields {
        let same = block.spec().keys.iter().filter(|key| key.group.is_some() && key.group == field.key.group);
        let mut words: Vec<String> = same.map(|key| key.name.to_owned()).collect();
        // A control is named by its own name alone.
        let is_named_alone = !field.head.of(text).contains(field.key.name);
        let named_by = NAMED_BY.iter().filter(|(fact, _)| *fact == field.key.name);
        words.extend(named_by.map(|(_, other)| (*other).to_owned()));
        words.push(if is_named_alone { field.name_text() } else { field.key.name }.to_owned());
        found.push((words, field.head.to(field.value_span)));
    }
    block.blocks.iter().for_each(|inner| facts(inner, text, found));
}

/// A text without the lines that a span touches.
fn without(text: &str, span: Span) -> String {
    let start = text[..span.start as usize].rfind('\n').map_or(0, |at| at + 1);
    let end = text[span.end as usize..].find('\n').map_or(text.len(), |at| span.end as usize + at + 1);
    format!("{}{}", &text[..start], &text[end..])
}

/// Without one fact in so many; how many gaps that made.
fn gaps_without(one_in: usize) -> usize {
    let whole = example_book();
    let mut seen: BTreeSet<(String, Span)> = BTreeSet::new();
    let (mut silent, mut gaps_found) = (Vec::new(), 0);
    for name in SETUPS {
        let id = whole.find(Kind::Setup, name).unwrap();
        let mut rests_on: Vec<FileId> = card::rests_on(&whole, id).iter().map(|item| item.file).collect();
        rests_on.push(whole.shop_id().unwrap().file);
        rests_on.sort();
        rests_on.dedup();
        let files: Vec<(String, String)> = rests_on
            .iter()
            .map(|file| (whole.file(*file).path.to_string(), whole.file(*file).text.to_string()))
            .collect();
        let book = |files: &[(String, String)]| {
            Book::new(
                files.iter().map(|(path, text)| Arc::new(SourceFile::read(path.as_str(), text.as_str()))).collect(),
            )
        };
        let before = gaps(&book(&files), name).unwrap();
        for (n, file) in rests_on.iter().enumerate() {
            let mut all = Vec::new();
            whole.file(*file).sheet.items.iter().for_each(|item| facts(item, &whole.file(*file).text, &mut all));
            for (words, span) in all.into_iter().step_by(one_in) {
                if !seen.insert((files[n].0.clone(), span)) {
                    continue;
                }
                let mut files = files.clone();
                files[n].1 = without(&files[n].1, span);
                let book = book(&files);
                if gaps(&book, name).is_none_or(|gaps| gaps <= before) {
                    continue;
                }
                gaps_found += 1;
                let says = |found: &check::Diagnostic| {
                    let help = found.help.as_deref().unwrap_or_default();
                    words.iter().any(|fact| found.message.contains(fact) || help.contains(fact))
                };
                if !check::check(&book).iter().any(says) {
                    let fact = words.last().unwrap();
                    silent.push(format!("{}: without `{fact}` the card of {name:?} has a gap", files[n].0));
                }
            }
        }
    }
    assert!(silent.is_empty(), "check says nothing of these:\n{}", silent.join("\n"));
    gaps_found
}

#[test]
fn what_a_card_says_is_not_said_is_a_finding_of_check() {
    let gaps_found = gaps_without(11);
    assert!(gaps_found > 3, "only {gaps_found} gaps were made");
}

#[test]
#[ignore = "every fact: two minutes without optimisation"]
fn whatever_a_card_says_is_not_said_is_a_finding_of_check() {
    let gaps_found = gaps_without(1);
    assert!(gaps_found > 50, "only {gaps_found} gaps were made");
}
