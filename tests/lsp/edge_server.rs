//! The server's ends: its input, its starter, and what it is sent instead of messages.

use std::process::Command;
use std::time::{Duration, Instant};

use crate::support::lsp_client::{Client, able, url};
use serde_json::{Value, json};

const TEXT: &str = "rotor \"a ![p](http://tern.example/p.png)\" {\n  mass: 3.00 kg\n  plane \"<img src=x>\" {\n    at: 20 mm\n    radius: 100 mm\n  }\n}\n";

/// Some room beside the second that it may take, for a machine that does other work too.
const SOON: Duration = Duration::from_secs(5);

#[test]
fn it_ends_with_its_input_though_nobody_reads_its_output() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.rotor");
    let mut client = Client::open(folder.path(), able());
    client.open_text(&path, 1, TEXT);
    let deaf = client.deaf();
    let held = deaf.lock().unwrap();
    for _ in 0..3_000 {
        client.ask("textDocument/documentSymbol", json!({ "textDocument": { "uri": url(&path) } }));
    }
    std::thread::sleep(Duration::from_millis(500));
    client.close_input();
    let closed = Instant::now();
    client.exit_status();
    assert!(closed.elapsed() < SOON, "{:?}", closed.elapsed());
    drop(held);
}

#[test]
fn it_ends_with_the_process_that_started_it() {
    let mut starter = Command::new("sleep").arg("600").spawn().unwrap();
    let mut client = Client::start();
    let params = json!({ "processId": starter.id(), "rootUri": null, "capabilities": able() });
    client.request("initialize", params);
    client.notify("initialized", json!({}));
    starter.kill().unwrap();
    starter.wait().unwrap();
    let gone = Instant::now();
    client.exit_status();
    assert!(gone.elapsed() < SOON, "{:?}", gone.elapsed());
}

#[test]
fn no_parameters_may_be_said_as_null() {
    let mut client = Client::open(tempfile::tempdir().unwrap().path(), able());
    let id = client.ask_with_null("shutdown");
    let answer = client.answer(id);
    assert!(answer.get("error").is_none(), "{answer}");
}

#[test]
fn a_message_without_a_usable_header_costs_itself_alone() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.rotor");
    let body = r#"{"jsonrpc":"2.0","id":"lost","method":"shutdown"}"#;
    for header in
        ["", "Content-Length: -5\r\n\r\n", "Content-Length: 99999999999999999999\r\n\r\n", "Content-Length: x\r\n\r\n"]
    {
        let mut client = Client::open(folder.path(), able());
        client.open_text(&path, 1, TEXT);
        client.send_bytes(format!("{header}{body}").as_bytes());
        for _ in 0..2 {
            let symbols =
                client.request("textDocument/documentSymbol", json!({ "textDocument": { "uri": url(&path) } }));
            assert!(symbols.as_array().is_some_and(|symbols| !symbols.is_empty()), "{header:?}");
        }
        client.shut_down();
    }
}

#[test]
fn names_do_nothing_in_what_editors_show() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.rotor");
    let mut client = Client::open(folder.path(), able());
    client.open_text(&path, 1, TEXT);
    let mut shown = Vec::new();
    for (line, character) in (0..6).flat_map(|line| [3, 9, 15].map(|character| (line, character))) {
        let position = json!({ "line": line, "character": character });
        let params = json!({ "textDocument": { "uri": url(&path) }, "position": position });
        let hover = client.request("textDocument/hover", params);
        shown.extend(hover.pointer("/contents/value").and_then(Value::as_str).map(str::to_owned));
        let arguments = json!({ "command": "rotorbook.show", "arguments": [url(&path), position] });
        shown.extend(client.request("workspace/executeCommand", arguments).as_str().map(str::to_owned));
    }
    assert!(shown.len() > 6);
    for text in shown {
        let outside_code = text.split("```").step_by(2).flat_map(|text| text.split('`').step_by(2).collect::<Vec<_>>());
        for piece in outside_code {
            for mark in ["![", "<img", "://"] {
                let bare = piece.match_indices(mark).any(|(at, _)| !piece[..at].ends_with('\\'));
                assert!(!bare, "{mark} in {piece:?}");
            }
        }
    }
    client.shut_down();
}
