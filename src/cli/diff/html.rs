//! `diff --format html`: the cards before and after, beside each other, in one page that loads nothing.

use maud::{Markup, html};

use super::lines::{Grouped, MOST_GROUPS, grouped, heading_of, named, path, shown, sides};
use super::{Compared, alike, cards};
use crate::book::{Book, Computing};
use crate::card;
use crate::diff::{CardDiff, ItemDiff};

pub(super) fn page((old, new): (&Book, &Book), compared: &Compared) -> String {
    let both = (Computing::without_explanations(old), Computing::without_explanations(new));
    let (before, after) = (shown(&compared.labels.0), shown(&compared.labels.1));
    let body = html! {
        header {
            h1 { "Setup sheets: " (compared.summary()) }
            p { bdi { (before) } " → " bdi { (after) } }
        }
        (told(compared))
        (alerts(compared))
        (changed_cards(&both, compared))
        (facts(compared))
    };
    card::page_of_comparisons(&format!("Setup sheets: {before} to {after}"), &body)
}

/// What the technician will do differently, in words; its pictures come after what must not be missed.
fn told(compared: &Compared) -> Markup {
    let cards = compared.diff.cards();
    let groups = cards::alike(&cards);
    let told = if compared.all { groups.len() } else { groups.len().min(MOST_GROUPS) };
    html! {
        @if groups.is_empty() {
            p { "No card of a released sheet says or shows anything else." }
        } @else {
            h2 { (cards::HEAD) }
            @for group in &groups[..told] {
                h3 { (group.whose(shown)) }
                ul { @for line in group.lines() { li { (line) } } }
            }
            @if told < groups.len() { p { "and " (groups.len() - told) " more; --all shows them" } }
        }
    }
}

fn alerts(compared: &Compared) -> Markup {
    let alerts = compared.diff.alerts();
    html! {
        @if !alerts.is_empty() {
            section class="alerts" {
                h2 { "Not to be missed" }
                ul {
                    @for Grouped { alert, items, said } in grouped(&alerts) {
                        li {
                            b { (alert.code.title()) } ": " (named(&items, shown))
                            @if !alert.path.is_empty() { ", " (path(&alert.path)) }
                            @if !said.is_empty() { ": " (said.join("; ")) }
                        }
                    }
                }
            }
        }
    }
}

fn changed_cards(both: &(Computing<'_>, Computing<'_>), compared: &Compared) -> Markup {
    let cards = compared.diff.cards();
    let groups = cards::alike(&cards);
    let told = if compared.all { groups.len() } else { groups.len().min(MOST_GROUPS) };
    html! {
        @if !groups.is_empty() {
            h2 { "The cards before and after" }
            @for group in &groups[..told] {
                article {
                    h3 { (group.whose(shown)) }
                    @if let Some(first) = group.cards.first() { (pictures(both, first)) }
                }
            }
            @if told < groups.len() { p { "and " (groups.len() - told) " more; --all shows them" } }
        }
    }
}

/// Both versions of one card.
fn pictures((old, new): &(Computing<'_>, Computing<'_>), card: &CardDiff) -> Markup {
    let of = |computing: &Computing<'_>, id| card::to_compare(computing.book(), &computing.item(id), id);
    match (of(old, card.ids.0), of(new, card.ids.1)) {
        (Some(old), Some(new)) => card::beside(&old, &new),
        _ => html! {},
    }
}

/// What was written otherwise, without what it moved.
fn facts(compared: &Compared) -> Markup {
    let groups = alike::items(&compared.diff.items, compared.all);
    let is_told = |group: &&Vec<&ItemDiff>| group.first().is_some_and(|item| item.changed_facts().next().is_some());
    let groups: Vec<_> = groups.into_iter().filter(|group| is_told(&group)).collect();
    let told = if compared.all { groups.len() } else { groups.len().min(MOST_GROUPS) };
    html! {
        @if !groups.is_empty() { h2 { "What was written otherwise" } }
        @for group in &groups[..told] {
            @if group.len() > 1 { p { (heading_of(group, shown)) } }
            @if let Some(item) = group.first() { (item_facts(item)) }
        }
        @if told < groups.len() { p { "and " (groups.len() - told) " more; --all shows them" } }
    }
}

fn item_facts(item: &ItemDiff) -> Markup {
    html! {
        h3 { (shown(&item.item.to_string())) " " small { (item.change.word()) ", " (shown(&item.file)) } }
        @if !matches!(item.change.word(), "added" | "removed") {
            table class="facts" {
                thead { tr { th { "fact" } th { "before" } th { "after" } } }
                tbody {
                    @for fact in item.changed_facts() {
                        @let (old, new) = sides(fact);
                        tr {
                            td { (path(&fact.path)) }
                            td { (old.as_deref().unwrap_or("–")) }
                            td { (new.as_deref().unwrap_or("–")) }
                        }
                    }
                }
            }
        }
    }
}
