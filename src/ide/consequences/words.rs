//! Consequences in words: few after a line, more in a table.

use std::fmt::Write as _;

use super::{Consequences, STALE_PIN};
use crate::book;
use crate::check::Severity;
use crate::diff::{Alert, AlertCode, AsRead, ItemDiff, ItemName, Moved, MovedHow, NewFinding};
use crate::ide::markdown;
use crate::syntax::Kind;
use crate::units::Unit;
use crate::vocabulary::result;

/// Rows of a table that is not asked for at length.
pub(super) const FEW: usize = 12;

/// Results named after a line.
const NAMED: usize = 2;

/// `moves 3 sheets: hub reading 8.60 → 8.48 div, calibration void`; `None` where nothing moves.
pub(super) fn label(diff: &ItemDiff) -> Option<String> {
    let moved: Vec<&Moved> = diff.results.iter().filter(|moved| is_told(moved)).collect();
    if moved.is_empty() && diff.alerts.is_empty() && brought(diff).next().is_none() {
        return None;
    }
    let mut parts = Vec::new();
    let mut told = moved.clone();
    told.sort_by_key(|moved| (moved.item == diff.item, turn(moved)));
    let values = told.iter().filter(|moved| !moved.is_void && moved.how != MovedHow::Lost);
    parts.extend(values.take(NAMED).map(|moved| brief(moved)));
    if moved.iter().any(|moved| moved.is_void) {
        parts.push("calibration void".to_owned());
    } else if let Some(lost) = moved.iter().find(|moved| moved.how == MovedHow::Lost) {
        parts.push(format!("{} no longer computed", name(lost)));
    }
    parts.extend(diff.alerts.iter().find(|alert| says_more(alert)).map(|alert| lower(alert.code.title())));
    let errors = brought(diff).filter(|found| found.severity == Severity::Error).count();
    if errors > 0 {
        parts.push(format!("brings {}", counted(errors, Severity::Error.word())));
    }
    let others = others(diff);
    Some(match (others.is_empty(), parts.is_empty()) {
        (true, true) => return None,
        (true, false) => format!("moves {}", parts.join(", ")),
        (false, true) => format!("moves {others}"),
        (false, false) => format!("moves {others}: {}", parts.join(", ")),
    })
}

/// What is set or read at the machine comes first, then what is written down, then what a hint would show.
fn turn(moved: &Moved) -> u8 {
    match moved.path.last() {
        Some(name) if result::READING.answers_to(name) => 0,
        _ if moved.is_pinned => 1,
        _ if moved.spec.is_some_and(|spec| spec.hint.is_some()) => 2,
        _ => 3,
    }
}

/// What is said now; that a pin has to be renewed the results say.
fn brought(diff: &ItemDiff) -> impl Iterator<Item = &NewFinding> {
    diff.findings.iter().filter(|found| found.code != STALE_PIN)
}

/// An alert that the label does not say by its results.
fn says_more(alert: &Alert) -> bool {
    use AlertCode as A;
    !matches!(
        alert.code,
        A::CalibrationVoid
            | A::ReleasedWithoutNewRevision
            | A::ResultLost
            | A::PinnedResultChanged
            | A::CheckFails
            | A::ReleasedWarned
    )
}

/// Whether a change of a result is worth telling: its digits, and not what they are known to.
fn is_told(moved: &Moved) -> bool {
    moved.how != MovedHow::Spread && moved.how != MovedHow::Pin && !moved.is_table && !reads_the_same(moved)
}

fn reads_the_same(moved: &Moved) -> bool {
    let (old, new) = values(moved);
    old.is_some() && old == new
}

/// `3 sheets, 1 record`: what moves besides the item that was changed.
fn others(diff: &ItemDiff) -> String {
    let mut items: Vec<&ItemName> = Vec::new();
    for moved in diff.results.iter().filter(|moved| moved.item != diff.item && is_told(moved)) {
        if !items.contains(&&moved.item) {
            items.push(&moved.item);
        }
    }
    let kinds = [(Kind::Setup, "sheet"), (Kind::Record, Kind::Record.words()), (Kind::Rotor, Kind::Rotor.words())];
    let count = |kind: Kind| items.iter().filter(|item| item.kind == kind).count();
    let counts = kinds.into_iter().map(|(kind, noun)| (count(kind), noun)).filter(|(count, _)| *count > 0);
    counts.map(|(count, noun)| counted(count, noun)).collect::<Vec<_>>().join(", ")
}

fn counted(count: usize, noun: &str) -> String {
    format!("{count} {noun}{}", if count == 1 { "" } else { "s" })
}

