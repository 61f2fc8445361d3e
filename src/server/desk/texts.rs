//! Documents that are opened, changed and closed.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::Desk;
use super::document::Document;
use super::open_book::OpenBook;
use crate::book::SourceFile;
use crate::disk;
use crate::server::judged::JudgedBook;
use crate::server::protocol::{MessageType, TextDocumentContentChangeEvent, Url};
use crate::server::snapshot::{BookKey, path_of};
use crate::server::voice::Say;

impl Desk {
    pub(super) fn open(&mut self, url: Url, version: i32, text: String) {
        if self.paths.contains_key(&url) {
            // Opened twice: the later text holds.
            self.forget_document(&url);
        }
        let path = self.untitled(&url).unwrap_or_else(|| path_of(&url));
        let key = key_of(&path, &url);
        self.open_book(&key);
        self.paths.insert(url.clone(), path.clone());
        let document = Document::new(url, path.clone(), key, version, text);
        if let Some(other) = self.documents.insert(path.clone(), document) {
            self.other_spellings.insert(other.url.clone(), other);
        }
        self.text_changed(path);
    }

    /// Where a text that is not saved yet would lie: in the book that its address names, else in the one that is open.
    fn untitled(&self, url: &Url) -> Option<PathBuf> {
        if url.scheme() != "untitled" {
            return None;
        }
        let named = Url::parse(&format!("file://{}", url.path())).ok().and_then(|named| named.to_file_path().ok());
        let named = named.filter(|path| disk::is_rotor(path) && disk::book_above(path).is_some());
        if let Some(path) = named {
            return Url::from_file_path(path).ok().map(|url| path_of(&url));
        }
        let mut books = self.books.keys().filter(|key| matches!(key, BookKey::Folder(_)));
        let only = books.next().filter(|_| books.next().is_none())?;
        Some(only.root().join(format!("{}.rotor", url.path().replace('/', "-"))))
    }

    pub(super) fn change(&mut self, url: &Url, version: i32, changes: Vec<TextDocumentContentChangeEvent>) {
        let Some(path) = self.paths.get(url).cloned() else { return };
        let top = self.documents.get_mut(&path).filter(|document| document.url == *url);
        let Some(document) = top.or(self.other_spellings.get_mut(url)) else { return };
        let ordered = document.change(version, changes, self.client.encoding).is_ok();
        let written = document.written();
        if !ordered && self.disordered.insert(url.clone()) {
            let message = "changes came in an order that cannot be followed; close this sheet and open it again";
            self.voice.say(Say::Show(MessageType::WARNING, format!("{}: {message}", path.display())));
        }
        self.write_at(&path, written);
        self.text_changed(path);
    }

    fn text_changed(&mut self, path: PathBuf) {
        self.view = None;
        self.unread.insert(path.clone());
        if !self.owed.contains(&path) {
            self.owed.push(path);
        }
    }

    /// What holds from now on is what lies on disk.
    pub(super) fn close(&mut self, url: &Url) {
        let Some(document) = self.forget_document(url) else { return };
        if self.documents.contains_key(&document.path) {
            // It is still open under another spelling of its path.
            return;
        }
        match document.key {
            BookKey::Folder(_) => {
                self.touched(std::slice::from_ref(&document.path));
                self.publish_closed(&document);
            }
            key => self.close_single(key),
        }
        self.drop_unused_books();
    }

    /// What was said of an open document is said without its version from now on.
    fn publish_closed(&mut self, document: &Document) {
        let Some(open) = self.books.get(&document.key) else { return };
        let file = open.book().file_at(&document.key.relative(&document.path));
        if let Some(file) = file.filter(|file| open.is_whole() && !open.judged.is_stale(*file)) {
            self.publish(&document.key, file, false);
        }
    }

    fn forget_document(&mut self, url: &Url) -> Option<Document> {
        let path = self.paths.remove(url)?;
        self.view = None;
        self.disordered.remove(url);
        if let Some(other) = self.other_spellings.remove(url) {
            return Some(other);
        }
        self.unread.remove(&path);
        self.owed.retain(|owed| *owed != path);
        let closed = self.documents.remove(&path);
        let other = self.other_spellings.iter().find(|(_, other)| other.path == path).map(|(url, _)| url.clone());
        if let Some(other) = other.and_then(|url| self.other_spellings.remove(&url)) {
            self.documents.insert(path.clone(), other);
            self.text_changed(path);
        }
        closed
    }

    /// A book of one file stays when the file lies in an open folder.
    fn close_single(&mut self, key: BookKey) {
        self.drop_book(&key);
        if let BookKey::File(path) = key
            && path.is_file()
            && self.is_in_a_folder(&path)
        {
            let file = disk::source(&path, path.parent().unwrap_or(&path));
            self.loose(path, file);
        }
    }

    /// Opens the book unless it is open.
    pub(super) fn open_book(&mut self, key: &BookKey) {
        if self.books.contains_key(key) {
            return;
        }
        self.view = None;
        match key {
            BookKey::Folder(root) => {
                self.books.insert(key.clone(), OpenBook::default());
                self.loader.book(root.clone());
            }
            _ => _ = self.books.insert(key.clone(), OpenBook::single()),
        }
    }

    /// A file that belongs to no book, as it lies on disk.
    pub(super) fn loose(&mut self, path: PathBuf, file: SourceFile) {
        if self.documents.contains_key(&path) {
            return;
        }
        self.view = None;
        let book = OpenBook { judged: JudgedBook::new(vec![Arc::new(file)]), ..OpenBook::single() };
        self.books.insert(BookKey::File(path), book);
    }

    /// Puts the texts that have changed into their books.
    pub(super) fn read_changes(&mut self) {
        for path in std::mem::take(&mut self.unread) {
            self.read_text(&path);
        }
    }

    fn read_text(&mut self, path: &Path) {
        let Some(document) = self.documents.get_mut(path) else { return };
        let Some(open) = self.books.get_mut(&document.key) else { return };
        let (text, _) = document.shared();
        let relative = document.key.relative(path);
        let before = open.book().file_at(&relative).map(|id| open.book().file(id));
        let file = match before {
            Some(before) if before.problem.is_none() && before.text == text => return,
            Some(before) if before.problem.is_none() => before.changed(text),
            _ => SourceFile::read(relative, text),
        };
        self.view = None;
        open.judged.update(vec![(file.path.clone(), Some(Arc::new(file)))]);
    }
}

/// The book that a document belongs to.
pub(super) fn key_of(path: &Path, url: &Url) -> BookKey {
    if url.scheme() != "file" && !path.is_absolute() {
        return BookKey::Unsaved(url.clone());
    }
    let book = disk::is_rotor(path).then(|| disk::book_above(path)).flatten();
    match book {
        Some(root) => BookKey::Folder(root),
        None => BookKey::File(path.to_owned()),
    }
}
