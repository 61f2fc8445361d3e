//! Books as they lie on disk and as they are open: several folders, files that come and go, texts that are not saved.

use std::fs;
use std::path::Path;
use std::time::Duration;

use crate::support::lsp_client::book::{ROTOR, SETUP, SHOP, book};
use crate::support::lsp_client::{Client, Folder, PATIENCE, able, url};
use serde_json::{Value, json};

/// Waits until what is said of a file holds this code, or does not.
fn until(client: &mut Client, path: &Path, code: &str, there: bool) {
    let what = format!("{} {code} in {}", if there { "the" } else { "no" }, path.display());
    client.wait(&what, |message| {
        message["method"] == "textDocument/publishDiagnostics"
            && message["params"]["uri"] == *url(path)
            && message["params"]["diagnostics"].as_array().expect("a list").iter().any(|one| one["code"] == code)
                == there
    });
}

#[test]
fn files_that_are_not_open_are_judged_too() {
    let folder = book();
    let wrong = folder.write("rotors/wrong.rotor", "rotor \"spare\" {\n  mass: 4,8 kg\n}\n");
    let mut client = Client::open(folder.root(), able());
    let found = client.codes(&wrong, None);
    assert!(found.contains(&"decimal-comma".to_owned()), "{found:?}");
}

#[test]
fn what_is_not_saved_counts_in_other_files() {
    let folder = book();
    let (rotor, setup) = (folder.path("rotors/fan.rotor"), folder.path("setups/fan.rotor"));
    let mut client = Client::open(folder.root(), able());
    client.open_text(&setup, 1, SETUP);
    assert!(!client.codes(&setup, 1).contains(&"unknown-name".to_owned()));
    client.settle(Duration::from_millis(500));
    client.open_text(&rotor, 1, ROTOR);
    client.replace_text(&rotor, 2, &ROTOR.replace("rotor \"fan wheel\"", "rotor \"blower wheel\""));
    until(&mut client, &setup, "unknown-name", true);
    // Closed without being saved: what lies on disk holds again.
    client.close(&rotor);
    until(&mut client, &setup, "unknown-name", false);
}

#[test]
fn files_changed_outside_the_editor_are_seen() {
    let folder = book();
    let (rotor, setup) = (folder.path("rotors/fan.rotor"), folder.path("setups/fan.rotor"));
    let mut client = Client::open(folder.root(), able());
    let asked = client.wait("the wish to watch", |message| message["method"] == "client/registerCapability");
    assert!(asked.to_string().contains("**/*.rotor"), "{asked}");
    client.open_text(&setup, 1, SETUP);
    client.diagnostics(&setup, 1);
    client.settle(Duration::from_millis(500));
    folder.write("rotors/fan.rotor", &ROTOR.replace("\"fan wheel\"", "\"other wheel\""));
    client.touched(&[&rotor]);
    until(&mut client, &setup, "unknown-name", true);
    let new = folder.write("rotors/new.rotor", &ROTOR.replace("TQ-315", "TQ-316"));
    client.touched(&[&new]);
    until(&mut client, &setup, "unknown-name", false);
    fs::remove_dir_all(folder.path("rotors")).unwrap();
    // Of a folder that is gone, editors tell of the folder alone.
    client.touched(&[&folder.path("rotors")]);
    until(&mut client, &setup, "unknown-name", true);
}

/// A client that does not watch files itself, with a setup open.
fn without_watching(folder: &Folder, setup: &Path) -> Client {
    let mut cannot_watch = able();
    cannot_watch["workspace"]["didChangeWatchedFiles"] = json!({ "dynamicRegistration": false });
    let mut client = Client::open(folder.root(), cannot_watch);
    client.open_text(setup, 1, SETUP);
    client.diagnostics(setup, 1);
    // What is said once the whole book is read is not taken for what is said later.
    client.settle(Duration::from_millis(500));
    client
}

#[test]
fn files_changed_outside_are_seen_where_the_client_does_not_watch() {
    let folder = book();
    let setup = folder.path("setups/fan.rotor");
    let mut client = without_watching(&folder, &setup);
    folder.write("rotors/fan.rotor", &ROTOR.replace("\"fan wheel\"", "\"another wheel\""));
    until(&mut client, &setup, "unknown-name", true);
    folder.write("rotors/new.rotor", ROTOR);
    until(&mut client, &setup, "unknown-name", false);
    fs::remove_file(folder.path("rotors/new.rotor")).unwrap();
    until(&mut client, &setup, "unknown-name", true);
}

