//! Messages in order, whatever the client does: the ways in which servers built on tower-lsp have gone wrong.

use std::time::{Duration, Instant};

use crate::support::lsp_client::{Client, Folder, able, url};
use serde_json::{Value, json};

const SHOP: &str = "shop \"Tern Quay Rotor Shop\" {\n  format: 1\n}\n";
const ROTOR: &str = "rotor \"\" {\n  mass: 4.8 kg\n}\n";

fn session() -> (Folder, Client) {
    let folder = Folder::of([("book.rotor", SHOP)]);
    let client = Client::open(folder.root(), able());
    (folder, client)
}

fn document(path: &std::path::Path) -> Value {
    json!({ "textDocument": { "uri": url(path) } })
}

/// A sheet that takes a while to look through.
fn long_sheet(rotors: usize) -> String {
    (0..rotors)
        .map(|n| format!("rotor \"fan wheel {n}\" {{\n  mass: 4.8 kg\n  note: \"one of many\"\n}}\n\n"))
        .collect()
}

/// Two thousand edits, each of which only makes sense after the one before, with requests between them.
#[test]
fn edits_are_applied_in_the_order_in_which_they_are_sent() {
    let (folder, mut client) = session();
    let path = folder.path("fan.rotor");
    client.open_text(&path, 0, ROTOR);
    let name: String = (0..2000).map(|n| char::from(b'a' + (n * 7 % 26) as u8)).collect();
    let mut asked = Vec::new();
    for (n, letter) in (0..).zip(name.chars()) {
        client.insert(&path, n + 1, (0, 7 + n as u32), &letter.to_string());
        if n % 10 == 0 {
            asked.push(client.ask("textDocument/documentSymbol", document(&path)));
        }
    }
    let symbols = client.request("textDocument/documentSymbol", document(&path));
    assert_eq!(symbols[0]["name"], *name);
    client.diagnostics(&path, 2000);
    for id in asked {
        let answer = client.answer(id);
        // Asked before the text changed again: the name so far, or that it makes no sense any more.
        match answer["result"][0]["name"].as_str() {
            Some(so_far) => assert!(name.starts_with(so_far), "{so_far}"),
            None if answer["error"].is_null() => {}
            None => assert_eq!(answer["error"]["code"], -32801),
        }
    }
}

/// A request sees the text as it was when the request was sent, however late it is answered.
#[test]
fn a_request_sees_what_was_sent_before_it() {
    let (folder, mut client) = session();
    let path = folder.path("fan.rotor");
    for round in 0..50 {
        let name = format!("fan {round}");
        client.open_text(&path, round, &ROTOR.replace("\"\"", &format!("{name:?}")));
        let symbols = client.request("textDocument/documentSymbol", document(&path));
        assert_eq!(symbols[0]["name"], *name);
        client.close(&path);
    }
}

#[test]
fn fifty_keys_at_once_are_told_of_once_or_a_few_times() {
    let (folder, mut client) = session();
    let path = folder.path("fan.rotor");
    client.open_text(&path, 0, &long_sheet(400));
    client.diagnostics(&path, 0);
    client.settle(Duration::from_millis(200));
    for n in 0..50 {
        client.insert(&path, n + 1, (0, 7 + n as u32), "x");
    }
    client.diagnostics(&path, 50);
    let told = client.settle(Duration::from_millis(200));
    let told = told.iter().filter(|message| message["params"]["uri"] == *url(&path)).count();
    assert!(told < 25, "{told} of 49 versions that nobody looks at any more were told of");
}

/// The server goes on reading and judging; what is old by the time the client reads is never sent.
#[test]
fn a_client_that_does_not_read_blocks_nothing() {
    let (folder, mut client) = session();
    let path = folder.path("fan.rotor");
    let wrong: String = (0..2000).map(|n| format!("rotor \"{n}\" {{\n  mass: 4,{n} kg\n}}\n")).collect();
    client.open_text(&path, 0, &wrong);
    client.diagnostics(&path, 0);
    let deaf = client.deaf();
    let not_reading = deaf.lock().unwrap();
    for version in 1..=100 {
        client.insert(&path, version, (0, 0), "#");
        std::thread::sleep(Duration::from_millis(10));
    }
    let hover =
        client.ask("textDocument/hover", json!({ "textDocument": { "uri": url(&path) }, "position": place(1, 3) }));
    // Were the server blocked, it would not have taken all this.
    client.insert(&path, 101, (0, 0), &"# a long line of remarks\n".repeat(20_000));
    drop(not_reading);
    client.answer(hover);
    client.diagnostics(&path, 101);
    let told = client.settle(Duration::from_millis(500));
    let told = told.iter().filter(|message| message["params"]["uri"] == *url(&path)).count();
    assert!(told < 50, "{told} versions were sent although nobody read them");
}

