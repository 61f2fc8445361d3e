//! The order of messages.
//!
//! The transport hands messages over one by one in the order in which they came, and then runs handlers side by side.
//! Whatever must happen in order happens here, while a message is handed over and before anything is awaited: changes
//! go to the desk, and requests get their ticket. Requests then run as tasks of their own, so that slow ones starve
//! nobody and a panic is the answer to one request alone.

use std::path::PathBuf;
use std::pin::Pin;
use std::sync::{Arc, OnceLock};
use std::task::{Context, Poll};

use serde::de::DeserializeOwned;
use serde_json::Value;
use tokio::sync::oneshot;
use tokio::task::JoinHandle;
use tower_service::Service;

use super::client::Client;
use super::desk::{Ask, Event, Inbox, Pull, PullAll};
use super::ending::{self, Ending};
use super::protocol::jsonrpc::{Error, ErrorCode, Id, Request, Response};
use super::protocol::{
    DidChangeConfigurationParams, DidChangeTextDocumentParams, DidChangeWatchedFilesParams,
    DidChangeWorkspaceFoldersParams, DidCloseTextDocumentParams, DidOpenTextDocumentParams, DidSaveTextDocumentParams,
    ExitedError, InitializeParams, MessageType, Url, WorkspaceDiagnosticParams, WorkspaceFolder,
};
use super::settings::Settings;
use super::snapshot::path_of;
use super::ticket::{Ticket, holding};
use super::voice::{Say, Voice};
use super::wire::Output;
use super::{capabilities, watching};

/// Bytes of answers that may wait for a client that does not read; beyond that its requests are refused.
const MOST_WAITING: usize = 64 * 1024 * 1024;

/// Requests that the text of one file answers. All others wait for every file of the book: what is computed of a part of it
/// may be another number than of the whole.
const OF_ONE_FILE: [&str; 10] = [
    "textDocument/documentHighlight",
    "textDocument/documentLink",
    "textDocument/foldingRange",
    "textDocument/formatting",
    "textDocument/onTypeFormatting",
    "textDocument/rangeFormatting",
    "textDocument/selectionRange",
    "textDocument/semanticTokens/full",
    "textDocument/semanticTokens/range",
    "textDocument/signatureHelp",
];

/// What a session is made of, besides the service.
#[derive(Clone)]
pub(super) struct Session {
    pub inbox: Inbox,
    pub voice: Voice,
    pub output: Output,
    pub ending: Arc<Ending>,
    /// The client, once it has begun the session.
    pub client: Arc<OnceLock<Client>>,
}

/// The service of the transport with the order in front of it.
pub(super) struct InOrder<S> {
    inner: S,
    session: Session,
}

type Answer = Pin<Box<dyn Future<Output = Result<Option<Response>, ExitedError>> + Send>>;

impl<S> InOrder<S> {
    pub fn new(inner: S, session: Session) -> Self {
        Self { inner, session }
    }

    fn client(&self) -> Option<&Client> {
        self.session.client.get()
    }

    /// Takes in what only tells something; `false` when the message is for others.
    fn take(&mut self, method: &str, params: Option<&Value>) -> bool {
        match method {
            "initialized" => self.initialized(),
            "textDocument/didOpen" => self.put(params, |DidOpenTextDocumentParams { text_document: document }| {
                Event::Opened { url: document.uri, version: document.version, text: document.text }
            }),
            "textDocument/didChange" => self.put(params, |params: DidChangeTextDocumentParams| Event::Changed {
                url: params.text_document.uri,
                version: params.text_document.version,
                changes: params.content_changes,
            }),
            "textDocument/didClose" => {
                self.put(params, |params: DidCloseTextDocumentParams| Event::Closed { url: params.text_document.uri });
            }
            "workspace/didChangeWatchedFiles" => self.put(params, |params: DidChangeWatchedFilesParams| {
                Event::Touched(params.changes.iter().map(|change| path_of(&change.uri)).collect())
            }),
            "workspace/didCreateFiles" | "workspace/didDeleteFiles" | "workspace/didRenameFiles" => {
                self.session.inbox.put(Event::Touched(named_paths(params)));
            }
            "workspace/didChangeWorkspaceFolders" => self.put(params, |params: DidChangeWorkspaceFoldersParams| {
                let urls = |folders: Vec<WorkspaceFolder>| folders.into_iter().map(|folder| folder.uri).collect();
                Event::Folders { added: urls(params.event.added), removed: urls(params.event.removed) }
            }),
            "workspace/didChangeConfiguration" => {
                self.put(params, |params: DidChangeConfigurationParams| Event::Settings(params.settings));
                self.ask_for_settings();
            }
            "textDocument/didSave" => {
                self.put(params, |params: DidSaveTextDocumentParams| Event::Saved { url: params.text_document.uri });
            }
            "textDocument/willSave" => {}
            _ => return false,
        }
        true
    }

