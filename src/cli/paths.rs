//! Which books and files the paths of a command line mean.
//!
//! A file or folder in a book means that part of the book, seen with the whole book around it. A folder above books
//! means each of them. A file without a book above is a book of its own. No path means the book around the current
//! folder, or what lies below it. Links are not followed, but one that is named on the command line is.

use std::collections::BTreeMap;
use std::io;
use std::path::{Path, PathBuf};

use super::Failure;
use crate::disk::{BOOK, book_above, is_book, is_rotor, reason, slashes, walk};
use crate::text::in_a_line;

/// A book, and what of it is asked for.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Target {
    /// The folder that the paths of its files are relative to.
    pub root: PathBuf,
    /// The only file, where no `book.rotor` makes the folder a book.
    pub single: Option<PathBuf>,
    /// What is asked for: every file that is one of these or lies below one.
    pub asked: Vec<PathBuf>,
}

impl Target {
    pub fn asks_for(&self, file: &Path) -> bool {
        self.asked.iter().any(|asked| file.starts_with(asked))
    }
}

/// The books that the paths mean, in the order of their folders.
pub(super) fn targets(paths: &[PathBuf], book: Option<&Path>) -> Result<Vec<Target>, Failure> {
    match book {
        Some(folder) => Ok(vec![named_book(paths, folder)?]),
        None => {
            let mut found = Targets::default();
            if paths.is_empty() {
                let here = real(Path::new("."))?;
                found.folder(&book_above(&here).unwrap_or(here));
            }
            for path in paths {
                let real = real(path)?;
                if real.is_dir() { found.folder(&real) } else { found.file(path, &real)? }
            }
            Ok(found.0.into_values().collect())
        }
    }
}

/// Where names are looked up: the book of `--book`, else the one around the current folder, else all below it.
pub(super) fn books(book: Option<&Path>) -> Result<Vec<Target>, Failure> {
    match book_around(book)? {
        Some(target) => Ok(vec![target]),
        None => targets(&[], None),
    }
}

/// The book of `--book`, else the one around the current folder.
pub(super) fn book_around(book: Option<&Path>) -> Result<Option<Target>, Failure> {
    if let Some(folder) = book {
        return named_book(&[], folder).map(Some);
    }
    let root = book_above(&real(Path::new("."))?);
    Ok(root.map(|root| Target { asked: vec![root.clone()], root, single: None }))
}

/// The book of `--book`, and the paths in it.
fn named_book(paths: &[PathBuf], folder: &Path) -> Result<Target, Failure> {
    let root = real(folder)?;
    if !root.is_dir() {
        return Err(Failure::new(format!("`--book {}` is not a folder", folder.display()))
            .help(format!("name the folder that `{BOOK}` lies in")));
    }
    let mut asked = Vec::new();
    for path in paths {
        let real = real(path)?;
        if !real.starts_with(&root) {
            return Err(Failure::new(format!("`{}` is not in the book `{}`", path.display(), folder.display())));
        }
        asked.push(real);
    }
    if asked.is_empty() {
        asked.push(root.clone());
    }
    Ok(Target { root, single: None, asked })
}

/// Targets by root and single file.
#[derive(Default)]
struct Targets(BTreeMap<(PathBuf, Option<PathBuf>), Target>);

impl Targets {
    fn file(&mut self, given: &Path, file: &Path) -> Result<(), Failure> {
        if !is_rotor(file) {
            return Err(Failure::new(format!("`{}` is not a `.rotor` file", given.display())));
        }
        self.add(book_above(file), file);
        Ok(())
    }

    /// Everything below a folder, each file with the book it belongs to.
    fn folder(&mut self, folder: &Path) {
        let above = book_above(folder);
        if let Some(root) = &above {
            self.add(Some(root.clone()), folder);
        }
        let below = walk(folder, |_| true);
        let roots: Vec<&Path> =
            below.files.iter().filter(|file| is_book(file)).filter_map(|file| file.parent()).collect();
        let places = below.files.iter().chain(below.unreadable.iter().map(|(path, _)| path));
        for place in places {
            let own = place.ancestors().skip(1).find(|ancestor| roots.contains(ancestor));
            match own.map(Path::to_owned).or_else(|| above.clone()) {
                Some(root) if above.as_ref() == Some(&root) => {}
                Some(root) => self.add(Some(root.clone()), &root),
                None => self.add(None, place),
            }
        }
    }

    fn add(&mut self, root: Option<PathBuf>, asked: &Path) {
        let (root, single) = match root {
            Some(root) => (root, None),
            None => (asked.parent().unwrap_or(asked).to_owned(), Some(asked.to_owned())),
        };
        let new = Target { root: root.clone(), single: single.clone(), asked: Vec::new() };
        let target = self.0.entry((root, single)).or_insert(new);
        if !target.asks_for(asked) {
            target.asked.push(asked.to_owned());
        }
    }
}

/// The path without links and dots.
fn real(path: &Path) -> Result<PathBuf, Failure> {
    path.canonicalize().map_err(|error| match error.kind() {
        io::ErrorKind::NotFound => Failure::new(format!("there is no `{}`", path.display())),
        _ => Failure::new(format!("`{}` cannot be opened: {}", path.display(), reason(&error))),
    })
}

/// A path for people: relative to the current folder where it lies below it, with `/`.
pub(super) fn shown(path: &Path) -> String {
    let here = std::env::current_dir().and_then(|here| here.canonicalize());
    let relative = here.ok().and_then(|here| path.strip_prefix(here).ok().map(Path::to_owned));
    let path = relative.unwrap_or_else(|| path.to_owned());
    if path.as_os_str().is_empty() { ".".to_owned() } else { in_a_line(&slashes(&path)) }
}
