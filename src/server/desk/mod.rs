//! The one owner of the state.
//!
//! A thread takes what has come in the order in which it came. Changes of texts are applied at once, all that have
//! come, before anything is read or judged; requests are given the state as it is at their turn and are answered
//! elsewhere. Then open documents are judged, and when nothing else is to do, the rest, a little at a time. A change
//! that comes meanwhile makes it give up what it is judging.

mod comparing;
mod document;
mod event;
mod files;
mod judging;
mod loading;
mod open_book;
mod outline;
mod pen;
mod publishing;
mod pulling;
mod texts;

use std::collections::BTreeMap;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::mpsc::Sender;
use std::time::Instant;

use rustc_hash::{FxHashMap, FxHashSet};

use super::client::{Client, Refreshes};
use super::consequences::{self, Job};
use super::settings::Settings;
use super::snapshot::{BookKey, BookView, Folder, View};
use super::voice::{Say, Voice};
use crate::server::protocol::{MessageType, Url};
use document::Document;
pub(super) use event::{Ask, Event, Inbox, Pull, PullAll, Pulled, Superseded};
use event::{Incoming, Loading, Wait};
use loading::Loader;
use open_book::OpenBook;
use pen::Pen;
use publishing::Published;

pub(super) struct Desk {
    incoming: Incoming,
    voice: Voice,
    loader: Loader,
    client: Client,
    settings: Settings,
    folders: Vec<Folder>,
    /// Open documents, by where they lie.
    documents: FxHashMap<PathBuf, Document>,
    /// The same files, opened earlier under other spellings of their paths; one of them holds when the later one is closed.
    other_spellings: FxHashMap<Url, Document>,
    /// Documents of which it has been said that their changes cannot be followed.
    disordered: FxHashSet<Url>,
    paths: FxHashMap<Url, PathBuf>,
    /// Where somebody writes.
    pen: Option<Pen>,
    /// When a text was changed last.
    written_at: Option<Instant>,
    /// Where books go to be compared with what they were.
    comparing: Sender<Job>,
    /// Documents whose text has not been read since it changed.
    unread: FxHashSet<PathBuf>,
    /// Documents of which the client waits to be told, the longest waiting first.
    owed: Vec<PathBuf>,
    books: BTreeMap<BookKey, OpenBook>,
    /// Folders that are being searched for books.
    searches: usize,
    /// Requests about no document in particular, which wait for that.
    asked: Vec<Ask>,
    /// The state for readers, once somebody has asked since the last change.
    view: Option<Arc<View>>,
    published: Published,
    /// Requests for the diagnostics of everything that wait for news.
    waiting: Vec<PullAll>,
    /// Requests for the diagnostics of a document whose book is still being read.
    pulls: Vec<Pull>,
    /// Something else is said than when the client asked last.
    has_changed: bool,
    /// What the client should ask for again when there is time.
    outdated: Refreshes,
    /// How many files are judged at a time in the background.
    pace: usize,
    /// How often in a row judging was given up.
    given_up: usize,
}

impl Desk {
    /// Starts the desk on a thread of its own; it ends when nobody can reach it any more.
    pub fn start(voice: Voice) -> Inbox {
        let (inbox, incoming) = Inbox::new();
        let loader = Loader::new(inbox.clone(), voice.clone());
        let told = inbox.clone();
        let comparing = consequences::start(move |outcome| told.put(Event::Compared(outcome)));
        let desk = Self {
            incoming,
            voice,
            loader,
            client: Client::default(),
            settings: Settings::default(),
            folders: Vec::new(),
            documents: FxHashMap::default(),
            other_spellings: FxHashMap::default(),
            disordered: FxHashSet::default(),
            paths: FxHashMap::default(),
            pen: None,
            written_at: None,
            comparing,
            unread: FxHashSet::default(),
            owed: Vec::new(),
            books: BTreeMap::new(),
            searches: 0,
            asked: Vec::new(),
            view: None,
            published: Published::default(),
            waiting: Vec::new(),
            pulls: Vec::new(),
            has_changed: false,
            outdated: Refreshes::default(),
            pace: 16,
            given_up: 0,
        };
        std::thread::spawn(move || desk.run());
        inbox
    }

    fn run(mut self) {
        while let Some(events) = self.incoming.take(self.patience()) {
            self.carefully("what was held back", Self::rest);
            self.carefully("what an edit moves", Self::compare);
            if events.is_empty() {
                self.carefully("the background work", Self::work_on);
                continue;
            }
            self.take(events);
            self.carefully("the open documents", Self::settle_what_is_owed);
        }
    }

    /// How long to wait for something to come.
    fn patience(&self) -> Wait {
        if self.has_work() {
            return Wait::No;
        }
        let rests_at = self.pen.as_ref().map(|pen| pen.until);
        rests_at.into_iter().chain(self.compares_at()).min().map_or(Wait::ForSomething, Wait::Until)
    }

