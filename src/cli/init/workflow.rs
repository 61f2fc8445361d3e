//! The workflow that looks at each merge request.

use super::{Done, write_whole};
use crate::cli::Failure;
use crate::git::Repository;

/// In the words of GitHub's workflows (from memory). `@BOOK@` is the folder of the book.
const WORKFLOW: &str = r#"# Checks the setup sheets of each pull request, and says in a comment what it changes.
name: setup sheets
on:
  pull_request:
    paths: ["**.rotor"]
permissions:
  contents: read
  pull-requests: write
  security-events: write
jobs:
  sheets:
    runs-on: ubuntu-latest
    env:
      BOOK: "@BOOK@"
      BASE: ${{ github.event.pull_request.base.sha }}
      GH_TOKEN: ${{ github.token }}
    steps:
      - uses: actions/checkout@v4
        with:
          # Both sides of the comparison, and what they have in common.
          fetch-depth: 0
      # Put `rotorbook` on the path here: from your own build, or `cargo install --path` of a checkout.
      - run: rotorbook --version
      - name: what changes
        run: |
          rotorbook diff --book "$BOOK" --format markdown "$BASE...HEAD" > changes.md
          cat changes.md >> "$GITHUB_STEP_SUMMARY"
      - name: say so
        # A request from a fork may not comment; the summary has it all the same.
        continue-on-error: true
        # One comment, which each push brings up to date.
        run: |
          gh pr comment "${{ github.event.pull_request.number }}" --edit-last --body-file changes.md ||
          gh pr comment "${{ github.event.pull_request.number }}" --body-file changes.md
      - name: check
        run: rotorbook check --book "$BOOK" --format sarif > sheets.sarif
      - uses: github/codeql-action/upload-sarif@v3
        if: always()
        with:
          sarif_file: sheets.sarif
      - name: layout and pins
        if: always()
        run: rotorbook fmt --check --book "$BOOK" && rotorbook pin --check --book "$BOOK"
"#;

pub(super) fn write(repository: &Repository, prefix: &str, overwrite: bool) -> Result<Done, Failure> {
    let Some(top) = repository.work_tree() else { return Err(Failure::new("there is no work tree")) };
    let path = top.join(".github").join("workflows").join("setup-sheets.yml");
    let book = if prefix.is_empty() { "." } else { prefix };
    // As YAML has it between double quotes.
    let book = book.replace('\\', "\\\\").replace('"', "\\\"");
    let text = WORKFLOW.replace("@BOOK@", &book);
    write_whole(&path, &text, false, overwrite, "--overwrite replaces it, --no-ci leaves it out")
}
