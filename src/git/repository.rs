//! The repository that a folder lies in.

use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::process::Command;

use super::blobs::{Blobs, Bytes};
use super::command::{GitError, git, line, output};
use super::listing::GitFile;
use crate::disk::{bytes, slashes};

/// Whether a sparse checkout may be in use around a folder: no process is asked for that.
pub fn is_sparse(folder: &Path) -> bool {
    let own = folder.ancestors().map(|folder| folder.join(".git")).find(|path| path.exists());
    let Some(own) = own else { return std::env::var_os("GIT_DIR").is_some() };
    let repository = match own.is_dir() {
        true => own,
        // A linked work tree, or a submodule, says where it is kept.
        false => {
            let text = bytes(&own).ok().and_then(|bytes| String::from_utf8(bytes).ok()).unwrap_or_default();
            let kept = text.strip_prefix("gitdir: ").unwrap_or_default().trim_end();
            own.parent().unwrap_or(folder).join(kept)
        }
    };
    repository.join("info/sparse-checkout").is_file()
}

/// A repository, with or without a work tree.
#[derive(Clone, Debug)]
pub struct Repository {
    /// The top of the work tree; the repository itself where it has none.
    top: PathBuf,
    has_work_tree: bool,
    /// Whether it was found only by what a surrounding git says.
    inherits: bool,
}

impl Repository {
    /// The repository around a folder.
    pub fn around(folder: &Path) -> Result<Self, GitError> {
        match Self::found(folder, false) {
            Err(GitError::NoRepository) if std::env::var_os("GIT_DIR").is_some() => Self::found(folder, true),
            found => found,
        }
    }

    fn found(folder: &Path, inherits: bool) -> Result<Self, GitError> {
        let inside = output(git(folder, inherits).args(["rev-parse", "--is-inside-work-tree"]))?;
        let has_work_tree = line(&inside) == "true";
        let wanted = if has_work_tree { "--show-toplevel" } else { "--absolute-git-dir" };
        let top = line(&output(git(folder, inherits).args(["rev-parse", wanted]))?);
        let top = PathBuf::from(top);
        // Both sides of a comparison of paths must have followed the same links.
        let top = top.canonicalize().unwrap_or(top);
        Ok(Self { top, has_work_tree, inherits })
    }

    /// The top of the work tree; `None` in a bare repository.
    pub fn work_tree(&self) -> Option<&Path> {
        self.has_work_tree.then_some(&*self.top)
    }

    /// The path of a folder of the work tree in its trees, with `/`, empty for the top; `None` when it lies outside.
    pub fn prefix(&self, folder: &Path) -> Option<String> {
        let folder = folder.canonicalize().ok()?;
        let below = folder.strip_prefix(self.work_tree()?).ok()?;
        Some(slashes(below))
    }

    /// The commit that a revision names, in full.
    pub fn commit(&self, revision: &str) -> Result<String, GitError> {
        let unknown = || {
            let shallow = self.is_shallow();
            GitError::NoRevision { revision: revision.to_owned(), shallow }
        };
        // What begins with a dash would be taken for an option.
        if revision.is_empty() || revision.starts_with('-') {
            return Err(unknown());
        }
        let asked = format!("{revision}^{{commit}}");
        let answer = output(self.git().args(["rev-parse", "--verify", "--quiet", &asked]));
        match answer {
            Ok(bytes) => Ok(line(&bytes)),
            Err(GitError::NotInstalled) => Err(GitError::NotInstalled),
            Err(_) if revision == "HEAD" => Err(GitError::NoCommit),
            Err(_) => Err(unknown()),
        }
    }

    /// The last commit that two have in common.
    pub fn merge_base(&self, a: &str, b: &str) -> Result<String, GitError> {
        let (a, b) = (self.commit(a)?, self.commit(b)?);
        let found = output(self.git().args(["merge-base", &a, &b])).map_err(|error| match error {
            GitError::Refused(_) => GitError::Refused("these two have no commit in common".to_owned()),
            other => other,
        })?;
        Ok(line(&found))
    }

