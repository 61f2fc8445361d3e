//! Limits that are wider than they were: of tolerance, of speed, of the shop's own checks.

use super::inherited::Affected;
use super::{Alert, AlertCode, Looked};
use crate::diff::book::ItemName;
use crate::diff::facts::FactChange;
use crate::diff::results::{Moved, MovedHow};
use crate::diff::value::{amounts_in, highest, near};
use crate::sheet::FieldValue;
use crate::syntax::Kind;

/// Results that say what a rotor may have left, the whole first.
const TOLERANCES: [&str; 6] =
    ["permissible unbalance", "tolerance", "tolerance at a", "tolerance at b", "static limit", "couple limit"];

/// Facts of a tolerance that loosen it when they grow.
const RULES: [&str; 7] = ["grade", "total", "plane", "at bearing a", "at bearing b", "static", "couple"];

/// Speeds that people and machines are guarded against.
const SPEEDS: [&str; 4] = ["highest service speed", "highest safe speed", "balancing speed", "motor speed"];

/// Facts of the shop that its checks rest on.
const SHOP_LIMITS: [&str; 3] = ["calibration unbalance", "calibration uncertainty", "interference"];

fn grew(old: f64, new: f64) -> bool {
    new > old && !near(old, new)
}

fn fact_grew(fact: &FactChange) -> bool {
    let ends = fact.values.0.as_ref().and_then(highest).zip(fact.values.1.as_ref().and_then(highest));
    ends.is_some_and(|(old, new)| grew(old, new))
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
        let loosened: Vec<&Moved> =
            looked.diff.results.iter().filter(|moved| moved.item == **rotor && is_looser(moved)).collect();
        let gravest = TOLERANCES.iter().find_map(|name| loosened.iter().find(|moved| last(&moved.path) == *name));
        if let Some(moved) = gravest {
            let alert = Alert::new(AlertCode::ToleranceLoosened, rotor, &moved.path).values(&moved.old, &moved.new);
            alerts.push(alert);
        }
    }
    // Where nothing can be computed, the facts alone tell.
    let computed = |moved: &Moved| TOLERANCES.contains(&last(&moved.path));
    if looked.diff.results.iter().any(computed) {
        return;
    }
    for fact in &looked.diff.facts {
        if fact.within == Kind::Tolerance && RULES.contains(&fact.key) && fact_grew(fact) {
            let alert = Alert::new(AlertCode::ToleranceLoosened, &looked.diff.item, &fact.path);
            alerts.push(alert.values(&fact.old, &fact.new));
        }
    }
}

/// A tolerance is no longer computed: said once, however much rests on it.
fn lost(looked: &Looked<'_>, alerts: &mut Vec<Alert>) {
    let lost: Vec<&Moved> = looked.diff.results.iter().filter(|moved| moved.how == MovedHow::Lost).collect();
    let of_a_rotor = |name: &&str| {
        let is_it = |moved: &&&Moved| moved.item.kind == Kind::Rotor && last(&moved.path) == *name;
        // A plane that is gone took its tolerance along.
        lost.iter().find(|moved| is_it(moved) && moved.new.is_some())
    };
    let Some(first) = TOLERANCES.iter().find_map(of_a_rotor) else { return };
    let alert = Alert::new(AlertCode::ToleranceLost, &first.item, &first.path).values(&first.old, &first.new);
    alerts.push(match lost.len() - 1 {
        0 => alert,
        1 => alert.note("and 1 result that rests on it"),
        more => alert.note(format!("and {more} results that rest on it")),
    });
}

fn last(path: &[String]) -> &str {
    path.last().map_or("", |name| name)
}

fn is_looser(moved: &Moved) -> bool {
    let name = last(&moved.path);
    let is_tolerance = TOLERANCES.contains(&name);
    is_tolerance && moved.how == MovedHow::Value && moved.amounts.is_some_and(|(old, new)| grew(old, new))
}

/// A speed is higher than before, or what limits it is no longer stated.
pub(super) fn speed(looked: &Looked<'_>, affected: &[Affected], alerts: &mut Vec<Alert>) {
    // A proof tells at which speed it was made; it limits nothing.
    let is_limit = |fact: &&FactChange| SPEEDS.contains(&fact.key) && fact.within != Kind::Proof;
    for fact in looked.diff.facts.iter().filter(is_limit) {
        let alert = Alert::new(AlertCode::SpeedRaised, &looked.diff.item, &fact.path).values(&fact.old, &fact.new);
        if fact_grew(fact) {
            alerts.push(alert);
        } else if fact.key == "highest safe speed" && fact.new.is_none() {
            alerts.push(alert.note("nothing says any longer how fast it may turn"));
        }
    }
    for setup in affected {
        for fact in setup.facts.iter().filter(|fact| SPEEDS.contains(&fact.key) && fact_grew(fact)) {
            let alert = Alert::new(AlertCode::SpeedRaised, &setup.item, &fact.path);
            alerts.push(alert.values(&fact.old, &fact.new));
        }
    }
}

/// The shop asks for less than before, or lets a diagnostic weigh less.
pub(super) fn checks(looked: &Looked<'_>, alerts: &mut Vec<Alert>) {
    if looked.diff.item.kind != Kind::Shop {
        return;
    }
    for fact in &looked.diff.facts {
        let limit = fact.within == Kind::Shop && SHOP_LIMITS.contains(&fact.key);
        let weaker = match (fact.within, fact.key) {
            (Kind::Severity, "level") => weight(fact.values.1.as_ref()) < weight(fact.values.0.as_ref()),
            _ => limit && (fact_grew(fact) || reaches_lower(fact)),
        };
        if weaker {
            let alert = Alert::new(AlertCode::CheckWeakened, &looked.diff.item, &fact.path);
            alerts.push(alert.values(&fact.old, &fact.new));
        }
    }
}

/// How much a level weighs; what the shop says nothing of is taken for an error.
fn weight(level: Option<&FieldValue>) -> u8 {
    match level {
        Some(FieldValue::Choice("off")) => 0,
        Some(FieldValue::Choice("note")) => 1,
        Some(FieldValue::Choice("warning")) => 2,
        _ => 3,
    }
}

fn reaches_lower(fact: &FactChange) -> bool {
    let lowest = |value: &FieldValue| match value {
        FieldValue::NumberRange(low, _) => Some(*low),
        _ => amounts_in(value).iter().map(|stated| stated.base).reduce(f64::min),
    };
    let is_range = matches!(fact.values.1, Some(FieldValue::NumberRange(..)));
    let ends = fact.values.0.as_ref().and_then(lowest).zip(fact.values.1.as_ref().and_then(lowest));
    let high = |value: &Option<FieldValue>| match value {
        Some(FieldValue::NumberRange(_, high)) => Some(*high),
        _ => None,
    };
    let higher = high(&fact.values.0).zip(high(&fact.values.1)).is_some_and(|(old, new)| grew(old, new));
    is_range && (higher || ends.is_some_and(|(old, new)| grew(new, old)))
}