    fn take(&mut self, events: Vec<Event>) {
        // The last change of each document: what was asked about it before no longer makes sense.
        let mut last: FxHashMap<Url, usize> = FxHashMap::default();
        let changes = events.iter().enumerate().filter_map(|(n, event)| Some((event.changed_document()?.clone(), n)));
        last.extend(changes);
        for (n, event) in events.into_iter().enumerate() {
            let asked = event.asked_document().and_then(|url| last.get(url));
            let superseded = asked.is_some_and(|change| *change > n);
            self.carefully("a message", |desk| desk.event(event, superseded));
        }
    }

    /// A panic costs the work it happened in. The state is left as it stands: each step of it is whole.
    fn carefully(&mut self, what: &str, work: impl FnOnce(&mut Self)) {
        if catch_unwind(AssertUnwindSafe(|| work(self))).is_err() {
            self.view = None;
            let message = format!("something went wrong with {what}; the session goes on");
            self.voice.say(Say::Log(MessageType::ERROR, message));
        }
    }

    fn event(&mut self, event: Event, superseded: bool) {
        match event {
            Event::Start { client, settings, folders } => self.begin(client, settings, &folders),
            Event::Opened { url, version, text } => self.open(url, version, text),
            Event::Changed { url, version, changes } => self.change(&url, version, changes),
            Event::Closed { url } => self.close(&url),
            Event::Saved { url } => self.saved(&url),
            Event::Touched(paths) => self.touched(&paths),
            Event::Folders { added, removed } => self.change_folders(&added, &removed),
            Event::Settings(value) => self.set(&value),
            Event::Ask(ask) if superseded => _ = ask.answer.send(Err(Superseded)),
            Event::Ask(ask) => self.answer(ask),
            Event::Pull(pull) if superseded => _ = pull.answer.send(Err(Superseded)),
            Event::Pull(pull) => self.pull(pull),
            Event::PullAll(pull) => {
                self.waiting.push(pull);
                self.has_changed = true;
            }
            Event::Loading(Loading::Loose(path, file)) => self.loose(path, file),
            Event::Loading(Loading::Outlined { root, outline }) => self.outlined(root, &outline),
            Event::Loading(Loading::Read { root, files }) => self.read(root, files),
            Event::Loading(Loading::Searched) => self.searched(),
            Event::Loading(Loading::Baseline(key, baseline)) => self.baseline_read(&key, baseline),
            Event::Compared(outcome) => self.compared(outcome),
        }
    }

    fn begin(&mut self, client: Client, settings: Settings, folders: &[Url]) {
        self.client = client;
        self.settings = settings;
        self.loader.tell_progress(client.progress);
        self.change_folders(folders, &[]);
    }

    fn set(&mut self, value: &serde_json::Value) {
        if let Some(problem) = Settings::problem(value) {
            self.voice.say(Say::Log(MessageType::WARNING, problem));
        }
        let settings = self.settings.with(value);
        if settings != self.settings {
            let compares_otherwise = settings.since != self.settings.since;
            self.settings = settings;
            self.view = None;
            self.outdated.inlay_hints |= self.client.refreshes.inlay_hints;
            if compares_otherwise {
                for key in self.books.keys().cloned().collect::<Vec<_>>() {
                    self.read_baseline(&key);
                }
            }
        }
    }

    /// A folder has been searched for books, and those in it read.
    fn searched(&mut self) {
        self.searches -= 1;
        if self.searches == 0 {
            std::mem::take(&mut self.asked).into_iter().for_each(|ask| self.answer(ask));
        }
    }

    fn answer(&mut self, ask: Ask) {
        if ask.answer.is_closed() {
            return;
        }
        self.read_changes();
        // Which books there are is not known before the folders are searched.
        if ask.whole_book && ask.document.is_none() && self.searches > 0 {
            self.asked.push(ask);
            return;
        }
        if ask.whole_book
            && let Some(book) = self.loading_book(ask.document.as_ref())
        {
            book.asked.push(ask);
            return;
        }
        let _ = ask.answer.send(Ok(self.view()));
    }

    /// The state as it stands now, for readers.
    fn view(&mut self) -> Arc<View> {
        if self.view.is_none() {
            let view = View {
                client: self.client,
                settings: self.settings,
                folders: self.folders.clone(),
                books: self.books.iter().map(|(key, open)| BookView::new(key, open.book(), &open.moves)).collect(),
                open: self.documents.iter_mut().map(|(path, document)| (path.clone(), document.view())).collect(),
            };
            self.view = Some(Arc::new(view));
        }
        self.view.clone().expect("it has just been put there")
    }
}