/// `since commit 1a2b3c4: 2 facts, 1 alert`, `since the last save: 3 results`.
pub(super) fn above(found: &Consequences, name: &ItemName) -> Option<String> {
    let own = found.of(name);
    let all = found.diff.items.iter().flat_map(|diff| &diff.results);
    let results = all.filter(|moved| moved.item == *name && is_told(moved)).count();
    let facts = own.map_or(0, |diff| diff.changed_facts().count());
    let alerts = found.diff.items.iter().flat_map(|diff| &diff.alerts).filter(|alert| alert.item == *name).count();
    let counts = [(facts, "fact"), (results, "result"), (alerts, "alert")];
    let counts = counts.into_iter().filter(|(count, _)| *count > 0).map(|(count, noun)| counted(count, noun));
    let counts = counts.collect::<Vec<_>>().join(", ");
    (!counts.is_empty()).then(|| format!("since {}: {counts}", found.since))
}

/// Alerts, then before and after of each result, then what is said now and what no longer.
pub(super) fn table(found: &Consequences, diffs: &[&ItemDiff], most: usize) -> String {
    let mut text = format!("**Since {}**\n", found.since);
    for alert in diffs.iter().flat_map(|diff| &diff.alerts) {
        let note = alert.note.as_deref().map(|note| format!(": {}", markdown::plain(note))).unwrap_or_default();
        let _ = write!(text, "\n- **{}**, {}{note}", alert.code.title(), markdown::plain(&alert.item.to_string()));
    }
    let told = |diff: &&ItemDiff| diff.results.iter().filter(|moved| is_told(moved)).count();
    let mut moved: Vec<(bool, &Moved)> = Vec::with_capacity(diffs.iter().map(told).sum());
    for diff in diffs {
        let of_diff = diff.results.iter().filter(|moved| is_told(moved));
        moved.extend(of_diff.map(|moved| (moved.item == diff.item, moved)));
    }
    // Other sheets first: they are not in sight.
    moved.sort_by_key(|(is_own, moved)| (*is_own, turn(moved)));
    if !moved.is_empty() {
        text.push_str("\n\n| where | result | before | after |\n|---|---|---|---|\n");
    }
    for (_, moved) in moved.iter().take(most) {
        let (old, new) = values(moved);
        let _ = writeln!(
            text,
            "| {} | {} | {} | {} |",
            markdown::plain(&moved.item.to_string()),
            markdown::plain(&name(moved)),
            markdown::plain(old.as_deref().unwrap_or("–")),
            markdown::plain(new.as_deref().unwrap_or("–")),
        );
    }
    if moved.len() > most {
        let _ = writeln!(text, "\nand {} more", moved.len() - most);
    }
    for brought in diffs.iter().flat_map(|diff| brought(diff)).take(most) {
        let message = markdown::sentence(&brought.message);
        let _ = write!(text, "\n- brings `{}`, {} line {}: {message}", brought.code, brought.file, brought.line);
    }
    for mended in found.mended.iter().take(most) {
        let _ = write!(text, "\n- mends `{}`, {}: {}", mended.code, mended.file, markdown::sentence(&mended.message));
    }
    text
}

/// `hub reading 8.60 → 8.48 div`
fn brief(moved: &Moved) -> String {
    let name = name(moved);
    let (Some(old), Some(new)) = values(moved) else { return name };
    // The unit is named once where both have it.
    let in_one_unit = old.split_once(' ').zip(new.split_once(' ')).filter(|((_, a), (_, b))| a == b);
    let before = in_one_unit.map_or(&*old, |((number, _), _)| number);
    format!("{name} {before} → {new}")
}

/// What a result is of, and its name: `hub reading`.
fn name(moved: &Moved) -> String {
    let Some((name, blocks)) = moved.path.split_last() else { return String::new() };
    let of = blocks.last().and_then(|block| block.split_once(' ')).map(|(_, name)| name.trim_matches('"'));
    of.map_or_else(|| name.clone(), |of| format!("{of} {name}"))
}

/// Before and after, with the digits that a pin has.
fn values(moved: &Moved) -> (Option<String>, Option<String>) {
    let (before, after) = moved.amounts.unzip();
    (moved.old.as_ref().map(|read| value(read, before)), moved.new.as_ref().map(|read| value(read, after)))
}

/// Without what it is known to. `amount` is in base units, where it is one.
fn value(read: &AsRead, amount: Option<f64>) -> String {
    let text = read.brief.as_deref().unwrap_or(&read.text);
    let unit = match text.split_once(' ') {
        Some((_, unit)) => Unit::parse(unit).ok(),
        None => text.parse::<f64>().is_ok().then_some(Unit::ONE),
    };
    match amount.zip(unit) {
        Some((amount, unit)) => book::display_value(amount, unit, 0.0),
        None => text.to_owned(),
    }
}

fn lower(title: &str) -> String {
    let mut letters = title.chars();
    letters.next().map(|first| first.to_lowercase().chain(letters).collect()).unwrap_or_default()
}