#[test]
fn a_book_that_goes_and_comes_back_is_the_book_of_its_files_again() {
    let folder = book();
    let setup = folder.path("setups/fan.rotor");
    let mut client = without_watching(&folder, &setup);
    fs::remove_file(folder.path("book.rotor")).unwrap();
    until(&mut client, &setup, "unknown-name", true);
    folder.write("book.rotor", SHOP);
    until(&mut client, &setup, "unknown-name", false);
}

#[test]
fn a_file_that_is_gone_is_said_to_be_clean() {
    let folder = book();
    let wrong = folder.write("rotors/wrong.rotor", "rotor \"spare\" {\n  mass: 4,8 kg\n}\n");
    let mut client = Client::open(folder.root(), able());
    assert!(!client.diagnostics(&wrong, None).is_empty());
    let renamed = folder.path("rotors/renamed.rotor");
    fs::rename(&wrong, &renamed).unwrap();
    let files = json!([{ "oldUri": url(&wrong), "newUri": url(&renamed) }]);
    client.notify("workspace/didRenameFiles", json!({ "files": files }));
    assert!(client.diagnostics(&wrong, None).is_empty());
    assert!(!client.diagnostics(&renamed, None).is_empty());
}

#[test]
fn each_folder_has_its_own_book() {
    let (one, other) = (book(), Folder::of([("book.rotor", SHOP), ("setups/fan.rotor", SETUP)]));
    let (here, there) = (one.path("setups/fan.rotor"), other.path("setups/fan.rotor"));
    let mut client = Client::start().initialized(&[one.root(), other.root()], able(), Value::Null);
    client.open_text(&here, 1, SETUP);
    client.open_text(&there, 1, SETUP);
    assert!(!client.codes(&here, 1).contains(&"unknown-name".to_owned()));
    assert!(client.codes(&there, 1).contains(&"unknown-name".to_owned()));
    let gone = json!([{ "uri": url(other.root()), "name": "book" }]);
    client.close(&there);
    client.notify("workspace/didChangeWorkspaceFolders", json!({ "event": { "added": [], "removed": gone } }));
    until(&mut client, &there, "unknown-name", false);
    let third = Folder::of([("book.rotor", "shop \"x\" {\n  format: 1,0\n}\n")]);
    let added = json!([{ "uri": url(third.root()), "name": "third" }]);
    client.notify("workspace/didChangeWorkspaceFolders", json!({ "event": { "added": added, "removed": [] } }));
    until(&mut client, &third.path("book.rotor"), "decimal-comma", true);
}

#[test]
fn a_book_inside_a_book_is_its_own() {
    let folder = book();
    folder.write("old/book.rotor", SHOP);
    let setup = folder.write("old/setup.rotor", SETUP);
    let mut client = Client::open(folder.root(), able());
    client.open_text(&setup, 1, SETUP);
    assert!(client.codes(&setup, 1).contains(&"unknown-name".to_owned()));
    // What is said once the whole book is read is not taken for what is said later.
    client.settle(Duration::from_millis(500));
    // Without its own root it is a part of the larger one, where the rotor is.
    fs::remove_file(folder.path("old/book.rotor")).unwrap();
    client.touched(&[&folder.path("old/book.rotor")]);
    until(&mut client, &setup, "unknown-name", false);
    folder.write("old/book.rotor", SHOP);
    client.touched(&[&folder.path("old/book.rotor")]);
    until(&mut client, &setup, "unknown-name", true);
}

#[test]
fn a_sheet_without_a_book_is_a_book_of_its_own() {
    let folder = Folder::of([("loose.rotor", ROTOR), ("other.rotor", SETUP)]);
    let mut client = Client::open(folder.root(), able());
    assert!(client.codes(&folder.path("other.rotor"), None).contains(&"unknown-name".to_owned()));
    let loose = folder.path("loose.rotor");
    client.open_text(
        &loose,
        1,
        &format!("{ROTOR}{}", SETUP.replace("balancing speed: 1150 rpm", "balancing speed: 1,1 rpm")),
    );
    let codes = client.codes(&loose, 1);
    assert!(codes.contains(&"decimal-comma".to_owned()), "{codes:?}");
    client.close(&loose);
    until(&mut client, &loose, "decimal-comma", false);
}

#[test]
fn a_text_that_lies_nowhere_is_served_too() {
    let folder = book();
    let mut client = Client::open(folder.root(), able());
    let document = json!({ "uri": "untitled:Untitled-1", "languageId": "rotorbook", "version": 1, "text": "rotor \"x\" {\n  mass: 4,8 kg\n}\n" });
    client.notify("textDocument/didOpen", json!({ "textDocument": document }));
    let told = client.wait("its diagnostics", |message| message["params"]["uri"] == "untitled:Untitled-1");
    assert!(told.to_string().contains("decimal-comma"));
    let document = json!({ "textDocument": { "uri": "untitled:Untitled-1" } });
    let symbols = client.request("textDocument/documentSymbol", document.clone());
    assert_eq!(symbols[0]["name"], "x");
    client.notify("textDocument/didClose", document);
    client.wait("that it is clean", |message| {
        message["params"]["uri"] == "untitled:Untitled-1" && message["params"]["diagnostics"] == json!([])
    });
}

