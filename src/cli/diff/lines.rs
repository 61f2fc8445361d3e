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
    let results = |is_it: fn(&Moved) -> bool| -> usize {
        diff.items.iter().map(|item| item.results.iter().map(is_it).filter(|is_it| *is_it).count()).sum()
    };
    let moved = results(|moved| !matches!(moved.how, MovedHow::Pin | MovedHow::Spread));
    let spread = results(|moved| moved.how == MovedHow::Spread);
    let pins = results(|moved| moved.pinned.is_some());
    match diff.items.len() {
        0 => "no change of meaning".to_owned(),
        items => {
            let found = |severity| {
                let all = diff.items.iter().flat_map(|item| &item.findings);
                all.filter(|finding| finding.severity == severity).count()
            };
            let mut parts = vec![format!("{} changed", counted(items, "item"))];
            if moved > 0 || (spread == 0 && pins == 0) {
                parts.push(format!("{} moved", counted(moved, "result")));
            }
            if spread > 0 {
                parts.push(format!("{spread} by {} ± alone", if spread == 1 { "its" } else { "their" }));
            }
            if moved == 0 && pins > 0 {
                parts.push(format!("{} changed", counted(pins, "pinned result")));
            }
            let found = [(found(Severity::Error), "new error"), (found(Severity::Warning), "new warning")];
            let found = found.iter().filter(|(count, _)| *count > 0).map(|(count, word)| counted(*count, word));
            parts.extend(found);
            parts.join(", ")
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
                _ if moved.is_pinned => (old, format!("{new}, pinned as before")),
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

/// Results of one item, as they are written out.
pub(super) struct Told<'m> {
    /// Those that people can tell apart by what is written, the pinned ones first.
    pub told: Vec<&'m Moved>,
    /// How many differ only in digits that are not shown.
    pub silent: usize,
    /// How many are the same values, known better or worse than before.
    pub spread: usize,
}

impl Told<'_> {
    /// What is not written out, in words; `left` of those that can be told apart are not.
    pub fn rest(&self, left: usize) -> Option<String> {
        let parts = [
            (left, "more, --all writes them"),
            (self.silent, "in digits that are not shown"),
            (self.spread, "of which only the ± changed"),
        ];
        let parts: Vec<String> =
            parts.iter().filter(|(count, _)| *count > 0).map(|(count, words)| format!("{count} {words}")).collect();
        (!parts.is_empty()).then(|| format!("and {}", parts.join(", ")))
    }
}

/// Results of several items of which there is nothing to see.
#[derive(Default)]
pub(super) struct Folded {
    items: usize,
    silent: usize,
    spread: usize,
}

impl Folded {
    pub fn add(&mut self, told: &Told<'_>) {
        self.items += 1;
        self.silent += told.silent;
        self.spread += told.spread;
    }

    /// `40 results of 6 items, of which only the ± changed`
    pub fn line(&self) -> Option<String> {
        let items = counted(self.items, "item");
        let parts = [(self.spread, "of which only the ± changed"), (self.silent, "in digits that are not shown")];
        let parts: Vec<String> = parts
            .iter()
            .filter(|(count, _)| *count > 0)
            .map(|(count, words)| format!("{} {words}", counted(*count, "result")))
            .collect();
        (!parts.is_empty()).then(|| format!("{}, in {items}", parts.join(", ")))
    }
}

/// Sorts the results of one item by what there is to see of them.
pub(super) fn told<'m>(moved: &[&'m Moved]) -> Told<'m> {
    let mut all = Told { told: Vec::new(), silent: 0, spread: 0 };
    for moved in moved {
        let differs = || {
            let plain = Moved { is_pinned: false, ..(*moved).clone() };
            let (old, new) = result_sides(&plain);
            old != new
        };
        match moved.how {
            MovedHow::Spread if moved.pinned.is_none() => all.spread += 1,
            _ if differs() => all.told.push(moved),
            _ => all.silent += 1,
        }
    }
    all.told.sort_by_key(|moved| !moved.is_pinned);
    all
}

/// What stands over the results of an item.
pub(super) fn results_head(results: &[Moved]) -> &'static str {
    let all = |is_it: fn(&Moved) -> bool| results.iter().all(is_it);
    match () {
        () if all(|moved| moved.how == MovedHow::Pin) => "pinned results that changed",
        () if all(|moved| moved.how == MovedHow::Spread && moved.pinned.is_none()) => "results known otherwise",
        () => "results that moved",
    }
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
