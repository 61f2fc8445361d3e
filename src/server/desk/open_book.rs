//! A book that is open, and how far it has been read.

use std::path::PathBuf;
use std::sync::Arc;

use rustc_hash::FxHashSet;

use super::event::Ask;
use super::outline::Outline;
use crate::book::{Book, FileId};
use crate::ide::Consequences;
use crate::server::consequences::Baseline;
use crate::server::judged::{Change, JudgedBook};

#[derive(Default)]
pub(super) struct OpenBook {
    pub judged: JudgedBook,
    pub state: State,
    /// What it is compared with, once that is read.
    pub baseline: Option<Arc<Baseline>>,
    /// The edition that was compared last.
    pub compared_at: Option<u64>,
    /// What came of it.
    pub moves: Option<Arc<Consequences>>,
    /// Requests that wait until all of it is read.
    pub asked: Vec<Ask>,
    /// Files that were touched while it was being read.
    pub touched: Vec<PathBuf>,
}

#[derive(Default)]
pub(super) enum State {
    /// Nothing is known of it but what is open.
    #[default]
    Opening,
    /// Its bytes are there, and those of its files that open documents need are read.
    Outlined(Outlined),
    Whole,
}

/// A book of which some files are read.
pub(super) struct Outlined {
    outline: Arc<Outline>,
    /// Files of the outline that are read.
    read: FxHashSet<usize>,
}

impl OpenBook {
    /// A book of one file.
    pub fn single() -> Self {
        Self { state: State::Whole, ..Self::default() }
    }

    pub fn is_whole(&self) -> bool {
        matches!(self.state, State::Whole)
    }

    pub fn book(&self) -> &Book {
        self.judged.book()
    }

    /// Takes in the outline, and the shop's rules, which every file is judged by.
    pub fn outlined(&mut self, outline: Arc<Outline>) {
        let shops = outline.shops().to_vec();
        self.state = State::Outlined(Outlined { outline, read: FxHashSet::default() });
        self.read(&shops);
    }

    /// Reads the files that what was looked up for a file points to; `true` when there were some.
    pub fn read_what_is_looked_up(&mut self, file: FileId) -> bool {
        let State::Outlined(outlined) = &self.state else { return false };
        let names = self.judged.lookups(file).names.iter();
        let wanted = names.flat_map(|name| outlined.outline.describing(*name)).copied();
        let wanted: FxHashSet<usize> = wanted.filter(|n| !outlined.read.contains(n)).collect();
        self.read(&wanted.into_iter().collect::<Vec<_>>())
    }

    /// Reads files of the outline; open documents are there already, and stay as they are.
    fn read(&mut self, files: &[usize]) -> bool {
        let State::Outlined(outlined) = &mut self.state else { return false };
        outlined.read.extend(files);
        let book = self.judged.book();
        let unknown = files.iter().filter(|n| book.file_at(outlined.outline.path(**n)).is_none());
        let new = unknown.map(|n| outlined.outline.read(*n));
        let changes: Vec<Change> = new.map(|file| (file.path.clone(), Some(Arc::new(file)))).collect();
        let any = !changes.is_empty();
        self.judged.update(changes);
        any
    }

    /// Whether judging a file now says what judging it in the whole book would say.
    pub fn knows_enough(&self, file: FileId) -> bool {
        let lookups = self.judged.lookups(file);
        match self.state {
            State::Whole => true,
            State::Opening => false,
            State::Outlined(_) => lookups.users.is_empty() && lookups.names_of.is_empty() && !lookups.everything,
        }
    }
}
