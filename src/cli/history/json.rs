//! `history --format json`:
//!
//! ```json
//! {"version": 1, "item": {"kind": "rotor", "name": "…"}, "shallow": false,
//!  "commits": [{"commit": "…", "author": "…", "email": "…", "date": "2026-04-14T09:30:00+02:00", "subject": "…",
//!    "file": "…", "name": "…", "was": null, "change": "changed",
//!    "facts": [{"path": ["plane rim", "radius"], "change": "changed", "old": "141 mm", "new": "140 mm"}],
//!    "pins": [{"path": ["tolerance", "permissible unbalance"], "old": "81.7 g·mm", "new": "82.3 g·mm"}]}]}
//! ```
//!
//! The newest comes first. `commit` and what belongs to it are null for what is not committed. `change` is added, back again (it had been removed), removed,
//! changed, renamed (then `was` is the name before) or oldest, where a shallow clone ends (then `shallow` is true).

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
