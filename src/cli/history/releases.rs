//! Under which revisions a setup was released, by its history.

use super::follow::{Follower, Step, What};
use crate::cli::Failure;
use crate::cli::versions::{Ground, Version};
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::vocabulary::Choice;
use crate::vocabulary::setup::{self, Status};

/// A revision by which technicians could work.
pub(in crate::cli) struct Release {
    pub revision: Option<String>,
    /// The commit that released it.
    first: String,
    /// The last commit that has it.
    last: String,
    /// The first in short.
    short: String,
}

impl Release {
    /// As it was released.
    pub fn first(&self) -> Version {
        Version::Commit { commit: self.first.clone(), given: self.short.clone(), folder: None }
    }

    /// As it was last.
    pub fn last(&self) -> Version {
        Version::Commit { commit: self.last.clone(), given: self.last.clone(), folder: None }
    }

    /// `revision "C", as commit 1234abc has it`
    pub fn words(&self) -> String {
        match &self.revision {
            Some(revision) => format!("revision \"{revision}\", as commit {} has it", self.short),
            None => format!("the sheet without a revision, as commit {} has it", self.short),
        }
    }
}

/// The newest first; none where nothing is committed.
pub(in crate::cli) fn releases(ground: &Ground, name: &str) -> Result<Vec<Release>, Failure> {
    let Ok(repository) = ground.repository() else { return Ok(Vec::new()) };
    let Ok(head) = repository.commit("HEAD") else { return Ok(Vec::new()) };
    let mut follower = Follower::new(repository, &head)?;
    if follower.begin_in_work_tree(ground, name, Some(Kind::Setup))?.is_none() {
        return Ok(Vec::new());
    }
    let steps = follower.follow()?;
    let mut found: Vec<Release> = Vec::new();
    let (mut is_released, mut revision) = (false, None);
    for (n, step) in steps.iter().enumerate().rev() {
        after(step, &mut is_released, &mut revision);
        let Some(commit) = step.commit.as_ref().filter(|_| is_released) else { continue };
        // Until the step that comes next, all commits have it.
        let next = n.checked_sub(1).and_then(|next| steps[next].commit.as_ref());
        let last = next.map_or(&head, |next| next.parents.first().unwrap_or(&commit.id)).clone();
        let before = found.iter().position(|one| one.revision == revision).map(|at| found.remove(at).first);
        let first = before.unwrap_or_else(|| commit.id.clone());
        found.push(Release { revision: revision.clone(), short: repository.short(&first), first, last });
    }
    found.reverse();
    Ok(found)
}

/// What a sheet says of itself after a step.
fn after(step: &Step, is_released: &mut bool, revision: &mut Option<String>) {
    if step.what == What::Removed {
        (*is_released, *revision) = (false, None);
        return;
    }
    for fact in step.changes.facts.iter().filter(|fact| fact.within == Kind::Setup && fact.path.len() == 1) {
        if fact.is(setup::STATUS) {
            *is_released = fact.values.1 == Some(FieldValue::Choice(Status::Released.words()));
        } else if fact.is(setup::REVISION) {
            *revision = match &fact.values.1 {
                Some(FieldValue::Text(text)) => Some(text.to_string()),
                _ => None,
            };
        }
    }
}
