//! Limits that are wider than they were: of tolerance, of speed, of the shop's own checks.

use super::grave::has_moved_gravely;
use super::inherited::Affected;
use super::{Alert, AlertCode, Looked};
use crate::book::{Book, ItemId};
use crate::diff::book::ItemName;
use crate::diff::facts::FactChange;
use crate::diff::results::{Moved, MovedHow};
use crate::syntax::Kind;
use crate::vocabulary::readout::{self, AngleDisplay};
use crate::vocabulary::{Grave, ResultSpec, result, results};

/// Results that say what a rotor may have left, the whole first.
fn tolerances() -> impl Iterator<Item = &'static ResultSpec> {
    let whole = &result::PERMISSIBLE;
    let others = results().filter(|spec| spec.alerts_as(AlertCode::ToleranceLoosened).is_some());
    std::iter::once(whole).chain(others.filter(move |spec| **spec != *whole))
}

fn is_tolerance(moved: &Moved) -> bool {
    moved.spec.is_some_and(|spec| spec.alerts_as(AlertCode::ToleranceLoosened).is_some())
}

/// A rotor may have more left than before, by whatever cause: grade, speed, mass, or the rotor it is scaled from.
pub(super) fn tolerance(looked: &Looked<'_>, alerts: &mut Vec<Alert>) {
    lost(looked, alerts);
    let mut rotors: Vec<&ItemName> = Vec::new();
    for moved in looked.diff.results.iter().filter(|moved| moved.item.kind == Kind::Rotor) {
        if !rotors.contains(&&moved.item) {
            rotors.push(&moved.item);
        }
    }
    for rotor in &rotors {
        let is_looser =
            |moved: &&Moved| moved.item == **rotor && has_moved_gravely(moved, AlertCode::ToleranceLoosened);
        let loosened: Vec<&Moved> = looked.diff.results.iter().filter(is_looser).collect();
        let gravest = tolerances().find_map(|spec| loosened.iter().find(|moved| moved.spec == Some(spec)));
        if let Some(moved) = gravest {
            let alert = Alert::new(AlertCode::ToleranceLoosened, rotor, &moved.path).values(&moved.old, &moved.new);
            alerts.push(alert.ratio(moved.ratio()));
        }
    }
    // Where nothing can be computed, the facts alone tell.
    if looked.diff.results.iter().any(is_tolerance) {
        return;
    }
    for fact in looked.grave(AlertCode::ToleranceLoosened) {
        let alert = Alert::new(AlertCode::ToleranceLoosened, &looked.diff.item, &fact.path);
        alerts.push(alert.values(&fact.old, &fact.new).ratio(fact.ratio()));
    }
}

/// A tolerance is no longer computed: said once, however much rests on it.
fn lost(looked: &Looked<'_>, alerts: &mut Vec<Alert>) {
    let lost: Vec<&Moved> = looked.diff.results.iter().filter(|moved| moved.how == MovedHow::Lost).collect();
    let of_a_rotor = |rotor: &ItemName| {
        // A plane that is gone took its tolerance along.
        let own = || lost.iter().filter(|moved| moved.item == *rotor && !moved.went_along);
        tolerances().find_map(|spec| own().find(|moved| moved.spec == Some(spec))).copied()
    };
    // The rotor itself comes before those that are scaled from it.
    let mut rotors: Vec<&ItemName> = vec![&looked.diff.item];
    for moved in &lost {
        if moved.item.kind == Kind::Rotor && !rotors.contains(&&moved.item) {
            rotors.push(&moved.item);
        }
    }
    let all: Vec<&Moved> = rotors.into_iter().filter_map(of_a_rotor).collect();
    for (n, first) in all.iter().enumerate() {
        let alert = Alert::new(AlertCode::ToleranceLost, &first.item, &first.path).values(&first.old, &first.new);
        alerts.push(match lost.len() - all.len() {
            _ if n > 0 => alert,
            0 => alert,
            1 => alert.note("and 1 result that rests on it"),
            more => alert.note(format!("and {more} results that rest on it")),
        });
    }
}

/// A speed is higher than before, or what limits it is no longer stated.
pub(super) fn speed(looked: &Looked<'_>, affected: &[Affected], alerts: &mut Vec<Alert>) {
    for (item, fact) in looked.grave_with(affected, AlertCode::SpeedRaised) {
        let alert = Alert::new(AlertCode::SpeedRaised, item, &fact.path).values(&fact.old, &fact.new);
        alerts.push(match fact.new {
            Some(_) => alert.ratio(fact.ratio()),
            None => alert.note("nothing says any longer how fast it may turn"),
        });
    }
}

/// Facts whose change is grave by itself, taken over ones too: the shop asks for less than before, a wall or a band lets
/// through more, angles count the other way.
pub(super) fn by_fact(looked: &Looked<'_>, code: AlertCode, affected: &[Affected], alerts: &mut Vec<Alert>) {
    for (item, fact) in looked.grave_with(affected, code).filter(|(_, fact)| !is_idle(looked, fact)) {
        let alert = Alert::new(code, item, &fact.path).values(&fact.old, &fact.new);
        // Of angles the end of a range is no size.
        let is_sized = fact.key.and_then(|key| key.alerts_as(code)) != Some(Grave::WhenFreed);
        alerts.push(alert.ratio(fact.ratio().filter(|_| is_sized)));
    }
}

/// Whether a fact of the readout has no part in how its angles are read, neither before nor now: numbers read off the rotor
/// count as the rotor's do.
fn is_idle(looked: &Looked<'_>, fact: &FactChange) -> bool {
    let measures = |book: &Book, id: Option<ItemId>| {
        let readouts = id.into_iter().flat_map(|id| book.item(id).inner(Kind::Readout));
        readouts.into_iter().any(|one| one.choice(readout::ANGLES) == Some(AngleDisplay::Measured))
    };
    let is_of_readout = fact.within == Kind::Readout && fact.is(readout::ANGLES_COUNT);
    is_of_readout && !measures(looked.old, looked.pair.old) && !measures(looked.new, looked.pair.new)
}
