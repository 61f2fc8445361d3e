//! `check`: parses, resolves, computes and judges.

use std::path::PathBuf;

use clap::{Args, ValueEnum};

use super::load::{self, Loaded};
use super::paths::Target;
use super::report::{self, Checked};
use super::stdin::StdinArguments;
use super::{Exit, Failure, Outcome, Session, fix, paths, since, watch};
use crate::check::{self, Severity};

/// Check sheets: their text, their facts, and what is computed from them
///
/// A file or folder of a book is judged with the whole book around it, and only what is said of that file or folder is
/// reported. A folder above books checks each of them, and a file without a book.rotor in a folder above it is a book
/// of its own. Without a path, the book around the current folder is checked, or all that lies below it.
#[derive(Args)]
#[command(
    after_help = "Examples:\n  rotorbook check\n  rotorbook check --deny warnings setups/fan-wheel-315.rotor\n  \
    rotorbook check --fix\n  rotorbook check - --stdin-filename rotors/fan-wheel-315.rotor < draft.rotor\n  \
    rotorbook check --format json | jq '.diagnostics[].code'\n  rotorbook check --since main"
)]
pub(super) struct CheckArguments {
    /// Files and folders; `-` for a sheet on standard input
    #[arg(value_name = "PATH")]
    paths: Vec<PathBuf>,

    #[command(flatten)]
    stdin: StdinArguments,

    /// Put right what has one obvious fix, and report what is left
    #[arg(long, conflicts_with_all = ["since", "staged"])]
    fix: bool,

    /// Check again whenever a sheet has changed, until it is stopped
    #[arg(long, conflicts_with_all = ["fix", "since", "staged", "format", "stdin_filename"])]
    watch: bool,

    /// How to report; json writes one document per book, each on a line
    #[arg(long, value_enum, default_value_t = Format::Human)]
    format: Format,

    /// Show every finding, up to 10,000 of one code in a file; else the first 20 of each, for programs the first 1,000
    #[arg(long)]
    all: bool,

    /// Errors before warnings, and no notes
    #[arg(long)]
    brief: bool,

    /// Warnings are findings too: the exit status is 1 when there is one
    #[arg(long, value_enum, value_name = "WHAT")]
    deny: Option<Deny>,

    /// Judge the whole book, and report only what the changes since this git revision bring: in items that changed, and in
    /// all that rest on them
    #[arg(long, value_name = "REV", conflicts_with = "paths")]
    since: Option<String>,

    /// Check what is staged for the next commit instead of the files as they lie there
    #[arg(long, conflicts_with = "paths")]
    staged: bool,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug, ValueEnum)]
enum Format {
    /// For people, with the lines it is about
    Human,
    /// For programs
    Json,
    /// SARIF 2.1.0, for code scanning
    Sarif,
    /// Annotations of a GitHub workflow
    Github,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug, ValueEnum)]
enum Deny {
    Warnings,
}

pub(super) fn run(session: &mut Session, arguments: &CheckArguments) -> Outcome {
    if arguments.staged || arguments.since.is_some() {
        let (checked, left_out) = since::checked(session, arguments.staged, arguments.since.as_deref())?;
        return report(session, arguments, &mut [checked], left_out);
    }
    if let Some(handed) = arguments.stdin.handed(&arguments.paths, session.book.as_deref())? {
        if arguments.fix {
            return Err(Failure::new("a sheet on standard input can be checked, not put right"));
        }
        return report(session, arguments, &mut [judge(load::load_around(handed))], 0);
    }
    if arguments.watch {
        let books = |session: &Session| paths::targets(&arguments.paths, session.book.as_deref());
        return watch::run(session, books, |session, targets| check_targets(session, arguments, targets));
    }
    let targets = paths::targets(&arguments.paths, session.book.as_deref())?;
    if arguments.fix {
        fix::apply(session, &targets);
    }
    check_targets(session, arguments, &targets)
}

fn check_targets(session: &mut Session, arguments: &CheckArguments, targets: &[Target]) -> Outcome {
    let alone = targets.iter().filter(|target| target.single.is_some()).count();
    let mut checked: Vec<Checked> = targets.iter().map(|target| judge(load::load(target))).collect();
    let files: usize = checked.iter().map(|checked| checked.loaded.count_asked()).sum();
    if files == 0 && checked.iter().all(|checked| checked.diagnostics.is_empty()) {
        session.terminal.warn("no `.rotor` file was found, so nothing is checked");
    }
    if alone > 1 {
        session.terminal.warn(&format!(
            "{alone} files have no `{}` in a folder above them, so each is checked by itself",
            crate::disk::BOOK
        ));
    }
    report(session, arguments, &mut checked, 0)
}

/// Writes what was found; `left_out` more is said of what was not asked for.
fn report(session: &mut Session, arguments: &CheckArguments, checked: &mut [Checked], left_out: usize) -> Outcome {
    if arguments.brief {
        checked.iter_mut().for_each(|one| {
            one.diagnostics.retain(|diagnostic| diagnostic.severity != Severity::Note);
            one.diagnostics.sort_by_key(|diagnostic| diagnostic.severity);
        });
    }
    match arguments.format {
        Format::Human => report::human::write(&mut session.terminal, checked, arguments.all),
        Format::Json => report::json::write(&mut session.terminal, checked, arguments.all),
        Format::Sarif => report::sarif::write(&mut session.terminal, checked, arguments.all),
        Format::Github => report::github::write(&mut session.terminal, checked, arguments.all),
    }
    let summary = report::Summary::of(checked);
    if arguments.format == Format::Human {
        session.terminal.say_in_colours(&summary.line(session.terminal.messages));
        if left_out > 0 {
            let more = report::counted(left_out, "finding");
            session.terminal.say(&format!("{more} more, which the change does not bring; `rotorbook check` has them"));
        }
    }
    let found = summary.errors > 0 || (arguments.deny == Some(Deny::Warnings) && summary.warnings > 0);
    Ok(if found { Exit::Findings } else { Exit::Clean })
}

fn judge(loaded: Loaded) -> Checked {
    let mut diagnostics = check::check(&loaded.book);
    diagnostics.retain(|diagnostic| loaded.is_asked_for(diagnostic.place.file));
    Checked { loaded, diagnostics }
}
