//! `diff --format json`; `grammar/json/diff.schema.json` says what each field means.

use serde_json::{Value, json};

use super::Compared;
use crate::card::CardChange;
use crate::check::Severity;
use crate::diff::{Alert, Because, CardDiff, FactChange, ItemDiff, ItemName, Moved, MovedHow, NewFinding};

/// Rises whenever a program that reads the document would have to be changed.
const VERSION: u32 = 1;

pub(super) fn document(versions: (&str, &str), compared: &Compared) -> Value {
    let mut document = json!({
        "version": VERSION,
        "old": versions.0,
        "new": versions.1,
        "totals": totals(compared),
        "items": compared.diff.items.iter().map(item).collect::<Vec<_>>(),
    });
    if compared.unread {
        document["unread"] = json!(true);
    }
    document
}

fn totals(compared: &Compared) -> Value {
    let items = &compared.diff.items;
    let results =
        |is_it: fn(&Moved) -> bool| items.iter().flat_map(|item| &item.results).filter(|one| is_it(one)).count();
    let found = |severity: Severity| {
        items.iter().flat_map(|item| &item.findings).filter(|finding| finding.severity == severity).count()
    };
    json!({
        "items": items.len(),
        "facts": items.iter().map(|item| item.facts.len()).sum::<usize>(),
        "results": results(|moved| !matches!(moved.how, MovedHow::Pin | MovedHow::Spread)),
        "spread": results(|moved| moved.how == MovedHow::Spread),
        "pins": results(|moved| moved.pinned.is_some()),
        "cards": compared.diff.cards().len(),
        "alerts": items.iter().map(|item| item.alerts.len()).sum::<usize>(),
        "errors": found(Severity::Error),
        "warnings": found(Severity::Warning),
    })
}

fn card(card: &CardDiff) -> Value {
    let change = |change: &CardChange| {
        json!({
            "side": change.side,
            "section": change.section,
            "of": change.of,
            "old": change.old,
            "new": change.new,
            "kind": change.what.word(),
        })
    };
    json!({
        "item": name(&card.item),
        "released": { "old": card.released.0, "new": card.released.1 },
        "revision": { "old": card.revision.0, "new": card.revision.1 },
        "changes": card.changes.iter().map(change).collect::<Vec<_>>(),
        "because": because(&card.because),
    })
}

fn because(causes: &[std::sync::Arc<Because>]) -> Value {
    causes.iter().map(|cause| json!({ "item": name(&cause.item), "path": cause.path })).collect()
}

fn item(item: &ItemDiff) -> Value {
    let mut value = json!({
        "kind": item.item.kind.words(),
        "name": item.item.name,
        "change": item.change.word(),
        "file": item.file,
        "facts": item.facts.iter().map(fact).collect::<Vec<_>>(),
        "results": item.results.iter().map(result).collect::<Vec<_>>(),
        "cards": item.cards.iter().map(card).collect::<Vec<_>>(),
        "alerts": item.alerts.iter().map(alert).collect::<Vec<_>>(),
        "findings": item.findings.iter().map(finding).collect::<Vec<_>>(),
    });
    if let Some(was) = &item.was {
        value["was"] = json!(was);
    }
    value
}

/// One changed fact.
pub(in crate::cli) fn fact(fact: &FactChange) -> Value {
    json!({ "path": fact.path, "change": fact.change.word(), "old": fact.old, "new": fact.new })
}

fn result(moved: &Moved) -> Value {
    let change = match moved.how {
        MovedHow::Value => "value",
        MovedHow::Spread => "spread",
        MovedHow::Lost => "lost",
        MovedHow::Found => "found",
        MovedHow::Pin => "pin",
    };
    let mut value = json!({
        "item": name(&moved.item),
        "path": moved.path,
        "change": change,
        "old": moved.old.as_deref(),
        "new": moved.new.as_deref(),
        "because": because(&moved.because),
    });
    if let (Some((old, new)), Some(unit)) = (moved.amounts, moved.unit) {
        let (a, b) = (unit.from_base(old), unit.from_base(new));
        value["number"] = json!({ "old": a, "new": b, "unit": unit.to_string(), "ratio": moved.ratio() });
    }
    if moved.is_pinned {
        value["is_pinned"] = json!(true);
    }
    if let Some((old, new)) = &moved.pinned {
        value["pinned"] = json!({ "old": old, "new": new });
    }
    value
}

fn alert(alert: &Alert) -> Value {
    json!({
        "code": alert.code.code(),
        "title": alert.code.title(),
        "item": name(&alert.item),
        "path": alert.path,
        "old": alert.old.as_deref(),
        "new": alert.new.as_deref(),
        "note": alert.note,
        "ratio": alert.ratio,
    })
}

fn finding(finding: &NewFinding) -> Value {
    json!({
        "item": name(&finding.item),
        "code": finding.code,
        "severity": finding.severity.word(),
        "message": finding.message,
        "file": finding.file,
        "line": finding.line,
    })
}

fn name(item: &ItemName) -> Value {
    json!({ "kind": item.kind.words(), "name": item.name })
}
