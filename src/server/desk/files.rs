//! Folders that are opened and closed, and files that change on disk.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use rayon::prelude::*;
use rustc_hash::{FxHashMap, FxHashSet};

use super::Desk;
use super::open_book::{OpenBook, State};
use super::outline::Outline;
use super::texts::key_of;
use crate::book::SourceFile;
use crate::disk;
use crate::git;
use crate::server::judged::{Change, JudgedBook};
use crate::server::protocol::Url;
use crate::server::snapshot::{BookKey, Folder};

impl Desk {
    pub(super) fn change_folders(&mut self, added: &[Url], removed: &[Url]) {
        self.view = None;
        let named = |url: &Url| url.to_file_path().ok();
        let gone: Vec<PathBuf> = removed.iter().filter_map(named).collect();
        self.folders.retain(|folder| !gone.contains(&folder.named));
        for named in added.iter().filter_map(named) {
            let Ok(path) = named.canonicalize() else { continue };
            let folder = Folder { path: path.clone(), named };
            if !self.folders.contains(&folder) {
                self.folders.push(folder);
                self.search(path);
            }
        }
        self.drop_unused_books();
    }

    /// Has a folder searched for books; `Loading::Searched` tells of the end.
    fn search(&mut self, folder: PathBuf) {
        self.searches += 1;
        self.loader.folder(folder);
    }

    pub(super) fn is_in_a_folder(&self, path: &Path) -> bool {
        self.folders.iter().any(|folder| path.starts_with(&folder.path))
    }

    /// Closes books of which no document is open and that no open folder holds, or is held by.
    pub(super) fn drop_unused_books(&mut self) {
        let used: FxHashSet<&BookKey> = self.documents.values().map(|document| &document.key).collect();
        let held = |key: &BookKey| match key {
            BookKey::Folder(root) => {
                let mut folders = self.folders.iter();
                folders.any(|folder| root.starts_with(&folder.path) || folder.path.starts_with(root))
            }
            BookKey::File(path) => self.is_in_a_folder(path),
            BookKey::Unsaved(_) => false,
        };
        let unused = self.books.keys().filter(|key| !used.contains(key) && !held(key));
        for key in unused.cloned().collect::<Vec<_>>() {
            self.drop_book(&key);
        }
    }

    pub(super) fn drop_book(&mut self, key: &BookKey) {
        self.view = None;
        if let BookKey::Folder(root) = key {
            self.loader.forget(root);
        }
        if self.books.remove(key).is_some() {
            self.published.clear_book(key, &self.voice);
        }
    }

    /// The bytes of a book's files are there.
    pub(super) fn outlined(&mut self, root: PathBuf, outline: &Arc<Outline>) {
        self.view = None;
        let open = self.books.entry(BookKey::Folder(root)).or_default();
        if !open.is_whole() {
            open.outlined(outline.clone());
        }
    }

    /// All files of a book are read. Open documents keep their own text.
    pub(super) fn read(&mut self, root: PathBuf, files: Vec<Arc<SourceFile>>) {
        self.view = None;
        let key = BookKey::Folder(root);
        let mut all: FxHashMap<Box<str>, Arc<SourceFile>> = FxHashMap::default();
        all.extend(files.into_iter().map(|file| (file.path.clone(), file)));
        let open = self.books.entry(key.clone()).or_default();
        for document in self.documents.values().filter(|document| document.key == key) {
            let read = open.book().file_at(&key.relative(&document.path));
            if let Some(file) = read.map(|id| open.book().shared_file(id)) {
                all.insert(file.path.clone(), file.clone());
            }
        }
        open.judged = JudgedBook::new(all.into_values().collect());
        open.state = State::Whole;
        let asked = std::mem::take(&mut open.asked);
        let touched = std::mem::take(&mut open.touched);
        // A document that was opened but not read yet comes in now.
        let documents = self.documents.values().filter(|document| document.key == key);
        let paths: Vec<PathBuf> = documents.map(|document| document.path.clone()).collect();
        self.unread.extend(paths.iter().cloned());
        self.owed.extend(paths.into_iter().filter(|path| !self.owed.contains(path)).collect::<Vec<_>>());
        self.touched(&touched);
        asked.into_iter().for_each(|ask| self.answer(ask));
        self.pull_again();
        self.outdated = self.client.refreshes;
        self.read_baseline(&key);
    }

    /// The book that a document's requests wait for, when it is still being read; any such book for no document.
    pub(super) fn loading_book(&mut self, document: Option<&Url>) -> Option<&mut OpenBook> {
        let key = document.and_then(|url| Some(&self.documents.get(self.paths.get(url)?)?.key)).cloned();
        let mut books = self.books.iter_mut().filter(|(_, open)| !open.is_whole());
        books.find(|(of, _)| key.as_ref().is_none_or(|key| key == *of)).map(|(_, open)| open)
    }

