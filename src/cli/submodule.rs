//! A book in a submodule, seen from the repository around it: its versions are the commits that the other one has it at.

use std::path::Path;

use super::Failure;
use super::versions::Version;
use crate::git::{GitError, Repository};

/// What git calls a tree without files, which it knows in every repository; of a submodule that was not there yet.
const EMPTY_TREE: &str = "4b825dc642cb6eb9a060e54bf8d69288fbee4904";

pub(super) struct Submodule {
    around: Repository,
    /// Of the submodule, from the top of the repository around it.
    path: String,
}

impl Submodule {
    /// Whether a repository is a submodule of the one that the current folder lies in.
    pub fn of(own: &Repository) -> Option<Self> {
        let top = own.work_tree()?;
        let here = Path::new(".").canonicalize().ok()?;
        if here.starts_with(top) {
            return None;
        }
        let around = Repository::around(&here).ok()?;
        let path = around.prefix(top)?;
        // Without its own entry it is a repository that only lies there.
        let is_submodule = matches!(around.submodule_at(None, &path), Ok(Some(_)));
        is_submodule.then_some(Self { around, path })
    }

    /// As a revision of the repository around it has it; `None` for a revision of the submodule alone.
    pub fn version(&self, own: &Repository, revision: &str) -> Result<Option<Version>, Failure> {
        match self.around.commit(revision) {
            Ok(commit) => self.at(own, Some(&commit), revision).map(Some),
            Err(GitError::NoCommit) => Ok(Some(self.before_it_was_there(revision))),
            Err(_) => Ok(None),
        }
    }

    pub fn staged(&self, own: &Repository) -> Result<Version, Failure> {
        self.at(own, None, "staged")
    }

    /// As the last commit has it that two have in common.
    pub fn merge_base(&self, own: &Repository, from: &str, to: &str) -> Result<Version, Failure> {
        let base = self.around.merge_base(from, to)?;
        self.at(own, Some(&base), &format!("{from}...{to}"))
    }

    /// In a commit, or in the index.
    fn at(&self, own: &Repository, commit: Option<&str>, given: &str) -> Result<Version, Failure> {
        let path = &self.path;
        let Some(commit) = self.around.submodule_at(commit, path)? else { return Ok(self.before_it_was_there(given)) };
        let commit = own.commit(&commit).map_err(|_| {
            Failure::new(format!("submodule `{path}`: its commit {commit} of {given} is not here"))
                .help(format!("fetch it: `git -C {path} fetch`"))
        })?;
        Ok(Version::Commit { commit, given: format!("{given}:{path}"), folder: None })
    }

    fn before_it_was_there(&self, given: &str) -> Version {
        let given = format!("{given}:{}", self.path);
        Version::Commit { commit: EMPTY_TREE.to_owned(), given, folder: Some(String::new()) }
    }
}
