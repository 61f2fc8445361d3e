//! What editors ask for, and what they get, in a book of several files with one of them unsaved.

use std::path::PathBuf;

use crate::support::lsp_client::book::{ROTOR, SETUP, SHOP, book, place_of};
use crate::support::lsp_client::{Client, Folder, able, url};
use serde_json::{Value, json};

struct Session {
    folder: Folder,
    client: Client,
    rotor: PathBuf,
    setup: PathBuf,
}

fn session() -> Session {
    let folder = book();
    let mut client = Client::open(folder.root(), able());
    let (rotor, setup) = (folder.path("rotors/fan.rotor"), folder.path("setups/fan.rotor"));
    client.open_text(&rotor, 1, ROTOR);
    client.open_text(&setup, 1, SETUP);
    client.diagnostics(&rotor, 1);
    client.diagnostics(&setup, 1);
    Session { folder, client, rotor, setup }
}

impl Session {
    /// Asks about a place in the setup.
    fn at(&mut self, method: &str, piece: &str, within: usize) -> Value {
        let (line, character) = place_of(SETUP, piece, within);
        let document = json!({ "uri": url(&self.setup) });
        self.client.request(method, json!({ "textDocument": document, "position": position(line, character) }))
    }

    fn of_rotor(&mut self, method: &str) -> Value {
        let document = json!({ "textDocument": { "uri": url(&self.rotor) } });
        self.client.request(method, document)
    }
}

fn position(line: u32, character: u32) -> Value {
    json!({ "line": line, "character": character })
}

fn whole() -> Value {
    json!({ "start": position(0, 0), "end": position(1000, 0) })
}

#[test]
fn hover_explains_a_key_and_a_name() {
    let mut session = session();
    let hover = session.at("textDocument/hover", "balancing speed", 3);
    assert!(hover["contents"]["value"].as_str().unwrap().contains("balancing speed"), "{hover}");
    assert_eq!(hover["range"]["start"], position(4, 2));
    let hover = session.at("textDocument/hover", "\"fan wheel\"\n", 3);
    assert!(hover["contents"]["value"].as_str().unwrap().contains("fan wheel"), "{hover}");
    assert_eq!(session.at("textDocument/hover", "setup", 0)["contents"]["kind"], "markdown");
}

#[test]
fn completion_offers_names_of_the_book() {
    let mut session = session();
    let text = SETUP.replace("rotor: \"fan wheel\"", "rotor: ");
    session.client.replace_text(&session.setup, 2, &text);
    let (line, character) = place_of(&text, "rotor: ", 7);
    let params = json!({ "textDocument": { "uri": url(&session.setup) }, "position": position(line, character) });
    let items = session.client.request("textDocument/completion", params);
    let labels: Vec<&str> = items.as_array().unwrap().iter().map(|item| item["label"].as_str().unwrap()).collect();
    assert!(labels.iter().any(|label| label.contains("fan wheel")), "{labels:?}");
}

#[test]
fn completion_offers_the_keys_that_the_block_lacks() {
    let mut session = session();
    let text = SETUP.replace("    angle: 0 deg\n", "    \n");
    session.client.replace_text(&session.setup, 2, &text);
    let (line, character) = place_of(&text, "134.0 mm\n    \n", 13);
    let params = json!({ "textDocument": { "uri": url(&session.setup) }, "position": position(line, character) });
    let items = session.client.request("textDocument/completion", params);
    let items = items.as_array().unwrap();
    let angle = items.iter().find(|item| item["label"] == "angle").expect("the key that is missing");
    assert_eq!(angle["insertTextFormat"], 2, "{angle}");
    assert!(items.iter().all(|item| item["label"] != "radius"), "a key that is there");
}

/// Editors complain of a command that neither they nor the server knows.
#[test]
fn completion_goes_on_in_editors_that_can() {
    for (name, can) in
        [(Some("Visual Studio Code"), true), (Some("code-server"), true), (Some("Neovim"), false), (None, false)]
    {
        let folder = book();
        let mut client = Client::start();
        client.name = name;
        let mut client = client.initialized(&[folder.root()], able(), Value::Null);
        let path = folder.path("setups/fan.rotor");
        client.open_text(&path, 1, &SETUP.replace("  indicates: heavy spot\n", "  \n"));
        let params = json!({ "textDocument": { "uri": url(&path) }, "position": position(8, 2) });
        let items = client.request("textDocument/completion", params);
        let key = items.as_array().unwrap().iter().find(|item| item["label"] == "indicates").expect("a key it lacks");
        assert_eq!(key["command"]["command"] == "editor.action.triggerSuggest", can, "{name:?}: {key}");
    }
}

