//! Limits that are wider than they were: of tolerance, of speed, of the shop's own checks.

use super::grave::has_moved_gravely;
use super::inherited::Affected;
use super::{Alert, AlertCode, Looked};
use crate::diff::book::ItemName;
use crate::diff::results::{Moved, MovedHow};
use crate::syntax::Kind;
use crate::vocabulary::{ResultSpec, result, results};

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
    let of_a_rotor = |spec: &'static ResultSpec| {
        let is_it = |moved: &&&Moved| moved.item.kind == Kind::Rotor && moved.spec == Some(spec);
        // A plane that is gone took its tolerance along.
        lost.iter().find(|moved| is_it(moved) && moved.new.is_some())
    };
    let Some(first) = tolerances().find_map(of_a_rotor) else { return };
    let alert = Alert::new(AlertCode::ToleranceLost, &first.item, &first.path).values(&first.old, &first.new);
    alerts.push(match lost.len() - 1 {
        0 => alert,
        1 => alert.note("and 1 result that rests on it"),
        more => alert.note(format!("and {more} results that rest on it")),
    });
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
    for (item, fact) in looked.grave_with(affected, code) {
        let alert = Alert::new(code, item, &fact.path).values(&fact.old, &fact.new);
        alerts.push(alert.ratio(fact.ratio()));
    }
}
