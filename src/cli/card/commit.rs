//! The commit that a book is at, and whether the files of a card are as committed.

use std::path::{Path, PathBuf};

use crate::git::Repository;

/// For the foot of a card: the commit, and whether these files are as in it.
pub(super) fn state_of(root: &Path, files: &[PathBuf]) -> (String, bool) {
    let found = Repository::around(root).and_then(|repository| Ok((repository.commit("HEAD")?, repository)));
    let Ok((commit, repository)) = found else {
        return ("uncommitted files".to_owned(), false);
    };
    let commit = repository.short(&commit);
    // What a sparse checkout leaves out is as the index has it.
    let on_disk: Vec<PathBuf> = files.iter().filter(|file| file.exists()).cloned().collect();
    match repository.are_committed(&on_disk) {
        Ok(true) => (format!("commit {commit}"), true),
        Ok(false) => (format!("commit {commit} WITH CHANGES that are not committed"), false),
        Err(_) => (format!("commit {commit}; whether the files are as committed is not known"), false),
    }
}
