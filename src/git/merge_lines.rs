//! What is no sheet is merged as git merges it.

use std::path::Path;

use super::command::{GitError, git, not_started, refused};

/// Merges files as lines: ours, which the result is written into, what both began with, and theirs. Whether nothing
/// conflicts.
pub fn merge_lines([ours, base, theirs]: [&Path; 3], labels: [&str; 2], mark: usize) -> Result<bool, GitError> {
    let mut command = git(Path::new("."), true);
    command.args([
        "merge-file",
        "--marker-size",
        &mark.to_string(),
        "-L",
        labels[0],
        "-L",
        "base",
        "-L",
        labels[1],
        "--",
    ]);
    let output = command.args([ours, base, theirs]).output().map_err(not_started)?;
    match output.status.code() {
        Some(0) => Ok(true),
        // So many conflicts; 255 is an error.
        Some(1..=127) => Ok(false),
        _ => Err(refused(&output.stderr)),
    }
}
