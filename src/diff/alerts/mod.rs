//! What a reviewer must not miss.

mod broken;
mod calibration;
mod grave;
mod inherited;
mod limits;
mod measured;
mod proofs;
mod records;
mod released;
mod removed;

use rustc_hash::FxHashSet;

use super::book::{ItemDiff, ItemName};
use super::facts::PinChange;
use super::outcome::AsRead;
use super::pairs::Pair;
use super::renames::Renames;
use super::results::MovedHow;
use crate::book::{Book, FileId};
use crate::syntax::SyntaxErrorKind;
pub use crate::vocabulary::AlertCode;
use grave::has_moved_gravely;

/// One thing that must not be missed.
#[derive(Clone, PartialEq, Debug)]
pub struct Alert {
    pub code: AlertCode,
    pub item: ItemName,
    /// Where in the item; empty for the item as a whole.
    pub path: Vec<String>,
    pub old: Option<AsRead>,
    pub new: Option<AsRead>,
    /// What it means, where the title does not say it all.
    pub note: Option<String>,
    /// How many times as large it is now, where that is told.
    pub ratio: Option<f64>,
}

impl Alert {
    fn new(code: AlertCode, item: &ItemName, path: &[String]) -> Self {
        Self { code, item: item.clone(), path: path.to_vec(), old: None, new: None, note: None, ratio: None }
    }

    fn values<V: Clone + Into<AsRead>>(self, old: &Option<V>, new: &Option<V>) -> Self {
        Self { old: old.clone().map(V::into), new: new.clone().map(V::into), ..self }
    }

    fn note(self, note: impl Into<String>) -> Self {
        Self { note: Some(note.into()), ..self }
    }

    fn ratio(self, ratio: Option<f64>) -> Self {
        Self { ratio: ratio.filter(|ratio| *ratio != 1.0), ..self }
    }

    /// How far it goes: by the same factor up or down is as far.
    pub fn reach(&self) -> f64 {
        self.ratio.map_or(0.0, |ratio| ratio.ln().abs())
    }
}

/// What the alerts are looked for in.
struct Looked<'d> {
    old: &'d Book,
    new: &'d Book,
    pair: Pair,
    diff: &'d ItemDiff,
    pins: &'d [PinChange],
    renames: &'d Renames,
}

/// What must not be missed of one item that changed, and of those that rest on it.
pub(super) fn of(
    old: &Book,
    new: &Book,
    pair: Pair,
    diff: &ItemDiff,
    pins: &[PinChange],
    renames: &Renames,
    conflict: bool,
) -> Vec<Alert> {
    let looked = Looked { old, new, pair, diff, pins, renames };
    let mut alerts = Vec::new();
    if conflict {
        let note = "which side holds is not settled; the first one is read";
        alerts.push(Alert::new(AlertCode::ConflictLeft, &diff.item, &[]).note(note));
    }
    // What comes or goes as a whole is told of as such.
    if pair.old.is_some() && pair.new.is_some() {
        limits::tolerance(&looked, &mut alerts);
        let affected = inherited::affected(&looked);
        limits::speed(&looked, &affected, &mut alerts);
        for code in [AlertCode::ConventionChanged, AlertCode::LimitLoosened, AlertCode::CheckWeakened] {
            limits::by_fact(&looked, code, &affected, &mut alerts);
        }
        proofs::rewritten(&looked, &mut alerts);
        records::altered(&looked, &mut alerts);
        measured::altered(&looked, &mut alerts);
        removed::pins(&looked, &mut alerts);
        removed::cautions(&looked, &affected, &mut alerts);
        removed::sources(&looked, &mut alerts);
    } else {
        released::come_or_gone(&looked, &mut alerts);
        records::removed(&looked, &mut alerts);
    }
    calibration::void(&looked, &mut alerts);
    released::cards(&looked, &mut alerts);
    released::stamps(&looked, &mut alerts);
    outcomes(&looked, &mut alerts);
    records::read_otherwise(&looked, &mut alerts);
    broken::copies(&looked, &mut alerts);
    broken::sheets(&looked, &mut alerts);
    broken::check_masses(&looked, &mut alerts);
    broken::released(&looked, &mut alerts);
    alerts.sort_by_key(|alert| alert.code);
    alerts
}

/// Verdicts that are others, and results that are no more.
fn outcomes(looked: &Looked<'_>, alerts: &mut Vec<Alert>) {
    // It has counted what is lost with it.
    let tolerance_lost = alerts.iter().any(|alert| alert.code == AlertCode::ToleranceLost);
    for moved in &looked.diff.results {
        let code = match moved.how {
            _ if has_moved_gravely(moved, AlertCode::VerdictChanged) => AlertCode::VerdictChanged,
            // That the block is gone with it is said as a fact.
            MovedHow::Lost if moved.new.is_some() => AlertCode::ResultLost,
            _ => continue,
        };
        if code == AlertCode::ResultLost && tolerance_lost {
            continue;
        }
        // Of many results that one cause has taken away, the first says it.
        if code == AlertCode::ResultLost && alerts.iter().any(|one| one.code == code && one.item == moved.item) {
            continue;
        }
        alerts.push(Alert::new(code, &moved.item, &moved.path).values(&moved.old, &moved.new));
    }
}

/// Files of the new book with conflict marks that the old one does not have just so.
pub(super) fn conflicted(old: &Book, new: &Book) -> FxHashSet<FileId> {
    let unsettled =
        |file: &crate::book::SourceFile| file.errors.iter().any(|error| error.kind == SyntaxErrorKind::ConflictMarkers);
    let same = |file: &crate::book::SourceFile| {
        old.file_at(&file.path).is_some_and(|before| old.file(before).text == file.text)
    };
    new.files().filter(|(_, file)| unsettled(file) && !same(file)).map(|(id, _)| id).collect()
}
