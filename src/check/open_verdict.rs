//! A verdict that is open because a fact is missing or could not be read. It is no finding on the rotor: what was pinned
//! stands until the facts can be read again.

use super::context::ItemContext;
use crate::book::{self, Book, DoesNotCount, ItemId, RecordResults, RecordVerdict, touching};
use crate::mechanics::verdict::Verdict;

/// Why a record has no verdict of its own; `None` when what it says is to be relied upon, "not shown" too.
pub(super) fn why(context: &ItemContext<'_, '_>) -> Option<String> {
    let record = context.record()?;
    let verdict = record.verdict.as_ref().filter(|verdict| verdict.verdict == Verdict::NotShown)?;
    let reasons = &verdict.does_not_count;
    if reasons.is_empty() || !reasons.iter().all(|one| may_be_missing(one.why)) {
        return None;
    }
    if let Some(missing) = lacking(context.book(), verdict) {
        return Some(missing);
    }
    let unread = rests_on(record).into_iter().any(|item| has_unread(context.book(), item));
    unread.then(|| "a line that it rests on could not be read".to_owned())
}

/// Whether readings may count for nothing only because a line is not there.
fn may_be_missing(why: DoesNotCount) -> bool {
    use DoesNotCount as D;
    matches!(
        why,
        D::NotKnown
            | D::NoRunAfterCorrection
            | D::CalibrationMassesNotStated
            | D::SpeedNotStated
            | D::SeatNotStated
            | D::BalancingSpeedNotKnown
            | D::TrialSpeedNotStated
            | D::NotCalibrated
            | D::PlanesNotRead
    )
}

/// What a place that has no verdict lacks.
fn lacking(book: &Book, verdict: &RecordVerdict) -> Option<String> {
    let open = verdict.judged.iter().find(|judged| judged.verdict.is_none())?;
    Some(
        open.lacks().map_or_else(|| format!("nothing is known at {}", open.name()), |missing| book::why(book, missing)),
    )
}

/// The items whose lines a verdict rests on: the record, its setup and those that it is like, rotor and machine.
fn rests_on(record: &RecordResults<'_>) -> Vec<ItemId> {
    let mut items = vec![record.id];
    if let Some(setup) = &record.setup {
        let block = &setup.block;
        items.push(block.item);
        items.extend(block.fields.iter().chain(block.blocks.iter().flat_map(|inner| &inner.fields)).map(|f| f.item));
        items.extend(setup.rotor.as_ref().map(|rotor| rotor.block.item));
        items.extend(setup.machine.as_ref().map(|machine| machine.block.item));
    }
    items.sort_unstable();
    items.dedup();
    items
}

fn has_unread(book: &Book, item: ItemId) -> bool {
    let (source, span) = (book.file(item.file), book.item(item).span);
    !touching(&source.errors, |error| error.span, span).is_empty()
        || !touching(&source.sheet.problems, |problem| problem.span, span).is_empty()
}
