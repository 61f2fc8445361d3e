//! The files of revisions and of the index.

use super::command::{GitError, pieces};
use super::listing::{GitFile, Listing};
use super::repository::Repository;

impl Repository {
    /// All `.rotor` files of a commit.
    pub fn files_of(&self, commit: &str) -> Result<Listing, GitError> {
        let bytes = self.asked(&["ls-tree", "-r", "-z", "--full-tree", commit])?;
        Ok(pieces(&bytes).filter_map(of_tree).collect())
    }

    /// The commit that a tree has a submodule at, or the index where none is named; `None` where there is none at that path.
    pub fn submodule_at(&self, commit: Option<&str>, path: &str) -> Result<Option<String>, GitError> {
        let bytes = match commit {
            Some(commit) => self.asked(&["ls-tree", "-z", "--full-tree", commit, "--", path])?,
            None => self.asked(&["ls-files", "--stage", "-z", "--full-name", "--", &format!(":/{path}")])?,
        };
        // `160000 commit <commit>` of a tree, `160000 <commit> 0` of the index.
        let at = |piece: &[u8]| {
            let (head, _) = split(piece)?;
            let rest = head.strip_prefix("160000 ")?;
            rest.strip_prefix("commit ").unwrap_or(rest).split(' ').next().map(str::to_owned)
        };
        Ok(pieces(&bytes).find_map(at))
    }

    /// The `.rotor` files of the index that a sparse checkout leaves out of the work tree.
    pub fn left_out_files(&self) -> Result<Listing, GitError> {
        let bytes = self.asked(&["ls-files", "-t", "--stage", "-z", "--full-name"])?;
        let left_out = pieces(&bytes).filter_map(|piece| piece.strip_prefix(b"S "));
        Ok(left_out.filter_map(of_index).map(|(file, _)| file).collect())
    }

    /// All `.rotor` files that are staged; `Err` names one that is not merged yet.
    pub fn staged_files(&self) -> Result<Listing, GitError> {
        let bytes = self.asked(&["ls-files", "--stage", "-z", "--full-name"])?;
        let mut files = Vec::new();
        for piece in pieces(&bytes) {
            let Some((file, stage)) = of_index(piece) else { continue };
            if stage != "0" {
                return Err(GitError::Refused(format!("`{}` is not merged yet", file.path)));
            }
            files.push(file);
        }
        Ok(files.into_iter().collect())
    }
}

/// `<mode> blob <object>\t<path>`
fn of_tree(piece: &[u8]) -> Option<GitFile> {
    let (head, path) = split(piece)?;
    let mut words = head.split(' ');
    let (mode, kind, object) = (words.next()?, words.next()?, words.next()?);
    (kind == "blob").then(|| GitFile::of(mode, object, path)).flatten()
}

/// `<mode> <object> <stage>\t<path>`
fn of_index(piece: &[u8]) -> Option<(GitFile, &str)> {
    let (head, path) = split(piece)?;
    let mut words = head.split(' ');
    let (mode, object, stage) = (words.next()?, words.next()?, words.next()?);
    Some((GitFile::of(mode, object, path)?, stage))
}

fn split(piece: &[u8]) -> Option<(&str, &[u8])> {
    let tab = piece.iter().position(|byte| *byte == b'\t')?;
    Some((std::str::from_utf8(&piece[..tab]).ok()?, &piece[tab + 1..]))
}
