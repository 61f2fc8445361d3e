//! What two cards of one item say differently, as data: for whoever holds the old one and is handed the new one.

mod lines;
mod names;
mod places;
mod rank;
mod texts;

use std::fmt;

use super::document::Card;
use super::drawing::Drawing;
use super::words::Rank;
use crate::units::{in_base_units, same_amounts};
use crate::vocabulary::setup;
use lines::{COLUMNS, Line, What, lines};
use names::Names;
pub use names::{NameNow, NameOn};
use texts::{alike, clauses_that_differ};

/// What the large word in the corner of a card is called.
pub const STAMP: &str = "stamp";

/// Where the small print stands: by what the tolerance is, and how far the sheet goes.
pub const FOOT: &str = "foot";

/// One thing that a card says otherwise than before, in its own words.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct CardChange {
    /// `Run card`
    pub side: &'static str,
    /// Where on it; empty at its head.
    pub section: String,
    /// What it is said of, as the card calls it; empty for a sentence.
    pub of: String,
    /// `None` where it did not stand.
    pub old: Option<String>,
    pub new: Option<String>,
    pub what: CardChangeKind,
    /// Whether it is what a control of the panel is set to.
    pub is_set: bool,
    /// What the card says that its line is about.
    pub about: Option<Rank>,
}

#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum CardChangeKind {
    /// A sentence in other words: where, which way, what not to do.
    Sentence,
    /// A value that is set, read or made, in a sentence too.
    Value,
    /// A row of a table of numbers.
    Rows,
    /// The same things in another order.
    Order,
    /// A drawing, where the words stay.
    Drawing,
    /// Whether the card may be used, and of which text it is.
    Document,
}

impl CardChangeKind {
    pub const fn word(self) -> &'static str {
        match self {
            CardChangeKind::Sentence => "sentence",
            CardChangeKind::Value => "entry",
            CardChangeKind::Rows => "row",
            CardChangeKind::Order => "sequence",
            CardChangeKind::Drawing => "sketch",
            CardChangeKind::Document => "document",
        }
    }
}

/// What is said of a drawing that has the same words as before.
const DRAWN_OTHERWISE: &str = "drawn otherwise";

/// `left strength: 212 → 230`, `turning anticlockwise, was turning clockwise`, `gone: take off the belt`
impl fmt::Display for CardChange {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if !self.of.is_empty() {
            write!(f, "{}: ", self.of)?;
        }
        let is_sentence = self.of.is_empty();
        // The full stop belongs to the card.
        let plain = |text: &'_ Option<String>| text.as_deref().map(|text| text.trim_end_matches('.').to_owned());
        match (plain(&self.old), plain(&self.new)) {
            (None, Some(new)) if new == DRAWN_OTHERWISE => write!(f, "{new}"),
            (Some(old), Some(new)) if is_sentence => write!(f, "{new}, was {old}"),
            (Some(old), Some(new)) => write!(f, "{old} → {new}"),
            (None, Some(new)) if is_sentence => write!(f, "new: {new}"),
            (Some(old), None) if is_sentence => write!(f, "gone: {old}"),
            (None, Some(new)) => write!(f, "{new}, new"),
            (Some(old), None) => write!(f, "{old}, gone"),
            (None, None) => Ok(()),
        }
    }
}

