//! Which files belong to which book.

use std::ffi::OsStr;
use std::io;
use std::path::{Path, PathBuf};

use walkdir::WalkDir;

/// Marks the root of a book.
pub const BOOK: &str = "book.rotor";

/// What lies below a folder: hidden folders are skipped, links not followed.
#[derive(Default, Debug)]
pub struct Below {
    pub files: Vec<PathBuf>,
    pub unreadable: Vec<(PathBuf, io::Error)>,
}

/// The `.rotor` files below `folder`; of the folders below it, those that `enter` takes.
pub fn walk(folder: &Path, enter: impl Fn(&Path) -> bool) -> Below {
    let mut below = Below::default();
    let entries = WalkDir::new(folder).sort_by_file_name().into_iter().filter_entry(|entry| {
        let folder_below = entry.depth() > 0 && entry.file_type().is_dir();
        !folder_below || (!is_hidden(entry.file_name()) && enter(entry.path()))
    });
    for entry in entries {
        match entry {
            Ok(entry) if entry.file_type().is_file() && is_rotor(entry.path()) => below.files.push(entry.into_path()),
            Ok(_) => {}
            Err(error) => {
                let path = error.path().unwrap_or(folder).to_owned();
                below.unreadable.push((path, error.into()));
            }
        }
    }
    below
}

/// The `.rotor` files of the book in `root`; a folder with its own `book.rotor` ends it.
pub fn walk_book(root: &Path) -> Below {
    walk(root, |folder| !holds_book(folder))
}

/// The folder of the book that holds `path`, or that `path` is; none when a hidden folder lies between.
pub fn book_above(path: &Path) -> Option<PathBuf> {
    for ancestor in path.ancestors() {
        if holds_book(ancestor) {
            return Some(ancestor.to_owned());
        }
        let hidden_folder = ancestor.file_name().is_some_and(is_hidden) && !(ancestor == path && is_rotor(path));
        if hidden_folder {
            return None;
        }
    }
    None
}

fn holds_book(folder: &Path) -> bool {
    folder.join(BOOK).symlink_metadata().is_ok_and(|found| found.is_file())
}

pub fn is_book(file: &Path) -> bool {
    file.file_name().is_some_and(|name| name == BOOK)
}

pub fn is_rotor(file: &Path) -> bool {
    file.extension().is_some_and(|extension| extension == "rotor")
}

fn is_hidden(name: &OsStr) -> bool {
    name.as_encoded_bytes().starts_with(b".")
}
