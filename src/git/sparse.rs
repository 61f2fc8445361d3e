//! Sheets that a sparse checkout leaves out of the work tree: they are in the book all the same, as the index has them.

use std::path::Path;

use super::{Blobs, Repository, is_sparse};

/// A sheet that is not on disk.
pub struct LeftOut {
    /// In the book, with `/`.
    pub path: String,
    /// The object that holds it.
    pub object: String,
}

/// The sheets of a book that are in the index and not on disk; none where the whole work tree is checked out.
pub fn left_out(root: &Path) -> Vec<LeftOut> {
    if !is_sparse(root) {
        return Vec::new();
    }
    Repository::around(root).map(|repository| of(&repository, root)).unwrap_or_default()
}

fn of(repository: &Repository, root: &Path) -> Vec<LeftOut> {
    let Some((prefix, listing)) = repository.prefix(root).zip(repository.left_out_files().ok()) else {
        return Vec::new();
    };
    let files = listing.book(&prefix).into_iter().filter(|(path, _)| !root.join(path).exists());
    files.map(|(path, file)| LeftOut { path: path.to_owned(), object: file.object.to_string() }).collect()
}

/// The same, with their bytes.
pub fn read_left_out(root: &Path) -> Vec<(String, Result<Vec<u8>, String>)> {
    let files = left_out(root);
    if files.is_empty() {
        return Vec::new();
    }
    let Ok(blobs) = Repository::around(root).and_then(|repository| Blobs::of(&repository)) else { return Vec::new() };
    let objects: Vec<&str> = files.iter().map(|file| &*file.object).collect();
    let bytes = blobs.read_all(&objects);
    files.into_iter().map(|file| file.path).zip(bytes).collect()
}
