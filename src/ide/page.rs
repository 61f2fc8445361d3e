//! The page of a diagnostic: what it flags, why it matters at the bench, how to put it right.

use crate::book::FileId;
use crate::check::{self, Diagnostic};

/// The page of a code as Markdown; `None` when there is no such code.
pub fn page(code: &str) -> Option<String> {
    let rule = check::rule(code)?;
    let (title, body) = rule.page.split_once('\n')?;
    let (severity, since) = (rule.severity.word(), rule.since);
    Some(format!("{title}\n\n`{code}`, {severity}, since version {since}\n\n{}\n", body.trim()))
}

/// The gravest that is said at an offset of a file.
pub fn said_at(diagnostics: &[Diagnostic], file: FileId, offset: u32) -> Option<&Diagnostic> {
    let here = |said: &&Diagnostic| {
        said.place.file == file && said.place.span.start <= offset && offset <= said.place.span.end
    };
    diagnostics.iter().filter(here).min_by_key(|said| said.severity)
}
