//! Long sessions of random edits, renames, file events and requests that are called off: in the end the server says
//! what a fresh check of the same texts says, and it holds no more memory than after a while.
//!
//! The long one: `cargo test --release --test lsp soak -- --ignored --nocapture`

mod session;
mod texts;

use std::collections::BTreeMap;
use std::sync::Arc;
use std::time::Duration;

use crate::support::lsp_client::url;
use rotorbook::book::{Book, SourceFile};
use rotorbook::check::{self, Severity};
use serde_json::{Value, json};
use session::Session;

/// Steps after which the server is waited for.
const BREATH: usize = 250;

/// Code, message, weight and place of all that is said of each file.
type Said = BTreeMap<String, Vec<Value>>;

/// What a fresh check says of the texts that count now.
fn fresh(session: &Session) -> Said {
    let files = session.texts.files.iter();
    let files = files.map(|(path, text)| Arc::new(SourceFile::read(&**path, text.now().expect("it has a text"))));
    let book = Book::new(files.collect());
    let mut said = Said::new();
    for found in check::check(&book) {
        let file = book.file(found.place.file);
        let severity = match found.severity {
            Severity::Error => 1,
            Severity::Warning => 2,
            Severity::Note => 3,
        };
        let help = found.help.map(|help| format!("\nhelp: {help}")).unwrap_or_default();
        let of_file = said.entry(url(&session.texts.folder.path(&file.path))).or_default();
        of_file.push(json!([
            found.rule.code,
            format!("{}{help}", found.message),
            severity,
            texts::position(&file.text, found.place.span.start as usize),
            texts::position(&file.text, found.place.span.end as usize),
            found.related.len(),
        ]));
    }
    said
}

/// What the server has said last.
fn told(session: &Session) -> Said {
    let mut said = Said::new();
    for (uri, params) in &session.said {
        let found = params["diagnostics"].as_array().expect("a list");
        let of_file: Vec<Value> = found
            .iter()
            .map(|one| {
                let related = one["relatedInformation"].as_array().map_or(0, Vec::len);
                let range = &one["range"];
                json!([one["code"], one["message"], one["severity"], range["start"], range["end"], related])
            })
            .collect();
        if !of_file.is_empty() {
            said.insert(uri.clone(), of_file);
        }
    }
    said
}

fn sorted(mut said: Said) -> Said {
    said.values_mut().for_each(|all| all.sort_by_key(Value::to_string));
    said
}

/// A session of so many steps; the memory after each twentieth of it.
fn soak(seed: u64, sheets: usize, steps: usize) -> Vec<u64> {
    let mut session = Session::new(seed, sheets);
    let mut memory = Vec::new();
    for step in 1..=steps {
        session.step();
        if step % BREATH == 0 {
            session.breathe(Duration::from_millis(2));
        }
        if step % (steps / 20) == 0 {
            memory.push(session.memory());
        }
    }
    session.breathe(Duration::from_millis(1500));
    let (expected, said) = (sorted(fresh(&session)), sorted(told(&session)));
    for (uri, expected) in &expected {
        assert_eq!(said.get(uri), Some(expected), "seed {seed}: what is said of {uri}");
    }
    let files: Vec<&String> = said.keys().filter(|uri| !expected.contains_key(*uri)).collect();
    assert!(files.is_empty(), "seed {seed}: something is said of {files:?}");
    assert!(!expected.is_empty(), "seed {seed}: nothing is wrong with what was typed by chance");
    for (path, text) in session.texts.files.iter().filter(|(_, text)| text.open.is_some()) {
        let version = text.open.as_ref().map(|(version, _)| i64::from(*version));
        let uri = url(&session.texts.folder.path(path));
        assert_eq!(session.said.get(&uri).and_then(|said| said["version"].as_i64()), version, "seed {seed}: {uri}");
    }
    assert!(session.client.shut_down().success());
    memory
}

#[test]
fn after_a_long_session_the_server_says_what_a_fresh_check_says() {
    for seed in 1..=3 {
        soak(seed, 16, 1500);
    }
}

#[test]
#[ignore = "takes minutes"]
fn a_hundred_thousand_steps_leave_memory_level() {
    let memory = soak(4, 60, 100_000);
    println!("memory after each twentieth, in MB: {:?}", memory.iter().map(|kb| kb / 1024).collect::<Vec<_>>());
    let most = |part: &[u64]| part.iter().copied().max().unwrap_or(0);
    let (first, last) = (most(&memory[..10]), most(&memory[10..]));
    assert!(last <= first + first / 4, "{last} kB in the second half, {first} kB in the first");
}