/// Everything that differs, in the order of the new card; what both of its sides say, once. `renamed` are names of planes,
/// controls and channels, and what they are called now.
pub fn changes(old: &Card, new: &Card, renamed: &[NameNow<'_>]) -> Vec<CardChange> {
    let news = lines(new, Names::AS_THEY_ARE);
    let (olds, names) = by_names_now(old, &news, renamed);
    let pairs = paired(&olds, &news);
    let mut found: Vec<CardChange> = pairs.iter().flat_map(|(old, new)| between(*old, *new)).collect();
    found.extend(reordered(&olds, &news));
    found.extend(names);
    found.extend(pairs.iter().filter_map(|(old, new)| places::moved((*old)?, (*new)?)));
    found.extend(cautions_reordered(&olds, &news));
    if found.is_empty() {
        found.extend(redrawn(&pairs));
    }
    found.extend(in_other_units(&pairs));
    let mut told: Vec<CardChange> = Vec::with_capacity(found.len());
    for one in found {
        let is_told = |other: &CardChange| other.of == one.of && other.old == one.old && other.new == one.new;
        if !told.iter().any(is_told) {
            told.push(one);
        }
    }
    told
}

/// The lines of an old card with the names that things have now, and which names that concerns, each told once.
fn by_names_now<'c>(old: &'c Card, news: &[Line<'_>], renamed: &[NameNow<'_>]) -> (Vec<Line<'c>>, Vec<CardChange>) {
    let mut olds = lines(old, Names::AS_THEY_ARE);
    if renamed.is_empty() {
        return (olds, Vec::new());
    }
    let surely = lines(old, Names::surely(renamed));
    let ways: Vec<Vec<Line<'_>>> = Names::ways(renamed).map(|way| lines(old, way)).collect();
    let pairs: Vec<(&str, &str)> = renamed.iter().map(|one| (one.was, one.is)).collect();
    let mut told: Vec<CardChange> = Vec::new();
    for (n, line) in olds.iter_mut().enumerate().filter(|(_, line)| !news.contains(line)) {
        let by_parts = ways.iter().map(|way| &way[n]).find(|now| news.contains(now));
        // A sentence of the sheet's own may have names in it: it is the same where the new card has it with all of them.
        let in_words = || {
            let now = line.with_names(&pairs);
            (now != *line).then(|| news.iter().find(|new| new.is_but_for_quotes(&now))).flatten()
        };
        let now = by_parts.cloned().or_else(|| Some(in_words()?.said_by(line))).unwrap_or_else(|| surely[n].clone());
        if now == *line {
            continue;
        }
        for (was, is) in pairs.iter().filter(|pair| line.with_names(&[**pair]) != *line) {
            let change = CardChange {
                side: line.side,
                section: String::new(),
                of: String::new(),
                old: Some((*was).to_owned()),
                new: Some((*is).to_owned()),
                what: CardChangeKind::Sentence,
                is_set: false,
                about: None,
            };
            if !told.iter().any(|one| one.old == change.old && one.new == change.new) {
                told.push(change);
            }
        }
        *line = now;
    }
    (olds, told)
}

/// All that a card says and draws, as one text, whatever the units and whatever stands first in the sheets: where two cards
/// differ in it, [`changes`] tells how.
pub(super) fn said(card: &Card) -> String {
    let sorted = |mut parts: Vec<String>| {
        parts.sort_unstable();
        parts.join("; ")
    };
    let mut place = 0;
    let line = |line: &Line<'_>| {
        // A panel is set, and cautions are read, in their order.
        let is_in_order = line.what == What::Set || line.label == setup::CAUTION.words();
        place += u32::from(is_in_order);
        let at = if is_in_order { place.to_string() } else { String::new() };
        let value = match line.what {
            What::Figure => sorted(line.value.split("; ").map(str::to_owned).collect()),
            What::Row if line.label == COLUMNS => sorted(line.value.split(", ").map(str::to_owned).collect()),
            _ if line.cells.len() > 1 => {
                sorted(line.cells.iter().map(|(head, cell)| format!("{head} {cell}")).collect())
            }
            _ => line.value.clone(),
        };
        let drawn = line.drawing.map(Drawing::told_in_full).unwrap_or_default();
        let said = [line.side, &line.section, &line.label, &value].map(in_base_units).join("\t");
        format!("{at}\t{said}\t{drawn}")
    };
    let mut all: Vec<String> = lines(card, Names::AS_THEY_ARE).iter().map(line).collect();
    all.sort_unstable();
    all.join("\n")
}

type Paired<'l, 'c> = (Option<&'l Line<'c>>, Option<&'l Line<'c>>);

/// Lines side by side: those that are the same, then those of one label, then those whose labels begin alike, then those
/// that say nearly the same.
fn paired<'l, 'c>(olds: &'l [Line<'c>], news: &'l [Line<'c>]) -> Vec<Paired<'l, 'c>> {
    let mut partner: Vec<Option<usize>> = vec![None; news.len()];
    let mut taken = vec![false; olds.len()];
    let fits: [fn(&Line<'_>, &Line<'_>) -> bool; 5] = [
        |o, n| o == n,
        |o, n| o.label == n.label && o.section == n.section && !n.label.is_empty(),
        |o, n| o.label == n.label && !n.label.is_empty(),
        |o, n| {
            let is_row = matches!((o.what, n.what), (What::Row, What::Row) | (What::Set, What::Set));
            o.section == n.section && is_row && o.root() == n.root()
        },
        |o, n| {
            o.section == n.section
                && o.what == n.what
                && (n.what == What::Figure
                    || (matches!(n.what, What::Text | What::Head)
                        && (alike(&o.value, &n.value) || same_amounts(&o.value, &n.value))))
        },
    ];
    for fits in fits {
        // What is alike mostly is in the same order.
        let mut next = 0;
        for n in 0..news.len() {
            if partner[n].is_some() {
                continue;
            }
            let is_it = |o: &usize| !taken[*o] && olds[*o].side == news[n].side && fits(&olds[*o], &news[n]);
            if let Some(o) = (next..olds.len()).chain(0..next).find(is_it) {
                (partner[n], taken[o], next) = (Some(o), true, o + 1);
            }
        }
    }
    let both = news.iter().zip(&partner).map(|(new, partner)| (partner.map(|o| &olds[o]), Some(new)));
    let gone = olds.iter().zip(&taken).filter(|(_, taken)| !**taken).map(|(old, _)| (Some(old), None));
    both.chain(gone).collect()
}

