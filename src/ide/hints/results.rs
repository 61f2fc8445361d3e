//! What is computed of a fact or a block, after it.

use super::wording::{hides_its_angle, said, said_in_row};
use super::{Hint, HintKind};
use crate::book::{Book, Computed, Entry, ItemId, Outcome, SourceFile};
use crate::ide::results::ByBlock;
use crate::ide::{explain, inherit, lines, results};
use crate::sheet::Block;
use crate::syntax::Kind;
use crate::text::{Edit, Span};
use crate::vocabulary::{Of, OfVector, RangeEnd, result, rotor, setup};

/// One place and what is shown after it.
struct Group<'c> {
    at: u32,
    /// The block that the results would be pinned in.
    block: Option<&'c Block>,
    /// Where the line that they follow lies, when that is a fact of the block.
    fact: Option<Span>,
    entries: Vec<&'c Entry>,
    labels: Vec<Label<'c>>,
    left_out: bool,
    /// The heading of a block that was taken over whole.
    of: Option<String>,
}

/// A few words on one result.
struct Label<'c> {
    entry: &'c Entry,
    of: Option<String>,
    text: String,
}

impl Group<'_> {
    /// Whether results of the two belong into one hint: shown in one place, pinned in one block.
    fn is_like(&self, other: &Self) -> bool {
        let block = |group: &Self| group.block.map(|block| block.span.start);
        self.at == other.at && self.of == other.of && block(self) == block(other)
    }
}

pub(super) fn of(book: &Book, id: ItemId, item: &Block, computed: &Computed<'_>, hints: &mut Vec<Hint>) {
    if !results::has_results(item.kind) {
        return;
    }
    let source = book.file(id.file);
    let by_block = ByBlock::of(id, item, computed);
    let mut groups: Vec<Group<'_>> = Vec::new();
    for entry in computed.entries() {
        let Some(group) = group_of(source, id, item, &by_block, entry) else { continue };
        let place = groups.iter().rposition(|other| other.is_like(&group));
        let group = match place {
            Some(index) => &mut groups[index],
            None => {
                groups.push(group);
                let last = groups.len() - 1;
                &mut groups[last]
            }
        };
        group.entries.push(entry);
        let pinned = group.block.is_some_and(|block| results::stands(block, entry));
        if pinned || results::is_as_stated(entry) || is_idle(item, entry) {
            continue;
        }
        if let Some(said) = said(book, entry) {
            group.left_out |= said.left_out;
            group.labels.push(Label { entry, of: said.of, text: said.label });
        }
    }
    for group in &mut groups {
        leave_out_idle_corrections(group);
        shorten_runs(book, group);
        // What is to be done comes first: an editor may cut the end.
        group.labels.sort_by_key(|label| !says_what_to_do(label.entry));
    }
    hints.extend(groups.iter().filter(|group| !group.labels.is_empty()).map(|group| hint(book, source, id, group)));
}

/// Where a result is shown: after its fact where that is written here, else after the heading of its block, else where
/// the block was taken over.
fn group_of<'c>(
    source: &SourceFile,
    id: ItemId,
    item: &'c Block,
    by_block: &ByBlock<'c>,
    entry: &Entry,
) -> Option<Group<'c>> {
    let (file, span) = entry.place;
    let here = file == id.file && item.span.start <= span.start && span.end <= item.span.end;
    let block = by_block.block(entry);
    let group = |at, fact, of| Group { at, block, fact, entries: Vec::new(), labels: Vec::new(), left_out: false, of };
    // The heading may be that of another block than the one that the result belongs to.
    let headed = if here { by_block.headed(span) } else { None };
    if let Some(headed) = headed {
        return Some(group(inherit::behind_heading(source, headed)?, None, None));
    }
    match block {
        Some(block) if !here && !std::ptr::eq(block, item) => {
            Some(group(inherit::behind_heading(source, block)?, None, None))
        }
        Some(block) if here => {
            let own = block.fields.iter().any(|field| field.value_span == span);
            Some(group(span.end, own.then_some(span), None))
        }
        None if here => Some(group(span.end, None, None)),
        None if entry.spec.block == Kind::Calibrate && is_left_out(entry) => {
            let like = item.field(setup::LIKE)?;
            let name = entry.path.innermost()?.name.clone()?.into_string();
            Some(group(like.value_span.end, None, Some(name)))
        }
        _ => None,
    }
}

