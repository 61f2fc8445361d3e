//! What a change of a book can affect, so that only that is reported.

use std::cmp::Ordering;

use rayon::prelude::*;
use rustc_hash::FxHashMap;

use super::attribution::Changed;
use super::book::facts_of_pairs;
use super::cards::revision_of;
use super::findings;
use super::pairs::{Pair, pairs};
use super::proofs::{Rewritten, rewritten};
use super::renames::Renames;
use crate::book::{Book, Computing, Difference, FileId, ItemId, RecordedBook, revision_order};
use crate::check::{self, Diagnostic, Place};
use crate::syntax::Kind;
use crate::text::Span;
use crate::vocabulary::setup::{self, Status};

/// What is said of a book, sorted by whether a change can have affected it.
pub struct Since {
    pub concerned: Vec<Diagnostic>,
    /// How much is said of what the change cannot have affected.
    pub left_out: usize,
}

/// Judges the whole of the new book, and keeps what is said since the old one of what has changed, or rests on that.
///
/// An item is concerned when its own text is not what it was, or when its judging looked up something that changed. What
/// is said of the book as a whole is kept when it speaks of such an item, or of a file that is not what it was.
///
/// Of that, what was said before is left out as well: what remains is what the change brings.
pub fn concerned(old: &Book, new: &Book) -> Since {
    let book = RecordedBook::of(new);
    let (before, computing) = (Computing::without_explanations(old), Computing::recorded(&book));
    let difference = Difference::between_books(old, new);
    let judge = |id: ItemId| {
        let (said, lookups) = computing.record(|own| check::check_item(own, id));
        (said, difference.touches(&lookups))
    };
    let (pairs, renames) = pairs(old, new);
    let since = concerned_in((old, new), (&pairs, &renames), &difference, judge);
    let (same_text, facts) = facts_of_pairs(&before, computing.unrecorded(), &pairs, &renames);
    let changed = Changed::of((old, new), &pairs, &facts, &same_text);
    let all = since.concerned.len();
    let fresh = findings::fresh(&before, new, &pairs, &changed, since.concerned, &FxHashMap::default());
    let concerned: Vec<Diagnostic> = fresh.into_iter().map(|(_, said)| said).collect();
    before.finish();
    computing.finish();
    Since { left_out: since.left_out + all - concerned.len(), concerned }
}

/// The same, with what is said of each item of the new book, and whether its judging looked up something that changed.
pub(super) fn concerned_in(
    (old, new): (&Book, &Book),
    paired: (&[Pair], &Renames),
    difference: &Difference,
    judge: impl Fn(ItemId) -> (Vec<Diagnostic>, bool) + Sync,
) -> Since {
    let files: Vec<FileId> = new.files().map(|(id, _)| id).collect();
    let judged: Vec<(Vec<Diagnostic>, usize, Vec<Span>)> =
        files.par_iter().map(|file| judge_file((old, new), *file, difference, &judge)).collect();
    let mut since = Since { concerned: Vec::new(), left_out: 0 };
    let mut stretches = Vec::with_capacity(judged.len());
    for (found, left_out, concerned) in judged {
        since.concerned.extend(found);
        since.left_out += left_out;
        stretches.push(concerned);
    }
    let touches = |place: &Place| stretches[place.file.0 as usize].iter().any(|span| meets(*span, place.span));
    for said in check::check_book(new) {
        let touched = touches(&said.place) || said.related.iter().any(|related| touches(&related.place));
        match touched || difference.shop || difference.unread {
            true => since.concerned.push(said),
            false => since.left_out += 1,
        }
    }
    since.concerned.extend(rewritten_in(old, new, paired));
    since.concerned.extend(revisions_that_go_back(old, new, paired.0));
    check::sort(&mut since.concerned);
    since
}

/// Proofs that were rewritten since the old book.
pub fn rewritten_proofs(old: &Book, new: &Book) -> Vec<Diagnostic> {
    let (pairs, renames) = pairs(old, new);
    rewritten_in(old, new, (&pairs, &renames))
}

