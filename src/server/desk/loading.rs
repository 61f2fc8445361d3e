//! Reading books from disk, on threads of their own.

use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicI32, Ordering};
use std::sync::{Arc, Mutex, PoisonError};

use rayon::prelude::*;
use rustc_hash::FxHashSet;

use super::event::{Event, Inbox, Loading};
use super::outline::{Bytes, Outline};
use crate::book::{Book, SourceFile};
use crate::disk::{self, Found};
use crate::git;
use crate::server::consequences::Baseline;
use crate::server::settings::Since;
use crate::server::voice::{Say, Step, Voice};

/// Books of more files than this show their progress.
const WORTH_TELLING: usize = 500;

/// Files read between two looks at what else there is to do.
const AT_ONCE: usize = 256;

/// Starts the reading of books; each root is read by one thread at a time.
#[derive(Clone)]
pub(super) struct Loader {
    inbox: Inbox,
    voice: Voice,
    /// The client shows progress.
    tells: bool,
    claimed: Arc<Mutex<FxHashSet<PathBuf>>>,
    works: Arc<AtomicI32>,
}

impl Loader {
    pub fn new(inbox: Inbox, voice: Voice) -> Self {
        Self { inbox, voice, tells: false, claimed: Arc::default(), works: Arc::default() }
    }

    pub fn tell_progress(&mut self, tells: bool) {
        self.tells = tells;
    }

    /// Reads every book below a folder, and the one it lies in.
    pub fn folder(&self, folder: PathBuf) {
        let loader = self.clone();
        std::thread::spawn(move || {
            for found in disk::books_below(&folder) {
                match found {
                    Found::Book { root, files } => loader.read_book(&root, Some(files)),
                    Found::Loose(path) => loader.loose(path),
                }
            }
            loader.put(Loading::Searched);
        });
    }

    /// Reads what a book is compared with.
    pub fn baseline(&self, root: PathBuf, since: Since, live: Book) {
        let loader = self.clone();
        std::thread::spawn(move || {
            let baseline = Baseline::read(&root, since, &live);
            loader.put(Loading::baseline(root, baseline));
        });
    }

    /// Reads one book.
    pub fn book(&self, root: PathBuf) {
        let loader = self.clone();
        std::thread::spawn(move || loader.read_book(&root, None));
    }

    /// The book may be read again.
    pub fn forget(&self, root: &Path) {
        self.claimed.lock().unwrap_or_else(PoisonError::into_inner).remove(root);
    }

    fn claim(&self, root: &Path) -> bool {
        self.claimed.lock().unwrap_or_else(PoisonError::into_inner).insert(root.to_owned())
    }

    fn put(&self, loading: Loading) {
        self.inbox.put(Event::Loading(loading));
    }

    fn loose(&self, path: PathBuf) {
        let root = path.parent().unwrap_or(&path);
        let file = disk::source(&path, root);
        self.put(Loading::Loose(path, file));
    }

    fn read_book(&self, root: &Path, files: Option<Vec<PathBuf>>) {
        if !self.claim(root) {
            return;
        }
        let paths = files.unwrap_or_else(|| disk::walk_book(root).files);
        let progress = self.tells.then_some(()).filter(|()| paths.len() > WORTH_TELLING);
        let work = self.works.fetch_add(1, Ordering::Relaxed);
        let tell = |step| {
            if progress.is_some() {
                self.voice.say(Say::Progress(work, step));
            }
        };
        tell(Step::Begin("Reading sheets".to_owned()));
        let outline = Arc::new(Outline::of(all_bytes(root, &paths)));
        self.put(Loading::Outlined { root: root.to_owned(), outline: outline.clone() });
        let files = read(&outline, |done| tell(Step::Done(done, outline.count())));
        drop(outline);
        self.put(Loading::Read { root: root.to_owned(), files });
        tell(Step::End);
    }
}

/// The bytes of files, in the order of their paths in the book; what a sparse checkout leaves out is as the index has it.
fn all_bytes(root: &Path, paths: &[PathBuf]) -> Vec<(Box<str>, Bytes)> {
    let read = |path: &PathBuf| (disk::relative(path, root).into(), disk::bytes(path));
    let mut files: Vec<(Box<str>, Bytes)> = paths.par_iter().map(read).collect();
    files.extend(git::read_left_out(root).into_iter().map(|(path, bytes)| (path.into(), bytes)));
    files.sort_by(|(a, _), (b, _)| a.cmp(b));
    files
}

/// Reads all files, a few hundred at a time, so that other work finds its turn.
fn read(outline: &Outline, tell: impl Fn(usize)) -> Vec<Arc<SourceFile>> {
    let mut files = Vec::with_capacity(outline.count());
    for start in (0..outline.count()).step_by(AT_ONCE) {
        let end = (start + AT_ONCE).min(outline.count());
        files.par_extend((start..end).into_par_iter().map(|n| Arc::new(outline.read(n))));
        tell(end);
    }
    files
}