    /// Files or folders on disk have changed, have come or gone.
    pub(super) fn touched(&mut self, paths: &[PathBuf]) {
        let paths: FxHashSet<PathBuf> = paths.iter().flat_map(|path| self.files_touched(path)).collect();
        if paths.iter().any(|path| disk::is_book(path) && self.makes_other_books(path)) {
            return self.look_again();
        }
        let mut files: FxHashMap<BookKey, Vec<PathBuf>> = FxHashMap::default();
        for path in paths {
            match disk::is_rotor(&path) {
                true if self.documents.contains_key(&path) => {}
                true => files.entry(self.key_on_disk(&path)).or_default().push(path),
                false if path.exists() => {}
                false => self.folder_gone(&path, &mut files),
            }
        }
        for (key, paths) in files {
            self.read_from_disk(key, paths);
        }
    }

    /// A file itself; of a folder that has come, or was moved here, the files in it.
    fn files_touched(&self, path: &Path) -> Vec<PathBuf> {
        if !path.is_dir() {
            return vec![path.to_owned()];
        }
        let roots: Vec<&Path> = self.folders.iter().map(|folder| &*folder.path).collect();
        let is_seen = |file: &PathBuf| roots.iter().any(|root| disk::is_reached(root, file));
        disk::walk(path, |_| true).files.into_iter().filter(is_seen).collect()
    }

    fn key_on_disk(&self, path: &Path) -> BookKey {
        let url = Url::from_file_path(path);
        url.map_or_else(|()| BookKey::File(path.to_owned()), |url| key_of(path, &url))
    }

    /// Whether a `book.rotor` has come where no book is open, or has gone from one that is.
    fn makes_other_books(&self, path: &Path) -> bool {
        let key = BookKey::Folder(path.parent().unwrap_or(path).to_owned());
        self.books.contains_key(&key) != path.is_file()
    }

    /// Files of open books that lay in a folder which is gone.
    fn folder_gone(&self, folder: &Path, files: &mut FxHashMap<BookKey, Vec<PathBuf>>) {
        for (key, open) in &self.books {
            let all = open.book().files().map(|(_, file)| key.root().join(&*file.path));
            let gone = all.filter(|path| path.starts_with(folder) && !self.documents.contains_key(path));
            let gone: Vec<PathBuf> = gone.collect();
            if !gone.is_empty() {
                files.entry(key.clone()).or_default().extend(gone);
            }
        }
    }

    fn read_from_disk(&mut self, key: BookKey, paths: Vec<PathBuf>) {
        if let BookKey::File(path) = &key {
            return self.single_touched(path.clone());
        }
        let Some(open) = self.books.get_mut(&key) else { return };
        if !open.is_whole() {
            open.touched.extend(paths);
            return;
        }
        let root = key.root();
        // What a sparse checkout takes from the disk stays in the book.
        let gone = paths.iter().any(|path| !path.is_file());
        let left_out = if gone { git::read_left_out(root) } else { Vec::new() };
        let look = |path: PathBuf| -> Change {
            let relative = key.relative(&path);
            let in_index = || {
                let (path, bytes) = left_out.iter().find(|(other, _)| *other == *relative)?;
                Some(SourceFile::from_bytes(path.as_str(), bytes.clone().ok()?))
            };
            let file = if path.is_file() { Some(disk::source(&path, root)) } else { in_index() };
            (relative.into(), file.map(Arc::new))
        };
        let changes: Vec<Change> = paths.into_par_iter().map(look).collect();
        let differs = |(path, file): &Change| {
            let before = open.book().file_at(path).map(|id| open.book().file(id));
            match (before, file) {
                (Some(before), Some(file)) => before.text != file.text || before.problem != file.problem,
                (None, None) => false,
                _ => true,
            }
        };
        let changes: Vec<Change> = changes.into_iter().filter(differs).collect();
        for (path, _) in changes.iter().filter(|(_, file)| file.is_none()) {
            self.published.clear(&key, path, &self.voice);
        }
        if !changes.is_empty() {
            self.view = None;
            open.judged.update(changes);
            self.outdated = self.client.refreshes;
        }
    }

    fn single_touched(&mut self, path: PathBuf) {
        if path.is_file() && self.folders.iter().any(|folder| disk::is_reached(&folder.path, &path)) {
            let file = disk::source(&path, path.parent().unwrap_or(&path));
            self.loose(path, file);
        } else {
            self.drop_book(&BookKey::File(path));
        }
    }

    /// Other folders are books now: every book is looked for again.
    fn look_again(&mut self) {
        for key in self.books.keys().cloned().collect::<Vec<_>>() {
            self.drop_book(&key);
        }
        let documents = self.documents.values_mut().map(|document| {
            document.key = key_of(&document.path, &document.url);
            (document.path.clone(), document.key.clone())
        });
        for (path, key) in documents.collect::<Vec<_>>() {
            self.open_book(&key);
            self.unread.insert(path.clone());
            if !self.owed.contains(&path) {
                self.owed.push(path);
            }
        }
        for folder in self.folders.clone() {
            self.search(folder.path);
        }
    }
}
