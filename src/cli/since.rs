//! `check --since` and `--staged`: another version of the book, or only what a change can affect.

use super::load::Loaded;
use super::report::Checked;
use super::restored::Earlier;
use super::versions::{Ground, Version};
use super::{Failure, Session};
use crate::check;
use crate::diff;

/// What is staged, judged as a book of its own; with `since`, only what can be affected by what changed since then.
pub(super) fn checked(session: &mut Session, staged: bool, since: Option<&str>) -> Result<(Checked, usize), Failure> {
    let ground = Ground::of(session)?;
    let new = if staged { ground.staged()? } else { Version::WorkTree(ground.root()?.to_owned()) };
    let Some(since) = since else {
        let book = ground.load_one(&new, &mut session.terminal)?;
        let diagnostics = check::check(&book);
        return Ok((Checked { loaded: Loaded::of_version(ground.root()?, book), diagnostics }, 0));
    };
    let old = ground.version(since)?;
    let (before, after) = ground.load(&old, &new, &mut session.terminal)?;
    let mut found = diff::concerned(&before, &after);
    Earlier::than(&ground, &old).take_out_of_check(&after, &mut found.concerned);
    let loaded = Loaded::of_version(ground.root()?, after);
    Ok((Checked { loaded, diagnostics: found.concerned }, found.left_out))
}
