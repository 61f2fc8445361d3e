//! `diff` for people at a terminal.

use super::lines::{
    Folded, Grouped, MOST_GROUPS, also_because, by_item, fate, finding_text, grouped, heading_of, most, named, path,
    result_sides, results_head, shown, sides, told, without_stale_pins,
};
use super::{Compared, alike, cards};
use crate::check::Severity;
use crate::cli::layout::{WIDTH, hanging};
use crate::cli::report::counted;
use crate::cli::terminal::{Paint, Terminal};
use crate::diff::{BookDiff, FactChange, ItemDiff, Moved};

pub(super) fn write(terminal: &mut Terminal, compared: &Compared) {
    let paint = terminal.paint;
    let (old, new) = (&compared.labels.0, &compared.labels.1);
    terminal.line(&format!("{} → {}: {}", shown(old), shown(new), compared.summary()));
    cards(terminal, &compared.diff, true);
    alerts(terminal, &compared.diff);
    let groups = alike::items(&compared.diff.items, compared.all);
    let told = if compared.all { groups.len() } else { groups.len().min(MOST_GROUPS) };
    let most = most(groups.len(), compared.all);
    for group in &groups[..told] {
        let Some(item) = group.first() else { continue };
        terminal.line("");
        if group.len() > 1 {
            terminal.line(&paint.bold(&hanging("", &heading_of(group, shown), WIDTH)));
        }
        let fate = fate(item);
        let behind = if fate.is_empty() { String::new() } else { format!(": {fate}") };
        let file = paint.dim(&format!("  {}", shown(&item.file)));
        terminal.line(&format!("{}{behind}{file}", paint.bold(&shown(&item.item.to_string()))));
        facts(terminal, item);
        results(terminal, item, most);
        findings(terminal, item, most.1);
    }
    let rest: usize = groups[told..].iter().map(Vec::len).sum();
    if rest > 0 {
        terminal.line("");
        terminal.line(&paint.dim(&format!("and {} more that changed; --all writes them", counted(rest, "item"))));
    }
}

/// What the cards say otherwise; whether they do.
pub(in crate::cli) fn cards(terminal: &mut Terminal, diff: &BookDiff, spaced: bool) -> bool {
    let cards = diff.cards();
    if cards.is_empty() {
        return false;
    }
    let paint = terminal.paint;
    if spaced {
        terminal.line("");
    }
    terminal.line(&paint.bold(cards::HEAD));
    for group in cards::alike(&cards).iter().take(MOST_GROUPS) {
        terminal.line(&hanging("  ", &group.whose(shown), WIDTH));
        group.lines().iter().for_each(|line| terminal.line(&hanging("    ", line, WIDTH)));
    }
    true
}

fn alerts(terminal: &mut Terminal, diff: &BookDiff) {
    let alerts = diff.alerts();
    if alerts.is_empty() {
        return;
    }
    let paint = terminal.paint;
    terminal.line("");
    terminal.line(&paint.bold("Not to be missed"));
    for group in grouped(&alerts) {
        let alert = group.alert;
        let head = format!("  {}: ", alert.code.title());
        let text = hanging(&head, &alert_text(&group), WIDTH);
        terminal.line(&text.replacen(alert.code.title(), &paint.red(alert.code.title()), 1));
    }
}

fn alert_text(Grouped { alert, items, said }: &Grouped<'_>) -> String {
    let place = if alert.path.is_empty() { String::new() } else { format!(", {}", path(&alert.path)) };
    let behind = if said.is_empty() { String::new() } else { format!(": {}", said.join("; ")) };
    format!("{}{place}{behind}", named(items, shown))
}

fn facts(terminal: &mut Terminal, item: &ItemDiff) {
    // What comes or goes as a whole is not listed line by line: the file has it.
    if matches!(item.change.word(), "added" | "removed") {
        return;
    }
    let paint = terminal.paint;
    for fact in item.changed_facts() {
        terminal.line(&fact_line(fact, paint, "  "));
    }
    if item.changed_precision().next().is_some() {
        terminal.line("  precision changed");
        for fact in item.changed_precision() {
            terminal.line(&fact_line(fact, paint, "    "));
        }
    }
}