#[test]
fn a_document_outside_every_folder_has_its_book_all_the_same() {
    let (folder, elsewhere) = (Folder::of([]), book());
    let setup = elsewhere.path("setups/fan.rotor");
    let mut client = Client::open(folder.root(), able());
    client.open_text(&setup, 1, SETUP);
    assert!(!client.codes(&setup, 1).contains(&"unknown-name".to_owned()));
}

#[cfg(unix)]
#[test]
fn a_folder_behind_a_link_is_named_as_the_editor_names_it() {
    let folder = book();
    let links = Folder::of([]);
    let linked = links.path("linked");
    std::os::unix::fs::symlink(folder.root(), &linked).unwrap();
    folder.write("rotors/wrong.rotor", "rotor \"spare\" {\n  mass: 4,8 kg\n}\n");
    let mut client = Client::open(&linked, able());
    assert!(!client.diagnostics(&linked.join("rotors/wrong.rotor"), None).is_empty());
    let setup = linked.join("setups/fan.rotor");
    client.open_text(&setup, 1, SETUP);
    assert!(!client.codes(&setup, 1).contains(&"unknown-name".to_owned()));
    let params = json!({ "textDocument": { "uri": url(&setup) }, "position": { "line": 1, "character": 12 } });
    let links = client.request("textDocument/definition", params);
    assert_eq!(links[0]["targetUri"], *url(&linked.join("rotors/fan.rotor")));
}

#[test]
fn a_large_book_shows_its_progress() {
    let folder = book();
    for n in 0..700 {
        folder.write(&format!("many/{n}.rotor"), &ROTOR.replace("fan wheel", &format!("fan wheel {n}")));
    }
    let mut client = Client::open(folder.root(), able());
    client.wait("the wish to show progress", |message| message["method"] == "window/workDoneProgress/create");
    let step = |client: &mut Client, kind: &str| {
        client.wait_at_most(PATIENCE, |message| message["params"]["value"]["kind"] == kind).is_some()
    };
    assert!(step(&mut client, "begin"));
    assert!(step(&mut client, "end"));
}

/// Of a part of a book a name may be missing and a number another one.
#[test]
fn what_is_offered_at_once_is_what_is_offered_later() {
    let folder = book();
    for n in 0..400 {
        folder.write(&format!("many/{n}.rotor"), &ROTOR.replace("fan wheel", &format!("fan wheel {n}")));
    }
    let setup = folder.path("setups/fan.rotor");
    let mut client = Client::open(folder.root(), able());
    client.open_text(&setup, 1, &SETUP.replace("rotor: \"fan wheel\"", "rotor: "));
    let document = json!({ "uri": url(&setup) });
    let place = json!({ "line": 1, "character": 9 });
    let asked = [
        ("textDocument/completion", json!({ "textDocument": document, "position": place })),
        ("textDocument/documentSymbol", json!({ "textDocument": document })),
        (
            "textDocument/codeAction",
            json!({ "textDocument": document, "range": { "start": place, "end": place }, "context": { "diagnostics": [] } }),
        ),
    ];
    let early: Vec<i64> = asked.iter().map(|(method, params)| client.ask(method, params.clone())).collect();
    let early: Vec<Value> = early.into_iter().map(|id| client.answer(id)["result"].clone()).collect();
    client.settle(Duration::from_millis(500));
    let later: Vec<Value> = asked.into_iter().map(|(method, params)| client.request(method, params)).collect();
    assert_eq!(early, later);
    assert!(early[0].as_array().unwrap().len() > 400);
}

