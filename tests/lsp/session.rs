//! A session from its beginning to its end, and what happens to one that does not go as it should.

use std::time::{Duration, Instant};

use crate::support::lsp_client::{Client, Folder, able, framed};
use serde_json::{Value, json};

const SHOP: &str = "shop \"Tern Quay Rotor Shop\" {\n  format: 1\n}\n";
const WRONG: &str = "rotor \"fan wheel\" {\n  mass: 4,8 kg\n}\n";

#[test]
fn a_session_ends_in_order() {
    let folder = Folder::of([("book.rotor", SHOP)]);
    let client = Client::open(folder.root(), able());
    assert_eq!(client.offered["serverInfo"]["name"], "rotorbook");
    assert!(client.shut_down().success());
}

#[test]
fn diagnostics_come_with_their_version() {
    let folder = Folder::of([("book.rotor", SHOP), ("fan.rotor", "")]);
    let mut client = Client::open(folder.root(), able());
    let path = folder.path("fan.rotor");
    client.open_text(&path, 1, WRONG);
    assert!(client.codes(&path, 1).contains(&"decimal-comma".to_owned()));
    client.replace_text(&path, 2, &WRONG.replace(',', "."));
    assert!(!client.codes(&path, 2).contains(&"decimal-comma".to_owned()));
    client.replace_text(&path, 3, WRONG);
    let found = client.diagnostics(&path, 3);
    let comma = found.iter().find(|one| one["code"] == "decimal-comma").expect("the comma is back");
    assert_eq!(comma["range"]["start"], json!({ "line": 1, "character": 8 }));
    assert_eq!(comma["source"], "rotorbook");
}

/// tower-lsp stays alive after `exit` while its input is open.
#[test]
fn exit_ends_the_process_while_its_input_is_open() {
    let folder = Folder::of([("book.rotor", SHOP)]);
    let mut client = Client::open(folder.root(), able());
    client.request("shutdown", Value::Null);
    let start = Instant::now();
    client.notify("exit", Value::Null);
    assert!(client.exit_status().success());
    assert!(start.elapsed() < Duration::from_secs(3));
}

#[test]
fn exit_without_a_word_before_is_a_failure() {
    let mut client = Client::start();
    client.notify("exit", Value::Null);
    assert_eq!(client.exit_status().code(), Some(1));
}

#[test]
fn the_end_of_the_input_ends_the_process() {
    let folder = Folder::of([("book.rotor", SHOP)]);
    let mut client = Client::open(folder.root(), able());
    client.close_input();
    assert_eq!(client.exit_status().code(), Some(1));
    let mut silent = Client::start();
    silent.close_input();
    assert_eq!(silent.exit_status().code(), Some(1));
}

#[test]
fn requests_outside_a_session_are_refused() {
    let mut client = Client::start();
    let early = client.ask("textDocument/hover", json!({}));
    assert_eq!(client.answer(early)["error"]["code"], -32002);
    let mut client = client.initialized(&[], able(), Value::Null);
    let again = client.ask("initialize", json!({ "capabilities": {} }));
    assert_eq!(client.answer(again)["error"]["code"], -32600);
    client.request("shutdown", Value::Null);
    let late = client.ask("textDocument/hover", json!({}));
    assert_eq!(client.answer(late)["error"]["code"], -32600);
}

#[test]
fn what_is_no_message_is_answered_and_the_session_goes_on() {
    let folder = Folder::of([("book.rotor", SHOP)]);
    let mut client = Client::open(folder.root(), able());
    client.send_bytes(b"some wrapper's greeting\r\n\r\n");
    client.send_bytes(&framed("{ this is no JSON"));
    client.send_bytes(&framed("[]"));
    client.send_bytes(&framed("{\"jsonrpc\":\"2.0\",\"id\":7.5,\"method\":\"textDocument/hover\"}"));
    let codes: Vec<Value> = (0..3)
        .map(|_| client.wait("an error", |message| message["id"].is_null() && !message["error"].is_null()))
        .map(|message| message["error"]["code"].clone())
        .collect();
    assert_eq!(codes, [json!(-32700), json!(-32600), json!(-32600)]);
    let unknown = client.ask("textDocument/noSuchThing", json!({}));
    assert_eq!(client.answer(unknown)["error"]["code"], -32601);
    client.notify("textDocument/didChange", json!({ "nonsense": true }));
    client.notify("$/unheardOf", json!({}));
    let path = folder.path("fan.rotor");
    client.open_text(&path, 1, WRONG);
    assert!(client.codes(&path, 1).contains(&"decimal-comma".to_owned()));
}
