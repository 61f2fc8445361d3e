//! Two versions of a card beside each other, for people who would rather look.

use maud::{Markup, html};

use super::html::{Among, STYLE, document, part};
use super::said::Said;
use crate::card::document::{Card, Part, Section};

/// How both versions stand beside each other.
const BESIDE: &str = include_str!("beside.css");

/// A stretch of a card under one title.
struct Stretch {
    side: &'static str,
    title: String,
    parts: Vec<Part>,
}

/// A page of comparisons: nothing loaded, nothing run.
pub fn page_of_comparisons(title: &str, body: &Markup) -> String {
    document(title, &format!("{STYLE}{BESIDE}"), &html! { main { (body) } })
}

/// Before and after, section by section; lines, rows and drawings that the other version does not have are marked, and
/// sections that are as they were are folded.
pub fn beside(old: &Card, new: &Card) -> Markup {
    let (olds, news) = (stretches(old), stretches(new));
    let mut taken = vec![false; olds.len()];
    let mut pairs: Vec<(Option<&Stretch>, Option<&Stretch>)> = Vec::new();
    for now in &news {
        let is_it = |n: &usize| !taken[*n] && (olds[*n].side, &olds[*n].title) == (now.side, &now.title);
        let at = (0..olds.len()).find(is_it);
        if let Some(at) = at {
            taken[at] = true;
        }
        pairs.push((at.map(|at| &olds[at]), Some(now)));
    }
    pairs.extend(olds.iter().zip(&taken).filter(|(_, taken)| !**taken).map(|(then, _)| (Some(then), None)));
    // What differs first; what both sides of a sheet say is shown once.
    let mut shown: Vec<(Said, Said)> = Vec::new();
    let (mut differ, mut alike) = (Vec::new(), Vec::new());
    for (then, now) in pairs {
        let of = |stretch: Option<&Stretch>| stretch.map(|one| Said::of(&one.parts)).unwrap_or_default();
        let (before, after) = (of(then), of(now));
        if shown.iter().any(|(a, b)| a.is_like(&before) && b.is_like(&after)) {
            continue;
        }
        match before.is_like(&after) {
            true => alike.extend(now),
            false => differ.push(both(then, now, &before, &after)),
        }
        shown.push((before, after));
    }
    html! {
        @for one in differ { (one) }
        @if !alike.is_empty() {
            details {
                summary { "As before: " (titles(&alike)) }
                @for one in alike { (pane("before and after", one, Among::default())) }
            }
        }
    }
}

/// What is folded, by its titles.
fn titles(alike: &[&Stretch]) -> String {
    let mut titles: Vec<&str> = alike.iter().map(|one| one.title.as_str()).filter(|title| !title.is_empty()).collect();
    titles.dedup();
    if titles.is_empty() { "the rest".to_owned() } else { titles.join("; ") }
}

fn both(then: Option<&Stretch>, now: Option<&Stretch>, before: &Said, after: &Said) -> Markup {
    let title = now.or(then).map(|one| (one.side, one.title.as_str())).unwrap_or_default();
    html! {
        section class="pair" {
            h4 { (title.1) " " small { (title.0) } }
            div class="versions" {
                @match then {
                    Some(then) => (pane("before", then, Among::beside(after))),
                    None => div class="version none" { p { "before: not on the card" } },
                }
                @match now {
                    Some(now) => (pane("after", now, Among::beside(before))),
                    None => div class="version none" { p { "after: no longer on the card" } },
                }
            }
        }
    }
}

fn pane(which: &str, one: &Stretch, among: Among<'_>) -> Markup {
    html! {
        div class="version" {
            p class="which" { (which) }
            @for one in &one.parts { (part(one, among)) }
        }
    }
}

/// The sections of a card, columns one after another; what nobody may overlook is the first.
fn stretches(card: &Card) -> Vec<Stretch> {
    let mut all = Vec::new();
    for side in &card.sides {
        if !side.alarms.is_empty() {
            let parts = side.alarms.iter().cloned().map(Part::Far).collect();
            all.push(Stretch { side: side.what, title: "Across the top".to_owned(), parts });
        }
        side.sections.iter().for_each(|section| gather(side.what, "", section, &mut all));
    }
    all.retain(|one| !one.parts.is_empty());
    all
}

fn gather(side: &'static str, outer: &str, section: &Section, all: &mut Vec<Stretch>) {
    let own = section.bare_title();
    let title = if own.is_empty() { outer.to_owned() } else { own };
    let (columns, parts): (Vec<&Part>, Vec<&Part>) =
        section.parts.iter().partition(|part| matches!(part, Part::Columns(_)));
    all.push(Stretch { side, title: title.clone(), parts: parts.into_iter().cloned().collect() });
    for part in columns {
        if let Part::Columns(columns) = part {
            columns.iter().flat_map(|column| &column.sections).for_each(|one| gather(side, &title, one, all));
        }
    }
}
