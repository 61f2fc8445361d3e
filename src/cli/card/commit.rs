//! The commit that a book stands at, and whether its files are as committed.

use std::path::Path;

use crate::git::Repository;

/// For the foot of a card.
pub(super) fn state_of(root: &Path) -> String {
    let found = Repository::around(root).and_then(|repository| Ok((repository.commit("HEAD")?, repository)));
    let Ok((commit, repository)) = found else {
        return "files that are in no commit".to_owned();
    };
    let commit = repository.short(&commit);
    match repository.has_changes(root) {
        Ok(false) => format!("commit {commit}, files as committed"),
        Ok(true) => format!("commit {commit} WITH CHANGES that are not committed"),
        Err(_) => format!("commit {commit}; whether the files are as committed is not known"),
    }
}
