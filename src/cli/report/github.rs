//! `check --format github`: annotations of a GitHub workflow, one line each.

use std::fmt::Write;

use super::Checked;
use super::places::Places;
use crate::check::{Diagnostic, Severity};
use crate::cli::load::Loaded;
use crate::cli::terminal::{Terminal, harmless};

pub(in crate::cli) fn write(terminal: &mut Terminal, checked: &[Checked], all: bool) {
    for checked in checked {
        let places = Places::new(&checked.loaded.book);
        let told = checked.for_programs(all);
        for diagnostic in told.shown {
            terminal.line(&annotation(&checked.loaded, &places, diagnostic));
        }
        for more in told.more {
            let file = property(&checked.loaded.shown(more.file));
            terminal.line(&format!("::notice file={file},title={}::{}", more.rule.code, data(&checked.more(&more))));
        }
    }
}

fn annotation(loaded: &Loaded, places: &Places<'_>, diagnostic: &Diagnostic) -> String {
    let command = match diagnostic.severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
        Severity::Note => "notice",
    };
    let span = places.extent(diagnostic.place);
    let file = property(&loaded.shown(diagnostic.place.file));
    let mut line = format!("::{command} file={file},line={},col={}", span.start.line, span.start.column);
    // Columns mean nothing to an annotation of several lines.
    if span.end.line == span.start.line {
        let _ = write!(line, ",endLine={},endColumn={}", span.end.line, span.end.column);
    }
    let help = diagnostic.help.as_deref().map(|help| format!("\n{help}")).unwrap_or_default();
    let message = data(&format!("{}{help}", diagnostic.message));
    let _ = write!(line, ",title={}::{message}", property(diagnostic.rule.code));
    line
}

/// The message of a workflow command.
fn data(text: &str) -> String {
    harmless(&text.replace("\r\n", "\n")).replace('%', "%25").replace('\n', "%0A")
}

/// The value of a property of a workflow command.
fn property(text: &str) -> String {
    data(text).replace(':', "%3A").replace(',', "%2C")
}

#[cfg(test)]
mod tests {
    use super::*;

    // Escapes as in the toolkit of GitHub's workflow commands, from memory.
    #[test]
    fn what_would_end_a_command_is_escaped() {
        assert_eq!(data("5 %\r\nof 3 g: a, b"), "5 %25%0Aof 3 g: a, b");
        assert_eq!(property("a,b:c%.rotor"), "a%2Cb%3Ac%25.rotor");
    }
}
