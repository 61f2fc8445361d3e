//! What comes to the desk, in the order in which it came.

use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc::{self, Receiver, RecvTimeoutError, Sender};
use std::time::Instant;

use serde_json::Value;
use tokio::sync::oneshot;

use super::outline::Outline;
use crate::book::SourceFile;
use crate::server::client::Client;
use crate::server::consequences::{Baseline, Outcome};
use crate::server::protocol::{self as lsp, TextDocumentContentChangeEvent, Url};
use crate::server::settings::Settings;
use crate::server::snapshot::{BookKey, View};

pub(in crate::server) enum Event {
    Start {
        client: Client,
        settings: Settings,
        folders: Vec<Url>,
    },
    Opened {
        url: Url,
        version: i32,
        text: String,
    },
    Changed {
        url: Url,
        version: i32,
        changes: Vec<TextDocumentContentChangeEvent>,
    },
    Closed {
        url: Url,
    },
    Saved {
        url: Url,
    },
    /// Files or folders on disk are no longer what they were.
    Touched(Vec<PathBuf>),
    Folders {
        added: Vec<Url>,
        removed: Vec<Url>,
    },
    Settings(Value),
    Ask(Ask),
    Pull(Pull),
    PullAll(PullAll),
    Loading(Loading),
    /// A book has been compared with what it was.
    Compared(Outcome),
}

/// A request that wants to see the state.
pub(in crate::server) struct Ask {
    /// The document it is about.
    pub document: Option<Url>,
    /// Whether it needs every file of the book.
    pub whole_book: bool,
    pub answer: oneshot::Sender<Result<Arc<View>, Superseded>>,
}

/// A request for the diagnostics of a document.
pub(in crate::server) struct Pull {
    pub document: Url,
    pub answer: oneshot::Sender<Result<Pulled, Superseded>>,
}

/// The diagnostics of a document, with what tells them from others.
#[derive(Clone, Debug)]
pub(in crate::server) struct Pulled {
    pub items: Vec<lsp::Diagnostic>,
    pub id: String,
}

/// A request for the diagnostics of all files that are not what the client knows.
pub(in crate::server) struct PullAll {
    pub known: Vec<(Url, String)>,
    pub answer: oneshot::Sender<Vec<(Url, Option<i32>, Pulled)>>,
}

/// The document has changed since: what was asked no longer makes sense.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(in crate::server) struct Superseded;

/// What the reading of a book has brought.
pub(in crate::server) enum Loading {
    /// A file that belongs to no book.
    Loose(PathBuf, SourceFile),
    /// The bytes of a book's files are there.
    Outlined { root: PathBuf, outline: Arc<Outline> },
    /// All files are read.
    Read { root: PathBuf, files: Vec<Arc<SourceFile>> },
    /// All books in a folder are found and read.
    Searched,
    /// What a book is compared with.
    Baseline(BookKey, Arc<Baseline>),
}

/// The way to the desk.
#[derive(Clone)]
pub(in crate::server) struct Inbox {
    sender: Sender<Event>,
    /// Changes of texts that have not been looked at.
    changes: Arc<AtomicUsize>,
}

/// How long to wait for something to come.
#[derive(Clone, Copy, Debug)]
pub(super) enum Wait {
    No,
    ForSomething,
    Until(Instant),
}

/// The desk's end of it.
pub(super) struct Incoming {
    receiver: Receiver<Event>,
    changes: Arc<AtomicUsize>,
}

impl Inbox {
    pub(super) fn new() -> (Self, Incoming) {
        let (sender, receiver) = mpsc::channel();
        let changes = Arc::new(AtomicUsize::new(0));
        (Self { sender, changes: changes.clone() }, Incoming { receiver, changes })
    }

    pub fn put(&self, event: Event) {
        if event.changes_text() {
            self.changes.fetch_add(1, Ordering::Relaxed);
        }
        // Nobody is at the desk any more when the session is over.
        let _ = self.sender.send(event);
    }
}

impl Incoming {
    /// All that has come. `None` when nothing can come any more.
    pub fn take(&self, wait: Wait) -> Option<Vec<Event>> {
        let mut events = Vec::new();
        match wait {
            Wait::No => {}
            Wait::ForSomething => events.push(self.receiver.recv().ok()?),
            Wait::Until(end) => match self.receiver.recv_timeout(end.saturating_duration_since(Instant::now())) {
                Ok(event) => events.push(event),
                Err(RecvTimeoutError::Timeout) => {}
                Err(RecvTimeoutError::Disconnected) => return None,
            },
        }
        events.extend(self.receiver.try_iter());
        let changes = events.iter().filter(|event| event.changes_text()).count();
        self.changes.fetch_sub(changes, Ordering::Relaxed);
        Some(events)
    }

    /// Whether a text has changed since the last taking.
    pub fn is_overtaken(&self) -> bool {
        self.changes.load(Ordering::Relaxed) > 0
    }
}

impl Event {
    fn changes_text(&self) -> bool {
        matches!(self, Event::Opened { .. } | Event::Changed { .. } | Event::Closed { .. })
    }

    /// The document whose text it changes.
    pub fn changed_document(&self) -> Option<&Url> {
        match self {
            Event::Opened { url, .. } | Event::Changed { url, .. } | Event::Closed { url } => Some(url),
            _ => None,
        }
    }

    /// The document that a request is about.
    pub fn asked_document(&self) -> Option<&Url> {
        match self {
            Event::Ask(ask) => ask.document.as_ref(),
            Event::Pull(pull) => Some(&pull.document),
            _ => None,
        }
    }
}