fn is_left_out(entry: &Entry) -> bool {
    entry.spec.hint.is_some_and(|hint| hint.is_left_out)
}

/// Shares of bearings that the sheet does not place: nobody can use them.
fn is_idle(item: &Block, entry: &Entry) -> bool {
    (entry.is(&result::TOLERANCE_AT_A) || entry.is(&result::TOLERANCE_AT_B)) && item.field(rotor::BEARINGS).is_none()
}

fn says_what_to_do(entry: &Entry) -> bool {
    entry.spec.hint.is_some_and(|hint| hint.vector == OfVector::Instruction)
}

/// What a run calls for is of no interest in a plane that is within its tolerance.
fn leave_out_idle_corrections(group: &mut Group<'_>) {
    let within = |of: &Option<Of>| {
        group.entries.iter().any(|entry| {
            let times = matches!(entry.outcome, Outcome::Amount { base, .. } if base <= 1.0);
            entry.is(&result::RUN_TIMES_TOLERANCE) && entry.of == *of && times
        })
    };
    let idle: Vec<bool> =
        group.labels.iter().map(|label| label.entry.is(&result::RUN_CORRECTION) && within(&label.entry.of)).collect();
    let mut idle = idle.into_iter();
    group.labels.retain(|_| !idle.next().unwrap_or(false));
}

/// Of a run that reads several planes at once: how each stands to its tolerance. What it takes is for who asks.
fn shorten_runs(book: &Book, group: &mut Group<'_>) {
    let is_times = |entry: &Entry| entry.is(&result::RUN_TIMES_TOLERANCE);
    if group.labels.iter().filter(|label| is_times(label.entry)).count() < 2 {
        return;
    }
    // At the bearings nothing can be done; how they stand is in the tooltip too.
    let of_plane = |entry: &Entry| !matches!(entry.of, Some(Of::Bearing(_)));
    group.labels.retain(|label| is_times(label.entry) && of_plane(label.entry));
    for label in &mut group.labels {
        if let Some(said) = said_in_row(book, label.entry) {
            (label.of, label.text) = (None, said);
        }
    }
}

fn hint(book: &Book, source: &SourceFile, id: ItemId, group: &Group<'_>) -> Hint {
    let of = group.of.as_ref().map(|of| format!("{of}: ")).unwrap_or_default();
    let shown: Vec<String> = group.entries.iter().filter_map(|entry| explain::result(book, id, entry)).collect();
    Hint {
        at: group.at,
        label: of + &joined(&group.labels),
        kind: if group.left_out { HintKind::LeftOut } else { HintKind::Result },
        tooltip: shown.join("\n\n---\n\n"),
        edits: pins(book, source, group).into_iter().collect(),
        target: None,
    }
}

/// The labels one after the other; both ends of a range are one thing, and what several are of is named once.
fn joined(labels: &[Label<'_>]) -> String {
    let end = |label: &Label<'_>| label.entry.spec.hint.and_then(|hint| hint.range);
    let mut joined = String::new();
    for (n, label) in labels.iter().enumerate() {
        let before = n.checked_sub(1).map(|before| &labels[before]);
        joined.push_str(match before {
            None => "",
            Some(before) if end(before) == Some(RangeEnd::Low) && end(label) == Some(RangeEnd::High) => " ",
            Some(_) => ", ",
        });
        if let Some(of) = label.of.as_ref().filter(|of| before.is_none_or(|before| before.of.as_ref() != Some(*of))) {
            joined.push_str(of);
            joined.push(' ');
        }
        joined.push_str(&label.text);
    }
    joined
}

/// The lines that pin what the hint shows.
fn pins(book: &Book, source: &SourceFile, group: &Group<'_>) -> Option<Edit> {
    let block = group.block?;
    let shown = group.labels.iter().filter(|label| !hides_its_angle(label.entry));
    let pins: Vec<String> = shown.filter_map(|label| results::pin_line(book, label.entry)).collect();
    if pins.is_empty() {
        return None;
    }
    match group.fact {
        Some(fact) => Some(lines::below(source, fact.end, &pins)),
        None => Some(lines::into_block(source, block, &pins)),
    }
}
