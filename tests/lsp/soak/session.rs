//! A long session: what is done next is a matter of chance, and the server is told of it as an editor would.

use std::collections::BTreeMap;
use std::fs;
use std::path::PathBuf;
use std::time::Duration;

use serde_json::{Value, json};

use super::texts::{Texts, edit, fresh, offset, one_of, position};
use crate::support::lsp_client::{Client, able, url};
use rotorbook::motion::Chance;

/// Requests that are sent, and half of them called off.
const ASKED: [&str; 9] = [
    "textDocument/hover",
    "textDocument/completion",
    "textDocument/definition",
    "textDocument/documentSymbol",
    "textDocument/codeLens",
    "textDocument/semanticTokens/full",
    "textDocument/inlayHint",
    "textDocument/foldingRange",
    "textDocument/codeAction",
];

pub struct Session {
    pub texts: Texts,
    pub client: Client,
    pub chance: Chance,
    /// What has been said of each file last.
    pub said: BTreeMap<String, Value>,
    version: i32,
    renames: usize,
}

impl Session {
    pub fn new(seed: u64, sheets: usize) -> Self {
        let texts = Texts::new(sheets);
        let client = Client::open(texts.folder.root(), able());
        Self { texts, client, chance: Chance::new(seed), said: BTreeMap::new(), version: 0, renames: 0 }
    }

    /// Does one thing.
    pub fn step(&mut self) {
        match self.chance.below(100) {
            0..55 => self.edit(),
            55..62 => self.open(),
            62..66 => self.close(),
            66..72 => self.write(),
            72..74 => self.remove(),
            74..76 => self.move_file(),
            76..77 => self.rename(),
            _ => self.ask(),
        }
    }

    fn path(&self, path: &str) -> PathBuf {
        self.texts.folder.path(path)
    }

    fn any(&mut self, wanted: impl Fn(&super::texts::Text) -> bool) -> Option<String> {
        let paths = self.texts.paths(wanted);
        (!paths.is_empty()).then(|| one_of(&mut self.chance, &paths).clone())
    }

    fn edit(&mut self) {
        let Some(path) = self.any(|text| text.open.is_some()) else { return self.open() };
        let text = self.texts.files[&path].now().expect("it is open").to_owned();
        let (change, text) = edit(&mut self.chance, &text);
        self.changed(&path, json!([change]), text);
    }

    fn changed(&mut self, path: &str, changes: Value, text: String) {
        self.version += 1;
        self.client.change(&self.path(path), self.version, changes);
        self.texts.files.get_mut(path).expect("it is there").open = Some((self.version, text));
    }

    fn open(&mut self) {
        if self.texts.paths(|text| text.open.is_some()).len() > 8 {
            return self.close();
        }
        let Some(path) = self.any(|text| text.open.is_none()) else { return };
        let text = self.texts.files[&path].disk.clone().expect("it lies on disk");
        self.version += 1;
        self.client.open_text(&self.path(&path), self.version, &text);
        self.texts.files.get_mut(&path).expect("it is there").open = Some((self.version, text));
    }

    fn close(&mut self) {
        let Some(path) = self.any(|text| text.open.is_some()) else { return };
        self.client.close(&self.path(&path));
        self.texts.close(&path);
    }

    /// Somebody else writes a file, new or old, or the editor saves one.
    fn write(&mut self) {
        let saved = self.any(|text| text.open.is_some()).filter(|_| self.chance.below(2) == 0);
        let (path, text) = match saved {
            Some(path) => (path.clone(), self.texts.files[&path].now().expect("it is open").to_owned()),
            None => (format!("more/{}.rotor", self.chance.below(6)), fresh(&mut self.chance)),
        };
        self.texts.write(&path, &text);
        self.client.touched(&[&self.path(&path)]);
    }

    fn remove(&mut self) {
        let Some(path) = self.any(|text| text.disk.is_some()).filter(|path| path != "book.rotor") else { return };
        self.texts.remove(&path);
        self.client.touched(&[&self.path(&path)]);
    }

    /// A file is given another name in the editor.
    fn move_file(&mut self) {
        let Some(path) = self.any(|text| text.disk.is_some()).filter(|path| path != "book.rotor") else { return };
        let new = format!("moved/{}.rotor", self.chance.below(6));
        if self.texts.files.contains_key(&new) {
            return;
        }
        let before = self.texts.files[&path].clone();
        self.texts.write(&new, before.disk.as_deref().expect("it lies on disk"));
        self.texts.remove(&path);
        if let Some((_, text)) = before.open {
            self.client.close(&self.path(&path));
            self.texts.close(&path);
            self.version += 1;
            self.client.open_text(&self.path(&new), self.version, &text);
            self.texts.files.get_mut(&new).expect("it is there").open = Some((self.version, text));
        }
        let (old, new) = (self.path(&path), self.path(&new));
        let files = json!([{ "oldUri": url(&old), "newUri": url(&new) }]);
        self.client.notify("workspace/didRenameFiles", json!({ "files": files }));
        self.client.touched(&[&old, &new]);
    }

