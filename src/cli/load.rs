//! Files of a book from disk, read in parallel. What cannot be read stands in the book with its reason.

use std::fs::File;
use std::io::{self, Read};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use rayon::prelude::*;

use super::paths::{self, Below, Target};
use super::progress;
use crate::book::{Book, FileId, FileProblem, SourceFile};

/// A sheet has a few kilobytes; a file of more than this is none.
const MOST_BYTES: u64 = 64 * 1024 * 1024;

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
    let below = below(target);
    let bar = progress::reading(below.files.len());
    let mut read: Vec<(SourceFile, FileOnDisk)> = below
        .files
        .into_par_iter()
        .map(|path| {
            let relative = relative(&path, &target.root);
            let source = match bytes(&path) {
                Ok(bytes) => SourceFile::from_bytes(relative, bytes),
                Err(why) => SourceFile::unreadable(relative, why),
            };
            bar.inc(1);
            (source, FileOnDisk { asked: target.asks_for(&path), path, is_file: true })
        })
        .collect();
    bar.finish_and_clear();
    read.extend(below.unreadable.into_iter().map(|(path, error)| {
        let source = SourceFile::unreadable(relative(&path, &target.root), reason(&error));
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
            let text = bytes(&path).and_then(text);
            ReadText { path, text }
        })
        .collect();
    let unreadable = below.unreadable.into_iter().filter(|(path, _)| target.asks_for(path));
    texts.extend(unreadable.map(|(path, error)| ReadText { path, text: Err(reason(&error)) }));
    texts
}

fn text(bytes: Vec<u8>) -> Result<String, String> {
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
        None => paths::walk_book(&target.root),
    }
}

fn relative(path: &Path, root: &Path) -> String {
    match path.strip_prefix(root) {
        Ok(relative) if relative.as_os_str().is_empty() => ".".to_owned(),
        Ok(relative) => paths::slashes(relative),
        Err(_) => paths::slashes(path),
    }
}

fn bytes(path: &Path) -> Result<Vec<u8>, String> {
    let read = || -> io::Result<Option<Vec<u8>>> {
        let file = File::open(path)?;
        // A file may grow while it is read.
        let length = file.metadata()?.len();
        let mut bytes = Vec::with_capacity(length.min(MOST_BYTES) as usize);
        if length <= MOST_BYTES {
            file.take(MOST_BYTES + 1).read_to_end(&mut bytes)?;
        }
        Ok((length <= MOST_BYTES && bytes.len() as u64 <= MOST_BYTES).then_some(bytes))
    };
    match read() {
        Ok(Some(bytes)) => Ok(bytes),
        Ok(None) => Err(format!("it has more than {} MiB, too much for a sheet", MOST_BYTES / (1024 * 1024))),
        Err(error) => Err(reason(&error)),
    }
}

/// The system's reason in its own words, without its number.
pub(super) fn reason(error: &io::Error) -> String {
    let text = match error.kind() {
        io::ErrorKind::PermissionDenied => "permission denied".to_owned(),
        io::ErrorKind::NotFound => "it is not there".to_owned(),
        _ => error.to_string(),
    };
    match text.split_once(" (os error") {
        Some((words, _)) => words.to_lowercase(),
        None => text,
    }
}
