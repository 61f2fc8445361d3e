//! A client that talks to the server as editors do: a process of its own, over its standard input and output.
#![allow(dead_code, reason = "each test and benchmark takes what it needs")]
#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

pub mod book;
mod folder;
mod meta_model;

use std::collections::{HashMap, VecDeque};
use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Child, ChildStdin, Command, ExitStatus, Stdio};
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

pub use folder::Folder;
use serde_json::{Value, json};

/// How long a test waits for what must come.
pub const PATIENCE: Duration = Duration::from_secs(30);

pub struct Client {
    server: Child,
    input: Option<ChildStdin>,
    messages: Receiver<Value>,
    /// Held while the client does not read.
    reading: Arc<Mutex<()>>,
    /// Messages that have come and that nobody has asked for yet.
    come: VecDeque<Value>,
    next_id: i64,
    /// The methods of the requests that were sent.
    asked: HashMap<i64, String>,
    /// Whether requests of the server are answered when they come.
    pub answers: bool,
    /// Whether messages are held against the protocol.
    pub checks: bool,
    /// What the server was told of itself when it started.
    pub offered: Value,
    /// What is answered when the server asks for settings.
    pub settings: Value,
    /// What the client calls itself; nothing when it does not say.
    pub name: Option<&'static str>,
}

/// What the test's client can do, unless a test says otherwise: everything, and diagnostics are pushed.
pub fn able() -> Value {
    json!({
        "general": { "positionEncodings": ["utf-16"] },
        "window": { "workDoneProgress": true },
        "workspace": {
            "workspaceFolders": true,
            "configuration": true,
            "didChangeWatchedFiles": { "dynamicRegistration": true },
            "workspaceEdit": { "documentChanges": true },
        },
        "textDocument": {
            "publishDiagnostics": { "relatedInformation": true, "versionSupport": true },
            "hover": { "contentFormat": ["markdown", "plaintext"] },
            "completion": { "completionItem": { "snippetSupport": true, "documentationFormat": ["markdown"] } },
            "definition": { "linkSupport": true },
            "documentSymbol": { "hierarchicalDocumentSymbolSupport": true },
            "codeAction": {
                "codeActionLiteralSupport": { "codeActionKind": { "valueSet": ["quickfix", "refactor", "source"] } },
                "isPreferredSupport": true,
            },
        },
    })
}

impl Client {
    /// Starts the server without a word to it.
    pub fn start() -> Self {
        Self::start_binary(env!("CARGO_BIN_EXE_rotorbook"))
    }

