//! Pieces of a comparison that every way of writing it shares.

use crate::check::{Severity, and_list};
use crate::cli::report::counted;
use crate::cli::terminal::harmless;
use crate::diff::{Alert, AsRead, BookDiff, FactChange, ItemDiff, ItemName, Moved, MovedHow, NewFinding};

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

/// What an item went through, after its name.
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
    match (&moved.how, &moved.pinned) {
        (MovedHow::Pin, Some((old, new))) => {
            let pin = |side: &Option<String>| {
                side.as_deref().map_or("not pinned".to_owned(), |pin| format!("=> {}", shown(pin)))
            };
            (pin(old), pin(new))
        }
        (_, pinned) => {
            let none = AsRead::from("–".to_owned());
            let (old, new) = briefly(moved.old.as_ref().unwrap_or(&none), moved.new.as_ref().unwrap_or(&none));
            match pinned {
                Some((_, Some(pin))) => (old, format!("{new}, pinned as {}", shown(pin))),
                Some((Some(_), None)) => (old, format!("{new}, no longer pinned")),
                _ if moved.is_pinned => (old, format!("{new}, pinned as before")),
                _ => (old, new),
            }
        }
    }
}

/// Both sides of a change without their uncertainties, where the values tell them apart.
fn briefly(old: &AsRead, new: &AsRead) -> (String, String) {
    let brief = |side: &AsRead| side.brief.clone().unwrap_or_else(|| side.text.clone());
    let (a, b) = (brief(old), brief(new));
    if a == b { (shown(old), shown(new)) } else { (shown(&a), shown(&b)) }
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

/// Alerts that say about the same of several items, together, and what the first of them says.
pub(super) struct Grouped<'a> {
    pub alert: &'a Alert,
    pub items: Vec<&'a ItemName>,
    /// What it says after its title and its items; `the first:` where the others say it in other numbers.
    pub said: Vec<String>,
}

pub(super) fn grouped<'a>(alerts: &[&'a Alert]) -> Vec<Grouped<'a>> {
    let of = |group: Vec<&'a Alert>| {
        let alert = *group.first()?;
        let mut told = said(alert);
        if group.iter().any(|other| said(other) != told)
            && let Some(first) = told.first_mut()
        {
            *first = format!("the first: {first}");
        }
        Some(Grouped { alert, items: group.iter().map(|alert| &alert.item).collect(), said: told })
    };
    super::alike::alerts(alerts).into_iter().filter_map(of).collect()
}

/// So many groups of changed items are told; those that come after them have much in common, or are many.
pub(super) const MOST_GROUPS: usize = 40;

/// How much is told of what moved under one cause: of how many items, and how many results of each. The more has changed,
/// the less.
pub(super) fn most(groups: usize, all: bool) -> (usize, usize) {
    match (all, groups) {
        (true, _) => (usize::MAX, usize::MAX),
        (false, 0..=12) => (MOST_ITEMS, MOST_RESULTS),
        (false, _) => (2, 3),
    }
}

/// `356 rotors: "a", "b", "c" and 353 more; of the first:`
pub(super) fn heading_of(group: &[&ItemDiff], write: impl Fn(&str) -> String) -> String {
    let names: Vec<&ItemName> = group.iter().map(|item| &item.item).collect();
    format!("{} changed alike: {}; of the first:", counted(group.len(), "item"), named(&names, write))
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

/// What an alert says after its title and its item.
fn said(alert: &Alert) -> Vec<String> {
    let values = match (&alert.old, &alert.new) {
        (Some(old), Some(new)) => {
            let (old, new) = briefly(old, new);
            Some(format!("{old} → {new}"))
        }
        (Some(old), None) => Some(format!("was {}", shown(old))),
        (None, Some(new)) => Some(format!("now {}", shown(new))),
        (None, None) => None,
    };
    let ratio = alert.ratio.and_then(times);
    let values = match (values, ratio) {
        (Some(values), Some(ratio)) => Some(format!("{values} ({ratio})")),
        (values, _) => values,
    };
    values.into_iter().chain(alert.note.as_deref().map(shown)).collect()
}

/// `×2.54`; nothing where two digits do not tell.
pub(super) fn times(ratio: f64) -> Option<String> {
    let shown = if ratio >= 100.0 { format!("{ratio:.0}") } else { format!("{ratio:.2}") };
    (shown != "1.00").then(|| format!("×{shown}"))
}

/// How much of what a check finds is only that pins have to be renewed, and the rest.
pub(super) fn without_stale_pins(item: &ItemDiff) -> (Vec<&NewFinding>, Option<String>) {
    let (stale, rest): (Vec<_>, Vec<_>) = item.findings.iter().partition(|finding| finding.is_stale_pin());
    let line = match stale.len() {
        0 => None,
        1 => Some("1 pinned result is stale; `rotorbook pin` renews it".to_owned()),
        many => Some(format!("{many} pinned results are stale; `rotorbook pin` renews them")),
    };
    (rest, line)
}

/// Because of what else results moved: `also because of machine "soft bench", belt slip`.
pub(super) fn also_because(own: &ItemName, moved: &[&Moved], write: impl Fn(&str) -> String) -> Option<String> {
    let mut causes: Vec<String> = Vec::new();
    for cause in moved.iter().flat_map(|moved| &moved.because).filter(|cause| cause.item != *own) {
        let text = match cause.path.as_slice() {
            [] => cause.item.to_string(),
            path => format!("{}, {}", cause.item, path.join(" / ")),
        };
        if !causes.contains(&text) {
            causes.push(text);
        }
    }
    const MOST: usize = 4;
    let more = causes.len().saturating_sub(MOST);
    causes.truncate(MOST);
    let texts: Vec<String> = causes.iter().map(|cause| write(cause)).collect();
    match (texts.is_empty(), more) {
        (true, _) => None,
        (false, 0) => Some(format!("also because of {}", texts.join("; "))),
        (false, more) => Some(format!("also because of {}; and {more} more", texts.join("; "))),
    }
}
