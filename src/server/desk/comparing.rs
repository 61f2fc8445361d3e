//! When the book is compared with what it was, and what comes of it.

use std::path::Path;
use std::sync::Arc;
use std::time::{Duration, Instant};

use super::Desk;
use super::event::Loading;
use super::open_book::OpenBook;
use crate::book::{Book, Difference};
use crate::server::consequences::{self, Baseline, Job, Outcome};
use crate::server::settings::Since;
use crate::server::snapshot::BookKey;

/// How long nothing must have been written before the book is compared.
const REST: Duration = Duration::from_millis(40);

impl Desk {
    /// Has the state read that a book is compared with.
    pub(super) fn read_baseline(&mut self, key: &BookKey) {
        let BookKey::Folder(root) = key else { return };
        let Some(open) = self.books.get_mut(key).filter(|open| open.is_whole()) else { return };
        (open.baseline, open.moves) = (None, None);
        if self.settings.since != Since::Off {
            self.loader.baseline(root.clone(), self.settings.since, open.book().clone());
        }
    }

    pub(super) fn baseline_read(&mut self, key: &BookKey, baseline: Arc<Baseline>) {
        if let Some(open) = self.books.get_mut(key) {
            open.baseline = Some(baseline);
            open.compared_at = None;
        }
    }

    /// What lies on disk is what the book is compared with from now on, where there is no commit.
    pub(super) fn saved_beside(&mut self, path: &Path) {
        let Some((key, file)) = self.find(path) else { return };
        let Some(open) = self.books.get_mut(&key) else { return };
        let Some(baseline) = open.baseline.as_ref().filter(|baseline| baseline.commit.is_none()) else { return };
        let saved = open.book().shared_file(file).clone();
        let mut files: Vec<_> = baseline.book.files().map(|(id, _)| baseline.book.shared_file(id).clone()).collect();
        files.retain(|file| file.path != saved.path);
        files.push(saved);
        open.baseline = Some(Arc::new(Baseline { commit: None, book: Book::new(files) }));
        open.compared_at = None;
    }

    /// When a book is to be compared; `None` when nothing has changed since, or a line is not whole yet.
    pub(super) fn compares_at(&self) -> Option<Instant> {
        if !self.books.values().any(OpenBook::is_to_be_compared) || self.is_line_half_written() {
            return None;
        }
        Some(self.written_at.map_or_else(Instant::now, |at| at + REST))
    }

    /// Gives the books that have changed to be compared, once nobody writes.
    pub(super) fn compare(&mut self) {
        if self.compares_at().is_none_or(|at| at > Instant::now()) {
            return;
        }
        for (key, open) in self.books.iter_mut().filter(|(_, open)| open.is_to_be_compared()) {
            open.compared_at = Some(open.judged.edition());
            let Some(baseline) = open.baseline.clone() else { continue };
            let baseline_book = baseline.book.clone();
            let difference = Difference::between_books(&baseline_book, open.judged.book());
            let job = Job {
                key: key.clone(),
                since: self.settings.since,
                baseline,
                live: open.judged.book().clone(),
                concerned: consequences::concerned(&open.judged, &baseline_book, &difference),
            };
            // The thread lives as long as the desk.
            let _ = self.comparing.send(job);
        }
    }

    pub(super) fn compared(&mut self, outcome: Outcome) {
        match outcome {
            Outcome::NewBaseline(key, baseline) => self.baseline_read(&key, baseline),
            Outcome::Compared(key, found) => {
                let Some(open) = self.books.get_mut(&key) else { return };
                let was_empty = open.moves.as_ref().is_none_or(|moves| moves.diff.is_empty());
                if was_empty && found.diff.is_empty() {
                    return;
                }
                open.moves = (!found.diff.is_empty()).then_some(found);
                self.view = None;
                self.outdated.inlay_hints |= self.client.refreshes.inlay_hints;
                self.outdated.code_lenses |= self.client.refreshes.code_lenses;
            }
        }
    }
}

impl OpenBook {
    /// Whether it is another than when it was compared last, and all of it is judged.
    fn is_to_be_compared(&self) -> bool {
        self.is_whole()
            && self.baseline.is_some()
            && self.compared_at != Some(self.judged.edition())
            && !self.judged.has_stale()
    }
}

impl Loading {
    pub(super) fn baseline(root: std::path::PathBuf, baseline: Baseline) -> Self {
        Loading::Baseline(BookKey::Folder(root), Arc::new(baseline))
    }
}
