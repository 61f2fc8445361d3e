//! The same session with each of several editors, as they say of themselves what they can do (`tests/data/clients/`).

use std::fs;
use std::path::{Path, PathBuf};
use std::time::Duration;

use crate::support::lsp_client::book::{ROTOR, SETUP, book, place_of};
use crate::support::lsp_client::{Client, Folder, url};
use serde_json::{Value, json};

/// What each editor has sent when it began a session, by its name.
fn editors() -> Vec<(String, Value)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/clients");
    let files = fs::read_dir(folder).expect("the recordings are there").map(|file| file.expect("a file").path());
    let mut all: Vec<(String, Value)> = files.map(|path| (name(&path), read(&path))).collect();
    all.sort_by(|(one, _), (other, _)| one.cmp(other));
    all
}

fn name(path: &Path) -> String {
    path.file_stem().expect("a file").to_string_lossy().into_owned()
}

fn read(path: &Path) -> Value {
    let text = fs::read_to_string(path).expect("it can be read");
    serde_json::from_str::<Value>(&text).expect("it is JSON")["capabilities"].clone()
}

struct Session {
    // Goes from disk with this.
    _folder: Folder,
    client: Client,
    able: Value,
    rotor: PathBuf,
    setup: PathBuf,
    wrong: PathBuf,
}

/// A sheet with something to put right and something to unfold.
const WRONG: &str = "rotor \"spare\" {\n  mass: 4,8 kg\n  # µ\n  plane a {\n    at: 3 mm\n  }\n}\n";

/// The editor with two good sheets and a wrong one open.
fn session(able: &Value) -> Session {
    let folder = book();
    let (rotor, setup) = (folder.path("rotors/fan.rotor"), folder.path("setups/fan.rotor"));
    let wrong = folder.write("rotors/wrong.rotor", WRONG);
    let mut client = Client::open(folder.root(), able.clone());
    for (path, text) in [(&rotor, ROTOR), (&setup, SETUP), (&wrong, WRONG)] {
        client.open_text(path, 1, text);
    }
    Session { _folder: folder, client, able: able.clone(), rotor, setup, wrong }
}

impl Session {
    fn is_able(&self, pointer: &str) -> bool {
        self.able.pointer(pointer).is_some_and(|able| *able == true)
    }

    fn of(&mut self, method: &str, path: &Path) -> Value {
        self.client.request(method, json!({ "textDocument": { "uri": url(path) } }))
    }

    fn at(&mut self, method: &str, place: (u32, u32), more: Value) -> Value {
        let position = json!({ "line": place.0, "character": place.1 });
        let mut params = json!({ "textDocument": { "uri": url(&self.setup) }, "position": position });
        for (key, value) in more.as_object().into_iter().flatten() {
            params[key] = value.clone();
        }
        self.client.request(method, params)
    }

    fn hints(&mut self) -> Vec<Value> {
        let params = json!({ "textDocument": { "uri": url(&self.rotor) }, "range": whole() });
        let hints = self.client.request("textDocument/inlayHint", params);
        hints.as_array().expect("a list").clone()
    }

    fn actions(&mut self) -> Vec<Value> {
        let place = json!({ "line": 1, "character": 9 });
        let params = json!({
            "textDocument": { "uri": url(&self.wrong) },
            "range": { "start": place, "end": place },
            "context": { "diagnostics": [] },
        });
        self.client.request("textDocument/codeAction", params).as_array().expect("a list").clone()
    }

    fn codes_of_the_wrong_sheet(&mut self) -> Vec<String> {
        let found = match self.client.offered["capabilities"]["diagnosticProvider"].is_null() {
            true => self.client.diagnostics(&self.wrong.clone(), 1),
            false => self.of("textDocument/diagnostic", &self.wrong.clone())["items"].as_array().unwrap().clone(),
        };
        found.iter().map(|one| one["code"].as_str().unwrap().to_owned()).collect()
    }
}

fn whole() -> Value {
    json!({ "start": { "line": 0, "character": 0 }, "end": { "line": 1000, "character": 0 } })
}

#[test]
fn there_are_several_editors() {
    let names: Vec<String> = editors().into_iter().map(|(name, _)| name).collect();
    assert_eq!(names, ["emacs", "helix", "kate", "neovim", "vscode", "vscode-2022"]);
}