    pub fn start_binary(binary: &str) -> Self {
        let mut server = Command::new(binary)
            .arg("lsp")
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::inherit())
            .spawn()
            .expect("the server starts");
        let input = server.stdin.take();
        let output = server.stdout.take().expect("it has been asked for");
        let (sender, messages) = channel();
        let reading = Arc::new(Mutex::new(()));
        let may_read = reading.clone();
        std::thread::spawn(move || {
            let mut output = BufReader::new(output);
            while let Some(message) = read(&mut output, &may_read) {
                if sender.send(message).is_err() {
                    return;
                }
            }
        });
        let come = VecDeque::new();
        let (offered, settings) = (Value::Null, json!({}));
        Self {
            server,
            input,
            messages,
            reading,
            come,
            next_id: 0,
            asked: HashMap::new(),
            answers: true,
            checks: true,
            offered,
            settings,
            name: None,
        }
    }

    /// Starts the server in a folder, as a client of these abilities.
    pub fn open(folder: &Path, capabilities: Value) -> Self {
        Self::start().initialized(&[folder], capabilities, Value::Null)
    }

    /// Unless the options say otherwise, no line has to rest before it is said what is wrong with it.
    pub fn initialized(mut self, folders: &[&Path], capabilities: Value, mut options: Value) -> Self {
        if options.get("errorDelay").is_none() {
            options["errorDelay"] = json!(0);
        }
        if options.get("commands").is_none() {
            options["commands"] = json!(["rotorbook.showPlaces"]);
        }
        let folder = |path: &&Path| json!({ "uri": url(path), "name": "book" });
        let mut params = json!({
            "processId": std::process::id(),
            "rootUri": folders.first().map(|path| url(path)),
            "workspaceFolders": folders.iter().map(folder).collect::<Vec<_>>(),
            "capabilities": capabilities,
            "initializationOptions": options,
        });
        if let Some(name) = self.name {
            params["clientInfo"] = json!({ "name": name });
        }
        self.offered = self.request("initialize", params);
        self.notify("initialized", json!({}));
        self
    }

    pub fn process(&self) -> u32 {
        self.server.id()
    }

    /// What keeps the client from reading for as long as it lives.
    pub fn deaf(&self) -> Arc<Mutex<()>> {
        self.reading.clone()
    }

    // ---- sending

    pub fn send(&mut self, message: &Value) {
        self.send_bytes(&framed(&message.to_string()));
    }

    pub fn send_bytes(&mut self, bytes: &[u8]) {
        let input = self.input.as_mut().expect("the input is open");
        input.write_all(bytes).expect("the server reads");
        input.flush().expect("the server reads");
    }

    pub fn notify(&mut self, method: &str, params: Value) {
        self.send(&json!({ "jsonrpc": "2.0", "method": method, "params": params }));
    }

    /// Sends a request; its id.
    pub fn ask(&mut self, method: &str, params: Value) -> i64 {
        let given = if params.is_null() { json!({}) } else { json!({ "params": params }) };
        self.ask_saying(method, given)
    }

    /// Sends a request without parameters as some clients do, with `null` in their place; its id.
    pub fn ask_with_null(&mut self, method: &str) -> i64 {
        self.ask_saying(method, json!({ "params": null }))
    }

    fn ask_saying(&mut self, method: &str, mut message: Value) -> i64 {
        self.next_id += 1;
        message["jsonrpc"] = json!("2.0");
        message["id"] = json!(self.next_id);
        message["method"] = json!(method);
        self.asked.insert(self.next_id, method.to_owned());
        self.send(&message);
        self.next_id
    }

    pub fn request(&mut self, method: &str, params: Value) -> Value {
        let id = self.ask(method, params);
        let answer = self.answer(id);
        assert!(answer.get("error").is_none(), "{method}: {answer}");
        answer["result"].clone()
    }

    /// The actions at a place, line and character from 0.
    pub fn actions(&mut self, path: &Path, (line, character): (u32, u32)) -> Vec<Value> {
        let at = json!({ "line": line, "character": character });
        let params = json!({
            "textDocument": { "uri": url(path) },
            "range": { "start": at, "end": at },
            "context": { "diagnostics": [] },
        });
        self.request("textDocument/codeAction", params).as_array().unwrap().clone()
    }

    /// The whole answer to a request.
    pub fn answer(&mut self, id: i64) -> Value {
        self.wait(&format!("the answer to request {id}"), |message| message["id"] == id && message["method"].is_null())
    }

    pub fn open_text(&mut self, path: &Path, version: i32, text: &str) {
        let document = json!({ "uri": url(path), "languageId": "rotorbook", "version": version, "text": text });
        self.notify("textDocument/didOpen", json!({ "textDocument": document }));
    }

    /// The whole text is another one.
    pub fn replace_text(&mut self, path: &Path, version: i32, text: &str) {
        self.change(path, version, json!([{ "text": text }]));
    }

    /// Puts text in at a line and column.
    pub fn insert(&mut self, path: &Path, version: i32, (line, character): (u32, u32), text: &str) {
        let at = json!({ "line": line, "character": character });
        self.change(path, version, json!([{ "range": { "start": at, "end": at }, "text": text }]));
    }

    pub fn change(&mut self, path: &Path, version: i32, changes: Value) {
        let document = json!({ "uri": url(path), "version": version });
        self.notify("textDocument/didChange", json!({ "textDocument": document, "contentChanges": changes }));
    }

    pub fn close(&mut self, path: &Path) {
        self.notify("textDocument/didClose", json!({ "textDocument": { "uri": url(path) } }));
    }

    /// Tells of files that are no longer what they were.
    pub fn touched(&mut self, paths: &[&Path]) {
        let kind = |path: &Path| if path.exists() { 2 } else { 3 };
        let changes: Vec<Value> = paths.iter().map(|path| json!({ "uri": url(path), "type": kind(path) })).collect();
        self.notify("workspace/didChangeWatchedFiles", json!({ "changes": changes }));
    }

    // ---- receiving

    /// The first message that has come, or comes, of this description.
    pub fn wait(&mut self, what: &str, wanted: impl Fn(&Value) -> bool) -> Value {
        self.wait_at_most(PATIENCE, wanted).unwrap_or_else(|| panic!("{what} has not come; came: {:#?}", self.come))
    }

    pub fn wait_at_most(&mut self, most: Duration, wanted: impl Fn(&Value) -> bool) -> Option<Value> {
        if let Some(at) = self.come.iter().position(&wanted) {
            return self.come.remove(at);
        }
        let end = Instant::now() + most;
        loop {
            let message = match self.messages.recv_timeout(end.saturating_duration_since(Instant::now())) {
                Ok(message) => message,
                Err(RecvTimeoutError::Timeout | RecvTimeoutError::Disconnected) => return None,
            };
            self.receive(&message);
            if wanted(&message) {
                return Some(message);
            }
            self.come.push_back(message);
        }
    }

    /// Holds a message against the protocol, and answers it if it is a request, as long as the client answers.
    fn receive(&mut self, message: &Value) {
        if let Some(model) = meta_model::meta_model().filter(|_| self.checks) {
            let asked = message["id"].as_i64().and_then(|id| self.asked.get(&id));
            if let Err(wrong) = model.check(message, asked.map(String::as_str)) {
                panic!("the server has sent what the protocol does not know: {wrong}");
            }
        }
        self.answer_server(message);
    }

    fn answer_server(&mut self, message: &Value) {
        if !self.answers || message["id"].is_null() || message["method"].is_null() {
            return;
        }
        let result = match message["method"].as_str() {
            Some("workspace/configuration") => json!([self.settings]),
            Some("workspace/applyEdit") => json!({ "applied": true }),
            _ => Value::Null,
        };
        self.send(&json!({ "jsonrpc": "2.0", "id": message["id"], "result": result }));
    }

    /// The diagnostics of a version of a document, as they are pushed.
    pub fn diagnostics(&mut self, path: &Path, version: impl Into<Option<i32>>) -> Vec<Value> {
        let (url, version) = (url(path), version.into());
        let what = format!("the diagnostics of {url} at version {version:?}");
        let message = self.wait(&what, |message| {
            message["method"] == "textDocument/publishDiagnostics"
                && message["params"]["uri"] == *url
                && message["params"]["version"].as_i64() == version.map(i64::from)
        });
        message["params"]["diagnostics"].as_array().expect("a list").clone()
    }

    /// The codes of the diagnostics of a version of a document.
    pub fn codes(&mut self, path: &Path, version: impl Into<Option<i32>>) -> Vec<String> {
        let all = self.diagnostics(path, version);
        all.iter().map(|one| one["code"].as_str().expect("a code").to_owned()).collect()
    }

    /// Waits until nothing comes for this long; everything that has come meanwhile, and before.
    pub fn settle(&mut self, quiet: Duration) -> Vec<Value> {
        while let Ok(message) = self.messages.recv_timeout(quiet) {
            self.receive(&message);
            self.come.push_back(message);
        }
        self.come.drain(..).collect()
    }

    // ---- the end

    /// Ends the session in order.
    pub fn shut_down(mut self) -> ExitStatus {
        self.request("shutdown", Value::Null);
        self.notify("exit", Value::Null);
        self.exit_status()
    }

    /// Closes the server's input.
    pub fn close_input(&mut self) {
        self.input = None;
    }

    /// How the process ended; it must end soon.
    pub fn exit_status(&mut self) -> ExitStatus {
        let end = Instant::now() + Duration::from_secs(10);
        while Instant::now() < end {
            if let Some(status) = self.server.try_wait().expect("the process can be asked") {
                return status;
            }
            std::thread::sleep(Duration::from_millis(5));
        }
        panic!("the server is still running");
    }
}

impl Drop for Client {
    fn drop(&mut self) {
        // Nothing is left running when a test fails.
        let _ = self.server.kill();
        let _ = self.server.wait();
    }
}

pub fn framed(body: &str) -> Vec<u8> {
    format!("Content-Length: {}\r\n\r\n{body}", body.len()).into_bytes()
}

fn read(output: &mut impl BufRead, may_read: &Mutex<()>) -> Option<Value> {
    let mut length = 0;
    drop(may_read.lock());
    loop {
        let mut line = String::new();
        if output.read_line(&mut line).ok()? == 0 {
            return None;
        }
        match line.trim_end().split_once(": ") {
            Some(("Content-Length", value)) => length = value.parse().expect("a length"),
            Some(_) => {}
            None if line.trim_end().is_empty() => break,
            None => panic!("{line:?} is no header"),
        }
    }
    let mut body = vec![0; length];
    output.read_exact(&mut body).ok()?;
    Some(serde_json::from_slice(&body).expect("every message is JSON"))
}

pub fn url(path: &Path) -> String {
    format!("file://{}", path.to_str().expect("the test's paths are text").replace(' ', "%20"))
}
