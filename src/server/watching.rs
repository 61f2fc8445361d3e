//! Looking for changes on disk, for clients that do not watch files themselves.

use std::fs::Metadata;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant, SystemTime};

use rustc_hash::FxHashMap;
use tokio::sync::oneshot;

use super::desk::{Ask, Event, Inbox};
use super::snapshot::{BookKey, View};
use crate::disk;

/// Time between two looks; more where looking takes long.
const PAUSE: Duration = Duration::from_secs(2);

/// Looking may take this share of the time, as long as nobody waits longer than this for what has changed.
const SHARE: u32 = 40;
const LONGEST_PAUSE: Duration = Duration::from_secs(15);

/// What tells one state of a file from another.
type Stamp = (Option<SystemTime>, u64);

/// Looks at the files of all open books again and again, until the session is over.
pub(super) fn start(inbox: Inbox) {
    std::thread::spawn(move || {
        let mut seen = Seen::default();
        loop {
            let Some(view) = view(&inbox) else { return };
            // The wait for a book that is being read does not count.
            let start = Instant::now();
            let touched = seen.look(&view);
            drop(view);
            if !touched.is_empty() {
                inbox.put(Event::Touched(touched));
            }
            std::thread::sleep((start.elapsed() * SHARE).clamp(PAUSE, LONGEST_PAUSE));
        }
    });
}

fn view(inbox: &Inbox) -> Option<std::sync::Arc<View>> {
    let (answer, view) = oneshot::channel();
    inbox.put(Event::Ask(Ask { document: None, whole_book: true, answer }));
    view.blocking_recv().ok()?.ok()
}

/// The files as they were at the last look.
#[derive(Default)]
struct Seen {
    files: FxHashMap<PathBuf, Stamp>,
}

impl Seen {
    /// The files that are no longer what they were.
    fn look(&mut self, view: &View) -> Vec<PathBuf> {
        let mut now: FxHashMap<PathBuf, Stamp> = FxHashMap::default();
        let mut touched = Vec::new();
        for book in &view.books {
            let paths = match &book.key {
                BookKey::Folder(root) => disk::walk_book(root).files,
                BookKey::File(path) => {
                    // A book that came, or came back, above it has the file for its own.
                    let root = disk::is_rotor(path).then(|| disk::book_above(path)).flatten();
                    touched.extend(root.map(|root| root.join(disk::BOOK)));
                    vec![path.clone()]
                }
                BookKey::Unsaved(_) => continue,
            };
            for path in paths {
                let Ok(metadata) = path.metadata() else { continue };
                let stamp = (metadata.modified().ok(), metadata.len());
                let changed = match self.files.get(&path) {
                    Some(before) => *before != stamp,
                    None => !is_known(view, &path, &metadata),
                };
                if changed {
                    touched.push(path.clone());
                }
                now.insert(path, stamp);
            }
        }
        touched.extend(self.files.keys().filter(|path| !now.contains_key(*path)).cloned());
        self.files = now;
        touched
    }
}

/// Whether a file that is seen for the first time is, by its length, the one that was read.
fn is_known(view: &View, path: &Path, metadata: &Metadata) -> bool {
    let book = view.book_of(path);
    let file = book.and_then(|book| Some((book, book.book.file_at(&book.key.relative(path))?)));
    file.is_some_and(|(book, file)| book.book.file(file).text.len() as u64 == metadata.len())
}
