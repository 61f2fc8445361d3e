//! `diff --format markdown`: ready for a merge request.
//!
//! Texts of sheets are in `<code>`, each character that Markdown or HTML could read as a mark written as its number: so
//! they end no table, begin no link, and call nobody by an `@`.

use std::fmt::Write;

use super::lines::{
    Folded, Grouped, also_because, by_item, fate, finding_text, grouped, heading_of, most, named, path, result_sides,
    results_head, shown, sides, told, without_stale_pins,
};
use super::{Compared, alike, cards};
use crate::cli::report::counted;
use crate::diff::{FactChange, ItemDiff};

/// So long a comment may be, in bytes, with some room left: forges take 65,536 characters (from memory).
const MOST: usize = 60_000;

/// So much of it may be what the cards say otherwise.
const MOST_OF_CARDS: usize = 20_000;

/// So much of it may be that and alerts.
const MOST_OF_ALERTS: usize = 40_000;

pub(super) fn document(compared: &Compared) -> String {
    let mut text = format!("### Setup sheets: {}\n\n", compared.summary());
    let _ = writeln!(text, "{} → {}", code(&compared.labels.0), code(&compared.labels.1));
    if let Some(address) = &compared.pictures {
        let _ = writeln!(text, "\n[The cards before and after, beside each other](<{}>)", linked(address));
    }
    cards(&mut text, compared);
    alerts(&mut text, compared);
    let mut left_out = 0;
    let groups = alike::items(&compared.diff.items, compared.all);
    let most = most(groups.len(), compared.all);
    for group in &groups {
        let Some(item) = group.first() else { continue };
        let together = if group.len() > 1 { format!("\n**{}**\n", heading_of(group, code)) } else { String::new() };
        let section = sections(item, &together, most).into_iter().find(|section| text.len() + section.len() <= MOST);
        match section.filter(|_| left_out == 0) {
            Some(section) => text.push_str(&section),
            None => left_out += group.len(),
        }
    }
    if left_out > 0 {
        let _ = writeln!(text, "\nand {left_out} more changed items; <code>rotorbook diff</code> shows them");
    }
    text
}

/// All there is to say of an item, then less and less of it, for where that is too much.
fn sections(item: &ItemDiff, together: &str, most: (usize, usize)) -> [String; 3] {
    let mut head = together.to_owned();
    heading(&mut head, item);
    let mut short = head.clone();
    facts(&mut short, item);
    let mut whole = short.clone();
    results(&mut whole, item, most);
    findings(&mut whole, item, most.1);
    let note = |text: String, what: &str| format!("{text}\nThere is no room here for {what}.\n");
    [whole, note(short, "the results that moved"), note(head, "what changed in it")]
}

/// A text of a sheet or of a person, in a type of its own and without effect.
fn code(text: &str) -> String {
    format!("<code>{}</code>", escaped(&shown(text)))
}

/// An address between angle brackets, which ends where it should.
fn linked(address: &str) -> String {
    let end = |c: char| matches!(c, '<' | '>' | '\\') || c.is_control();
    address.chars().map(|c| if end(c) { format!("%{:02X}", u32::from(c)) } else { c.to_string() }).collect()
}

/// Every character of ASCII that could be a mark, as its number.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for character in text.chars() {
        match character {
            ' ' | '.' | ',' | '=' | '/' | '%' => out.push(character),
            _ if character.is_ascii_punctuation() => {
                let _ = write!(out, "&#{};", u32::from(character));
            }
            _ => out.push(character),
        }
    }
    // An address would become a link even so.
    out.replace("//", "&#47;&#47;").replace("www.", "www&#46;")
}

fn cards(text: &mut String, compared: &Compared) {
    let cards = compared.diff.cards();
    if cards.is_empty() {
        return;
    }
    let _ = writeln!(text, "\n**{}**\n", cards::HEAD);
    let groups = cards::alike(&cards);
    for (n, alike) in groups.iter().enumerate() {
        if text.len() > MOST_OF_CARDS {
            let _ = writeln!(text, "- and {} more", groups.len() - n);
            break;
        }
        let _ = writeln!(text, "- {}", alike.whose(code));
        for line in alike.lines() {
            let _ = writeln!(text, "  - {}", code(&line));
        }
    }
}

