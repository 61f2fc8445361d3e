//! The workflow that looks at each merge request and at the main branch.

use clap::ValueEnum;

use super::{Done, write_whole};
use crate::cli::Failure;
use crate::git::Repository;

/// Where merge requests are made.
#[derive(Clone, Copy, PartialEq, Eq, Debug, ValueEnum)]
pub(super) enum Forge {
    Github,
    Gitlab,
    Forgejo,
    /// No workflow
    None,
}

/// Puts the program on the path of a job, from where the shop keeps it. `@PROGRAM@` is a wheel, or an archive or program
/// at an address.
const INSTALL: &str = r#"if [ -z "$ROTORBOOK" ]; then
  echo "Name the wheel or the address of rotorbook as ROTORBOOK in this file." >&2
  exit 1
fi
mkdir -p "$HOME/.local/bin"
case "$ROTORBOOK" in
  *.whl) pip install --user "$ROTORBOOK" ;;
  *.tar.gz) curl -fsSL "$ROTORBOOK" | tar -xz -C "$HOME/.local/bin" --strip-components=1 ;;
  *) curl -fsSL -o "$HOME/.local/bin/rotorbook" "$ROTORBOOK" && chmod +x "$HOME/.local/bin/rotorbook" ;;
esac"#;

/// What a request changes, of every book in the repository, with its pictures where they are kept.
const CHANGES: &str = r#"mkdir -p pictures
git ls-files -z -- book.rotor '*/book.rotor' | xargs -0 sh -c '
  n=0
  for book do
    n=$((n + 1))
    rotorbook diff --book "./${book%book.rotor}" --format markdown \
      --pictures "pictures/$n.html" --pictures-at "$PICTURES$n.html" "$BASE...HEAD" || exit 1
  done' sh"#;

/// What a change brings that a check of the sheets alone cannot see, such as a proof that was rewritten, in every book.
/// What was pushed by force, or begins here, has nothing before it.
const SINCE: &str = r#"since=$(git merge-base "$BASE" HEAD 2>/dev/null) || exit 0
export since
git ls-files -z -- book.rotor '*/book.rotor' | xargs -0 sh -c '
  wrong=0
  for book do
    rotorbook check --book "./${book%book.rotor}" --since "$since" || wrong=1
  done
  exit "$wrong"' sh"#;

/// In the words of GitHub's workflows, which Forgejo reads too. Reading is all that it may do.
const WORKFLOW: &str = r#"# Checks the setup sheets of every book here, and says in the summary what a request changes.
name: setup sheets
on:
  push:
    branches: [main, master]
  pull_request:
permissions:
  contents: read@SCANNING@
jobs:
  sheets:
    runs-on: @RUNNER@
    env:
      # The wheel of rotorbook, or the address of its program or archive.
      ROTORBOOK: "@PROGRAM@"
    steps:
      - uses: @CHECKOUT@
        with:
          # Both sides of the comparison, and what they have in common.
          fetch-depth: 0
          persist-credentials: false
      - name: rotorbook
        run: |
@INSTALL@
          echo "$HOME/.local/bin" >> "$GITHUB_PATH"
      - name: what changes
        if: github.event_name == 'pull_request'
        env:
          BASE: ${{ github.event.pull_request.base.sha }}
          PICTURES: ${{ github.server_url }}/${{ github.repository }}/actions/runs/${{ github.run_id }}#
        run: |
          {
@CHANGES@
          } > changes.md
          cat changes.md >> "$GITHUB_STEP_SUMMARY"
@KEEPING@      - name: check
        run: rotorbook check --format github .
      - name: what the change brings
        if: success() || failure()
        env:
          BASE: ${{ github.event.pull_request.base.sha || github.event.before }}
        run: |
@SINCE@
      - name: layout and pins
        if: success() || failure()
        run: rotorbook fmt --check . && rotorbook pin --check .
"#;

/// Keeps the pictures with the run.
const KEEPING: &str = r#"      - name: pictures
        if: github.event_name == 'pull_request'
        uses: actions/upload-artifact@ea165f8d65b6e75b540449e92b4886f43607fa02 # v4.6.2
        with:
          name: pictures
          path: pictures
          if-no-files-found: ignore
"#;