    /// A commit as people read it.
    pub fn short(&self, commit: &str) -> String {
        let short = output(self.git().args(["rev-parse", "--short", commit]));
        short.map_or_else(|_| commit.chars().take(10).collect(), |bytes| line(&bytes))
    }

    /// Those of these sheets of the work tree that are not as the last commit has them.
    pub fn uncommitted(&self, files: &[PathBuf]) -> Result<Vec<PathBuf>, GitError> {
        let committed = self.files_of(&self.commit("HEAD")?)?;
        let found = |file: &PathBuf| {
            let folder = self.prefix(file.parent()?)?;
            let name = file.file_name()?.to_str()?;
            let path = if folder.is_empty() { name.to_owned() } else { format!("{folder}/{name}") };
            committed.files().iter().find(|file| file.path == path).cloned()
        };
        let found: Vec<Option<GitFile>> = files.iter().map(found).collect();
        let known: Vec<GitFile> = found.iter().flatten().cloned().collect();
        let top = self.work_tree().unwrap_or(Path::new("."));
        let mut as_stored = self.is_as_stored(&known, top)?.into_iter();
        let mut is_changed = |found: Option<GitFile>| found.and_then(|_| as_stored.next()) != Some(true);
        Ok(files.iter().zip(found).filter_map(|(file, found)| is_changed(found).then(|| file.clone())).collect())
    }

    /// Whether each of these files lies below a folder as git has stored it. They are compared byte by byte, so that no
    /// filter of the repository's settings is run: only the ends of lines may differ.
    pub(super) fn is_as_stored(&self, files: &[GitFile], top: &Path) -> Result<Vec<bool>, GitError> {
        let objects: Vec<&str> = files.iter().map(|file| &*file.object).collect();
        let texts = Blobs::of(self)?.read_all(&objects);
        let is_same = |(file, text): (&GitFile, Bytes)| match (text, bytes(&top.join(&file.path))) {
            (Ok(old), Ok(new)) => old == new || with_lf(&old) == with_lf(&new),
            _ => false,
        };
        Ok(files.iter().zip(texts).map(is_same).collect())
    }

    /// Whether older commits are missing here.
    pub fn is_shallow(&self) -> bool {
        let answer = output(self.git().args(["rev-parse", "--is-shallow-repository"]));
        answer.is_ok_and(|bytes| line(&bytes) == "true")
    }

    /// The folder of its hooks, wherever the settings have it.
    pub fn hooks(&self) -> Result<PathBuf, GitError> {
        let path = line(&output(self.git().args(["rev-parse", "--git-path", "hooks"]))?);
        Ok(self.top.join(path))
    }

    /// A setting of this clone alone; `None` when it is not set.
    pub fn setting(&self, name: &str) -> Option<String> {
        output(self.git().args(["config", "--local", "--get", name])).ok().map(|bytes| line(&bytes))
    }

    /// Sets a setting of this clone alone.
    pub fn set(&self, name: &str, value: &str) -> Result<(), GitError> {
        output(self.git().args(["config", "--local", name, value])).map(|_| ())
    }

    /// Git at the top of the repository.
    pub(super) fn git(&self) -> Command {
        git(&self.top, self.inherits)
    }

    pub(super) fn asked<S: AsRef<OsStr>>(&self, arguments: &[S]) -> Result<Vec<u8>, GitError> {
        output(self.git().args(arguments))
    }
}

/// A text with the ends of lines that git stores.
fn with_lf(text: &[u8]) -> Vec<u8> {
    let mut bytes = text.iter().peekable();
    let mut lines = Vec::with_capacity(text.len());
    while let Some(byte) = bytes.next() {
        if *byte != b'\r' || bytes.peek() != Some(&&b'\n') {
            lines.push(*byte);
        }
    }
    lines
}
