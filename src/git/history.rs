//! The commits that touched sheets, and which files changed between each of them and its parents.

use std::io::Write;
use std::process::Stdio;
use std::thread;

use rustc_hash::FxHashSet;

use super::command::{GitError, not_started, pieces, refused};
use super::listing::GitFile;
use super::repository::Repository;

/// A commit that touched a sheet, or that joins two that did.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Commit {
    pub id: String,
    /// The nearest such commits before it.
    pub parents: Vec<String>,
    pub author: String,
    pub email: String,
    /// As ISO 8601 has it, with the author's own time zone.
    pub date: String,
    pub subject: String,
}

/// What changed from one commit to another that comes after it.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Edge {
    /// Empty for what was there from the beginning.
    pub parent: Option<String>,
    pub changes: Vec<FileChange>,
}

/// A sheet that changed: its object before and after.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct FileChange {
    pub path: String,
    pub old: Option<String>,
    pub new: Option<String>,
}

impl Repository {
    /// The commits up to `commit` that touched sheets, each before its parents.
    pub fn commits(&self, commit: &str) -> Result<Vec<Commit>, GitError> {
        let format = "--format=%H%x00%P%x00%an%x00%ae%x00%aI%x00%s";
        let bytes = self.asked(&[
            "log",
            "--topo-order",
            "--full-history",
            "--simplify-merges",
            "--parents",
            "--no-show-signature",
            "--no-notes",
            "--no-color",
            "--no-decorate",
            "--encoding=UTF-8",
            "-z",
            format,
            commit,
            "--",
            ":(top,glob)**/*.rotor",
        ])?;
        let words: Vec<String> = pieces(&bytes).map(|piece| String::from_utf8_lossy(piece).into_owned()).collect();
        Ok(words.chunks_exact(6).map(commit_of).collect())
    }

    /// For each commit, what changed since each of its parents.
    pub fn edges(&self, commits: &[Commit]) -> Result<Vec<Vec<Edge>>, GitError> {
        let asked: Vec<String> = commits.iter().flat_map(asks).collect();
        let bytes = self.diff_tree(&asked)?;
        let mut answers = edges_in(&bytes).into_iter();
        let edges = commits.iter().map(|commit| {
            let parents: Vec<Option<&String>> = match commit.parents.is_empty() {
                true => vec![None],
                false => commit.parents.iter().map(Some).collect(),
            };
            let edge =
                |parent: Option<&String>| Edge { parent: parent.cloned(), changes: answers.next().unwrap_or_default() };
            parents.into_iter().map(edge).collect()
        });
        Ok(edges.collect())
    }

    /// Sheets of the work tree that are not as a commit has them; those that git does not know are not among them. What
    /// they hold now is named by no object.
    pub fn changed_in_work_tree(&self, commit: &str) -> Result<Vec<FileChange>, GitError> {
        let Some(top) = self.work_tree() else { return Ok(Vec::new()) };
        let committed = self.files_of(commit)?;
        let known: FxHashSet<&str> = committed.files().iter().map(|file| &*file.path).collect();
        let now = |path: &str| top.join(path).symlink_metadata().is_ok().then(String::new);
        let unchanged = self.is_as_stored(committed.files(), top)?;
        let mut changes: Vec<FileChange> = committed
            .files()
            .iter()
            .zip(unchanged)
            .filter(|(_, unchanged)| !unchanged)
            .map(|(file, _)| FileChange {
                path: file.path.clone(),
                old: Some(file.object.clone()),
                new: now(&file.path),
            })
            .collect();
        // While a merge is not done, nobody knows what is to be added.
        let staged = self.staged_files().unwrap_or_default();
        let added = staged.files().iter().filter(|file| !known.contains(&*file.path));
        changes.extend(added.filter_map(|file| {
            let new = now(&file.path)?;
            Some(FileChange { path: file.path.clone(), old: None, new: Some(new) })
        }));
        Ok(changes)
    }

    /// The commits beyond which a shallow clone has nothing.
    pub fn shallow_ends(&self) -> Vec<String> {
        let path = self.asked(&["rev-parse", "--git-path", "shallow"]).map(|bytes| super::command::line(&bytes));
        let git_folder = self.work_tree().map(std::path::Path::to_owned);
        let path = path.map(|path| git_folder.map_or_else(|| path.clone().into(), |top| top.join(&path)));
        let text = path.ok().and_then(|path| crate::disk::text_if_there(&path).ok().flatten()).unwrap_or_default();
        text.lines().map(str::to_owned).collect()
    }

    fn diff_tree(&self, asked: &[String]) -> Result<Vec<u8>, GitError> {
        let mut command = self.git();
        command.args([
            "diff-tree",
            "--stdin",
            "--root",
            "--always",
            "-r",
            "-z",
            "--raw",
            "--no-abbrev",
            "--no-renames",
        ]);
        command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
        let mut process = command.spawn().map_err(not_started)?;
        let asks = process.stdin.take();
        let output = thread::scope(|scope| {
            scope.spawn(move || {
                let Some(mut asks) = asks else { return };
                let _ = asks.write_all(asked.concat().as_bytes());
            });
            process.wait_with_output()
        });
        let output = output.map_err(not_started)?;
        if output.status.success() { Ok(output.stdout) } else { Err(refused(&output.stderr)) }
    }
}

fn commit_of(words: &[String]) -> Commit {
    Commit {
        id: words[0].clone(),
        parents: words[1].split_whitespace().map(str::to_owned).collect(),
        author: words[2].clone(),
        email: words[3].clone(),
        date: words[4].clone(),
        subject: words[5].clone(),
    }
}

/// A line for each comparison: the commit, then what it is compared with.
fn asks(commit: &Commit) -> Vec<String> {
    match commit.parents.is_empty() {
        true => vec![format!("{}\n", commit.id)],
        false => commit.parents.iter().map(|parent| format!("{} {parent}\n", commit.id)).collect(),
    }
}

/// The answers, each begun by the name of its commit.
fn edges_in(bytes: &[u8]) -> Vec<Vec<FileChange>> {
    let mut edges: Vec<Vec<FileChange>> = Vec::new();
    let mut pieces = pieces(bytes);
    while let Some(piece) = pieces.next() {
        if !piece.starts_with(b":") {
            edges.push(Vec::new());
            continue;
        }
        let found = pieces.next().and_then(|path| change(piece, path));
        if let Some(edge) = edges.last_mut() {
            edge.extend(found);
        }
    }
    edges
}

/// `:<mode> <mode> <object> <object> <status>`, of a sheet.
fn change(head: &[u8], path: &[u8]) -> Option<FileChange> {
    let head = std::str::from_utf8(head).ok()?.strip_prefix(':')?;
    let words: Vec<&str> = head.split(' ').collect();
    let [old_mode, new_mode, old, new, _] = words.as_slice() else { return None };
    let file = |mode: &str, object: &str| GitFile::of(mode, object, path);
    let (old, new) = (file(old_mode, old), file(new_mode, new));
    let path = old.as_ref().or(new.as_ref())?.path.clone();
    Some(FileChange { path, old: old.map(|file| file.object), new: new.map(|file| file.object) })
}
