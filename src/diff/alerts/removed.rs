//! Words that people rely on, and that are gone.

use super::inherited::Affected;
use super::{Alert, AlertCode, Looked};
use crate::book::{Book, ItemId, effective};
use crate::diff::book::ItemName;
use crate::diff::facts::FactChange;
use crate::sheet::FieldValue;
use crate::vocabulary::setup;

/// A number that is on the sheet is another, or stands there no longer.
pub(super) fn pins(looked: &Looked<'_>, alerts: &mut Vec<Alert>) {
    // A pin that is new shows nothing that anybody relied on.
    for pin in looked.pins.iter().filter(|pin| pin.old.is_some()) {
        let alert = Alert::new(AlertCode::PinnedResultChanged, &looked.diff.item, &pin.path).values(&pin.old, &pin.new);
        alerts.push(if pin.new.is_none() { alert.note("it is no longer pinned") } else { alert });
    }
}

/// A caution is gone, or reads otherwise: one of its own, or one that a sheet took over. One that is now taken over is not.
pub(super) fn cautions(looked: &Looked<'_>, affected: &[Affected], alerts: &mut Vec<Alert>) {
    let now: Vec<&FieldValue> = looked.pair.new.map(|id| cautions_of(looked.new, id)).unwrap_or_default();
    let stays = |item: &ItemName, fact: &FactChange| {
        *item == looked.diff.item && fact.values.0.as_ref().is_some_and(|value| now.contains(&value))
    };
    let code = AlertCode::CautionRemoved;
    let all = looked.grave_with(affected, code).filter(|(item, fact)| !stays(item, fact));
    alerts.extend(all.map(|(item, fact)| gone(code, item, fact)));
}

/// All that hold in a setup.
fn cautions_of(book: &Book, id: ItemId) -> Vec<&FieldValue> {
    let all = effective(book, id).0.fields.into_iter();
    all.filter(|field| field.field.key.is(setup::CAUTION)).map(|field| &field.field.value).collect()
}

/// A tolerance or a number no longer says where it comes from.
pub(super) fn sources(looked: &Looked<'_>, alerts: &mut Vec<Alert>) {
    let code = AlertCode::SourceRemoved;
    alerts.extend(looked.grave(code).map(|fact| gone(code, &looked.diff.item, fact)));
}

fn gone(code: AlertCode, item: &ItemName, fact: &FactChange) -> Alert {
    let alert = Alert::new(code, item, &fact.path).values(&fact.old, &fact.new);
    if fact.new.is_some() { alert.note("it reads otherwise") } else { alert }
}
