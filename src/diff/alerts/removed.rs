//! Words that people rely on, and that are gone.

use super::{Alert, AlertCode, Looked};

/// A number that is on the sheet is another, or stands there no longer.
pub(super) fn pins(looked: &Looked<'_>, alerts: &mut Vec<Alert>) {
    // A pin that is new shows nothing that anybody relied on.
    for pin in looked.pins.iter().filter(|pin| pin.old.is_some()) {
        let alert = Alert::new(AlertCode::PinnedResultChanged, &looked.diff.item, &pin.path).values(&pin.old, &pin.new);
        alerts.push(if pin.new.is_none() { alert.note("it is no longer pinned") } else { alert });
    }
}

/// A caution is gone, or reads otherwise.
pub(super) fn cautions(looked: &Looked<'_>, alerts: &mut Vec<Alert>) {
    gone(looked, AlertCode::CautionRemoved, alerts);
}

/// A tolerance or a number no longer says where it comes from.
pub(super) fn sources(looked: &Looked<'_>, alerts: &mut Vec<Alert>) {
    gone(looked, AlertCode::SourceRemoved, alerts);
}

fn gone(looked: &Looked<'_>, code: AlertCode, alerts: &mut Vec<Alert>) {
    for fact in looked.grave(code) {
        let alert = Alert::new(code, &looked.diff.item, &fact.path).values(&fact.old, &fact.new);
        alerts.push(if fact.new.is_some() { alert.note("it reads otherwise") } else { alert });
    }
}
