//! What helps whoever writes a sheet: how a value is written, sheets that begin, columns that become runs, what is still
//! open, and names that are no longer in use.

use std::path::Path;

use crate::support::lsp_client::book::{ROTOR, SETUP, SHOP, book, place_of};
use crate::support::lsp_client::{Client, Folder, able, url};
use serde_json::{Value, json};

/// An editor that fills in texts with stops where it knows our commands.
fn session(knows: bool) -> (Folder, Client) {
    let folder = book();
    let commands = if knows { json!(["rotorbook.fillIn"]) } else { json!([]) };
    let mut able = able();
    able["workspace"]["workspaceEdit"]["resourceOperations"] = json!(["create", "rename", "delete"]);
    let deprecated = json!({ "valueSet": [1, 2] });
    able["textDocument"]["publishDiagnostics"]["tagSupport"] = deprecated.clone();
    able["textDocument"]["completion"]["completionItem"]["tagSupport"] = deprecated.clone();
    able["textDocument"]["documentSymbol"]["tagSupport"] = deprecated;
    able["textDocument"]["signatureHelp"] =
        json!({ "signatureInformation": { "parameterInformation": { "labelOffsetSupport": true } } });
    let client = Client::start().initialized(&[folder.root()], able, json!({ "commands": commands }));
    (folder, client)
}

fn at(path: &Path, (line, character): (u32, u32)) -> Value {
    json!({ "textDocument": { "uri": url(path) }, "position": { "line": line, "character": character } })
}

#[test]
fn the_part_of_a_value_that_is_being_written_is_told() {
    let (folder, mut client) = session(false);
    let path = folder.path("rotors/fan.rotor");
    let text = ROTOR.replace("2.73 kg at 0 mm, 2.09 kg at 164 mm", "2.73 kg at ");
    client.open_text(&path, 1, &text);
    let help = client.request("textDocument/signatureHelp", at(&path, place_of(&text, "2.73 kg at ", 11)));
    let signature = &help["signatures"][0];
    assert_eq!(signature["label"], "weighed: mass at place, mass at place");
    assert_eq!(help["activeParameter"], 1);
    // `place` of the first scale, and not of the second.
    assert_eq!(signature["parameters"][1]["label"], json!([17, 22]));
    assert_eq!(signature["parameters"][1]["documentation"], "the axial place of the first scale");
    let elsewhere = client.request("textDocument/signatureHelp", at(&path, place_of(&text, "TQ-315", 2)));
    assert_eq!(elsewhere, Value::Null);
}

#[test]
fn a_sheet_of_a_kind_is_begun_under_a_name() {
    let (folder, mut client) = session(true);
    let path = folder.path("rotors/fan.rotor");
    client.open_text(&path, 1, ROTOR);
    client.diagnostics(&path, 1);
    // Also while no sheet is in front.
    for asked in [json!(url(&path)), Value::Null] {
        let all = client
            .request("workspace/executeCommand", json!({ "command": "rotorbook.beginnings", "arguments": [asked] }));
        let plain = all.as_array().unwrap().iter().filter(|one| one.get("start").is_some());
        let titles: Vec<&str> = plain.map(|one| one["title"].as_str().unwrap()).collect();
        assert!(titles.starts_with(&["New rotor", "New setup", "New setup by trial runs"]), "{titles:?}");
        assert!(!titles.contains(&"New shop"), "{titles:?}");
        let arguments = json!([asked, "setup by trial runs", "fan wheel by trials"]);
        let begun =
            client.request("workspace/executeCommand", json!({ "command": "rotorbook.begin", "arguments": arguments }));
        assert_eq!(begun["uri"], url(&folder.path("setups/fan-wheel-by-trials.rotor")));
        let text = begun["text"].as_str().unwrap();
        assert!(text.starts_with("setup \"fan wheel by trials\" {\n  rotor: \"fan wheel\"\n"), "{text}");
        assert!(begun["snippet"].as_str().unwrap().contains("  balancing speed: ${1:?} # "), "{begun}");
    }
    let wrong = json!({ "command": "rotorbook.begin", "arguments": [url(&path), "gearbox"] });
    let id = client.ask("workspace/executeCommand", wrong);
    assert_eq!(client.answer(id)["error"]["message"], "no `gearbox` can be begun");
}

#[test]
fn an_empty_sheet_takes_a_new_one() {
    let (folder, mut client) = session(true);
    let path = folder.path("rotors/fan-wheel-560.rotor");
    client.open_text(&path, 1, "");
    let all = client.actions(&path, (0, 0));
    let begin = all.iter().find(|action| action["title"] == "New rotor").unwrap();
    assert_eq!(begin["command"]["arguments"][0], url(&path));
    let snippet = begin["command"]["arguments"][2].as_str().unwrap();
    assert!(
        snippet.starts_with("rotor \"${1:fan wheel 560}\" {\n") && snippet.contains("mass: ${2:?} # "),
        "{snippet}"
    );
    // Editors without stops get the sheet as it is; one that lies nowhere yet too.
    let (_folder, mut client) = session(false);
    let untitled = "untitled:Untitled-1";
    let document = json!({ "uri": untitled, "languageId": "rotorbook", "version": 1, "text": "\n" });
    client.notify("textDocument/didOpen", json!({ "textDocument": document }));
    let start = json!({ "line": 0, "character": 0 });
    let params = json!({
        "textDocument": { "uri": untitled },
        "range": { "start": start, "end": start },
        "context": { "diagnostics": [] },
    });
    let all = client.request("textDocument/codeAction", params);
    let begin = all.as_array().unwrap().iter().find(|action| action["title"] == "New machine").unwrap();
    let text = begin["edit"].to_string();
    assert!(text.contains("machine \\\"new machine\\\" {\\n  supports: ? # "), "{text}");
}

