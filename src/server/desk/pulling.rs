//! Diagnostics for clients that ask for them.

use std::hash::{Hash, Hasher};

use rustc_hash::{FxHashMap, FxHasher};

use super::judging::Outcome;
use super::publishing::file_view;
use super::{Desk, Pull, PullAll, Pulled, Superseded};
use crate::server::client::Refreshes;
use crate::server::protocol::{self as lsp, Url};
use crate::server::snapshot::path_of;
use crate::server::voice::Say;

impl Desk {
    /// Answers with what is said of a document now, or later when its book has to be read first.
    pub(super) fn pull(&mut self, pull: Pull) {
        if pull.answer.is_closed() {
            return;
        }
        self.read_changes();
        let path = self.paths.get(&pull.document).cloned().unwrap_or_else(|| path_of(&pull.document));
        let outcome = match self.documents.contains_key(&path) {
            true => self.settle(&path),
            false => Outcome::Settled,
        };
        match outcome {
            Outcome::Settled => _ = pull.answer.send(Ok(self.pulled(&pull.document))),
            Outcome::Overtaken => _ = pull.answer.send(Err(Superseded)),
            Outcome::Waiting => self.pulls.push(pull),
        }
    }

    /// Asks again for what waits.
    pub(super) fn pull_again(&mut self) {
        for pull in std::mem::take(&mut self.pulls) {
            self.pull(pull);
        }
    }

    fn pulled(&mut self, document: &Url) -> Pulled {
        let view = self.view();
        if let Some(file) = view.file(document)
            && let Some(open) = self.books.get_mut(&file.in_book.key)
            && open.judged.is_stale(file.file)
        {
            open.judged.judge(file.file, || true);
            self.has_changed = true;
        }
        let items = view.file(document).and_then(|file| self.items(&view, &file.in_book.key, file.file));
        Pulled::new(items.unwrap_or_default())
    }

    /// Whether there is something to tell that has been held back until all is judged.
    pub(super) fn has_news(&self) -> bool {
        self.outdated.any() || (self.has_changed && !self.waiting.is_empty())
    }

    /// All is judged: the client is told to ask again, and who waits for news is answered.
    pub(super) fn tell_news(&mut self) {
        let outdated = std::mem::take(&mut self.outdated);
        if outdated.any() {
            self.voice.say(Say::Refresh(outdated));
        }
        if std::mem::take(&mut self.has_changed) {
            for pull in std::mem::take(&mut self.waiting) {
                self.pull_all(pull);
            }
        }
    }

    /// Answers with the files of which something else is said than the client knows; without any the request waits on.
    fn pull_all(&mut self, pull: PullAll) {
        if pull.answer.is_closed() {
            return;
        }
        let mut known: FxHashMap<&Url, &str> = pull.known.iter().map(|(url, id)| (url, &**id)).collect();
        let view = self.view();
        let mut news = Vec::new();
        for (key, open) in &self.books {
            for (file, _) in open.book().files().filter(|(file, _)| open.judged.has_diagnostics(*file)) {
                let in_view = file_view(&view, key, file);
                let Some((in_view, url)) = in_view.and_then(|view| Some((view, view.url(file)?))) else { continue };
                let pulled = Pulled::new(self.items(&view, key, file).unwrap_or_default());
                if known.remove(&url) != Some(&*pulled.id) {
                    news.push((url, in_view.version(file), pulled));
                }
            }
        }
        let clean = Pulled::new(Vec::new());
        let gone = known.into_iter().filter(|(_, id)| **id != *clean.id);
        news.extend(gone.map(|(url, _)| (url.clone(), None, clean.clone())));
        match news.is_empty() {
            true => self.waiting.push(pull),
            false => _ = pull.answer.send(news),
        }
    }
}

impl Pulled {
    fn new(items: Vec<lsp::Diagnostic>) -> Self {
        let mut hasher = FxHasher::default();
        serde_json::to_string(&items).unwrap_or_default().hash(&mut hasher);
        let id = format!("{:016x}", hasher.finish());
        Self { items, id }
    }
}

impl Refreshes {
    pub(super) fn any(self) -> bool {
        self.diagnostics || self.inlay_hints || self.semantic_tokens || self.code_lenses
    }
}
