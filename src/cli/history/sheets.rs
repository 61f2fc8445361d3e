//! The sheets of commits, each read and parsed once.

use std::path::Path;
use std::sync::Arc;

use rustc_hash::FxHashMap;

use crate::book::{Book, SourceFile};
use crate::cli::Failure;
use crate::disk;
use crate::git::{Blobs, FileChange, Repository};

/// Reads objects through one process and keeps what it has parsed.
pub(super) struct Sheets {
    blobs: Blobs,
    read: FxHashMap<(String, String), Arc<SourceFile>>,
}

impl Sheets {
    pub fn of(repository: &Repository) -> Result<Self, Failure> {
        Ok(Self { blobs: Blobs::of(repository)?, read: FxHashMap::default() })
    }

    /// The sheet that an object holds, under the path it has in its commit.
    pub fn sheet(&mut self, path: &str, object: &str) -> Arc<SourceFile> {
        let key = (path.to_owned(), object.to_owned());
        let blobs = &mut self.blobs;
        let read = self.read.entry(key).or_insert_with(|| {
            Arc::new(match blobs.read(object) {
                Ok(bytes) => SourceFile::from_bytes(path, bytes),
                Err(why) => SourceFile::unreadable(path, why),
            })
        });
        read.clone()
    }

    /// Whether the bytes of an object hold a text, without parsing them.
    pub fn holds(&mut self, object: &str, text: &str) -> bool {
        self.blobs.read(object).is_ok_and(|bytes| String::from_utf8_lossy(&bytes).contains(text))
    }

    /// The old sides of changed files as a book.
    pub fn before(&mut self, changes: &[FileChange]) -> Book {
        let old = |change: &FileChange| change.old.as_ref().map(|object| (change.path.clone(), object.clone()));
        self.book(changes.iter().filter_map(old))
    }

    /// Their new sides; what is not in git yet is read from the work tree.
    pub fn after(&mut self, changes: &[FileChange], work_tree: Option<&Path>) -> Book {
        if let Some(top) = work_tree {
            let there = changes.iter().filter(|change| change.new.is_some());
            let files = there.map(|change| Arc::new(disk::source(&top.join(&change.path), top)));
            return Book::new(files.collect());
        }
        let new = |change: &FileChange| change.new.as_ref().map(|object| (change.path.clone(), object.clone()));
        self.book(changes.iter().filter_map(new))
    }

    fn book(&mut self, files: impl Iterator<Item = (String, String)>) -> Book {
        Book::new(files.map(|(path, object)| self.sheet(&path, &object)).collect())
    }
}