#[test]
fn the_server_says_what_the_command_line_says() {
    let folder = book();
    folder.write("rotors/wrong.rotor", "rotor \"spare\" {\n  mass: 4,8 kg\n}\n");
    let output = assert_cmd::Command::cargo_bin("rotorbook").unwrap();
    let output = { output }.args(["check", "--format", "json"]).current_dir(folder.root()).output().unwrap();
    let report: Value = serde_json::from_slice(&output.stdout).unwrap();
    let expected: Vec<(String, String)> = report["diagnostics"]
        .as_array()
        .unwrap()
        .iter()
        .map(|one| (one["code"].as_str().unwrap().to_owned(), one["message"].as_str().unwrap().to_owned()))
        .collect();
    let mut client = Client::open(folder.root(), able());
    let all = client.settle(Duration::from_millis(1000));
    let mut said: Vec<(String, String)> = all
        .iter()
        .filter(|message| message["method"] == "textDocument/publishDiagnostics")
        .flat_map(|message| message["params"]["diagnostics"].as_array().unwrap().clone())
        .map(|one| {
            let message = one["message"].as_str().unwrap();
            let message = message.split("\nhelp: ").next().unwrap();
            (one["code"].as_str().unwrap().to_owned(), message.to_owned())
        })
        .collect();
    let mut expected = expected;
    said.sort();
    expected.sort();
    assert!(!expected.is_empty());
    assert_eq!(said, expected);
}

#[test]
fn sheets_find_a_drawing_that_is_moved() {
    let folder = book();
    let sheet = folder.write("rotors/spare.rotor", "rotor \"spare\" {\n  drawing: \"../drawings/TQ-9.pdf\"\n}\n");
    let old = folder.write("drawings/TQ-9.pdf", "");
    let mut client = Client::open(folder.root(), able());
    let rename = |old: &Path, new: &Path| json!({ "files": [{ "oldUri": url(old), "newUri": url(new) }] });
    let params = rename(&old, &folder.path("drawings/old/TQ-9.pdf"));
    let edit = client.request("workspace/willRenameFiles", params);
    let change = &edit["documentChanges"][0];
    assert_eq!(change["textDocument"]["uri"], *url(&sheet));
    assert_eq!(change["edits"][0]["newText"], "../drawings/old/TQ-9.pdf");
    let params = rename(&folder.path("drawings"), &folder.path("rotors/drawings"));
    let edit = client.request("workspace/willRenameFiles", params);
    assert_eq!(edit["documentChanges"][0]["edits"][0]["newText"], "drawings/TQ-9.pdf");
    let params = rename(&folder.path("book.rotor"), &folder.path("shop.rotor"));
    assert_eq!(client.request("workspace/willRenameFiles", params), Value::Null);
}

/// The folder alone is named, not what lies in it: after a rename in the editor, and by clients that watch folders.
#[test]
fn a_folder_that_is_moved_takes_its_files_along() {
    let folder = book();
    let (rotors, moved) = (folder.path("rotors"), folder.path("wheels"));
    let setup = folder.path("setups/fan.rotor");
    let mut client = Client::open(folder.root(), able());
    client.open_text(&setup, 1, SETUP);
    assert!(!client.codes(&setup, 1).contains(&"unknown-name".to_owned()));
    client.settle(Duration::from_millis(500));
    fs::rename(&rotors, &moved).unwrap();
    let files = json!([{ "oldUri": url(&rotors), "newUri": url(&moved) }]);
    client.notify("workspace/didRenameFiles", json!({ "files": files }));
    client.settle(Duration::from_millis(300));
    client.replace_text(&setup, 2, SETUP);
    assert!(!client.codes(&setup, 2).contains(&"unknown-name".to_owned()));
    // Gone altogether, and back by an event for the folder.
    let away = Folder::of([("book.rotor", SHOP)]);
    fs::rename(&moved, away.path("wheels")).unwrap();
    client.touched(&[&moved]);
    until(&mut client, &setup, "unknown-name", true);
    fs::rename(away.path("wheels"), &rotors).unwrap();
    client.touched(&[&rotors]);
    until(&mut client, &setup, "unknown-name", false);
}

/// A sheet that is not saved yet belongs to the book that is open: its names are known there.
#[test]
fn a_text_that_is_not_saved_belongs_to_the_open_book() {
    let folder = book();
    let mut client = Client::open(folder.root(), able());
    client.settle(Duration::from_millis(300));
    let in_book = format!("untitled:{}", folder.path("setups/new.rotor").display());
    for uri in ["untitled:Untitled-1", &in_book] {
        let text = "setup \"new\" {\n  rotor: \"fan wheel\"\n  machine: \"hard bench\"\n}\n";
        let document = json!({ "uri": uri, "languageId": "rotorbook", "version": 1, "text": text });
        client.notify("textDocument/didOpen", json!({ "textDocument": document }));
        let told = client.wait("its diagnostics", |message| message["params"]["uri"] == uri);
        let told = told["params"]["diagnostics"].to_string();
        assert!(!told.contains("no rotor") && told.contains("hard bench"), "{uri}: {told}");
        client.notify("textDocument/didClose", json!({ "textDocument": { "uri": uri } }));
        client.settle(Duration::from_millis(200));
    }
}
