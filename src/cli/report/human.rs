//! `check` for people: each finding with the lines it is about.

use std::cell::OnceCell;
use std::fmt;
use std::io::IsTerminal;

use miette::{Diagnostic as Report, LabeledSpan, MietteHandler, MietteHandlerOpts, ReportHandler, SourceCode};

use super::Checked;
use super::excerpt::Excerpt;
use crate::book::FileId;
use crate::check::{self, Diagnostic, Related, Severity};
use crate::cli::terminal::{Terminal, harmless};
use crate::limits::FINDINGS_FOR_PEOPLE;

/// Where no terminal says how wide it is.
const WIDTH: usize = 100;

/// Unless all are asked for, those beyond the first few of one code in one file are only counted.
pub(in crate::cli) fn write(terminal: &mut Terminal, checked: &[Checked], all: bool) {
    let handler = handler(terminal.paint.0);
    for checked in checked {
        let excerpts = Excerpts::new(checked);
        let told = check::told(&checked.diagnostics, if all { usize::MAX } else { FINDINGS_FOR_PEOPLE });
        for diagnostic in told.shown {
            let finding = Finding::new(&excerpts, diagnostic);
            terminal.print(&Rendered(&handler, &finding).to_string());
            terminal.print("\n");
        }
        for more in told.more {
            let how = if all { "" } else { ", shown by --all" };
            terminal.print(&format!("{}{how}\n\n", checked.more(&more)));
        }
    }
}

fn handler(color: bool) -> MietteHandler {
    let options = MietteHandlerOpts::new()
        .color(color)
        .unicode(true)
        .force_graphical(true)
        .terminal_links(false)
        .context_lines(1)
        .break_words(false)
        .show_related_errors_as_nested();
    if std::io::stdout().is_terminal() { options.build() } else { options.width(WIDTH).build() }
}

struct Rendered<'a>(&'a MietteHandler, &'a Finding<'a>);

impl fmt::Display for Rendered<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.debug(self.1, f)
    }
}

/// The files of a book as reports show them, each made when it is first shown.
struct Excerpts<'c> {
    checked: &'c Checked,
    files: Vec<OnceCell<Excerpt>>,
}

impl<'c> Excerpts<'c> {
    fn new(checked: &'c Checked) -> Self {
        Self { checked, files: checked.loaded.book.files().map(|_| OnceCell::new()).collect() }
    }

    fn of(&self, file: FileId) -> &Excerpt {
        self.files[file.0 as usize].get_or_init(|| {
            let loaded = &self.checked.loaded;
            Excerpt::new(harmless(&loaded.shown(file)), &loaded.book.file(file).text)
        })
    }
}

/// A diagnostic as miette wants it. Its own place is shown first: other places in the same file become labels, those far
/// above it and those in other files reports below.
struct Finding<'a> {
    code: String,
    severity: Severity,
    message: String,
    help: Option<String>,
    source: &'a Excerpt,
    labels: Vec<LabeledSpan>,
    elsewhere: Vec<Finding<'a>>,
}

impl<'a> Finding<'a> {
    fn new(excerpts: &'a Excerpts<'_>, diagnostic: &Diagnostic) -> Self {
        let file = diagnostic.place.file;
        let source = excerpts.of(file);
        let mut labels = vec![LabeledSpan::new_primary_with_span(None, source.label(diagnostic.place.span))];
        let (here, elsewhere): (Vec<&Related>, Vec<&Related>) = diagnostic.related.iter().partition(|related| {
            related.place.file == file && source.begins_with(diagnostic.place.span, related.place.span)
        });
        labels.extend(here.into_iter().map(|related| {
            LabeledSpan::new_with_span(Some(harmless(&related.message)), source.label(related.place.span))
        }));
        Self {
            code: format!("{} {}", diagnostic.severity.word(), diagnostic.rule.code),
            severity: diagnostic.severity,
            message: harmless(&diagnostic.message),
            help: diagnostic.help.as_deref().map(harmless),
            source,
            labels,
            elsewhere: elsewhere.into_iter().map(|related| Self::elsewhere(excerpts, related)).collect(),
        }
    }

    fn elsewhere(excerpts: &'a Excerpts<'_>, related: &Related) -> Self {
        let source = excerpts.of(related.place.file);
        Self {
            code: String::new(),
            severity: Severity::Note,
            message: harmless(&related.message),
            help: None,
            source,
            labels: vec![LabeledSpan::new_primary_with_span(None, source.label(related.place.span))],
            elsewhere: Vec::new(),
        }
    }
}

impl fmt::Debug for Finding<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.code)
    }
}

impl fmt::Display for Finding<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.message)
    }
}

impl std::error::Error for Finding<'_> {}

impl Report for Finding<'_> {
    fn code<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        (!self.code.is_empty()).then(|| Box::new(&self.code) as Box<dyn fmt::Display>)
    }

    fn severity(&self) -> Option<miette::Severity> {
        Some(match self.severity {
            Severity::Error => miette::Severity::Error,
            Severity::Warning => miette::Severity::Warning,
            Severity::Note => miette::Severity::Advice,
        })
    }

    fn help<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        self.help.as_ref().map(|help| Box::new(help) as Box<dyn fmt::Display>)
    }

    fn source_code(&self) -> Option<&dyn SourceCode> {
        Some(self.source)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        Some(Box::new(self.labels.iter().cloned()))
    }

    fn related<'a>(&'a self) -> Option<Box<dyn Iterator<Item = &'a dyn Report> + 'a>> {
        let reports = self.elsewhere.iter().map(|finding| finding as &dyn Report);
        (!self.elsewhere.is_empty()).then(|| Box::new(reports) as _)
    }
}