/// `~ calibrate hub / mass: 3.00 g → 5.00 g`
pub(in crate::cli) fn fact_line(fact: &FactChange, paint: Paint, indent: &str) -> String {
    let head = path(&fact.path);
    match sides(fact) {
        (Some(old), Some(new)) => format!("{indent}{} {head}: {} → {}", paint.yellow("~"), paint.dim(&old), new),
        (None, Some(new)) => format!("{indent}{}", paint.green(&format!("+ {head}: {new}"))),
        (Some(old), None) => format!("{indent}{}", paint.red(&format!("- {head}: {old}"))),
        (None, None) => format!("{indent}  {head}"),
    }
}

fn results(terminal: &mut Terminal, item: &ItemDiff, (most, most_results): (usize, usize)) {
    let groups = by_item(&item.results);
    if groups.is_empty() {
        return;
    }
    let paint = terminal.paint;
    terminal.line(&paint.cyan(&format!("  {}", results_head(&item.results))));
    let mut folded = Folded::default();
    let (silent, groups): (Vec<_>, Vec<_>) = groups.into_iter().partition(|(_, moved)| told(moved).told.is_empty());
    silent.iter().for_each(|(_, moved)| folded.add(&told(moved)));
    for (whose, moved) in groups.iter().take(most) {
        let own = **whose == item.item;
        let told = told(moved);
        if !own {
            terminal.line(&format!("    {}", shown(&whose.to_string())));
        }
        let indent = if own { "    " } else { "      " };
        let shown = told.told.len().min(most_results);
        told.told[..shown].iter().for_each(|moved| terminal.line(&result_line(moved, indent)));
        if let Some(line) = also_because(&item.item, &told.told, super::lines::shown) {
            terminal.line(&paint.dim(&hanging(indent, &line, WIDTH)));
        }
        if let Some(rest) = told.rest(told.told.len() - shown) {
            terminal.line(&paint.dim(&format!("{indent}{rest}")));
        }
    }
    if let Some(line) = folded.line() {
        terminal.line(&paint.dim(&format!("    {line}")));
    }
    if groups.len() > most {
        let rest = &groups[most..];
        let results = rest.iter().map(|(_, moved)| moved.len()).sum();
        let text = format!(
            "    and {} of {} more; --all writes them",
            counted(results, "result"),
            counted(rest.len(), "item")
        );
        terminal.line(&paint.dim(&text));
    }
}

/// What the check says because of it that it did not say before.
fn findings(terminal: &mut Terminal, item: &ItemDiff, most: usize) {
    if item.findings.is_empty() {
        return;
    }
    let paint = terminal.paint;
    terminal.line(&paint.cyan("  what the check finds because of it"));
    let (findings, stale) = without_stale_pins(item);
    let most = findings.len().min(most);
    for finding in &findings[..most] {
        let head = format!("    {}: ", finding.severity.word());
        let text = hanging(&head, &finding_text(finding), WIDTH);
        let painted = if finding.severity == Severity::Error { Paint::red } else { Paint::yellow };
        let word = finding.severity.word();
        terminal.line(&text.replacen(word, &painted(paint, word), 1));
    }
    if most < findings.len() {
        let more = findings.len() - most;
        terminal.line(&paint.dim(&format!("    and {more} more, --all writes them")));
    }
    if let Some(line) = stale {
        terminal.line(&paint.dim(&format!("    {line}")));
    }
}

fn result_line(moved: &Moved, indent: &str) -> String {
    let (old, new) = result_sides(moved);
    let line = format!("{indent}{}: {old} → {new}", path(&moved.path));
    if line.chars().count() <= WIDTH {
        return line;
    }
    // Both sides below each other are easier to compare than a line that breaks anywhere.
    format!("{indent}{}:\n{indent}    {old}\n{indent}  → {new}", path(&moved.path))
}