/// Code scanning is not to be had everywhere, so that it has to be asked for.
const SCANNING: &str = r#"      - name: for code scanning
        if: success() || failure()
        run: rotorbook check --format sarif . > sheets.sarif || test -s sheets.sarif
      - uses: github/codeql-action/upload-sarif@v3
        if: success() || failure()
        with:
          sarif_file: sheets.sarif
"#;

const GITLAB: &str = r#"# Checks the setup sheets of every book here, and keeps with each merge request what it changes.
setup sheets:
  image: python:3-slim
  variables:
    # The wheel of rotorbook, or the address of its program or archive.
    ROTORBOOK: "@PROGRAM@"
    GIT_DEPTH: "0"
  rules:
    - if: $CI_PIPELINE_SOURCE == "merge_request_event"
    - if: $CI_COMMIT_BRANCH == $CI_DEFAULT_BRANCH
  before_script:
    - apt-get update -qq && apt-get install -qq -y git curl >/dev/null
    - |
@INSTALL@
      export PATH="$HOME/.local/bin:$PATH"
  script:
    - |
      if [ -n "$CI_MERGE_REQUEST_DIFF_BASE_SHA" ]; then
        export BASE="$CI_MERGE_REQUEST_DIFF_BASE_SHA" PICTURES="$CI_JOB_URL/artifacts/file/pictures/"
        {
@CHANGES@
        } > changes.md
        cat changes.md
      fi
    - rotorbook check .
    - |
      export BASE="${CI_MERGE_REQUEST_DIFF_BASE_SHA:-$CI_COMMIT_BEFORE_SHA}"
      (
@SINCE@
      )
    - rotorbook fmt --check .
    - rotorbook pin --check .
  artifacts:
    when: always
    paths: [changes.md, pictures]
"#;

/// actions/checkout v4.3.1, by its commit: a tag can be moved.
const CHECKOUT: &str = "actions/checkout@34e114876b0b11c390a56381ad16ebd13914f8d5 # v4.3.1";

pub(super) fn write(
    repository: &Repository,
    forge: Forge,
    program: Option<&str>,
    sarif: bool,
    overwrite: bool,
) -> Result<Option<Done>, Failure> {
    let Some(top) = repository.work_tree() else { return Err(Failure::new("there is no work tree")) };
    let (path, text) = match forge {
        Forge::Github => {
            (".github/workflows/setup-sheets.yml", github(CHECKOUT.to_owned(), "ubuntu-latest", KEEPING, sarif))
        }
        Forge::Forgejo => {
            let checkout = format!("https://code.forgejo.org/{CHECKOUT}");
            // Which action keeps files there differs from forge to forge.
            (".forgejo/workflows/setup-sheets.yml", github(checkout, "docker", "", false))
        }
        Forge::Gitlab => (".gitlab-ci.yml", of(GITLAB, 6, 10, 8)),
        Forge::None => return Ok(None),
    };
    // As YAML has it between double quotes.
    let program = program.unwrap_or_default().replace('\\', "\\\\").replace('"', "\\\"");
    let text = text.replace("@PROGRAM@", &program);
    let otherwise = "--overwrite replaces it, `--ci none` leaves it out";
    write_whole(&top.join(path), &text, false, overwrite, otherwise).map(Some)
}

fn github(checkout: String, runner: &str, keeping: &str, sarif: bool) -> String {
    let scanning = if sarif { "\n  security-events: write" } else { "" };
    let text = of(WORKFLOW, 10, 12, 10)
        .replace("@CHECKOUT@", &checkout)
        .replace("@RUNNER@", runner)
        .replace("@KEEPING@", keeping);
    let text = text.replace("@SCANNING@", scanning);
    if sarif { text + SCANNING } else { text }
}

/// With the pieces that all forges share, indented as far as they stand there.
fn of(text: &str, install: usize, changes: usize, since: usize) -> String {
    let indented = |text: &str, by: usize| {
        let line = |line: &str| if line.is_empty() { String::new() } else { format!("{}{line}", " ".repeat(by)) };
        text.lines().map(line).collect::<Vec<_>>().join("\n")
    };
    text.replace("@INSTALL@", &indented(INSTALL, install))
        .replace("@CHANGES@", &indented(CHANGES, changes))
        .replace("@SINCE@", &indented(SINCE, since))
}
