//! The hook that looks at what is staged before it becomes a commit.

use super::{Done, write_whole};
use crate::cli::Failure;
use crate::git::Repository;

/// Looks at each book of the repository, as it would be committed, and tells what the commit can have affected: what was
/// wrong before is only counted. Says nothing when no sheet is staged.
const HOOK: &str = r#"#!/bin/sh
# Rotorbook: checks the sheets that are about to be committed, as they are staged.
# `git commit --no-verify` goes without it.
git diff --cached --quiet -- '*.rotor' && exit 0
if ! command -v rotorbook >/dev/null 2>&1; then
  echo "rotorbook is not on the path: the staged sheets are not checked" >&2
  exit 1
fi
# Before the first commit there is nothing to compare with.
since=$(git rev-parse --quiet --verify HEAD)
# Names end with a zero byte, so that none of them is read as two, and begin with `./`, so that none is an option.
git ls-files -z -- book.rotor '*/book.rotor' | since="$since" xargs -0 sh -c '
  status=0
  for book do
    folder=./${book%book.rotor}
    [ -d "$folder" ] || continue
    rotorbook check --staged --brief ${since:+--since "$since"} --book "$folder" </dev/null || status=1
    rotorbook fmt --check --staged --book "$folder" </dev/null || status=1
  done
  exit $status
' sh
"#;

pub(super) fn write(repository: &Repository, overwrite: bool) -> Result<Done, Failure> {
    let path = repository.hooks()?.join("pre-commit");
    let otherwise =
        "add `rotorbook check --staged` and `rotorbook fmt --check --staged` to it, or let --overwrite replace it";
    write_whole(&path, HOOK, true, overwrite, otherwise)
}
