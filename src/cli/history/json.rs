//! `history --format json`; `grammar/json/history.schema.json` says what each field means.

use serde_json::{Value, json};

use super::Life;
use super::follow::Step;
use crate::cli::diff::json::fact;

/// Rises whenever a program that reads the document would have to be changed.
const VERSION: u32 = 1;

pub(super) fn document(life: &Life) -> Value {
    json!({
        "version": VERSION,
        "item": { "kind": life.item.kind.words(), "name": life.item.name },
        "shallow": life.cut_off,
        "commits": life.steps.iter().map(step).collect::<Vec<_>>(),
    })
}

fn step(step: &Step) -> Value {
    let commit = step.commit.as_ref();
    json!({
        "commit": commit.map(|commit| &commit.id),
        "author": commit.map(|commit| &commit.author),
        "email": commit.map(|commit| &commit.email),
        "date": commit.map(|commit| &commit.date),
        "subject": commit.map(|commit| &commit.subject),
        "file": step.file,
        "name": step.name,
        "was": step.was,
        "change": step.what.word(),
        "facts": step.changes.facts.iter().map(fact).collect::<Vec<_>>(),
        "pins": step.changes.pins.iter().map(|pin| json!({ "path": pin.path, "old": pin.old, "new": pin.new })).collect::<Vec<_>>(),
    })
}