    /// What cannot be understood is passed over, as nobody waits for an answer.
    fn put<P: DeserializeOwned>(&self, params: Option<&Value>, event: impl FnOnce(P) -> Event) {
        if let Some(params) = read(params) {
            self.session.inbox.put(event(params));
        }
    }

    fn initialize(&mut self, params: Option<&Value>) {
        let said = params.and_then(|params| params.get("capabilities")).unwrap_or(&Value::Null);
        let name = params.and_then(|params| params.pointer("/clientInfo/name")?.as_str()).unwrap_or_default();
        let Some(params) = read::<InitializeParams>(params) else { return };
        if let Some(process) = params.process_id {
            ending::follow(process, self.session.ending.clone());
        }
        let client = Client::of(said, name).with_commands(params.initialization_options.as_ref());
        // There is one client, and it begins one session.
        let _ = self.session.client.set(client);
        let settings = params.initialization_options.as_ref();
        let settings = settings.map_or_else(Settings::default, |sent| Settings::default().with(sent));
        self.session.inbox.put(Event::Start { client, settings, folders: folders(&params) });
    }

    fn initialized(&mut self) {
        let Some(client) = self.client() else { return };
        let registrations = capabilities::registrations(client);
        if !registrations.is_empty() {
            self.session.voice.say(Say::Register(registrations));
        }
        if !client.watches_files {
            watching::start(self.session.inbox.clone());
        }
        self.ask_for_settings();
    }

    /// Clients that can be asked are asked; what others know they have sent.
    fn ask_for_settings(&self) {
        if self.client().is_some_and(|client| client.has_configuration) {
            let inbox = self.session.inbox.clone();
            self.session.voice.say(Say::Settings(Box::new(move |value| inbox.put(Event::Settings(value)))));
        }
    }

    fn ticket(&self, method: &str, params: Option<&Value>) -> Ticket {
        let document = document(params);
        match (method, document) {
            ("textDocument/diagnostic", Some(document)) => {
                let (answer, ticket) = oneshot::channel();
                self.session.inbox.put(Event::Pull(Pull { document, answer }));
                Ticket::Diagnostics(ticket)
            }
            ("workspace/diagnostic", _) => {
                let (answer, ticket) = oneshot::channel();
                let params: Option<WorkspaceDiagnosticParams> = read(params);
                let known = params.map(|params| params.previous_result_ids).unwrap_or_default();
                let known = known.into_iter().map(|known| (known.uri, known.value)).collect();
                self.session.inbox.put(Event::PullAll(PullAll { known, answer }));
                Ticket::AllDiagnostics(ticket)
            }
            (_, document) => {
                let (answer, ticket) = oneshot::channel();
                let whole_book = !OF_ONE_FILE.contains(&method);
                self.session.inbox.put(Event::Ask(Ask { document, whole_book, answer }));
                Ticket::State(ticket)
            }
        }
    }
}

impl<S> Service<Request> for InOrder<S>
where
    S: Service<Request, Response = Option<Response>, Error = ExitedError>,
    S::Future: Send + 'static,
{
    type Response = Option<Response>;
    type Error = ExitedError;
    type Future = Answer;

    fn poll_ready(&mut self, context: &mut Context<'_>) -> Poll<Result<(), ExitedError>> {
        self.inner.poll_ready(context)
    }

    fn call(&mut self, request: Request) -> Answer {
        let id = request.id().cloned();
        match (request.method(), &id) {
            ("exit", _) => self.session.ending.exit(),
            ("shutdown", _) => self.session.ending.shut_down(),
            ("initialize", Some(_)) if self.client().is_none() => self.initialize(request.params()),
            (_, None) if self.client().is_none() || self.session.ending.is_shut_down() => {}
            (method, None) if self.take(method, request.params()) => {
                return Box::pin(std::future::ready(Ok(None)));
            }
            (method, Some(id)) if self.client().is_some() && method != "initialize" => {
                return self.request(id.clone(), request);
            }
            _ => {}
        }
        Box::pin(self.inner.call(request))
    }
}

/// A request that is being worked on; nobody works on it any more when it is called off.
struct Called<R>(JoinHandle<R>);

impl<R> Drop for Called<R> {
    fn drop(&mut self) {
        self.0.abort();
    }
}