#[test]
fn columns_become_runs() {
    let (folder, mut client) = session(true);
    let path = folder.path("records/one.rotor");
    let text =
        "record one {\n  setup: \"fan wheel on the soft bench\"\n\n  8.8\t310\t17.4\t85\n  0.1\t35\t0.2\t25\n}\n";
    client.open_text(&path, 1, text);
    let all = client.actions(&path, (4, 4));
    let title = "Write 2 rows as 2 runs, amount and angle of each channel, in div";
    let write = all.iter().find(|action| action["title"] == title).unwrap_or_else(|| panic!("{all:#?}"));
    assert_eq!(write["kind"], "quickfix");
    let snippet = write["command"]["arguments"][2].as_str().unwrap();
    let begins =
        "  run \"as found\" {\n    speed: ${1:?}\n    calibration masses: off\n    reading left: 8.8 div @ 310 deg\n";
    assert!(snippet.starts_with(begins), "{snippet}");
    assert_eq!(write["command"]["arguments"][1]["start"], json!({ "line": 3, "character": 0 }));
}

#[test]
fn what_is_still_open_is_told_in_the_outline_and_on_the_card() {
    let (folder, mut client) = session(false);
    let path = folder.path("setups/fan.rotor");
    let text = SETUP.replace("1150 rpm", "?").replace("mass: 3.00 g", "mass: ?");
    client.open_text(&path, 1, &text);
    client.diagnostics(&path, 1);
    let outline = client.request("textDocument/documentSymbol", json!({ "textDocument": { "uri": url(&path) } }));
    // Eight facts of the setup and three of its calibration, of which two are open.
    let detail = outline[0]["detail"].as_str().unwrap();
    assert!(detail.ends_with("9 of 11 known; next: balancing speed"), "{detail}");
    let asked = json!({ "command": "rotorbook.card", "arguments": [url(&path), { "line": 1, "character": 0 }] });
    let card = client.request("workspace/executeCommand", asked);
    assert!(card.as_str().unwrap().contains("9 of 11 known; next: balancing speed"));
}

#[test]
fn what_is_no_longer_in_use_is_struck_out() {
    let (folder, mut client) = session(false);
    let path = folder.path("book.rotor");
    let text = SHOP.replacen("  format: 1\n", "  format: 1\n  unbalance unit: g·mm\n", 1);
    client.open_text(&path, 1, &text);
    let found = client.diagnostics(&path, 1);
    let former = found.iter().find(|one| one["code"] == "unknown-key").unwrap();
    assert_eq!(former["tags"], json!([2]), "{former}");
    let half = text.replace("  unbalance unit: g·mm\n", "  unb\n");
    client.replace_text(&path, 2, &half);
    let offered = client.request("textDocument/completion", at(&path, place_of(&half, "  unb", 5)));
    let former = offered.as_array().unwrap().iter().find(|one| one["label"] == "unbalance unit").unwrap();
    assert_eq!((&former["tags"], &former["detail"]), (&json!([1]), &json!("now `show in`")));
    assert!(former["textEdit"]["newText"].as_str().unwrap().starts_with("show in: "), "{former}");
    let setup = folder.path("setups/fan.rotor");
    client.open_text(&setup, 1, &SETUP.replace("  balancing", "  status: withdrawn\n  balancing"));
    let record = folder.path("records/one.rotor");
    client.open_text(&record, 1, "record one {\n  setup: \n}\n");
    let offered = client.request("textDocument/completion", at(&record, (1, 9)));
    let withdrawn = &offered[0];
    assert_eq!((&withdrawn["tags"], &withdrawn["label"]), (&json!([1]), &json!("fan wheel on the soft bench")));
    let outline = client.request("textDocument/documentSymbol", json!({ "textDocument": { "uri": url(&setup) } }));
    assert_eq!(outline[0]["tags"], json!([1]));
}

#[test]
fn words_of_a_choice_say_what_they_mean() {
    let (folder, mut client) = session(false);
    let path = folder.path("setups/fan.rotor");
    client.open_text(&path, 1, SETUP);
    let hover = client.request("textDocument/hover", at(&path, place_of(SETUP, "heavy spot", 3)));
    let text = hover["contents"]["value"].as_str().unwrap();
    assert!(text.starts_with("**heavy spot**: The angle points at where material is to be taken off."), "{text}");
    assert!(text.contains("\n- `light spot`: The angle points at"), "{text}");
}
