//! Which files belong to which book.

use std::collections::BTreeMap;
use std::ffi::OsStr;
use std::io;
use std::path::{Path, PathBuf};

use walkdir::WalkDir;

use super::read::no_file;
pub use crate::book::ROOT_FILE as BOOK;

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
            Ok(entry) if is_rotor(entry.path()) && !entry.file_type().is_dir() && !entry.path_is_symlink() => {
                below.unreadable.push((entry.into_path(), no_file()));
            }
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

/// Some files of a folder: those of a book, with its root, or one that belongs to none.
#[derive(PartialEq, Eq, Debug)]
pub enum Found {
    Book { root: PathBuf, files: Vec<PathBuf> },
    Loose(PathBuf),
}

/// What lies below a folder, sorted by books. The book that the folder itself lies in is there with all its files.
pub fn books_below(folder: &Path) -> Vec<Found> {
    let above = book_above(folder);
    let files = walk(folder, |_| true).files;
    let mut books: BTreeMap<PathBuf, Vec<PathBuf>> = BTreeMap::new();
    let roots: Vec<PathBuf> =
        files.iter().filter(|file| is_book(file)).filter_map(|file| Some(file.parent()?.to_owned())).collect();
    books.extend(roots.into_iter().map(|root| (root, Vec::new())));
    let mut found = Vec::new();
    for file in files {
        let own = file.ancestors().skip(1).find(|ancestor| books.contains_key(*ancestor)).map(Path::to_owned);
        match own {
            Some(root) => books.entry(root).or_default().push(file),
            None if above.is_none() => found.push(Found::Loose(file)),
            None => {}
        }
    }
    // Part of that book lies outside the folder.
    if let Some(root) = above.filter(|root| root != folder) {
        let files = walk_book(&root).files;
        books.insert(root, files);
    }
    found.extend(books.into_iter().map(|(root, files)| Found::Book { root, files }));
    found
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

/// Whether a walk of `folder` comes to `path`: no folder between them is hidden.
pub fn is_reached(folder: &Path, path: &Path) -> bool {
    let between = path.strip_prefix(folder).ok().map(|rest| rest.parent().unwrap_or(rest));
    between.is_some_and(|between| !between.iter().any(is_hidden))
}

fn is_hidden(name: &OsStr) -> bool {
    name.as_encoded_bytes().starts_with(b".")
}

#[cfg(test)]
mod tests {
    use std::fs;

    use super::*;

    #[test]
    fn files_are_sorted_by_the_books_they_belong_to() {
        let folder = tempfile::tempdir().unwrap();
        let root = folder.path().canonicalize().unwrap();
        let paths =
            ["loose.rotor", "a/book.rotor", "a/x/y.rotor", "a/b/book.rotor", "a/b/z.rotor", "c/.hidden/h.rotor"];
        for path in paths {
            let path = root.join(path);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, "").unwrap();
        }
        let at = |paths: &[&str]| paths.iter().map(|path| root.join(path)).collect::<Vec<_>>();
        let a = Found::Book { root: root.join("a"), files: at(&["a/book.rotor", "a/x/y.rotor"]) };
        let b = Found::Book { root: root.join("a/b"), files: at(&["a/b/book.rotor", "a/b/z.rotor"]) };
        let loose = Found::Loose(root.join("loose.rotor"));
        assert_eq!(books_below(&root), [loose, a, b]);
        let a = Found::Book { root: root.join("a"), files: at(&["a/book.rotor", "a/x/y.rotor"]) };
        assert_eq!(books_below(&root.join("a/x")), [a]);
        assert!(is_reached(&root, &root.join("a/x/y.rotor")) && !is_reached(&root, &root.join("c/.hidden/h.rotor")));
        assert!(!is_reached(&root.join("a"), &root.join("loose.rotor")));
        assert_eq!(books_below(&root.join("c/.hidden")), [Found::Loose(root.join("c/.hidden/h.rotor"))]);
    }
}
