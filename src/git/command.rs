//! The `git` command, asked in a way that settings do not change.

use std::io;
use std::path::Path;
use std::process::{Command, Output, Stdio};

use crate::disk::reason;
use crate::text::harmless;

/// Why git has no answer.
#[derive(Debug)]
pub enum GitError {
    /// There is no `git` to ask.
    NotInstalled,
    /// The folder is in no repository.
    NoRepository,
    /// It was asked and says why not, in its own words; what it advises is on the lines below the first.
    Refused(String),
    /// Nothing has been committed yet.
    NoCommit,
    /// There is no such revision; whether the clone is shallow, so that it may only be missing here.
    NoRevision { revision: String, shallow: bool },
    /// A path means a file and a revision.
    Ambiguous(String),
}

impl GitError {
    /// What went wrong, in one sentence without a full stop.
    pub fn message(&self) -> String {
        match self {
            GitError::NotInstalled => "`git` is not installed, or not on the path".to_owned(),
            GitError::NoRepository => "this is not in a git repository".to_owned(),
            GitError::Refused(why) => format!("git says: {}", why.lines().next().unwrap_or_default()),
            GitError::NoCommit => "nothing has been committed yet".to_owned(),
            GitError::NoRevision { revision, .. } => format!("git knows no revision `{revision}`"),
            GitError::Ambiguous(what) => format!("`{what}` is a folder and a revision"),
        }
    }

    /// What to do about it.
    pub fn help(&self) -> Option<String> {
        Some(match self {
            GitError::NotInstalled => "two folders can be compared without it".to_owned(),
            GitError::NoRepository => "`git init` makes one, and `rotorbook init` prepares it for sheets".to_owned(),
            GitError::NoCommit => "commit the sheets first".to_owned(),
            GitError::NoRevision { shallow: true, .. } => {
                "this clone is shallow, and it may be older than what is here: `git fetch --unshallow`".to_owned()
            }
            GitError::NoRevision { .. } => {
                "`git log --oneline` lists commits, `git tag` tags; a folder is written `./folder`".to_owned()
            }
            GitError::Ambiguous(what) => format!("write `./{what}` for the folder, `{what}^{{}}` for the revision"),
            GitError::Refused(why) => return why.split_once('\n').map(|(_, advice)| advice.to_owned()),
        })
    }
}

/// What a surrounding git has said of its repository, for example to a hook. It holds for the folder the hook is started
/// in and for no folder below.
const OF_THE_REPOSITORY: [&str; 4] = ["GIT_DIR", "GIT_WORK_TREE", "GIT_PREFIX", "GIT_COMMON_DIR"];

/// Git in a folder. `inherits` keeps what a surrounding git has said.
pub(super) fn git(folder: &Path, inherits: bool) -> Command {
    let mut command = Command::new("git");
    command.current_dir(folder).arg("--no-pager").args(["-c", "core.quotePath=false", "-c", "core.fsmonitor=false"]);
    // Messages are shown as they come; a lock for a refreshed index would disturb others.
    command.env("LC_ALL", "C").env("GIT_OPTIONAL_LOCKS", "0").env("GIT_TERMINAL_PROMPT", "0");
    // What is not here is not fetched: a comparison of sheets reaches for no network.
    command.env("GIT_NO_LAZY_FETCH", "1");
    command.env_remove("GIT_EXTERNAL_DIFF").env_remove("GIT_LITERAL_PATHSPECS").env_remove("GIT_TRACE");
    if !inherits {
        OF_THE_REPOSITORY.iter().for_each(|variable| _ = command.env_remove(variable));
    }
    command.stdin(Stdio::null());
    command
}

/// Runs it to its end.
pub(super) fn output(command: &mut Command) -> Result<Vec<u8>, GitError> {
    let Output { status, stdout, stderr } = command.output().map_err(not_started)?;
    if status.success() { Ok(stdout) } else { Err(refused(&stderr)) }
}

pub(super) fn not_started(error: io::Error) -> GitError {
    match error.kind() {
        io::ErrorKind::NotFound => GitError::NotInstalled,
        _ => GitError::Refused(reason(&error)),
    }
}

pub(super) fn refused(stderr: &[u8]) -> GitError {
    let text = String::from_utf8_lossy(stderr);
    if text.contains("not a git repository") {
        return GitError::NoRepository;
    }
    let mut lines = text.lines().map(str::trim).filter(|line| !line.is_empty());
    let first = lines.next().unwrap_or("nothing, and gives up");
    let first = first.trim_start_matches("fatal: ").trim_start_matches("error: ");
    // The command that would put it right stands by itself at the end.
    let advice = lines.rfind(|line| line.starts_with("git "));
    let advice = advice.map(|advice| format!("\n{}", harmless(advice))).unwrap_or_default();
    GitError::Refused(format!("{}{advice}", harmless(first)))
}

/// Pieces that end with a zero byte.
pub(super) fn pieces(bytes: &[u8]) -> impl Iterator<Item = &[u8]> {
    let bytes = bytes.strip_suffix(&[0]).unwrap_or(bytes);
    bytes.split(|byte| *byte == 0).filter(move |_| !bytes.is_empty())
}

/// One line, without its end.
pub(super) fn line(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).trim_end_matches(['\n', '\r']).to_owned()
}