fn rewritten_in(old: &Book, new: &Book, (pairs, renames): (&[Pair], &Renames)) -> Vec<Diagnostic> {
    let both = pairs.iter().filter_map(|pair| Some((pair.old?, pair.new?)));
    let of_pair = |(before, after): (ItemId, ItemId)| {
        let found = rewritten((old, before), (new, after), renames);
        let said = |one: Rewritten<'_>| {
            check::of_rewritten_proof(new, after.file, one.heading, one.name, (&one.how, &one.heads))
        };
        found.into_iter().filter_map(said).collect::<Vec<_>>()
    };
    both.flat_map(of_pair).collect()
}

/// Setups that were released under a later revision in the old book.
fn revisions_that_go_back(old: &Book, new: &Book, pairs: &[Pair]) -> Vec<Diagnostic> {
    let setups = pairs.iter().filter_map(|pair| Some((pair.old?, pair.new?)));
    let of_pair = |(before, after): (ItemId, ItemId)| {
        let is_setup = old.item(before).kind == Kind::Setup && new.item(after).kind == Kind::Setup;
        if !is_setup || old.item(before).choice(setup::STATUS) != Some(Status::Released) {
            return None;
        }
        let (was, is) = (revision_of(old, before)?, revision_of(new, after)?);
        let place = new.item(after).field(setup::REVISION)?.value_span;
        let order = revision_order(&is, &was);
        let goes_back = order == Some(Ordering::Less) || (order == Some(Ordering::Equal) && is != was);
        goes_back.then(|| check::of_revision_that_goes_back(new, after.file, place, (&was, &is)))?
    };
    setups.filter_map(of_pair).collect()
}

/// What is said of one file: what is concerned, how much is not, and which stretches of it are not what they were.
fn judge_file(
    (old, book): (&Book, &Book),
    file: FileId,
    difference: &Difference,
    judge: &impl Fn(ItemId) -> (Vec<Diagnostic>, bool),
) -> (Vec<Diagnostic>, usize, Vec<Span>) {
    let source = book.file(file);
    let before = old.file_at(&source.path).map(|id| old.file(id));
    let own = Difference::between(before, Some(source));
    let is_same_file = before.is_some_and(|before| before.text == source.text && before.problem == source.problem);
    let unchanged: Vec<Span> = match is_same_file {
        true => vec![Span::new(0, source.text.len() as u32)],
        false => own.same.iter().map(|(_, now)| *now).collect(),
    };
    let rest = changed_stretches(&unchanged, source.text.len() as u32);
    let (mut found, mut left_out) = (Vec::new(), 0);
    let lines = check::check_facts(book, file);
    // The weights that the shop gives are part of its rules.
    let everything = difference.shop || difference.unread;
    for said in lines {
        let looked_up = recorded_elsewhere(&said, file);
        match everything || looked_up || rest.iter().any(|span| meets(*span, said.place.span)) {
            true => found.push(said),
            false => left_out += 1,
        }
    }
    for index in 0..source.sheet.items.len() as u32 {
        let id = ItemId { file, index };
        let (said, is_touched) = judge(id);
        let item = book.item(id);
        let is_same =
            is_same_file || unchanged.iter().any(|span| span.start <= item.span.start && item.span.end <= span.end);
        match !is_same || is_touched || (item.kind == Kind::Shop && difference.shop) {
            true => found.extend(said),
            false => left_out += said.len(),
        }
    }
    (found, left_out, rest)
}

/// Whether a diagnostic speaks of another file too.
fn recorded_elsewhere(said: &Diagnostic, file: FileId) -> bool {
    said.related.iter().any(|related| related.place.file != file)
}

/// What lies between stretches that are what they were.
fn changed_stretches(unchanged: &[Span], length: u32) -> Vec<Span> {
    let mut rest = Vec::new();
    let mut at = 0;
    for span in unchanged {
        if at < span.start {
            rest.push(Span::new(at, span.start));
        }
        at = span.end;
    }
    if at < length {
        rest.push(Span::new(at, length));
    }
    rest
}

fn meets(a: Span, b: Span) -> bool {
    a.start <= b.start && b.start < a.end.max(a.start + 1)
}
