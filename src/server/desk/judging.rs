//! What is judged when.

use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use super::Desk;
use crate::book::FileId;
use crate::server::snapshot::BookKey;

/// How long a step of background work should take at most, so that nobody who types notices.
const STEP: Duration = Duration::from_micros(800);

/// Files judged at one step.
const FEWEST: usize = 4;
const MOST: usize = 512;

/// After so many changes that came too soon one judging is carried through.
const PATIENCE: usize = 50;

/// How far the judging of a document has come.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Outcome {
    Settled,
    /// Its text has changed meanwhile.
    Overtaken,
    /// More of its book has to be read first.
    Waiting,
}

impl Desk {
    /// Whether there is something to do without anything having come.
    pub(super) fn has_work(&self) -> bool {
        self.books.values().any(|open| open.is_whole() && open.judged.has_stale()) || self.has_news()
    }

    /// Judges open documents and tells the client: those that it waits for, then others that a change concerns.
    pub(super) fn settle_what_is_owed(&mut self) {
        self.read_changes();
        let mut waiting = Vec::new();
        for path in std::mem::take(&mut self.owed) {
            match self.settle(&path) {
                Outcome::Settled => {}
                Outcome::Overtaken | Outcome::Waiting => waiting.push(path),
            }
        }
        self.owed.extend(waiting);
        for path in self.stale_documents() {
            if self.settle(&path) == Outcome::Settled {
                self.outdated = self.client.refreshes;
            }
        }
    }

    fn stale_documents(&self) -> Vec<PathBuf> {
        let is_stale = |path: &&PathBuf| {
            let (open, file) = match self.find(path) {
                Some(found) => found,
                None => return false,
            };
            self.books[&open].judged.is_stale(file) && !self.owed.contains(path)
        };
        self.documents.keys().filter(is_stale).cloned().collect()
    }

    /// The book and the file of an open document.
    pub(super) fn find(&self, path: &Path) -> Option<(BookKey, FileId)> {
        let document = self.documents.get(path)?;
        let file = self.books.get(&document.key)?.book().file_at(&document.key.relative(path))?;
        Some((document.key.clone(), file))
    }

    /// Judges one document and tells the client.
    pub(super) fn settle(&mut self, path: &Path) -> Outcome {
        let outcome = self.judge(path);
        if outcome == Outcome::Settled
            && let Some((key, file)) = self.find(path)
        {
            self.publish(&key, file, true);
        }
        outcome
    }

    fn judge(&mut self, path: &Path) -> Outcome {
        loop {
            let Some((key, file)) = self.find(path) else { return Outcome::Settled };
            let carry_through = self.given_up >= PATIENCE;
            let incoming = &self.incoming;
            let Some(open) = self.books.get_mut(&key) else { return Outcome::Settled };
            if open.judged.is_stale(file) && !open.judged.judge(file, || carry_through || !incoming.is_overtaken()) {
                self.given_up += 1;
                return Outcome::Overtaken;
            }
            self.given_up = 0;
            if open.read_what_is_looked_up(file) {
                self.view = None;
                continue;
            }
            return if open.knows_enough(file) { Outcome::Settled } else { Outcome::Waiting };
        }
    }

    /// One step of what is left to do.
    pub(super) fn work_on(&mut self) {
        let stale = self.books.iter().find(|(_, open)| open.is_whole() && open.judged.has_stale());
        match stale.map(|(key, _)| key.clone()) {
            Some(key) => self.work_on_book(&key),
            None => self.tell_news(),
        }
    }

    fn work_on_book(&mut self, key: &BookKey) {
        let Some(open) = self.books.get_mut(key) else { return };
        let concerned: Vec<FileId> = if open.judged.whole_is_stale() {
            open.judged.judge_whole().into_iter().collect()
        } else {
            let start = Instant::now();
            let files = open.judged.judge_some(self.pace);
            self.pace = paced(self.pace, files.len(), start.elapsed());
            files
        };
        for file in concerned {
            // What is stale is told when it has been judged.
            if self.books.get(key).is_some_and(|open| !open.judged.is_stale(file)) {
                self.publish(key, file, false);
            }
        }
    }
}

/// How many files to judge at the next step, after so many took this long.
fn paced(pace: usize, judged: usize, took: Duration) -> usize {
    if judged < pace && took < STEP {
        return pace;
    }
    let each = took.as_secs_f64() / judged.max(1) as f64;
    let fitting = (STEP.as_secs_f64() / each.max(1e-9)) as usize;
    // Half way, so that one slow file does not decide.
    ((pace + fitting) / 2).clamp(FEWEST, MOST)
}