fn place(line: u32, character: u32) -> Value {
    json!({ "line": line, "character": character })
}

/// The server asks to watch files, for settings, for room to show progress; it must not wait for the answers.
#[test]
fn a_client_that_does_not_answer_blocks_nothing() {
    let folder = Folder::of([("book.rotor", SHOP), ("fan.rotor", ROTOR)]);
    let mut client = Client::start();
    client.answers = false;
    let mut client = client.initialized(&[folder.root()], able(), Value::Null);
    let path = folder.path("fan.rotor");
    client.open_text(&path, 1, ROTOR);
    client.diagnostics(&path, 1);
    client.wait("a question", |message| message["method"] == "client/registerCapability");
    client.notify("workspace/didChangeConfiguration", json!({ "settings": null }));
    client.request("workspace/executeCommand", json!({ "command": "rotorbook.fixAll", "arguments": [url(&path)] }));
    client.insert(&path, 2, (0, 7), "fan");
    client.diagnostics(&path, 2);
    assert!(client.shut_down().success());
}

/// Answers of the client that nobody asked for, or that are no answers.
#[test]
fn odd_answers_do_no_harm() {
    let (folder, mut client) = session();
    client.send(&json!({ "jsonrpc": "2.0", "id": 4711, "result": null }));
    client.send(&json!({ "jsonrpc": "2.0", "id": "x", "error": { "code": "no", "message": 3, "more": true } }));
    client.send(&json!({ "jsonrpc": "2.0", "id": null, "result": {} }));
    let path = folder.path("fan.rotor");
    client.open_text(&path, 1, ROTOR);
    client.diagnostics(&path, 1);
}

/// Twelve requests that take long, then one that does not.
#[test]
fn slow_requests_do_not_starve_quick_ones() {
    let (folder, mut client) = session();
    let (long, short) = (folder.path("long.rotor"), folder.path("short.rotor"));
    client.open_text(&long, 1, &long_sheet(6_000));
    client.open_text(&short, 1, ROTOR);
    client.diagnostics(&short, 1);
    let slow: Vec<i64> = (0..12).map(|_| client.ask("textDocument/semanticTokens/full", document(&long))).collect();
    let quick = client.ask("textDocument/foldingRange", document(&short));
    client.insert(&short, 2, (0, 7), "fan");
    let mut order = Vec::new();
    while order.len() < 13 {
        let answer = client.wait("an answer", |message| message["method"].is_null() && !message["id"].is_null());
        order.push(answer["id"].as_i64().expect("a number"));
    }
    let place = order.iter().position(|id| *id == quick).expect("it was answered");
    assert!(place < 11, "answered as number {place} of {order:?}, {slow:?} being slow");
    client.diagnostics(&short, 2);
}

#[test]
fn a_request_can_be_called_off() {
    let (folder, mut client) = session();
    let long = folder.path("long.rotor");
    client.open_text(&long, 1, &long_sheet(6_000));
    client.diagnostics(&long, 1);
    let start = Instant::now();
    let slow: Vec<i64> = (0..8).map(|_| client.ask("textDocument/semanticTokens/full", document(&long))).collect();
    for id in &slow {
        client.notify("$/cancelRequest", json!({ "id": id }));
    }
    let codes: Vec<Value> = slow.iter().map(|id| client.answer(*id)["error"]["code"].clone()).collect();
    assert!(codes.iter().filter(|code| **code == -32800).count() >= 7, "{codes:?} after {:?}", start.elapsed());
    client.notify("$/cancelRequest", json!({ "id": 99_999 }));
    let symbols = client.request("textDocument/documentSymbol", document(&long));
    assert_eq!(symbols.as_array().map(Vec::len), Some(6_000));
}