#[test]
fn hints_carry_the_results() {
    let mut session = session();
    let params = json!({ "textDocument": { "uri": url(&session.setup) }, "range": whole() });
    let hints = session.client.request("textDocument/inlayHint", params);
    let hints = hints.as_array().unwrap();
    let times = hints.iter().find(|hint| hint["label"].to_string().contains("× tolerance"));
    let times = times.unwrap_or_else(|| panic!("the calibration unbalance is compared: {hints:#?}"));
    assert!(times["tooltip"]["value"].as_str().unwrap().contains("m · r"), "{times}");
    assert!(times["textEdits"][0]["newText"].as_str().unwrap().contains("=>"), "{times}");
}

#[test]
fn hints_are_set_in_the_settings() {
    let folder = book();
    let options = json!({ "inlayHints": "off" });
    let mut client = Client::start().initialized(&[folder.root()], able(), options);
    let path = folder.path("rotors/fan.rotor");
    client.open_text(&path, 1, ROTOR);
    let params = json!({ "textDocument": { "uri": url(&path) }, "range": whole() });
    let hints =
        |client: &mut Client| client.request("textDocument/inlayHint", params.clone()).as_array().unwrap().len();
    // The client is asked first, and its answer is empty.
    client.wait("the question for settings", |message| message["method"] == "workspace/configuration");
    assert_eq!(hints(&mut client), 0);
    client.settings = json!({ "inlayHints": "all" });
    client.notify("workspace/didChangeConfiguration", json!({ "settings": null }));
    client.wait("the question for settings", |message| message["method"] == "workspace/configuration");
    let mut tries = 0;
    while hints(&mut client) == 0 {
        tries += 1;
        assert!(tries < 100, "the settings have not come");
        std::thread::sleep(std::time::Duration::from_millis(10));
    }
    let mut told = able();
    told["workspace"]["configuration"] = json!(false);
    let mut client = Client::open(folder.root(), told);
    client.open_text(&path, 1, ROTOR);
    assert!(hints(&mut client) > 0);
    client.notify("workspace/didChangeConfiguration", json!({ "settings": { "rotorbook": { "inlayHints": "off" } } }));
    assert_eq!(hints(&mut client), 0);
}

#[test]
fn hints_are_completed_for_clients_that_ask_later() {
    let folder = book();
    let mut able = able();
    able["textDocument"]["inlayHint"] = json!({ "resolveSupport": { "properties": ["tooltip", "textEdits"] } });
    let mut client = Client::open(folder.root(), able);
    let path = folder.path("rotors/fan.rotor");
    client.open_text(&path, 1, ROTOR);
    let params = json!({ "textDocument": { "uri": url(&path) }, "range": whole() });
    let hints = client.request("textDocument/inlayHint", params);
    for hint in hints.as_array().unwrap() {
        assert!(hint.get("tooltip").is_none() && hint.get("textEdits").is_none());
        let whole = client.request("inlayHint/resolve", hint.clone());
        assert_eq!((&whole["label"], &whole["position"]), (&hint["label"], &hint["position"]));
        assert!(!whole["tooltip"]["value"].as_str().unwrap().is_empty());
    }
}

#[test]
fn a_name_leads_to_its_heading_in_another_file() {
    let mut session = session();
    let links = session.at("textDocument/definition", "\"fan wheel\"\n", 3);
    assert_eq!(links[0]["targetUri"], *url(&session.rotor));
    assert_eq!(links[0]["targetSelectionRange"]["start"]["line"], 1);
}

#[test]
fn names_are_found_where_they_are_used() {
    let mut session = session();
    let (line, character) = place_of(ROTOR, "\"fan wheel\"", 3);
    let params = json!({
        "textDocument": { "uri": url(&session.rotor) },
        "position": position(line, character),
        "context": { "includeDeclaration": true },
    });
    let places = session.client.request("textDocument/references", params);
    let files: Vec<&str> = places.as_array().unwrap().iter().map(|place| place["uri"].as_str().unwrap()).collect();
    assert_eq!(files, [url(&session.rotor), url(&session.setup)]);
    let marks = session.at("textDocument/documentHighlight", "channel left: hub", 15);
    assert!(marks.as_array().unwrap().len() >= 2, "{marks}");
}

