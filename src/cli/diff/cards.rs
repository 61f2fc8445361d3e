//! What the technician will do differently: the cards of released sheets, those that change alike together.

use super::lines::shown;
use crate::card::{CardChange, CardChangeKind, Rank};
use crate::diff::CardDiff;

/// Lines of one card, before the rest is only counted; where many cards change, each in its own way, fewer, so that all of
/// them are on the first page.
const MOST_LINES: usize = 8;
const LINES_OF_MANY: usize = 4;
const MANY: usize = 4;

/// What stands over it all.
pub(super) const HEAD: &str = "What the technician will do differently";

/// Cards that change alike, the first of them as an example.
pub(super) struct Alike<'d> {
    pub cards: Vec<&'d CardDiff>,
    most_lines: usize,
}

impl Alike<'_> {
    /// What changes on the first of them, a line each.
    pub fn lines(&self) -> Vec<String> {
        let Some(first) = self.cards.first() else { return Vec::new() };
        let told = first.changes.iter().filter(|change| change.what != CardChangeKind::Document);
        // Where nothing else was written than that something was done, last digits are worked out otherwise, and nobody sets them.
        let is_noise = |one: &&CardChange| first.is_bookkeeping() && one.is_last_digit();
        let (digits, mut told): (Vec<&CardChange>, Vec<&CardChange>) = told.partition(is_noise);
        // What harms first: whether it may be used, how fast, where; numbers that follow from others last.
        told.sort_by_key(|change| (change.rank(), !change.is_set));
        let harms = told.iter().filter(|change| change.rank() <= Rank::Places).count();
        let mut lines: Vec<String> = told[..harms].iter().map(|change| line(change)).collect();
        let mut rest = rows_together(&told[harms..]);
        let most = self.most_lines.saturating_sub(lines.len());
        lines.extend(rest.drain(..rest.len().min(most)));
        if !rest.is_empty() {
            lines.push(format!("and {} more; `--format json` has them all", rest.len()));
        }
        match digits.len() {
            0 => {}
            1 => lines.push(format!("{}, in its last digit alone", line(digits[0]))),
            more => lines.push(format!("and {more} lines in their last digits alone")),
        }
        lines
    }

    /// `released C` of one, how many of several.
    pub fn whose(&self, write: impl Fn(&str) -> String) -> String {
        let names: Vec<String> = self.cards.iter().take(3).map(|card| write(&card.item.to_string())).collect();
        match self.cards.as_slice() {
            [one] => match &one.revision.1 {
                Some(revision) => format!("{}, revision {}", names.join(""), write(revision)),
                None => names.join(""),
            },
            [_, _] | [_, _, _] => format!("{}, the first of them", names.join(", ")),
            all => format!("{} and {} more, the first of them", names.join(", "), all.len() - names.len()),
        }
    }
}

/// Those that differ from all others first.
pub(super) fn alike<'d>(cards: &[&'d CardDiff]) -> Vec<Alike<'d>> {
    let groups = super::alike::cards(cards);
    let most_lines = if groups.len() > MANY { LINES_OF_MANY } else { MOST_LINES };
    groups.into_iter().map(|cards| Alike { cards, most_lines }).collect()
}

/// A line for each change; rows of one table of numbers are one, told by the last of them.
fn rows_together(told: &[&CardChange]) -> Vec<String> {
    let is_one_table = |a: &&CardChange, b: &&CardChange| {
        a.what == CardChangeKind::Rows && b.what == a.what && (a.side, &a.section) == (b.side, &b.section)
    };
    let lines = told.chunk_by(is_one_table).filter_map(|rows| match rows {
        [one] => Some(line(one)),
        [.., last] => Some(shown(&format!("{}: {} rows, the last of them {last}", last.section, rows.len()))),
        [] => None,
    });
    lines.collect()
}

/// `Never above: 4200 rpm → 4400 rpm`
fn line(change: &CardChange) -> String {
    let text = match change.section.as_str() {
        "" => change.to_string(),
        _ if change.is_set => change.to_string(),
        section => format!("{section}: {change}"),
    };
    shown(&text)
}