fn alerts(text: &mut String, compared: &Compared) {
    let alerts = compared.diff.alerts();
    if alerts.is_empty() {
        return;
    }
    text.push_str("\n**Not to be missed**\n\n");
    let groups = grouped(&alerts);
    for (n, Grouped { alert, items, said }) in groups.iter().enumerate() {
        if text.len() > MOST_OF_ALERTS {
            let _ = writeln!(text, "- and {} more", groups.len() - n);
            break;
        }
        let place = if alert.path.is_empty() { String::new() } else { format!(", {}", code(&path(&alert.path))) };
        let said: Vec<String> = said.iter().map(|said| code(said)).collect();
        let behind = if said.is_empty() { String::new() } else { format!(": {}", said.join("; ")) };
        let _ = writeln!(text, "- **{}** – {}{place}{behind}", alert.code.title(), named(items, code));
    }
}

fn heading(text: &mut String, item: &ItemDiff) {
    let fate = match (item.change.word(), &item.was) {
        ("renamed", Some(was)) => format!(" renamed, was {}", code(was)),
        _ => match fate(item).as_str() {
            "" => String::new(),
            fate => format!(" {fate}"),
        },
    };
    let _ = writeln!(text, "\n#### {}{fate}\n\n{}", code(&item.item.to_string()), code(&item.file));
}

fn facts(text: &mut String, item: &ItemDiff) {
    if matches!(item.change.word(), "added" | "removed") {
        return;
    }
    table(text, "fact", item.changed_facts());
    table(text, "precision changed", item.changed_precision());
}

fn table<'f>(text: &mut String, head: &str, facts: impl Iterator<Item = &'f FactChange>) {
    let mut facts = facts.peekable();
    if facts.peek().is_none() {
        return;
    }
    let _ = writeln!(text, "\n| {head} | old | new |\n|---|---|---|");
    for fact in facts {
        let (old, new) = sides(fact);
        let side = |side: Option<String>| side.map_or_else(|| "–".to_owned(), |side| code(&side));
        let _ = writeln!(text, "| {} | {} | {} |", code(&path(&fact.path)), side(old), side(new));
    }
}

fn results(text: &mut String, item: &ItemDiff, (most, most_results): (usize, usize)) {
    let groups = by_item(&item.results);
    if groups.is_empty() {
        return;
    }
    let _ = writeln!(
        text,
        "\n<details><summary>{}: {}</summary>\n\n| result | old | new |\n|---|---|---|",
        results_head(&item.results),
        item.results.len()
    );
    let mut folded = Folded::default();
    let (silent, groups): (Vec<_>, Vec<_>) = groups.into_iter().partition(|(_, moved)| told(moved).told.is_empty());
    silent.iter().for_each(|(_, moved)| folded.add(&told(moved)));
    for (whose, moved) in groups.iter().take(most) {
        if **whose != item.item {
            let _ = writeln!(text, "| **{}** | | |", code(&whose.to_string()));
        }
        let told = told(moved);
        let shown = told.told.len().min(most_results);
        for one in &told.told[..shown] {
            let (old, new) = result_sides(one);
            let _ = writeln!(text, "| {} | {} | {} |", code(&path(&one.path)), code(&old), code(&new));
        }
        if let Some(rest) = told.rest(told.told.len() - shown) {
            let _ = writeln!(text, "| {rest} | | |");
        }
        if let Some(line) = also_because(&item.item, &told.told, code) {
            let _ = writeln!(text, "| {line} | | |");
        }
    }
    if groups.len() > most {
        let _ = writeln!(text, "| and those of {} more | | |", counted(groups.len() - most, "item"));
    }
    if let Some(line) = folded.line() {
        let _ = writeln!(text, "| {line} | | |");
    }
    text.push_str("\n</details>\n");
}

/// What the check says because of it that it did not say before.
fn findings(text: &mut String, item: &ItemDiff, most: usize) {
    if item.findings.is_empty() {
        return;
    }
    text.push_str("\nWhat the check finds because of it:\n\n");
    let (findings, stale) = without_stale_pins(item);
    let most = findings.len().min(most);
    for finding in &findings[..most] {
        let _ = writeln!(text, "- {}: {}", finding.severity.word(), code(&finding_text(finding)));
    }
    if most < findings.len() {
        let _ = writeln!(text, "- and {} more", findings.len() - most);
    }
    if let Some(line) = stale {
        let _ = writeln!(text, "- {}", code(&line));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn texts_of_sheets_are_without_effect() {
        let odd = "a|b `c` <script> @all #1 [x](https://tern.example) &lt; ]]> **\u{202e}";
        let text = code(odd);
        let inner = text.strip_prefix("<code>").and_then(|text| text.strip_suffix("</code>")).unwrap();
        assert!(!inner.contains(['|', '`', '<', '>', '@', '[', ']', '*', '\u{202e}']), "{inner}");
        assert!(!inner.contains("://") && inner.contains("&#64;all"), "{inner}");
    }

    #[test]
    fn an_endless_text_is_cut() {
        assert!(code(&"x".repeat(10_000)).len() < 400);
    }
}