fn between(old: Option<&Line<'_>>, new: Option<&Line<'_>>) -> Vec<CardChange> {
    let Some(line) = new.or(old) else { return Vec::new() };
    let change = |of: &str, old: Option<String>, new: Option<String>| {
        let said = |side: Option<String>| side.filter(|text| !text.is_empty());
        let (old, new) = (said(old), said(new));
        (old != new).then(|| CardChange {
            side: line.side,
            section: line.section.clone(),
            of: of.to_owned(),
            what: line.kind(old.as_deref(), new.as_deref()),
            is_set: line.what == What::Set,
            about: line.about,
            old,
            new,
        })
    };
    match (old, new) {
        (Some(old), Some(new)) if same_amounts(&old.value, &new.value) && old.label == new.label => Vec::new(),
        (Some(old), Some(new)) if matches!(line.what, What::Text | What::Head | What::Figure) => {
            let differ = clauses_that_differ(&old.value, &new.value).into_iter();
            // The numbers along a scale or round a circle say nothing by themselves.
            let is_told = |side: &Option<String>| {
                let text = side.as_deref().unwrap_or_default();
                // How far a plot reaches says nothing of what is in it.
                line.what != What::Figure || (text.chars().any(char::is_alphabetic) && !text.starts_with("edge "))
            };
            let told = differ.filter(|(old, new)| is_told(old) || is_told(new));
            told.filter_map(|(old, new)| change(&line.label, old, new)).collect()
        }
        (Some(old), Some(new)) => {
            let of = if old.label == new.label { new.told_of() } else { new.root() };
            change(of, Some(old.beside(new)), Some(new.beside(old))).into_iter().collect()
        }
        // Which rows a table of numbers has is told once for all of them.
        (Some(one), None) | (None, Some(one)) if one.what == What::Numbers => Vec::new(),
        // An empty drawing says nothing.
        (Some(one), None) | (None, Some(one)) if one.what == What::Figure && one.value.is_empty() => Vec::new(),
        (Some(one), None) if one.what == What::Figure => change("", Some(one.titled()), None).into_iter().collect(),
        (None, Some(one)) if one.what == What::Figure => change("", None, Some(one.titled())).into_iter().collect(),
        (old, new) => {
            let said = |line: &Line<'_>| line.value.clone();
            change(line.told_of(), old.map(said), new.map(said)).into_iter().collect()
        }
    }
}