#[test]
fn a_name_is_changed_in_all_files() {
    let mut session = session();
    let found = session.at("textDocument/prepareRename", "\"fan wheel\"\n", 3);
    assert_eq!(found["placeholder"], "fan wheel");
    let (line, character) = place_of(SETUP, "\"fan wheel\"\n", 3);
    let params = json!({
        "textDocument": { "uri": url(&session.setup) },
        "position": position(line, character),
        "newName": "blower wheel",
    });
    let edit = session.client.request("textDocument/rename", params);
    let files: Vec<(&str, i64)> = edit["documentChanges"]
        .as_array()
        .unwrap()
        .iter()
        .map(|file| &file["textDocument"])
        .map(|file| (file["uri"].as_str().unwrap(), file["version"].as_i64().unwrap()))
        .collect();
    assert_eq!(files, [(&*url(&session.rotor), 1), (&*url(&session.setup), 1)]);
    let refused = json!({
        "textDocument": { "uri": url(&session.setup) },
        "position": position(0, 0),
        "newName": "x",
    });
    let id = session.client.ask("textDocument/rename", refused);
    assert!(session.client.answer(id)["error"]["message"].as_str().unwrap().len() > 5);
}

#[test]
fn outlines_folds_selections_and_colours() {
    let mut session = session();
    let symbols = session.of_rotor("textDocument/documentSymbol");
    assert_eq!(symbols[0]["name"], "fan wheel");
    assert_eq!(symbols[0]["children"].as_array().unwrap().len(), 3);
    let folds = session.of_rotor("textDocument/foldingRange");
    assert!(folds.as_array().unwrap().iter().any(|fold| fold["startLine"] == 1));
    let params = json!({ "textDocument": { "uri": url(&session.rotor) }, "positions": [position(3, 13)] });
    let selections = session.client.request("textDocument/selectionRange", params);
    assert!(selections[0]["parent"]["parent"].is_object(), "{selections}");
    let tokens = session.of_rotor("textDocument/semanticTokens/full");
    assert_eq!(tokens["data"].as_array().unwrap().len() % 5, 0);
    // The comment of the first line, in units of UTF-16.
    let length = ROTOR.lines().next().unwrap().encode_utf16().count();
    assert_eq!(tokens["data"].as_array().unwrap()[..3], [json!(0), json!(0), json!(length)]);
    let params = json!({ "query": "soft" });
    let found = session.client.request("workspace/symbol", params);
    assert!(found.as_array().unwrap().iter().any(|one| one["name"] == "soft bench"), "{found}");
}

#[test]
fn a_document_is_laid_out() {
    let mut session = session();
    session.client.replace_text(&session.rotor, 2, &ROTOR.replace("  plane hub {", "plane hub   {"));
    let params = json!({
        "textDocument": { "uri": url(&session.rotor) },
        "options": { "tabSize": 8, "insertSpaces": false },
    });
    let edits = session.client.request("textDocument/formatting", params);
    assert!(!edits.as_array().unwrap().is_empty());
    let params = json!({
        "textDocument": { "uri": url(&session.rotor) },
        "range": { "start": position(0, 0), "end": position(2, 0) },
        "options": { "tabSize": 2, "insertSpaces": true },
    });
    assert_eq!(session.client.request("textDocument/rangeFormatting", params), json!([]));
}

#[test]
fn a_fix_puts_its_diagnostic_right() {
    let mut session = session();
    let wrong = SETUP.replace("1150 rpm", "1150,5 rpm");
    session.client.replace_text(&session.setup, 2, &wrong);
    let found = session.client.diagnostics(&session.setup, 2);
    let comma = found.iter().find(|one| one["code"] == "decimal-comma").expect("a comma");
    let params = json!({
        "textDocument": { "uri": url(&session.setup) },
        "range": comma["range"],
        "context": { "diagnostics": [comma] },
    });
    let actions = session.client.request("textDocument/codeAction", params.clone());
    let fix = actions.as_array().unwrap().iter().find(|action| action["kind"] == "quickfix").expect("a fix");
    assert_eq!(fix["diagnostics"][0]["code"], "decimal-comma");
    let change = &fix["edit"]["documentChanges"][0];
    assert_eq!(change["textDocument"], json!({ "uri": url(&session.setup), "version": 2 }));
    session.client.change(
        &session.setup,
        3,
        json!([{
            "range": change["edits"][0]["range"],
            "text": change["edits"][0]["newText"],
        }]),
    );
    assert!(!session.client.codes(&session.setup, 3).contains(&"decimal-comma".to_owned()));
    let mut only = params;
    only["context"]["only"] = json!(["source.fixAll"]);
    session.client.replace_text(&session.setup, 4, &wrong);
    let actions = session.client.request("textDocument/codeAction", only);
    assert_eq!(actions[0]["kind"], "source.fixAll.rotorbook", "{actions}");
    assert_eq!(actions.as_array().unwrap().len(), 1);
}