/// Every answer is held against the protocol as it comes.
#[test]
fn every_editor_gets_an_answer_to_all_it_may_ask() {
    for (editor, able) in editors() {
        let mut session = session(&able);
        let place = place_of(SETUP, "\"fan wheel\"\n", 3);
        assert!(session.codes_of_the_wrong_sheet().contains(&"decimal-comma".to_owned()), "{editor}");
        for (method, more) in [
            ("textDocument/hover", json!({})),
            ("textDocument/definition", json!({})),
            ("textDocument/references", json!({ "context": { "includeDeclaration": true } })),
            ("textDocument/documentHighlight", json!({})),
            ("textDocument/completion", json!({ "context": { "triggerKind": 1 } })),
            ("textDocument/prepareRename", json!({})),
            ("textDocument/rename", json!({ "newName": "blower wheel" })),
        ] {
            assert!(!session.at(method, place, more).is_null(), "{editor}: {method}");
        }
        let rotor = session.rotor.clone();
        for method in [
            "textDocument/documentSymbol",
            "textDocument/foldingRange",
            "textDocument/codeLens",
            "textDocument/documentLink",
            "textDocument/semanticTokens/full",
        ] {
            assert!(!session.of(method, &rotor).is_null(), "{editor}: {method}");
        }
        let options = json!({ "tabSize": 2, "insertSpaces": true });
        let document = json!({ "uri": url(&rotor) });
        let position = json!({ "line": 3, "character": 13 });
        for (method, params) in [
            ("textDocument/formatting", json!({ "textDocument": document, "options": options })),
            ("textDocument/rangeFormatting", json!({ "textDocument": document, "options": options, "range": whole() })),
            (
                "textDocument/onTypeFormatting",
                json!({ "textDocument": document, "options": options, "position": position, "ch": "}" }),
            ),
            ("textDocument/semanticTokens/range", json!({ "textDocument": document, "range": whole() })),
            ("textDocument/selectionRange", json!({ "textDocument": document, "positions": [position] })),
            ("workspace/symbol", json!({ "query": "fan" })),
        ] {
            session.client.request(method, params);
        }
        assert!(!session.hints().is_empty() && !session.actions().is_empty(), "{editor}");
        assert!(session.client.shut_down().success(), "{editor}");
    }
}

#[test]
fn diagnostics_are_pushed_or_pulled_and_never_both() {
    for (editor, able) in editors() {
        let mut session = session(&able);
        let pulls = session.is_able("/workspace/diagnostics/refreshSupport");
        assert_eq!(!session.client.offered["capabilities"]["diagnosticProvider"].is_null(), pulls, "{editor}");
        assert!(!session.codes_of_the_wrong_sheet().is_empty(), "{editor}");
        let all = session.client.settle(Duration::from_millis(300));
        let pushed = all.iter().filter(|message| message["method"] == "textDocument/publishDiagnostics").count();
        assert!(if pulls { pushed == 0 } else { pushed > 0 }, "{editor}: {pushed} were pushed");
    }
}

/// The server asks nothing that the editor has not said it can do.
#[test]
fn an_editor_is_asked_only_for_what_it_can_do() {
    for (editor, able) in editors() {
        let mut session = session(&able);
        session.codes_of_the_wrong_sheet();
        for message in session.client.settle(Duration::from_millis(300)) {
            let (Some(method), false) = (message["method"].as_str(), message["id"].is_null()) else { continue };
            let allowed = match method {
                "window/workDoneProgress/create" => session.is_able("/window/workDoneProgress"),
                "workspace/configuration" => session.is_able("/workspace/configuration"),
                "workspace/diagnostic/refresh" => session.is_able("/workspace/diagnostics/refreshSupport"),
                "workspace/inlayHint/refresh" => session.is_able("/workspace/inlayHint/refreshSupport"),
                "workspace/codeLens/refresh" => session.is_able("/workspace/codeLens/refreshSupport"),
                "workspace/semanticTokens/refresh" => session.is_able("/workspace/semanticTokens/refreshSupport"),
                "client/registerCapability" => registrations(&message).iter().all(|registered| {
                    let place = registered.replacen("workspace/", "/workspace/", 1);
                    session.is_able(&format!("{place}/dynamicRegistration"))
                }),
                _ => false,
            };
            assert!(allowed, "{editor} was asked {message}");
        }
    }
}

