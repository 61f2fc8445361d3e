//! The commit that a book stands at, and whether its files are as committed; asked of the git command.

use std::path::Path;
use std::process::Command;

/// For the foot of a card.
pub(super) fn state_of(root: &Path) -> String {
    let Some(commit) = git(root, &["rev-parse", "--short=10", "HEAD"]) else {
        return "files that are in no commit".to_owned();
    };
    match git(root, &["--no-optional-locks", "status", "--porcelain", "--", "."]) {
        Some(changed) if changed.is_empty() => format!("commit {commit}, files as committed"),
        Some(_) => format!("commit {commit} WITH CHANGES that are not committed"),
        None => format!("commit {commit}; whether the files are as committed is not known"),
    }
}

/// What git answers; `None` without git, outside a repository, or before the first commit.
fn git(root: &Path, arguments: &[&str]) -> Option<String> {
    let output = Command::new("git").arg("-C").arg(root).args(arguments).output().ok()?;
    output.status.success().then(|| String::from_utf8_lossy(&output.stdout).trim().to_owned())
}