#[test]
fn lenses_count_and_lead_to_the_uses() {
    let mut session = session();
    let lenses = session.of_rotor("textDocument/codeLens");
    let lens = &lenses[0]["command"];
    assert!(lens["title"].as_str().unwrap().contains("1 setup"), "{lenses}");
    assert_eq!(lens["arguments"][2][0]["uri"], *url(&session.setup));
}

#[test]
fn the_card_is_a_page_of_the_text_as_it_stands() {
    let mut session = session();
    session.client.replace_text(&session.setup, 2, &SETUP.replace("1150 rpm", "1175 rpm"));
    let arguments = json!([url(&session.setup), position(3, 4)]);
    let params = json!({ "command": "rotorbook.card", "arguments": arguments });
    let page = session.client.request("workspace/executeCommand", params);
    let page = page.as_str().unwrap();
    assert!(page.starts_with("<!DOCTYPE html>") && page.contains("1175 rpm"), "{page}");
    assert!(page.contains("may not be saved"));
    let shop = session.client.request(
        "workspace/executeCommand",
        json!({ "command": "rotorbook.card", "arguments": [url(&session.folder.path("book.rotor")), position(1, 0)] }),
    );
    assert_eq!(shop, Value::Null);
}

/// A lens leads to the card only in editors that say they can show one.
#[test]
fn a_lens_leads_to_the_card() {
    for (options, expected) in [(json!({ "commands": ["rotorbook.openCard"] }), 1), (json!({}), 0)] {
        let folder = book();
        let mut client = Client::start().initialized(&[folder.root()], able(), options);
        let path = folder.path("setups/fan.rotor");
        client.open_text(&path, 1, SETUP);
        let lenses = client.request("textDocument/codeLens", json!({ "textDocument": { "uri": url(&path) } }));
        let commands = lenses.as_array().unwrap().iter().map(|lens| &lens["command"]);
        let cards: Vec<&Value> = commands.filter(|command| command["command"] == "rotorbook.openCard").collect();
        assert_eq!(cards.len(), expected, "{lenses}");
        assert!(cards.iter().all(|card| card["arguments"] == json!([url(&path), position(0, 0)])), "{lenses}");
    }
}

#[test]
fn commands_answer_or_ask_for_an_edit() {
    let mut session = session();
    let (line, character) = place_of(SETUP, "calibrate", 2);
    let arguments = json!([url(&session.setup), position(line, character)]);
    let params = json!({ "command": "rotorbook.show", "arguments": arguments });
    let shown = session.client.request("workspace/executeCommand", params);
    assert!(shown.as_str().unwrap().contains("fan wheel"), "{shown}");
    session.client.replace_text(&session.setup, 2, &SETUP.replace("1150 rpm", "1150,5 rpm"));
    let params = json!({ "command": "rotorbook.fixAll", "arguments": [url(&session.setup)] });
    assert_eq!(session.client.request("workspace/executeCommand", params), Value::Null);
    let asked = session.client.wait("the edit", |message| message["method"] == "workspace/applyEdit");
    assert_eq!(asked["params"]["edit"]["documentChanges"][0]["textDocument"]["version"], 2);
    for wrong in [json!({ "command": "rotorbook.none" }), json!({ "command": "rotorbook.show", "arguments": [] })] {
        let id = session.client.ask("workspace/executeCommand", wrong);
        assert_eq!(session.client.answer(id)["error"]["code"], -32602);
    }
}

#[test]
fn positions_are_counted_as_the_client_counts() {
    let text = "rotor \"a\" {\n  note: \"µ𝄞\" x\n}\n";
    let wrong = text.find(" x").unwrap() + 1 - text.find("  note").unwrap();
    for (encodings, expected) in
        [(json!(["utf-16"]), 14), (json!(["utf-32", "utf-8", "utf-16"]), wrong), (Value::Null, 14)]
    {
        let folder = Folder::of([("book.rotor", SHOP)]);
        let mut able = able();
        able["general"]["positionEncodings"] = encodings.clone();
        let mut client = Client::open(folder.root(), able);
        let encoding = if expected == 14 { "utf-16" } else { "utf-8" };
        assert_eq!(client.offered["capabilities"]["positionEncoding"], encoding);
        let path = folder.path("a.rotor");
        client.open_text(&path, 1, text);
        let found = client.diagnostics(&path, 1);
        let start = &found.iter().find(|one| one["code"] == "text-after-value").unwrap()["range"]["start"];
        assert_eq!(*start, json!({ "line": 1, "character": expected }), "{encodings}");
    }
}
