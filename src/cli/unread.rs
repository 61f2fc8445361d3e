//! Files of a version of a book that have not been read yet.

use std::path::PathBuf;
use std::sync::Arc;

use rustc_hash::FxHashMap;

use crate::book::SourceFile;
use crate::disk;

/// The bytes of objects by name, or why there are none.
pub(super) type Objects = FxHashMap<String, Result<Vec<u8>, String>>;

/// A file that has not been read.
pub(super) struct Unread {
    /// In the book, with `/`.
    pub path: String,
    pub at: At,
}

pub(super) enum At {
    Disk(PathBuf),
    Object(String),
    Nowhere(String),
}

impl Unread {
    pub fn is_same(&self, other: &Self) -> bool {
        matches!((&self.at, &other.at), (At::Object(a), At::Object(b)) if a == b)
    }

    pub fn bytes(&self, objects: &Objects) -> Result<Vec<u8>, String> {
        match &self.at {
            At::Disk(path) => disk::bytes(path),
            At::Object(object) => {
                objects.get(object).cloned().unwrap_or_else(|| Err("git does not have it here".to_owned()))
            }
            At::Nowhere(why) => Err(why.clone()),
        }
    }

    pub fn read(&self, objects: &Objects) -> SourceFile {
        source(&self.path, self.bytes(objects))
    }

    /// The other version itself when nothing in it differs.
    pub fn read_beside(&self, objects: &Objects, other: &Arc<SourceFile>) -> Arc<SourceFile> {
        let bytes = self.bytes(objects);
        match &bytes {
            Ok(bytes) if other.problem.is_none() && bytes == other.text.as_bytes() => other.clone(),
            _ => Arc::new(source(&self.path, bytes)),
        }
    }
}

fn source(path: &str, bytes: Result<Vec<u8>, String>) -> SourceFile {
    match bytes {
        Ok(bytes) => SourceFile::from_bytes(path, bytes),
        Err(why) => SourceFile::unreadable(path, why),
    }
}
