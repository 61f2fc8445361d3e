//! `merge`: what git calls to bring two changes of one sheet together.

use std::path::{Path, PathBuf};

use clap::Args;

use super::report::counted;
use super::terminal::harmless;
use super::{Exit, Failure, Outcome, Session, write};
use crate::diff::{Labels, Merged, merge};
use crate::disk;
use crate::git;

/// Merge two changes of one file of sheets, fact by fact; git calls it
///
/// `init` tells git to. Facts are compared by what they say: what one side left as it was, in whatever unit it is written,
/// is taken from the other, and order and comments are kept. Pins are left for `rotorbook pin`. What both sides changed
/// differently is between git's conflict marks, that fact alone. The result is written into OURS. A file that is not
/// understood as a whole is merged by git as lines.
#[derive(Args)]
#[command(
    after_help = "Example:\n  git config merge.rotor.driver \"rotorbook merge %O %A %B --path %P --marker-size %L\""
)]
pub(super) struct MergeArguments {
    /// The version that both sides began with
    #[arg(value_name = "BASE")]
    base: PathBuf,

    /// The version of this side; the result is written there
    #[arg(value_name = "OURS")]
    ours: PathBuf,

    /// The version of the other side
    #[arg(value_name = "THEIRS")]
    theirs: PathBuf,

    /// What the file is called in the repository
    #[arg(long, value_name = "PATH")]
    path: Option<String>,

    /// How many characters a conflict mark has
    #[arg(long, value_name = "N", default_value_t = 7)]
    marker_size: usize,

    /// What is at the marks for this side
    #[arg(long = "ours", value_name = "LABEL", default_value = "ours")]
    ours_label: String,

    /// What is at the marks for the other side
    #[arg(long = "theirs", value_name = "LABEL", default_value = "theirs")]
    theirs_label: String,
}

pub(super) fn run(session: &mut Session, arguments: &MergeArguments) -> Outcome {
    let labels = Labels {
        ours: label(&arguments.ours_label, "ours"),
        theirs: label(&arguments.theirs_label, "theirs"),
        size: arguments.marker_size.clamp(1, 1_000),
    };
    let shown = arguments.path.clone().unwrap_or_else(|| super::paths::shown(&arguments.ours));
    let [base, ours, theirs] = [&arguments.base, &arguments.ours, &arguments.theirs].map(|path| read(path));
    let merged = match (base?, ours?, theirs?) {
        (Some(base), Some(ours), Some(theirs)) => merge(&base, &ours, &theirs, &labels),
        _ => None,
    };
    let Some(merged) = merged else {
        session.terminal.say(&harmless(&format!("{shown} is merged as lines: not all of it is read as sheets")));
        let files = [&*arguments.ours, &*arguments.base, &*arguments.theirs];
        let is_clean = git::merge_lines(files, [&labels.ours, &labels.theirs], labels.size)?;
        return Ok(if is_clean { Exit::Clean } else { Exit::Findings });
    };
    let cannot = |why: String| Failure::new(format!("`{}` cannot be written: {why}", arguments.ours.display()));
    write::output(&arguments.ours, merged.text.as_bytes()).map_err(cannot)?;
    tell(session, &shown, &merged);
    Ok(if merged.conflicts.is_empty() { Exit::Clean } else { Exit::Findings })
}

fn read(path: &Path) -> Result<Option<String>, Failure> {
    // What is no text is merged as lines, and what is not there cannot be merged at all.
    match path.is_file() {
        true => Ok(disk::text_if_there(path).ok().flatten()),
        false => Err(Failure::new(format!("`{}` cannot be found", path.display()))),
    }
}

/// Older versions of git leave what they do not know as it is.
fn label(given: &str, otherwise: &str) -> String {
    if given.is_empty() || given.starts_with('%') { otherwise.to_owned() } else { given.replace(['\n', '\r'], " ") }
}

fn tell(session: &mut Session, shown: &str, merged: &Merged) {
    if !merged.conflicts.is_empty() {
        let what = counted(merged.conflicts.len(), "fact");
        session.terminal.warn(&harmless(&format!("{shown}: {what} to settle: {}", merged.conflicts.join("; "))));
    }
    if merged.has_open_pins {
        session.terminal.say(&harmless(&format!("{shown}: pins may be stale; `rotorbook pin` renews them")));
    }
}
