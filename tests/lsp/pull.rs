//! Diagnostics for editors that ask for them, of one document and of the whole book.

use std::path::Path;
use std::time::Duration;

use crate::support::lsp_client::book::{ROTOR, SETUP, book};
use crate::support::lsp_client::{Client, Folder, able, url};
use serde_json::{Value, json};

const WRONG: &str = "rotor \"spare\" {\n  mass: 4,8 kg\n}\n";

/// A client that asks for diagnostics, and can be told to ask again.
fn asking() -> Value {
    let mut able = able();
    able["textDocument"]["diagnostic"] = json!({ "dynamicRegistration": false, "relatedDocumentSupport": false });
    able["workspace"]["diagnostics"] = json!({ "refreshSupport": true });
    able
}

fn session() -> (Folder, Client) {
    let folder = book();
    let client = Client::open(folder.root(), asking());
    (folder, client)
}

fn pull(client: &mut Client, path: &Path, known: Option<&Value>) -> Value {
    let mut params = json!({ "textDocument": { "uri": url(path) } });
    if let Some(known) = known {
        params["previousResultId"] = known.clone();
    }
    client.request("textDocument/diagnostic", params)
}

fn codes(report: &Value) -> Vec<&str> {
    let items = report["items"].as_array().unwrap_or_else(|| panic!("{report} is a full report"));
    items.iter().map(|one| one["code"].as_str().unwrap()).collect()
}

/// What is said of each file that the client does not know yet.
fn pull_all(client: &mut Client, known: &[(&str, &str)]) -> i64 {
    let known: Vec<Value> = known.iter().map(|(uri, id)| json!({ "uri": uri, "value": id })).collect();
    client.ask("workspace/diagnostic", json!({ "previousResultIds": known }))
}

fn of_file<'r>(report: &'r Value, path: &Path) -> Option<&'r Value> {
    report["result"]["items"].as_array().unwrap().iter().find(|one| one["uri"] == *url(path))
}

fn answers(message: &Value, id: i64) -> bool {
    message["id"] == id && message["method"].is_null()
}

#[test]
fn a_document_is_asked_about_and_nothing_is_pushed() {
    let (folder, mut client) = session();
    assert_eq!(client.offered["capabilities"]["diagnosticProvider"]["interFileDependencies"], true);
    let path = folder.path("rotors/spare.rotor");
    client.open_text(&path, 1, WRONG);
    let report = pull(&mut client, &path, None);
    assert!(codes(&report).contains(&"decimal-comma"), "{report}");
    let same = pull(&mut client, &path, Some(&report["resultId"]));
    assert_eq!((&same["kind"], &same["resultId"]), (&json!("unchanged"), &report["resultId"]));
    client.replace_text(&path, 2, &WRONG.replace(',', "."));
    let after = pull(&mut client, &path, Some(&report["resultId"]));
    assert!(!codes(&after).contains(&"decimal-comma"), "{after}");
    let all = client.settle(Duration::from_millis(300));
    assert!(all.iter().all(|message| message["method"] != "textDocument/publishDiagnostics"), "{all:#?}");
}

/// What is said of a sheet changes with another sheet; then the client is told to ask again.
#[test]
fn the_client_is_told_to_ask_again() {
    let (folder, mut client) = session();
    let (rotor, setup) = (folder.path("rotors/fan.rotor"), folder.path("setups/fan.rotor"));
    client.open_text(&setup, 1, SETUP);
    client.open_text(&rotor, 1, ROTOR);
    let report = pull(&mut client, &setup, None);
    assert!(!codes(&report).contains(&"unknown-name"), "{report}");
    client.settle(Duration::from_millis(300));
    client.replace_text(&rotor, 2, &ROTOR.replace("rotor \"fan wheel\"", "rotor \"blower wheel\""));
    client.wait("the word to ask again", |message| message["method"] == "workspace/diagnostic/refresh");
    let report = pull(&mut client, &setup, Some(&report["resultId"]));
    assert!(codes(&report).contains(&"unknown-name"), "{report}");
}

#[test]
fn the_whole_book_is_asked_about_and_the_answer_waits_for_news() {
    let folder = book();
    let wrong = folder.write("rotors/spare.rotor", WRONG);
    let mut client = Client::open(folder.root(), asking());
    let asked = pull_all(&mut client, &[]);
    let report = client.answer(asked);
    let found = of_file(&report, &wrong).unwrap_or_else(|| panic!("{report} speaks of the wrong sheet"));
    assert!(codes(found).contains(&"decimal-comma"), "{found}");
    let known: Vec<(String, String)> = report["result"]["items"]
        .as_array()
        .unwrap()
        .iter()
        .map(|one| (one["uri"].as_str().unwrap().to_owned(), one["resultId"].as_str().unwrap().to_owned()))
        .collect();
    let known: Vec<(&str, &str)> = known.iter().map(|(uri, id)| (&**uri, &**id)).collect();
    let asked = pull_all(&mut client, &known);
    let early = client.wait_at_most(Duration::from_millis(300), |message| answers(message, asked));
    assert!(early.is_none(), "{early:?} is no news");
    folder.write("rotors/spare.rotor", &WRONG.replace(',', "."));
    client.touched(&[&wrong]);
    let report = client.answer(asked);
    let found = of_file(&report, &wrong).unwrap_or_else(|| panic!("{report} speaks of the mended sheet"));
    assert!(!codes(found).contains(&"decimal-comma"), "{found}");
    // Of a file that is gone nothing is said any more.
    let id = found["resultId"].as_str().unwrap();
    std::fs::remove_file(&wrong).unwrap();
    client.touched(&[&wrong]);
    let mut known = known.clone();
    let uri = url(&wrong);
    known.retain(|(of, _)| *of != uri);
    known.push((&uri, id));
    let asked = pull_all(&mut client, &known);
    let report = client.answer(asked);
    let found = of_file(&report, &wrong).map(codes);
    assert!(found.is_none_or(|codes| codes.is_empty()), "{report}");
}

/// A request that waits for news can be called off, and does not outlive the session.
#[test]
fn a_waiting_request_is_called_off() {
    let folder = Folder::of([("book.rotor", "shop \"Tern Quay Rotor Shop\" {\n  format: 1\n}\n")]);
    let mut client = Client::open(folder.root(), asking());
    let waiting = pull_all(&mut client, &[]);
    let report = client.wait_at_most(Duration::from_millis(500), |message| answers(message, waiting));
    assert!(report.is_none(), "{report:?} is no news");
    client.notify("$/cancelRequest", json!({ "id": waiting }));
    assert_eq!(client.answer(waiting)["error"]["code"], -32800);
    pull_all(&mut client, &[]);
    assert!(client.shut_down().success());
}
