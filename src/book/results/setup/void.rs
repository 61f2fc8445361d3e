//! Whether a sheet still is as it was proven.

use crate::book::catalogue as result;
use crate::book::effective::{EffectiveBlock, EffectiveField};
use crate::book::files::{FileId, ItemId};
use crate::book::results::entry::{Recorder, Spot};
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::text::Span;
use crate::units::Unit;

/// Why a calibration no longer holds.
#[derive(Clone, PartialEq, Debug)]
pub struct VoidCause {
    /// `proven at 1150 rpm, the sheet now says 1200 rpm`
    pub what: String,
    /// The fact of today.
    pub place: (FileId, Span),
    /// The fact as it was proven.
    pub proven: (FileId, Span),
}

/// Facts that a proof may name, and whose change voids what was calibrated and proven.
const FACTS: [(&str, &str); 3] = [
    ("balancing speed", "proven at"),
    ("belt runs on", "proven with the belt on"),
    ("supports at", "proven with supports at"),
];

/// What has changed since the proof.
pub(in crate::book::results) fn causes(
    setup: &EffectiveBlock<'_>,
    machine: Option<&EffectiveBlock<'_>>,
) -> Vec<VoidCause> {
    let Some(proof) = setup.inner(Kind::Proof).next() else { return Vec::new() };
    let place = |field: EffectiveField<'_>| (field.item.file, field.field.value_span);
    let mut causes = Vec::new();
    for (key, words) in FACTS {
        let (Some(proven), Some(now)) = (proof.field(key), setup.field(key)) else { continue };
        let (Some(then), Some(today)) = (text_of(&proven.field.value), text_of(&now.field.value)) else { continue };
        if !same(&proven.field.value, &now.field.value) {
            let what = format!("{words} {then}, the sheet now says {today}");
            causes.push(VoidCause { what, place: place(now), proven: place(proven) });
        }
    }
    causes.extend(revision(proof, setup));
    causes.extend(machine.and_then(|machine| serviced(proof, machine)));
    causes
}

fn revision(proof: &EffectiveBlock<'_>, setup: &EffectiveBlock<'_>) -> Option<VoidCause> {
    let (proven, now) = (proof.field("revision")?, setup.field("revision")?);
    let (FieldValue::Text(then), FieldValue::Text(today)) = (&proven.field.value, &now.field.value) else {
        return None;
    };
    (then != today).then(|| VoidCause {
        what: format!("revision {then} was proven, the sheet is at revision {today}"),
        place: (now.item.file, now.field.value_span),
        proven: (proven.item.file, proven.field.value_span),
    })
}

fn serviced(proof: &EffectiveBlock<'_>, machine: &EffectiveBlock<'_>) -> Option<VoidCause> {
    let (proven, serviced) = (proof.field("date")?, machine.field("serviced")?);
    let (then, service) = (date_of(&proven.field.value)?, date_of(&serviced.field.value)?);
    (then < service).then(|| VoidCause {
        what: format!("proven on {}, before the machine was serviced on {}", written(then), written(service)),
        place: (serviced.item.file, serviced.field.value_span),
        proven: (proven.item.file, proven.field.value_span),
    })
}

pub(in crate::book::results) type Day = (i16, i8, i8);

pub(in crate::book::results) fn date_of(value: &FieldValue) -> Option<Day> {
    match value {
        FieldValue::Date { year, month, day } => Some((*year, *month, *day)),
        _ => None,
    }
}

fn written((year, month, day): Day) -> String {
    format!("{year:04}-{month:02}-{day:02}")
}

fn text_of(value: &FieldValue) -> Option<String> {
    let shown = |base: f64, unit: Unit| format!("{} {unit}", crate::units::plainly(unit.from_base(base)));
    match value {
        FieldValue::Quantity(stated) => Some(shown(stated.base, stated.unit)),
        FieldValue::Quantities(list) => {
            Some(list.iter().map(|stated| shown(stated.base, stated.unit)).collect::<Vec<_>>().join(", "))
        }
        _ => None,
    }
}

fn same(a: &FieldValue, b: &FieldValue) -> bool {
    let near = |a: f64, b: f64| (a - b).abs() <= 1e-9 * a.abs().max(b.abs());
    match (a, b) {
        (FieldValue::Quantity(a), FieldValue::Quantity(b)) => near(a.base, b.base),
        (FieldValue::Quantities(a), FieldValue::Quantities(b)) => {
            a.len() == b.len() && a.iter().zip(b).all(|(a, b)| near(a.base, b.base))
        }
        _ => true,
    }
}

/// Records whether the calibration holds, where the proof says by what it may be judged.
pub(in crate::book::results) fn keep<'b>(
    recorder: &mut Recorder<'b>,
    setup: &EffectiveBlock<'b>,
    id: ItemId,
    causes: &[VoidCause],
) {
    let Some(proof) = setup.inner(Kind::Proof).next() else { return };
    let says = FACTS.iter().map(|(key, _)| *key).chain(["revision"]).any(|key| proof.field(key).is_some());
    if !says && causes.is_empty() {
        return;
    }
    let spot = Spot { path: setup.path.clone(), ..Spot::heading(proof, id) };
    let words = match causes {
        [] => "holds".to_owned(),
        causes => format!("void: {}", causes.iter().map(|cause| &*cause.what).collect::<Vec<_>>().join("; ")),
    };
    recorder.words(&spot, &result::CALIBRATION_HOLDS, words);
}
