//! `--watch`: once more whenever a sheet has changed. The files are asked for their times, which works on every system
//! and in shared folders.

use std::path::PathBuf;
use std::thread;
use std::time::{Duration, SystemTime};

use super::paths::Target;
use super::{Exit, Failure, Outcome, Session};
use crate::disk;

/// How often the files are asked.
const PAUSE: Duration = Duration::from_millis(300);

/// What tells that a file is another one.
type Stamp = (PathBuf, Option<SystemTime>, u64);

/// Does something with books, at once and after each change, until nobody reads it or the books are gone. What cannot be
/// done with them as they stand, such as a name that is just being written otherwise, is said.
pub(super) fn run(
    session: &mut Session,
    books: impl Fn(&Session) -> Result<Vec<Target>, Failure>,
    once: impl Fn(&mut Session, &[Target]) -> Outcome,
) -> Outcome {
    loop {
        let targets = books(session)?;
        let seen = stamps(&targets);
        let exit = once(session, &targets).unwrap_or_else(|failure| {
            session.terminal.complain(&failure);
            Exit::Misuse
        });
        session.terminal.say("watching for changes; Ctrl-C ends it");
        if session.terminal.is_broken() {
            return Ok(exit);
        }
        while stamps(&books(session)?) == seen {
            thread::sleep(PAUSE);
        }
        session.terminal.clear();
    }
}

fn stamps(targets: &[Target]) -> Vec<Stamp> {
    let files = targets.iter().flat_map(|target| match &target.single {
        Some(file) => vec![file.clone()],
        None => disk::walk_book(&target.root).files,
    });
    let stamp = |path: PathBuf| {
        let known = path.metadata().ok();
        let time = known.as_ref().and_then(|known| known.modified().ok());
        (path, time, known.map_or(0, |known| known.len()))
    };
    files.map(stamp).collect()
}
