//! What of an item is past its interval.

use jiff::ToSpan;
use jiff::civil::Date;

use crate::book::{Computed, Computing, Day, EffectiveBlock, ItemId};
use crate::disk;
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::vocabulary::{Fact, check_mass, machine, proof, setup};

const SECONDS_A_DAY: f64 = 86_400.0;

/// The day here, or that of SOURCE_DATE_EPOCH.
pub(super) fn today() -> Date {
    disk::today().parse().unwrap_or(Date::MAX)
}

/// `checked since 2026-07-01, tested since 2026-11-02`: what should have been done and since when. A sheet that is withdrawn
/// needs nothing.
pub(super) fn overdue(computing: &Computing<'_>, id: ItemId, today: Date) -> Option<String> {
    let computed = computing.item(id);
    let block = computed.effective();
    let mut found = Vec::new();
    let mut past = |what: &str, every: Option<i64>, last: Option<Date>| {
        let Some(every) = every else { return };
        match last.map(|last| last.saturating_add(every.days())) {
            Some(due) if due < today => found.push(format!("{what} since {due}")),
            Some(_) => {}
            None => found.push(format!("{what}, never done")),
        }
    };
    match block.kind {
        Kind::Machine => {
            let serviced = last(block, machine::SERVICED);
            past(machine::SERVICED.words(), days(block, machine::SERVICED_EVERY), serviced);
            past(machine::TESTED.words(), days(block, machine::TESTED_EVERY), last(block, machine::TESTED));
        }
        Kind::Setup if block.choice(setup::STATUS) != Some(setup::Status::Withdrawn) => {
            let proven = match &computed {
                Computed::Setup(setup) => setup.block.latest_proof().and_then(|proof| last(proof, proof::DATE)),
                _ => None,
            };
            for check in block.blocks.iter().filter(|inner| inner.kind == Kind::CheckMass) {
                let checked = last(check, check_mass::CHECKED).max(proven);
                past(check_mass::CHECKED.words(), days(check, check_mass::CHECKED_EVERY), checked);
            }
        }
        _ => {}
    }
    (!found.is_empty()).then(|| found.join(", "))
}

/// The latest day of a fact.
fn last<T: ?Sized>(block: &EffectiveBlock<'_>, fact: Fact<T>) -> Option<Date> {
    let fields = block.fields.iter().filter(|field| field.field.key.name == fact.words());
    let days = fields.filter_map(|field| Day::of(&field.field.value));
    days.max().and_then(|day| day.to_string().parse().ok())
}

fn days<T: ?Sized>(block: &EffectiveBlock<'_>, fact: Fact<T>) -> Option<i64> {
    match &block.field(fact)?.field.value {
        FieldValue::Quantity(every) => Some((every.base / SECONDS_A_DAY).round() as i64),
        _ => None,
    }
}
