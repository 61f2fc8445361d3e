//! Pieces of a comparison that every way of writing it shares.

use crate::check::{Severity, and_list};
use crate::cli::report::counted;
use crate::cli::terminal::harmless;
use crate::diff::{Alert, BookDiff, FactChange, ItemDiff, ItemName, Moved, MovedHow, NewFinding};

/// A text of a sheet longer than this is cut: nobody reads on.
const LONGEST: usize = 300;

/// Results of one item, before the rest is only counted.
pub(super) const MOST_RESULTS: usize = 8;

/// Items that moved because of one other, before the rest is only counted.
pub(super) const MOST_ITEMS: usize = 12;

/// `2 items changed, 14 results moved`
pub(super) fn summary(diff: &BookDiff) -> String {
    let moved: usize =
        diff.items.iter().flat_map(|item| &item.results).filter(|moved| moved.how != MovedHow::Pin).count();
    match diff.items.len() {
        0 => "no change of meaning".to_owned(),
        items => {
            let found = |severity| {
                let all = diff.items.iter().flat_map(|item| &item.findings);
                all.filter(|finding| finding.severity == severity).count()
            };
            let moved = format!("{} changed, {} moved", counted(items, "item"), counted(moved, "result"));
            let found = [(found(Severity::Error), "new error"), (found(Severity::Warning), "new warning")];
            let found = found.iter().filter(|(count, _)| *count > 0).map(|(count, word)| counted(*count, word));
            std::iter::once(moved).chain(found).collect::<Vec<_>>().join(", ")
        }
    }
}

/// `setup "…", setups/x.rotor:12: what is said of it`
pub(super) fn finding_text(finding: &NewFinding) -> String {
    let (file, line) = (&finding.file, finding.line);
    shown(&format!("{}, {file}:{line}: {}", finding.item, finding.message))
}

/// The text of a sheet as it may be shown, on one line and not endless.
pub(in crate::cli) fn shown(text: &str) -> String {
    let text: String = harmless(text).replace(['\n', '\t'], " ");
    match text.char_indices().nth(LONGEST) {
        Some((end, _)) => format!("{}…", &text[..end]),
        None => text,
    }
}

/// `calibrate hub / reading`
pub(in crate::cli) fn path(path: &[String]) -> String {
    shown(&path.join(" / "))
}

/// What an item went through, behind its name.
pub(super) fn fate(item: &ItemDiff) -> String {
    let facts = counted(item.facts.len(), "fact");
    match item.change.word() {
        "added" => format!("added, with {facts}"),
        "removed" => format!("removed, with {facts}"),
        "renamed" => format!("renamed, was \"{}\"", shown(item.was.as_deref().unwrap_or_default())),
        "results" => "no fact changed".to_owned(),
        _ => String::new(),
    }
}

/// Old and new side of a fact.
pub(super) fn sides(fact: &FactChange) -> (Option<String>, Option<String>) {
    (fact.old.as_deref().map(shown), fact.new.as_deref().map(shown))
}

/// Old and new side of a result, with what is pinned of it.
pub(super) fn result_sides(moved: &Moved) -> (String, String) {
    let none = || "–".to_owned();
    match (&moved.how, &moved.pinned) {
        (MovedHow::Pin, Some((old, new))) => {
            let pin = |side: &Option<String>| {
                side.as_deref().map_or("not pinned".to_owned(), |pin| format!("=> {}", shown(pin)))
            };
            (pin(old), pin(new))
        }
        (_, pinned) => {
            let old = moved.old.as_deref().map_or_else(none, shown);
            let new = moved.new.as_deref().map_or_else(none, shown);
            let (old, new) = briefly(old, new);
            match pinned {
                Some((_, Some(pin))) => (old, format!("{new}, pinned as {}", shown(pin))),
                Some((Some(_), None)) => (old, format!("{new}, no longer pinned")),
                _ => (old, new),
            }
        }
    }
}