/// Things that are in another order: a panel is set as its rows stand. Tables of numbers that have other rows.
fn reordered(olds: &[Line<'_>], news: &[Line<'_>]) -> Vec<CardChange> {
    let mut sections: Vec<(&'static str, &str, What)> = Vec::new();
    for line in news.iter().filter(|line| matches!(line.what, What::Cell | What::Set | What::Numbers)) {
        if !sections.contains(&(line.side, &line.section, line.what)) {
            sections.push((line.side, &line.section, line.what));
        }
    }
    let order = |(side, section, what): (&'static str, &str, What)| {
        let labels = |lines: &[Line<'_>], others: &[Line<'_>]| -> Vec<String> {
            let here = |line: &&Line<'_>| line.what == what && line.side == side && line.section == section;
            let stands =
                |line: &&Line<'_>| what == What::Numbers || others.iter().filter(here).any(|other| other.of == line.of);
            lines.iter().filter(here).filter(stands).map(|line| line.of.clone()).collect()
        };
        let (old, new) = (labels(olds, news), labels(news, olds));
        let is_rows = what == What::Numbers;
        let (old, new): (Vec<String>, Vec<String>) = match is_rows || old == new {
            true => (old, new),
            false => moved_alone(old, new),
        };
        let shared = if is_rows { shared_start(old.iter().chain(&new)) } else { String::new() };
        let listed = |labels: &[String]| {
            labels.iter().map(|label| label[shared.len()..].to_owned()).collect::<Vec<_>>().join(", ")
        };
        let said = |labels: &[String]| Some(listed(labels)).filter(|text| !text.is_empty());
        (old != new).then(|| CardChange {
            side,
            section: section.to_owned(),
            of: if is_rows { format!("rows {shared}").trim().to_owned() } else { "sequence".to_owned() },
            old: said(&old),
            new: said(&new),
            what: CardChangeKind::Order,
            is_set: false,
            about: None,
        })
    };
    sections.into_iter().filter_map(order).collect()
}

/// Cautions that are the same, one after another as they were not.
fn cautions_reordered(olds: &[Line<'_>], news: &[Line<'_>]) -> Option<CardChange> {
    let is_caution = |line: &&Line<'_>| line.label == setup::CAUTION.words();
    let first = news.iter().find(is_caution)?;
    let said = |lines: &[Line<'_>], others: &[Line<'_>]| -> Vec<String> {
        let here = lines.iter().filter(is_caution).filter(|line| line.side == first.side);
        let stays = |line: &&Line<'_>| others.iter().any(|other| is_caution(&other) && other.value == line.value);
        here.filter(stays).map(|line| line.value.trim_end_matches('.').to_owned()).collect()
    };
    let (old, new) = moved_alone(said(olds, news), said(news, olds));
    (old.len() == new.len() && old != new).then(|| CardChange {
        side: first.side,
        section: first.section.clone(),
        of: "order of cautions".to_owned(),
        old: Some(old.join(", ")),
        new: Some(new.join(", ")),
        what: CardChangeKind::Order,
        is_set: false,
        about: None,
    })
}

/// What says the same in other units, as far as their digits go: the first such line, and how many there are. Whoever holds
/// the old card reads other numbers on it.
fn in_other_units(pairs: &[Paired<'_, '_>]) -> Option<CardChange> {
    let both = pairs.iter().filter_map(|(old, new)| Some(((*old)?, (*new)?)));
    let is_rounded = |(old, new): &(&Line<'_>, &Line<'_>)| {
        old.value != new.value
            && same_amounts(&old.value, &new.value)
            && in_base_units(&old.value) != in_base_units(&new.value)
    };
    let mut other = both.filter(is_rounded);
    let (old, new) = other.next()?;
    let more = match other.count() {
        0 => String::new(),
        1 => ", and 1 more line".to_owned(),
        more => format!(", and {more} more lines"),
    };
    Some(CardChange {
        side: new.side,
        section: new.section.clone(),
        of: if new.label.is_empty() { "in other units".to_owned() } else { format!("{}, in other units", new.label) },
        old: Some(old.value.clone()),
        new: Some(format!("{}{more}", new.value)),
        what: CardChangeKind::Document,
        is_set: false,
        about: None,
    })
}

/// Without what is at the start and at the end of both.
fn moved_alone(mut old: Vec<String>, mut new: Vec<String>) -> (Vec<String>, Vec<String>) {
    let start = old.iter().zip(&new).take_while(|(a, b)| a == b).count();
    old.drain(..start);
    new.drain(..start);
    let end = old.iter().rev().zip(new.iter().rev()).take_while(|(a, b)| a == b).count();
    old.truncate(old.len() - end);
    new.truncate(new.len() - end);
    (old, new)
}

/// The words that all of them begin with.
fn shared_start<'l>(mut labels: impl Iterator<Item = &'l String>) -> String {
    let Some(first) = labels.next() else { return String::new() };
    let mut shared = first.rfind(' ').map_or(0, |at| at + 1);
    for label in labels {
        while shared > 0 && !label.starts_with(&first[..shared]) {
            shared = first[..shared - 1].rfind(' ').map_or(0, |at| at + 1);
        }
    }
    first[..shared].to_owned()
}

/// The words of a drawing, without how far it reaches: that is a round number of its unit.
fn drawn(line: &Line<'_>) -> String {
    line.value.split("; ").filter(|words| !words.starts_with("edge ")).collect::<Vec<_>>().join("; ")
}

/// Drawings that are others where no word is.
fn redrawn(pairs: &[Paired<'_, '_>]) -> Vec<CardChange> {
    let both = pairs.iter().filter_map(|(old, new)| Some(((*old)?, (*new)?)));
    let differ = both.filter(|(old, new)| match (old.drawing, new.drawing) {
        // The same in another unit takes another room.
        (Some(a), Some(b)) => {
            let is_in_other_units = old.value != new.value && same_amounts(&drawn(old), &drawn(new));
            !is_in_other_units && !a.is_drawn_like(b)
        }
        _ => false,
    });
    let change = |(_, new): (&Line<'_>, &Line<'_>)| CardChange {
        side: new.side,
        section: new.section.clone(),
        of: new.label.clone(),
        old: None,
        new: Some(DRAWN_OTHERWISE.to_owned()),
        what: CardChangeKind::Drawing,
        is_set: false,
        about: None,
    };
    differ.map(change).collect()
}
