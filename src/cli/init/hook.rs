//! The hooks that look at what is staged before it becomes a commit.

use super::{Done, write_whole};
use crate::cli::Failure;
use crate::git::Repository;

/// Looks at each book of the repository, as it would be committed, and refuses what the commit adds: what was wrong before
/// is only counted. Says nothing when no sheet is staged. A commit of some paths alone has an index of its own, which git
/// names to the hook.
const HOOK: &str = r#"#!/bin/sh
# Rotorbook: checks the sheets that are about to be committed, as they are staged, for what the commit adds.
# `git commit --no-verify` goes past it.
git diff --cached --quiet -- '*.rotor' && exit 0
rotorbook=@PROGRAM@
if ! command -v "$rotorbook" >/dev/null 2>&1; then
  echo "rotorbook is not where it was: the staged sheets are not checked. \`rotorbook init --git --overwrite\` finds it again" >&2
  echo "\`git commit --no-verify\` commits without a check" >&2
  exit 1
fi
# Before the first commit there is nothing to compare with.
since=$(git rev-parse --quiet --verify HEAD)
# Names end with a zero byte, so that none of them is read as two, and begin with `./`, so that none is an option.
git ls-files -z -- book.rotor '*/book.rotor' | rotorbook="$rotorbook" since="$since" xargs -0 sh -c '
  status=0
  for book do
    folder=./${book%book.rotor}
    [ -d "$folder" ] || continue
    "$rotorbook" check --staged --brief ${since:+--since "$since"} --book "$folder" </dev/null || status=1
    "$rotorbook" fmt --check --staged --book "$folder" </dev/null || status=1
  done
  exit $status
' sh
status=$?
[ $status -eq 0 ] || echo "the commit is refused; \`git commit --no-verify\` goes past this check" >&2
exit $status
"#;

/// Git asks the first before a commit, and the second before one that it makes of a merge by itself.
const NAMES: [&str; 2] = ["pre-commit", "pre-merge-commit"];

pub(super) fn write(repository: &Repository, overwrite: bool) -> Result<Vec<Done>, Failure> {
    let otherwise =
        "add `rotorbook check --staged` and `rotorbook fmt --check --staged` to it, or let --overwrite replace it";
    let text = HOOK.replace("@PROGRAM@", &program());
    let hooks = repository.hooks()?;
    NAMES.iter().map(|name| write_whole(&hooks.join(name), &text, true, overwrite, otherwise)).collect()
}

/// For a shell: the program on the path, else where it is now. Programs with windows often start git without the path of a
/// terminal.
pub(super) fn program() -> String {
    match std::env::current_exe().ok().and_then(|path| path.to_str().map(str::to_owned)) {
        Some(path) => format!("\"$(command -v rotorbook || echo {})\"", quoted(&path)),
        None => "rotorbook".to_owned(),
    }
}

/// As one word of a shell.
fn quoted(text: &str) -> String {
    format!("'{}'", text.replace('\'', "'\\''"))
}