/// The text of a result without what stands behind each `±`.
fn brief(text: &str) -> String {
    let mut pieces = text.split(" ± ");
    let mut out = pieces.next().unwrap_or_default().to_owned();
    for piece in pieces {
        let unit = out.rsplit(' ').next().unwrap_or_default().to_owned();
        let behind_number = piece.split_once(' ').map_or("", |(_, rest)| rest);
        let rest =
            behind_number.strip_prefix(&*unit).filter(|rest| rest.is_empty() || rest.starts_with([' ', ',', ';']));
        match rest.unwrap_or(behind_number) {
            "" => {}
            rest if rest.starts_with([' ', ',', ';']) => out.push_str(rest),
            rest => out.push_str(&format!(" {rest}")),
        }
    }
    out
}

/// Both sides of a text without their uncertainties, where the values tell them apart.
fn briefly(old: String, new: String) -> (String, String) {
    let (a, b) = (brief(&old), brief(&new));
    if a == b { (old, new) } else { (a, b) }
}

/// Results that people can tell apart by what is written, those that stand in the text first; and how many differ only in
/// digits that are not shown.
pub(super) fn told<'m>(moved: &[&'m Moved]) -> (Vec<&'m Moved>, usize) {
    let (mut told, silent): (Vec<&Moved>, Vec<&Moved>) = moved.iter().partition(|moved| {
        let (old, new) = result_sides(moved);
        old != new
    });
    told.sort_by_key(|moved| !moved.is_pinned);
    (told, silent.len())
}

/// Results by the item they are of, in their order.
pub(super) fn by_item(results: &[Moved]) -> Vec<(&ItemName, Vec<&Moved>)> {
    let mut groups: Vec<(&ItemName, Vec<&Moved>)> = Vec::new();
    for moved in results {
        match groups.last_mut() {
            Some((item, group)) if *item == &moved.item => group.push(moved),
            _ => groups.push((&moved.item, vec![moved])),
        }
    }
    groups
}

/// Alerts that say the same of several items, together.
pub(super) fn grouped<'a>(alerts: &[&'a Alert]) -> Vec<(&'a Alert, Vec<&'a ItemName>)> {
    let mut groups: Vec<(&Alert, Vec<&ItemName>)> = Vec::new();
    for alert in alerts {
        let same = |first: &Alert| {
            first.code == alert.code
                && first.path == alert.path
                && first.note == alert.note
                && first.old == alert.old
                && first.new == alert.new
        };
        match groups.iter_mut().find(|(first, _)| same(first)) {
            Some((_, items)) => items.push(&alert.item),
            None => groups.push((alert, vec![&alert.item])),
        }
    }
    groups
}

/// The items of an alert, as `a, b and c`, or `a, b, c and 2 more`.
pub(super) fn named(items: &[&ItemName], write: impl Fn(&str) -> String) -> String {
    const MOST: usize = 3;
    let names: Vec<String> = items.iter().take(MOST).map(|item| write(&item.to_string())).collect();
    match items.len().saturating_sub(MOST) {
        0 => and_list(&names),
        more => format!("{} and {more} more", names.join(", ")),
    }
}

/// What an alert says behind its title and its item.
pub(super) fn said(alert: &Alert) -> Vec<String> {
    let values = match (&alert.old, &alert.new) {
        (Some(old), Some(new)) => {
            let (old, new) = briefly(shown(old), shown(new));
            Some(format!("{old} → {new}"))
        }
        (Some(old), None) => Some(format!("was {}", shown(old))),
        (None, Some(new)) => Some(format!("now {}", shown(new))),
        (None, None) => None,
    };
    values.into_iter().chain(alert.note.as_deref().map(shown)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn uncertainties_can_be_left_out() {
        assert_eq!(brief("8.595 ± 0.029"), "8.595");
        assert_eq!(brief("8.595 div ± 0.033 div"), "8.595 div");
        assert_eq!(
            brief("206.1 g·mm ± 2.7 g·mm @ 310.0 deg ± 4.1 deg with rotation, heavy spot"),
            "206.1 g·mm @ 310.0 deg with rotation, heavy spot"
        );
        assert_eq!(brief("2 g·mm ± 15 g·mm, in no sure direction"), "2 g·mm, in no sure direction");
        assert_eq!(brief("within"), "within");
    }
}