    /// Something is given another name everywhere, if there is something where the cursor happens to be.
    fn rename(&mut self) {
        let Some(path) = self.any(|text| text.now().is_some_and(|text| text.contains('"'))) else { return };
        let text = self.texts.files[&path].now().expect("it has a text").to_owned();
        let quotes: Vec<usize> = text.match_indices('"').map(|(at, _)| at).collect();
        let at = *one_of(&mut self.chance, &quotes);
        self.renames += 1;
        let name = if self.renames.is_multiple_of(2) {
            format!("fan wheel {}", self.renames % 12)
        } else {
            "renamed µ".into()
        };
        let params = json!({
            "textDocument": { "uri": url(&self.path(&path)) },
            "position": position(&text, at),
            "newName": name,
        });
        let id = self.client.ask("textDocument/rename", params);
        let answer = self.client.answer(id);
        for file in answer["result"]["documentChanges"].as_array().into_iter().flatten() {
            self.apply(file);
        }
    }

    fn apply(&mut self, file: &Value) {
        let uri = file["textDocument"]["uri"].as_str().expect("an address");
        let root = format!("{}/", url(self.texts.folder.root()));
        let path = uri.strip_prefix(&root).expect("it lies in the book").replace("%20", " ");
        let now = self.texts.files.get(&path).unwrap_or_else(|| panic!("{path} is no file of the book"));
        let version = now.open.as_ref().map(|(version, _)| *version);
        assert_eq!(file["textDocument"]["version"].as_i64(), version.map(i64::from), "{path}");
        let mut text = now.now().expect("it has a text").to_owned();
        let mut edits: Vec<(usize, usize, &str)> = file["edits"]
            .as_array()
            .expect("a list")
            .iter()
            .map(|edit| {
                let at = |end| offset(&text, &edit["range"][end]);
                (at("start"), at("end"), edit["newText"].as_str().expect("a text"))
            })
            .collect();
        edits.sort();
        for (start, end, new) in edits.into_iter().rev() {
            text.replace_range(start..end, new);
        }
        match version {
            Some(_) => self.changed(&path, json!([{ "text": text }]), text),
            None => {
                self.texts.write(&path, &text);
                self.client.touched(&[&self.path(&path)]);
            }
        }
    }

    fn ask(&mut self) {
        let Some(path) = self.any(|text| text.now().is_some()) else { return };
        let text = self.texts.files[&path].now().expect("it has a text").to_owned();
        let at =
            (0..=text.len()).rev().find(|at| text.is_char_boundary(*at) && *at <= self.chance.below(text.len() + 1));
        let place = position(&text, at.unwrap_or(0));
        let range = json!({ "start": { "line": 0, "character": 0 }, "end": place });
        let mut params = json!({ "textDocument": { "uri": url(&self.path(&path)) } });
        let method = *one_of(&mut self.chance, &ASKED);
        match method {
            "textDocument/inlayHint" => params["range"] = range,
            "textDocument/codeAction" => {
                params["range"] = json!({ "start": place, "end": place });
                params["context"] = json!({ "diagnostics": [] });
            }
            _ => params["position"] = place,
        }
        let id = self.client.ask(method, params);
        if self.chance.below(2) == 0 {
            self.client.notify("$/cancelRequest", json!({ "id": id }));
        }
    }

    /// Waits until all that has been sent is done; what is said of each file by then is kept.
    pub fn breathe(&mut self, quiet: Duration) {
        self.client.request("workspace/symbol", json!({ "query": "no such thing" }));
        for message in self.client.settle(quiet) {
            if message["method"] == "textDocument/publishDiagnostics" {
                let params = &message["params"];
                self.said.insert(params["uri"].as_str().expect("an address").to_owned(), params.clone());
            } else if let Some(error) = message.get("error") {
                // Called off, overtaken by a change, or asked where there is nothing.
                let code = error["code"].as_i64();
                assert!(matches!(code, Some(-32800 | -32801)), "{message}");
            } else if message["method"] == "window/logMessage" {
                panic!("{message}");
            }
        }
    }

    /// The memory that the server holds, in kilobytes; zero where the system does not tell.
    pub fn memory(&self) -> u64 {
        let status = fs::read_to_string(format!("/proc/{}/status", self.client.process())).unwrap_or_default();
        let line = status.lines().find_map(|line| line.strip_prefix("VmRSS:"));
        line.and_then(|line| line.trim().trim_end_matches("kB").trim().parse().ok()).unwrap_or(0)
    }
}