fn registrations(message: &Value) -> Vec<String> {
    let all = message["params"]["registrations"].as_array().unwrap().iter();
    all.map(|one| one["method"].as_str().unwrap().to_owned()).collect()
}

#[test]
fn places_are_counted_in_units_that_the_editor_knows() {
    for (editor, able) in editors() {
        let mut session = session(&able);
        let known = able.pointer("/general/positionEncodings").and_then(Value::as_array).cloned();
        let known = known.unwrap_or_else(|| vec![json!("utf-16")]);
        let chosen = session.client.offered["capabilities"]["positionEncoding"].clone();
        assert!(known.contains(&chosen), "{editor}: {chosen}");
        let comment = ROTOR.lines().next().unwrap();
        let length = if chosen == "utf-8" { comment.len() } else { comment.encode_utf16().count() };
        let rotor = session.rotor.clone();
        let tokens = session.of("textDocument/semanticTokens/full", &rotor);
        assert_eq!(tokens["data"][2], length, "{editor}");
    }
}

/// Some editors ask for a tooltip only when it is shown; the others get all at once.
#[test]
fn hints_are_whole_for_who_does_not_ask_again() {
    for (editor, able) in editors() {
        let mut session = session(&able);
        let later = able.pointer("/textDocument/inlayHint/resolveSupport/properties").and_then(Value::as_array);
        let later = |what: &str| later.is_some_and(|all| all.contains(&json!(what)));
        for hint in session.hints() {
            assert_eq!(hint.get("tooltip").is_none(), later("tooltip"), "{editor}: {hint}");
            assert!(!later("textEdits") || hint.get("textEdits").is_none(), "{editor}: {hint}");
            if later("tooltip") {
                let whole = session.client.request("inlayHint/resolve", hint.clone());
                assert!(whole["tooltip"]["value"].as_str().is_some_and(|text| !text.is_empty()), "{editor}: {whole}");
            }
        }
    }
}

/// Places to fill in are of no use to an editor that writes them as they stand.
#[test]
fn snippets_go_to_editors_that_know_them() {
    for (editor, able) in editors() {
        let mut session = session(&able);
        let setup = session.setup.clone();
        session.client.replace_text(&setup, 2, &SETUP.replace("    angle: 0 deg\n", "    \n"));
        let items = session.at("textDocument/completion", (12, 4), Value::Null);
        let items = items.as_array().unwrap();
        let angle = items.iter().find(|item| item["label"] == "angle").unwrap_or_else(|| panic!("{editor}: {items:?}"));
        let snippets = session.is_able("/textDocument/completion/completionItem/snippetSupport");
        assert_eq!(angle["insertTextFormat"] == 2, snippets, "{editor}: {angle}");
        let written = items.iter().map(|item| item["textEdit"]["newText"].as_str().unwrap());
        assert!(snippets || written.clone().all(|text| !text.contains('$')), "{editor}");
    }
}

#[test]
fn edits_come_in_the_way_that_the_editor_takes_them() {
    for (editor, able) in editors() {
        let mut session = session(&able);
        let place = place_of(SETUP, "\"fan wheel\"\n", 3);
        let edit = session.at("textDocument/rename", place, json!({ "newName": "blower wheel" }));
        let with_versions = session.is_able("/workspace/workspaceEdit/documentChanges");
        assert_eq!(edit.get("documentChanges").is_some(), with_versions, "{editor}: {edit}");
        assert_eq!(edit.get("changes").is_some(), !with_versions, "{editor}: {edit}");
        let literals = able.pointer("/textDocument/codeAction/codeActionLiteralSupport").is_some();
        for action in session.actions() {
            // A command has its name where an action has its edit.
            assert_eq!(action["command"].is_string(), !literals, "{editor}: {action}");
        }
        let rotor = session.rotor.clone();
        let nested = session.is_able("/textDocument/documentSymbol/hierarchicalDocumentSymbolSupport");
        let symbols = session.of("textDocument/documentSymbol", &rotor);
        assert_eq!(symbols[0].get("selectionRange").is_some(), nested, "{editor}: {symbols}");
        let links = able.pointer("/textDocument/definition/linkSupport").is_some_and(|able| *able == true);
        let definition = session.at("textDocument/definition", place, Value::Null);
        let first = if definition.is_array() { &definition[0] } else { &definition };
        assert_eq!(first.get("targetUri").is_some(), links, "{editor}: {definition}");
    }
}
