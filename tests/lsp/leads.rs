//! Where messages and headings lead: to pages, to fixes with places to fill, to sheets that begin.

use std::path::PathBuf;

use crate::support::lsp_client::book::{ROTOR, SETUP, SHOP, book, place_of};
use crate::support::lsp_client::{Client, Folder, able, url};
use serde_json::{Value, json};

/// An editor with all commands of ours, or with none.
fn session(knows: bool) -> (Folder, Client, PathBuf) {
    let folder = book();
    let commands = match knows {
        true => json!(["rotorbook.openPage", "rotorbook.fillIn", "rotorbook.showPlaces"]),
        false => json!([]),
    };
    let mut able = able();
    able["workspace"]["workspaceEdit"]["resourceOperations"] = json!(["create", "rename", "delete"]);
    let mut client = Client::start().initialized(&[folder.root()], able, json!({ "commands": commands }));
    let path = folder.path("rotors/fan.rotor");
    client.open_text(&path, 1, &without_datum());
    (folder, client, path)
}

fn without_datum() -> String {
    ROTOR.replace("  datum: \"shoulder of the drive-end bearing\"\n", "")
}

fn titles(actions: &[Value]) -> Vec<&str> {
    actions.iter().map(|action| action["title"].as_str().unwrap()).collect()
}

fn of_title<'a>(actions: &'a [Value], title: &str) -> &'a Value {
    let found = actions.iter().find(|action| action["title"] == title);
    found.unwrap_or_else(|| panic!("{title} in {:?}", titles(actions)))
}

#[test]
fn a_message_leads_to_its_page() {
    let (_folder, mut client, path) = session(true);
    let found = client.diagnostics(&path, 1);
    let missing = found.iter().find(|one| one["code"] == "datum-missing").unwrap();
    assert_eq!(missing["codeDescription"]["href"], "rotorbook-page:/datum-missing.md");
    let place = place_of(&without_datum(), "bearings", 2);
    let actions = client.actions(&path, place);
    let page = of_title(&actions, "What `datum-missing` means");
    assert_eq!(page["command"]["arguments"], json!(["datum-missing"]));
    let asked = json!({ "command": "rotorbook.explain", "arguments": ["datum-missing"] });
    let page = client.request("workspace/executeCommand", asked);
    assert!(page.as_str().unwrap().contains("**Why it matters at the bench.**"), "{page}");
    // What puts it right comes before what ranks it otherwise, and both before other ways to write.
    let titles = titles(&actions);
    let place = |title: &str| titles.iter().position(|one| one.starts_with(title)).unwrap();
    assert!(place("Write `datum: ?`") < place("Rank `datum-missing`"), "{titles:?}");
    let is_fix = |action: &Value| action["kind"] == "quickfix";
    assert!(actions.iter().skip_while(|action| is_fix(action)).all(|action| !is_fix(action)), "{titles:?}");
}

/// Editors without a place for pages show them where one points at the message.
#[test]
fn a_page_is_read_where_the_message_stands() {
    let (_folder, mut client, path) = session(false);
    let found = client.diagnostics(&path, 1);
    assert!(found.iter().all(|one| one.get("codeDescription").is_none()), "{found:?}");
    let (line, character) = place_of(&without_datum(), "bearings", 2);
    let position = json!({ "line": line, "character": character });
    let hover =
        client.request("textDocument/hover", json!({ "textDocument": { "uri": url(&path) }, "position": position }));
    assert!(hover.to_string().contains("Why it matters at the bench"), "{hover}");
}

#[test]
fn a_fix_stops_where_something_is_to_be_filled_in() {
    let (_folder, mut client, path) = session(true);
    let place = place_of(&without_datum(), "bearings", 2);
    let all = client.actions(&path, place);
    let fix = of_title(&all, "Write `datum: ?`");
    assert!(fix.get("edit").is_none(), "{fix}");
    assert!(fix["command"]["arguments"][2].as_str().unwrap().ends_with("  datum: ${1:?}"), "{fix}");
    // Who knows no snippets gets the line as it is.
    let (_folder, mut client, path) = session(false);
    let all = client.actions(&path, place);
    let fix = of_title(&all, "Write `datum: ?`");
    assert!(fix["edit"].to_string().contains("  datum: ?"), "{fix}");
}