impl<S> InOrder<S>
where
    S: Service<Request, Response = Option<Response>, Error = ExitedError>,
    S::Future: Send + 'static,
{
    fn request(&mut self, id: Id, request: Request) -> Answer {
        if self.session.output.backlog() > MOST_WAITING {
            let message = "the answers to earlier requests have not been read".into();
            let error = Error { code: ErrorCode::InternalError, message, data: None };
            return Box::pin(std::future::ready(Ok(Some(Response::from_error(id, error)))));
        }
        let ticket = self.ticket(request.method(), request.params());
        let method = request.method().to_owned();
        let mut task = Called(tokio::spawn(holding(ticket, self.inner.call(request))));
        let voice = self.session.voice.clone();
        Box::pin(async move {
            match (&mut task.0).await {
                Ok(answer) => answer,
                Err(_) => {
                    let message = format!("something went wrong with `{method}`; the session goes on");
                    voice.say(Say::Log(MessageType::ERROR, message));
                    Ok(Some(Response::from_error(id, Error::internal_error())))
                }
            }
        })
    }
}

/// Reads parameters; `None` when they are not what they should be.
fn read<P: DeserializeOwned>(params: Option<&Value>) -> Option<P> {
    P::deserialize(params?).ok()
}

/// The document that a request is about.
fn document(params: Option<&Value>) -> Option<Url> {
    let params = params?;
    // What is to be resolved carries its document with it.
    let document = params.get("textDocument").or_else(|| params.get("data"))?;
    Url::parse(document.get("uri")?.as_str()?).ok()
}

/// The folders that the client has opened.
#[allow(deprecated, reason = "older clients name one folder alone")]
fn folders(params: &InitializeParams) -> Vec<Url> {
    match &params.workspace_folders {
        Some(folders) => folders.iter().map(|folder| folder.uri.clone()).collect(),
        None => {
            let path = params.root_path.as_ref().and_then(|path| Url::from_file_path(path).ok());
            params.root_uri.clone().or(path).into_iter().collect()
        }
    }
}

/// The paths of files that the editor has created, deleted or renamed, old and new.
fn named_paths(params: Option<&Value>) -> Vec<PathBuf> {
    let files = params.and_then(|params| params.get("files")?.as_array()).into_iter().flatten();
    let urls = files.flat_map(|file| ["uri", "oldUri", "newUri"].into_iter().filter_map(|key| file.get(key)?.as_str()));
    urls.filter_map(|url| Url::parse(url).ok()).map(|url| path_of(&url)).collect()
}

#[cfg(test)]
mod tests {
    use crate::server::protocol::jsonrpc::Result as Answered;
    use crate::server::protocol::{Hover, HoverParams, InitializeResult};
    use crate::server::protocol::{LanguageServer, LspService};

    use super::*;
    use crate::server::desk::Desk;

    /// Panics when it is asked what stands anywhere.
    struct Panicking;

    #[crate::server::protocol::async_trait]
    impl LanguageServer for Panicking {
        async fn initialize(&self, _: InitializeParams) -> Answered<InitializeResult> {
            Ok(InitializeResult::default())
        }

        async fn shutdown(&self) -> Answered<()> {
            Ok(())
        }

        async fn hover(&self, _: HoverParams) -> Answered<Option<Hover>> {
            panic!("on purpose")
        }
    }

    fn request(id: i64, method: &'static str, params: Value) -> Request {
        Request::build(method).id(id).params(params).finish()
    }

    #[test]
    fn a_panic_is_the_answer_to_one_request() {
        let runtime = tokio::runtime::Builder::new_current_thread().enable_time().build().unwrap();
        runtime.block_on(async {
            let (voice, mut said) = Voice::new();
            let (service, _socket) = LspService::new(|_| Panicking);
            let output = Output::to(std::io::sink());
            let inbox = Desk::start(voice.clone());
            let ending = Arc::default();
            let session = Session { inbox, voice, output, ending, client: Arc::default() };
            let mut service = InOrder::new(service, session);
            let started = service.call(request(1, "initialize", serde_json::json!({ "capabilities": {} }))).await;
            assert!(started.unwrap().unwrap().is_ok());
            let position = serde_json::json!({
                "textDocument": { "uri": "file:///a.rotor" }, "position": { "line": 0, "character": 0 },
            });
            let answer = service.call(request(2, "textDocument/hover", position)).await.unwrap().unwrap();
            assert_eq!(answer.error().map(|error| error.code), Some(ErrorCode::InternalError));
            assert!(matches!(said.recv().await, Some(Say::Log(MessageType::ERROR, _))));
            let ended = service.call(Request::build("shutdown").id(3).finish()).await;
            assert!(ended.unwrap().unwrap().is_ok());
        });
    }
}
