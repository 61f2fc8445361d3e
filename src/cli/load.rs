//! Files of a book from disk, read in parallel. What cannot be read is in the book with its reason.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use rayon::prelude::*;

use super::paths::{self, Target};
use super::progress;
use super::stdin::Handed;
use crate::book::{Book, FileId, FileProblem, SourceFile};
use crate::disk::{self, Below, reason};
use crate::git;

/// A book with the places of its files on disk.
pub(super) struct Loaded {
    pub root: PathBuf,
    pub book: Book,
    /// By [`FileId`].
    files: Vec<FileOnDisk>,
}

struct FileOnDisk {
    path: PathBuf,
    /// Whether it is asked for; the others only stand around it.
    asked: bool,
    /// A folder that cannot be read is no file.
    is_file: bool,
}

impl Loaded {
    /// A book that was read from elsewhere, with the places that its files have on disk; all of it is asked for.
    pub fn of_version(root: &Path, book: Book) -> Self {
        let on_disk = |(_, source): (FileId, &SourceFile)| FileOnDisk {
            path: root.join(&*source.path),
            asked: true,
            is_file: true,
        };
        let files = book.files().map(on_disk).collect();
        Self { root: root.to_owned(), book, files }
    }

    pub fn path(&self, file: FileId) -> &Path {
        &self.files[file.0 as usize].path
    }

    pub fn is_asked_for(&self, file: FileId) -> bool {
        self.files[file.0 as usize].asked
    }

    /// The files that are asked for, folders that could not be read among them.
    pub fn asked(&self) -> impl Iterator<Item = FileId> {
        (0..self.files.len() as u32).map(FileId).filter(|file| self.is_asked_for(*file))
    }

    pub fn count_asked(&self) -> usize {
        self.files.iter().filter(|file| file.asked && file.is_file).count()
    }

    /// The path of a file as people should read it.
    pub fn shown(&self, file: FileId) -> String {
        paths::shown(self.path(file))
    }
}

/// Reads the book of a target.
pub(super) fn load(target: &Target) -> Loaded {
    load_below(target, below(target), None)
}

/// Reads the book around a file that is handed in.
pub(super) fn load_around(handed: Handed) -> Loaded {
    let Handed { path, bytes, target } = handed;
    let mut below = match target.single {
        Some(_) => Below { files: Vec::new(), unreadable: Vec::new() },
        None => below(&target),
    };
    below.files.retain(|file| *file != path);
    below.unreadable.retain(|(file, _)| *file != path);
    let source = SourceFile::from_bytes(disk::relative(&path, &target.root), bytes);
    load_below(&target, below, Some((source, FileOnDisk { asked: true, path, is_file: true })))
}

fn load_below(target: &Target, below: Below, handed: Option<(SourceFile, FileOnDisk)>) -> Loaded {
    let bar = progress::reading(below.files.len());
    let mut read: Vec<(SourceFile, FileOnDisk)> = below
        .files
        .into_par_iter()
        .map(|path| {
            let source = disk::source(&path, &target.root);
            bar.inc(1);
            (source, FileOnDisk { asked: target.asks_for(&path), path, is_file: true })
        })
        .collect();
    bar.finish_and_clear();
    read.extend(handed);
    if target.single.is_none() {
        // Nobody asks for what is not there; what names it finds it.
        read.extend(git::read_left_out(&target.root).into_iter().map(|(path, bytes)| {
            let on_disk = FileOnDisk { path: target.root.join(&path), asked: false, is_file: true };
            let source = match bytes {
                Ok(bytes) => SourceFile::from_bytes(path, bytes),
                Err(why) => SourceFile::unreadable(path, why),
            };
            (source, on_disk)
        }));
    }
    read.extend(below.unreadable.into_iter().map(|(path, error)| {
        let source = SourceFile::unreadable(disk::relative(&path, &target.root), reason(&error));
        (source, FileOnDisk { asked: target.asks_for(&path), path, is_file: false })
    }));
    // The order in which the book keeps its files.
    read.sort_by(|(a, _), (b, _)| a.path.cmp(&b.path));
    let (sources, files): (Vec<_>, Vec<_>) = read.into_iter().map(|(source, file)| (Arc::new(source), file)).unzip();
    Loaded { root: target.root.clone(), book: Book::new(sources), files }
}

/// A file that is asked for, with its text or the reason why it has none.
pub(super) struct ReadText {
    pub path: PathBuf,
    pub text: Result<String, String>,
}

/// The texts of the files that a target asks for; the rest of their book is not read.
pub(super) fn texts(target: &Target) -> Vec<ReadText> {
    let below = below(target);
    let files = below.files.into_par_iter().filter(|path| target.asks_for(path));
    let mut texts: Vec<ReadText> = files
        .map(|path| {
            let text = disk::bytes(&path).and_then(text);
            ReadText { path, text }
        })
        .collect();
    let unreadable = below.unreadable.into_iter().filter(|(path, _)| target.asks_for(path));
    texts.extend(unreadable.map(|(path, error)| ReadText { path, text: Err(reason(&error)) }));
    texts
}

/// The text of a sheet, or why it is none.
pub(super) fn text(bytes: Vec<u8>) -> Result<String, String> {
    if let Some(problem) = FileProblem::of(&bytes) {
        return Err(self::problem(&problem, &bytes));
    }
    String::from_utf8(bytes).map_err(|_| "it is not UTF-8".to_owned())
}

/// Why a file is no text, in words.
pub(super) fn problem(problem: &FileProblem, bytes: &[u8]) -> String {
    match problem {
        FileProblem::NotUtf8 { at, byte, .. } => {
            let line = bytes[..*at as usize].iter().filter(|byte| **byte == b'\n').count() + 1;
            format!("the byte {byte:02X} on line {line} is not UTF-8")
        }
        FileProblem::Utf16 => "it is written in UTF-16".to_owned(),
        FileProblem::CannotRead(why) => why.to_string(),
    }
}

fn below(target: &Target) -> Below {
    match &target.single {
        Some(file) => Below { files: vec![file.clone()], unreadable: Vec::new() },
        None => disk::walk_book(&target.root),
    }
}