#[test]
fn who_is_worked_out_from_whom_is_followed() {
    let (_folder, mut client, path) = session(false);
    let (line, character) = place_of(&without_datum(), "fan wheel", 2);
    let at = json!({ "textDocument": { "uri": url(&path) }, "position": { "line": line, "character": character } });
    let items = client.request("textDocument/prepareCallHierarchy", at);
    assert_eq!(items[0]["name"], "rotor fan wheel");
    let users = client.request("callHierarchy/incomingCalls", json!({ "item": items[0] }));
    assert_eq!(users[0]["from"]["name"], "setup fan wheel on the soft bench");
    assert_eq!(users[0]["fromRanges"][0]["start"]["line"], 1);
    let used = client.request("callHierarchy/outgoingCalls", json!({ "item": users[0]["from"] }));
    let names: Vec<&str> = used.as_array().unwrap().iter().map(|one| one["to"]["name"].as_str().unwrap()).collect();
    assert_eq!(names, ["rotor fan wheel", "machine soft bench", "masses brass set"]);
}

/// Without stops a block is begun where its name is to be written.
#[test]
fn an_editor_without_snippets_begins_a_block_at_its_name() {
    let folder = book();
    let mut able = able();
    able["textDocument"]["completion"]["completionItem"]["snippetSupport"] = json!(false);
    let mut client = Client::open(folder.root(), able);
    let path = folder.path("new.rotor");
    client.open_text(&path, 1, "rot");
    let at = json!({ "textDocument": { "uri": url(&path) }, "position": { "line": 0, "character": 3 } });
    let offered = client.request("textDocument/completion", at);
    let rotor = offered.as_array().unwrap().iter().find(|one| one["label"].as_str().unwrap().starts_with("rotor"));
    assert_eq!(rotor.unwrap()["textEdit"]["newText"], "rotor ", "{offered}");
}

#[test]
fn a_code_is_ranked_in_the_shop() {
    let (folder, mut client, path) = session(false);
    let place = place_of(&without_datum(), "bearings", 2);
    let all = client.actions(&path, place);
    let rank = of_title(&all, "Rank `datum-missing` otherwise in this shop, with a reason");
    let edit = &rank["edit"]["documentChanges"][0];
    assert_eq!(edit["textDocument"]["uri"], url(&folder.path("book.rotor")));
    let at = &edit["edits"][0]["range"]["start"];
    let (line, _) = place_of(SHOP, "}\n\nmasses", 0);
    assert_eq!(at["line"], line);
    let text = edit["edits"][0]["newText"].as_str().unwrap();
    assert_eq!(text, "\n  severity datum-missing {\n    level: note\n    because: ?\n  }\n");
}

#[test]
fn a_rotor_is_set_up_in_a_sheet_of_its_own() {
    let (folder, mut client, path) = session(true);
    let all = client.actions(&path, place_of(&without_datum(), "fan wheel", 2));
    let begin = of_title(&all, "Set this rotor up on \"soft bench\"");
    let new = url(&folder.path("setups/fan-wheel-on-the-soft-bench-2.rotor"));
    assert_eq!(begin["edit"]["documentChanges"], json!([{ "kind": "create", "uri": new }]));
    assert_eq!(begin["command"]["arguments"][0], new);
    assert!(begin["command"]["arguments"][2].as_str().unwrap().contains("balancing speed: ${1:?}"), "{begin}");
    // All of them are to be chosen from a list.
    let asked = json!({ "command": "rotorbook.beginnings", "arguments": [url(&path)] });
    let all = client.request("workspace/executeCommand", asked);
    let froms: Vec<&str> = all.as_array().unwrap().iter().filter_map(|one| one["from"].as_str()).collect();
    assert_eq!(froms, ["rotor \"fan wheel\"", "setup \"fan wheel on the soft bench\""]);
    // Editors without stops get the whole sheet with the file.
    let (folder, mut client, _) = session(false);
    let setup = folder.path("setups/fan.rotor");
    client.open_text(&setup, 1, SETUP);
    let all = client.actions(&setup, place_of(SETUP, "fan wheel", 2));
    let begin = of_title(&all, "Record a run of this setup");
    let text = begin["edit"]["documentChanges"][1]["edits"][0]["newText"].as_str().unwrap();
    assert!(
        text.contains("  setup: \"fan wheel on the soft bench\"\n") && text.contains("calibration masses: ? "),
        "{text}"
    );
}
