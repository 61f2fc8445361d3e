//! A released sheet that says something else is a new revision: the offer to write it.

use super::{Consequences, changed_spans, concerns};
use crate::book::next_revision;
use crate::book::{Book, FileId};
use crate::check::FileEdit;
use crate::diff::{AlertCode, ItemName};
use crate::ide::{Action, ActionKind};
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::text::{Edit, Span};
use crate::vocabulary::setup;

/// The offers at a range: at the lines that move a released sheet, and in the sheet itself.
pub fn revisions(book: &Book, file: FileId, range: Span, found: &Consequences) -> Vec<Action> {
    let items = book.file(file).sheet.items.iter().filter(|item| item.span.touches(range));
    let mut offered: Vec<ItemName> = Vec::new();
    for item in items {
        let name = ItemName::of_block(item);
        for diff in found.diff.items.iter().filter(|diff| concerns(diff, &name)) {
            let is_here = item.heading.touches(range)
                || (diff.item == name && changed_spans(item, diff).any(|span| span.touches(range)))
                || (item.kind == Kind::Setup
                    && item.field(setup::REVISION).is_some_and(|field| field.value_span.touches(range)));
            let unrevised = diff.alerts.iter().filter(|alert| alert.code == AlertCode::ReleasedWithoutNewRevision);
            let unrevised = unrevised.map(|alert| &alert.item).filter(|sheet| diff.item == name || **sheet == name);
            offered.extend(unrevised.filter(|_| is_here).cloned());
        }
    }
    offered.dedup();
    offered.iter().filter_map(|sheet| raise(book, sheet)).collect()
}

fn raise(book: &Book, sheet: &ItemName) -> Option<Action> {
    let id = book.find(sheet.kind, &sheet.name).ok()?;
    let field = book.item(id).field(setup::REVISION)?;
    let FieldValue::Text(now) = &field.value else { return None };
    let next = next_revision(Some(&**now))?;
    let edit = FileEdit { file: id.file, edit: Edit::replace(field.value_span, format!("\"{next}\"")) };
    Some(Action {
        title: format!("Raise the revision of {sheet} from {now} to {next}"),
        kind: ActionKind::QuickFix,
        edits: vec![edit],
        diagnostic: None,
        preferred: false,
    })
}
