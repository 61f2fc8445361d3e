//! `fmt`: the one layout.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use clap::Args;
use rayon::prelude::*;
use similar::TextDiff;

use super::load::{self, ReadText};
use super::paths::Target;
use super::report::counted;
use super::stdin::{Handed, StdinArguments};
use super::terminal::{Paint, harmless};
use super::versions::Ground;
use super::{Exit, Failure, Outcome, Session, paths, write};
use crate::book::{Book, SourceFile};
use crate::check;
use crate::disk::{self, BOOK};
use crate::format::{self, Refused};
use crate::text::LineIndex;

/// Format sheets: indentation, blank lines, the spelling of units
///
/// Digits, words, comments and the order of lines are kept, and so are lines in error. A file with git's conflict markers or
/// without UTF-8 text is left alone and named. Without a path, the book around the current folder is formatted.
#[derive(Args)]
#[command(after_help = "Examples:\n  rotorbook fmt\n  rotorbook fmt --check\n  \
    rotorbook fmt --diff setups/fan-wheel-315.rotor\n  rotorbook fmt - < draft.rotor")]
pub(super) struct FmtArguments {
    /// Files and folders; `-` for a sheet on standard input, which is written to standard output
    #[arg(value_name = "PATH")]
    paths: Vec<PathBuf>,

    #[command(flatten)]
    stdin: StdinArguments,

    /// Change nothing; name the files that are not formatted, and exit with 1 when there is one
    #[arg(long)]
    check: bool,

    /// Change nothing; show what would change, and exit with 1 when something would
    #[arg(long)]
    diff: bool,

    /// With --check or --diff: look at the sheets that are staged for the next commit instead of those that lie there
    #[arg(long, conflicts_with = "paths")]
    staged: bool,
}

/// What became of one file.
enum Done {
    InOrder,
    Anew { old: String, new: String },
    LeftAlone(String),
}

pub(super) fn run(session: &mut Session, arguments: &FmtArguments) -> Outcome {
    let only_look = arguments.check || arguments.diff;
    if arguments.staged && !only_look {
        return Err(Failure::new("staged sheets can be checked, not formatted")
            .help("add --check or --diff; format the files, and stage them again"));
    }
    if let Some(handed) = arguments.stdin.handed(&arguments.paths, session.book.as_deref())? {
        return handed_on(session, arguments, handed);
    }
    let read: Vec<ReadText> = match arguments.staged {
        true => Ground::of(session)?.newly_staged(&mut session.terminal)?,
        false => {
            let targets = paths::targets(&arguments.paths, session.book.as_deref())?;
            targets.iter().flat_map(texts).collect()
        }
    };
    if read.is_empty() && !arguments.staged {
        session.terminal.warn("no `.rotor` file was found, so nothing is formatted");
    }
    let done: Vec<(PathBuf, Done)> = read.into_par_iter().map(|read| lay_out(read, only_look)).collect();
    let terminal = &mut session.terminal;
    let (mut anew, mut of_line_ends, mut left_alone) = (0, 0, 0);
    for (path, done) in &done {
        let shown = harmless(&paths::shown(path));
        match done {
            Done::InOrder => {}
            Done::Anew { old, new } => {
                anew += 1;
                of_line_ends += usize::from(old.replace("\r\n", "\n") == *new);
                match arguments.diff {
                    true => terminal.print(&difference(&shown, old, new, terminal.paint)),
                    false => terminal.line(&shown),
                }
            }
            Done::LeftAlone(why) => {
                left_alone += 1;
                terminal.warn(&format!("{shown} is left as it is: {why}"));
            }
        }
    }
    let files = counted(done.len(), "file");
    let line_ends = match of_line_ends {
        0 => String::new(),
        _ => format!("; in {of_line_ends} of them only the line ends change, from CR LF to LF"),
    };
    terminal.say(&match (anew, only_look) {
        (0, _) => format!("{files} already formatted"),
        (_, true) => format!("{anew} of {files} would be formatted{line_ends}"),
        (_, false) => format!("{anew} of {files} formatted{line_ends}"),
    });
    let found = left_alone > 0 || (only_look && anew > 0);
    Ok(if found { Exit::Findings } else { Exit::Clean })
}

/// The layout of a sheet on standard input. One that cannot be laid out goes on as it came.
fn handed_on(session: &mut Session, arguments: &FmtArguments, handed: Handed) -> Outcome {
    let newer = newer(&handed.target.root);
    let text = load::text(handed.bytes.clone()).and_then(|text| newer.map_or(Ok(text), Err));
    let (path, done) = lay_out(ReadText { path: handed.path, text }, true);
    let (terminal, shown) = (&mut session.terminal, harmless(&paths::shown(&path)));
    let is_asked_only = arguments.check || arguments.diff;
    match done {
        Done::InOrder | Done::LeftAlone(_) if !is_asked_only => terminal.print_bytes(&handed.bytes),
        Done::InOrder | Done::LeftAlone(_) => {}
        Done::Anew { ref old, ref new } if arguments.diff => {
            terminal.print(&difference(&shown, old, new, terminal.paint));
        }
        Done::Anew { .. } if arguments.check => terminal.line(&shown),
        Done::Anew { ref new, .. } => terminal.print(new),
    }
    if let Done::LeftAlone(why) = &done {
        terminal.warn(&format!("{shown} is left as it is: {why}"));
    }
    let found = matches!(done, Done::LeftAlone(_)) || is_asked_only && matches!(done, Done::Anew { .. });
    Ok(if found { Exit::Findings } else { Exit::Clean })
}

/// Why nobody here knows the layout of a book in this folder.
fn newer(root: &Path) -> Option<String> {
    let shop = disk::text_if_there(&root.join(BOOK)).ok().flatten().unwrap_or_default();
    let shop = Book::new(vec![Arc::new(SourceFile::read(BOOK, shop))]);
    check::newer_format_of(&shop).map(|format| format!("its book is written in format {format}"))
}

/// The texts of a book; none of a book in a newer format, whose layout nobody here knows.
fn texts(target: &Target) -> Vec<ReadText> {
    let newer = newer(&target.root);
    let mut texts: Vec<ReadText> = load::texts(target).into_iter().collect();
    if let Some(why) = newer {
        texts.iter_mut().for_each(|read| read.text = Err(why.clone()));
    }
    texts
}

fn lay_out(read: ReadText, only_look: bool) -> (PathBuf, Done) {
    let ReadText { path, text } = read;
    let done = match text {
        Err(why) => Done::LeftAlone(why),
        Ok(old) => match format::format(&old) {
            Err(Refused { conflict }) => {
                let line = LineIndex::new(&old).line_of(conflict.start) + 1;
                Done::LeftAlone(format!("a conflict is not resolved on line {line}"))
            }
            Ok(new) if new == old => Done::InOrder,
            Ok(new) if only_look => Done::Anew { old, new },
            Ok(new) => match write::replace(&path, &old, &new) {
                Ok(()) => Done::Anew { old, new },
                Err(why) => Done::LeftAlone(why),
            },
        },
    };
    (path, done)
}

/// A unified difference with three lines around each change.
pub(super) fn difference(path: &str, old: &str, new: &str, paint: Paint) -> String {
    let difference = TextDiff::from_lines(old, new);
    let text = difference.unified_diff().context_radius(3).header(path, path).to_string();
    let painted = text.lines().map(|line| match line.chars().next() {
        Some('+') => paint.green(&harmless(line)),
        Some('-') => paint.red(&harmless(line)),
        Some('@') => paint.cyan(&harmless(line)),
        _ => harmless(line),
    });
    painted.map(|line| line + "\n").collect()
}
