//! Versions of a book: a revision, what is staged, the work tree, a folder.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use rayon::prelude::*;
use rustc_hash::FxHashMap;

use super::submodule::Submodule;
use super::terminal::{Terminal, harmless};
use super::unread::{At, Objects, Unread};
use super::{Failure, Session, load, paths};
use crate::book::{Book, SourceFile, references};
use crate::disk::{self, BOOK, reason};
use crate::git::{Blobs, GitError, Listing, Repository, books_in, left_out};
use crate::syntax::{Kind, SyntaxErrorKind};

impl From<GitError> for Failure {
    fn from(error: GitError) -> Self {
        let failure = Failure::new(error.message());
        match error.help() {
            Some(help) => failure.help(help),
            None => failure,
        }
    }
}

/// Where a version of a book is read from.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum Version {
    /// The files as they lie there; of a folder within a book, the whole book around it.
    Folder { root: PathBuf, part: Option<PathBuf> },
    /// The files of the work tree, tracked by git or not.
    WorkTree(PathBuf),
    /// What the next commit would hold.
    Staged,
    /// `folder` is the book's in the tree, when it is named.
    Commit { commit: String, given: String, folder: Option<String> },
}

/// The book that versions are of, and the repository it lies in.
pub(super) struct Ground {
    /// The folder of the book on disk; where there is none, the current folder.
    root: PathBuf,
    /// The books below it, where none of them is meant more than another.
    several: Vec<String>,
    repository: Result<Repository, GitError>,
    /// Where the book lies in a submodule of the repository that the current folder lies in.
    submodule: Option<Submodule>,
}

impl Ground {
    /// The book of `--book`, else the one around the current folder, else the only one below it.
    pub fn of(session: &Session) -> Result<Self, Failure> {
        let (root, several) = match paths::book_around(session.book.as_deref())? {
            Some(target) => (target.root, Vec::new()),
            None => book_below()?,
        };
        let repository = Repository::around(&root);
        let submodule = repository.as_ref().ok().and_then(Submodule::of);
        Ok(Self { root, several, repository, submodule })
    }

    /// The folder of the book on disk; where there is none, the current folder.
    pub fn root(&self) -> Result<&Path, Failure> {
        match self.several.is_empty() {
            true => Ok(&self.root),
            false => Err(Failure::new(format!("several books lie here: {}", self.several.join(", ")))
                .help("name one with --book")),
        }
    }

    pub fn repository(&self) -> Result<&Repository, Failure> {
        self.repository.as_ref().map_err(|error| match error {
            GitError::NotInstalled => GitError::NotInstalled.into(),
            GitError::Refused(why) => GitError::Refused(why.clone()).into(),
            _ => GitError::NoRepository.into(),
        })
    }

    /// What is staged; of a submodule, the commit that is staged around it.
    pub fn staged(&self) -> Result<Version, Failure> {
        match &self.submodule {
            Some(submodule) => submodule.staged(self.repository()?),
            None => Ok(Version::Staged),
        }
    }

    /// The last commit that two have in common.
    pub fn merge_base(&self, from: &str, to: &str) -> Result<Version, Failure> {
        let repository = self.repository()?;
        match &self.submodule {
            Some(submodule) => submodule.merge_base(repository, from, to),
            None => {
                let (commit, given) = (repository.merge_base(from, to)?, format!("{from}...{to}"));
                Ok(Version::Commit { commit, given, folder: None })
            }
        }
    }

    /// A revision, `REVISION:FOLDER`, or a folder. Of a book in a submodule, revisions are those of the repository that the
    /// current folder lies in.
    pub fn version(&self, text: &str) -> Result<Version, Failure> {
        if let (Some(submodule), Ok(repository)) = (&self.submodule, &self.repository)
            && let Some(version) = submodule.version(repository, text)?
        {
            return Ok(version);
        }
        let path = Path::new(text);
        let is_folder = path.is_dir();
        let written_as_path =
            text.starts_with(['.', '/']) || path.is_absolute() || text.contains(std::path::MAIN_SEPARATOR);
        if is_folder && written_as_path {
            return folder(path);
        }
        let found = match &self.repository {
            Ok(repository) => repository.commit(text),
            Err(_) if is_folder => return folder(path),
            Err(_) if path.is_file() => return Err(a_file(text)),
            Err(_) => return Err(self.repository().err().unwrap_or_else(|| Failure::new("git has no answer"))),
        };
        match (found, is_folder) {
            (Ok(_), true) => Err(GitError::Ambiguous(text.to_owned()).into()),
            (Ok(commit), false) => Ok(Version::Commit { commit, given: text.to_owned(), folder: None }),
            (Err(_), true) => folder(path),
            (Err(_), false) if path.is_file() => Err(a_file(text)),
            (Err(error), false) => match (text.split_once(':'), &self.repository) {
                (Some((revision, folder)), Ok(repository)) => {
                    let commit = repository.commit(revision)?;
                    let folder = in_tree(repository, folder);
                    let files = repository.files_of(&commit)?;
                    if files.book(&folder).is_empty() {
                        let missing = format!("`{revision}` has no sheet in {}", shown_folder(&folder));
                        return Err(Failure::new(missing).help("name a folder as that revision has it"));
                    }
                    if let [around] = books_in(&files, &folder).as_slice()
                        && around.len() < folder.len()
                    {
                        let part = format!("{} of `{revision}` is a part of a book", shown_folder(&folder));
                        let whole =
                            if around.is_empty() { revision.to_owned() } else { format!("{revision}:{around}") };
                        return Err(Failure::new(part).help(format!("compare the whole book, `{whole}`")));
                    }
                    Ok(Version::Commit { commit, given: text.to_owned(), folder: Some(folder) })
                }
                _ => Err(error.into()),
            },
        }
    }

    /// A version as people read it.
    pub fn label(&self, version: &Version) -> String {
        match version {
            Version::Folder { root, .. } => paths::shown(root),
            Version::WorkTree(_) => "work tree".to_owned(),
            Version::Staged => "staged".to_owned(),
            Version::Commit { commit, given, .. } => match &self.repository {
                Ok(repository) => {
                    let short = repository.short(commit);
                    if *given == short || commit == given { short } else { format!("{given} ({short})") }
                }
                Err(_) => given.clone(),
            },
        }
    }

    /// The files of a version, with their paths in the book; not read yet.
    fn files(&self, version: &Version, terminal: &mut Terminal) -> Result<Vec<Unread>, Failure> {
        match version {
            Version::Folder { root, .. } | Version::WorkTree(root) => {
                let below = disk::walk_book(root);
                let mut files: Vec<Unread> = below
                    .files
                    .into_iter()
                    .map(|path| Unread { path: disk::relative(&path, root), at: At::Disk(path) })
                    .collect();
                files.extend(below.unreadable.into_iter().map(|(path, error)| Unread {
                    path: disk::relative(&path, root),
                    at: At::Nowhere(reason(&error)),
                }));
                if matches!(version, Version::WorkTree(_)) {
                    let left_out = left_out(root).into_iter();
                    files.extend(left_out.map(|file| Unread { path: file.path, at: At::Object(file.object) }));
                }
                Ok(files)
            }
            Version::Staged => {
                let listing = self.repository()?.staged_files()?;
                self.of_listing(&listing, None, "what is staged", terminal)
            }
            Version::Commit { commit, given, folder } => {
                let listing = self.repository()?.files_of(commit)?;
                self.of_listing(&listing, folder.as_deref(), &format!("`{given}`"), terminal)
            }
        }
    }

    fn of_listing(
        &self,
        listing: &Listing,
        folder: Option<&str>,
        whose: &str,
        terminal: &mut Terminal,
    ) -> Result<Vec<Unread>, Failure> {
        let folder = match folder {
            Some(folder) => folder.to_owned(),
            None => self.folder_in(listing, whose, terminal)?,
        };
        let files = listing.book(&folder).into_iter();
        Ok(files.map(|(path, file)| Unread { path: path.to_owned(), at: At::Object(file.object.clone()) }).collect())
    }

    /// Where the book lies in a tree: where it lies on disk, or elsewhere when it was moved.
    fn folder_in(&self, listing: &Listing, whose: &str, terminal: &mut Terminal) -> Result<String, Failure> {
        let prefix = self.repository()?.prefix(self.root()?);
        if let Some(prefix) = &prefix
            && !listing.book(prefix).is_empty()
        {
            return Ok(prefix.clone());
        }
        let books = books_in(listing, "");
        match (books.as_slice(), prefix) {
            ([one], _) => Ok(one.clone()),
            ([], Some(prefix)) => {
                terminal.warn(&format!("{whose} has no sheet in {}", shown_folder(&prefix)));
                Ok(prefix)
            }
            ([], None) => Ok(String::new()),
            (several, _) => {
                let choices: Vec<String> = several.iter().map(|folder| shown_folder(folder)).collect();
                Err(Failure::new(format!("{whose} holds several books: {}", choices.join(", ")))
                    .help("write `REVISION:FOLDER` for one of them"))
            }
        }
    }

    /// Reads two versions of the book. A file that is the same in both is read once.
    pub fn load(&self, old: &Version, new: &Version, terminal: &mut Terminal) -> Result<(Book, Book), Failure> {
        let (old, new) = (self.files(old, terminal)?, self.files(new, terminal)?);
        let objects = self.objects(old.iter().chain(&new))?;
        let before: Vec<Arc<SourceFile>> = old.par_iter().map(|file| Arc::new(file.read(&objects))).collect();
        let by_path: FxHashMap<&str, (&Unread, &Arc<SourceFile>)> =
            old.iter().zip(&before).map(|(file, source)| (&*file.path, (file, source))).collect();
        let after: Vec<Arc<SourceFile>> = new
            .par_iter()
            .map(|file| match by_path.get(&*file.path) {
                Some((other, source)) if other.is_same(file) => (*source).clone(),
                Some((_, source)) => file.read_beside(&objects, source),
                None => Arc::new(file.read(&objects)),
            })
            .collect();
        Ok((Book::new(before), Book::new(after)))
    }

    /// The book as it lies on disk.
    pub fn work_tree(&self) -> Result<Book, Failure> {
        let root = self.root()?.to_owned();
        let target = paths::Target { asked: vec![root.clone()], root, single: None };
        Ok(load::load(&target).book)
    }

    /// The sheets of the book that are staged and are not as the last commit has them; all of them when there is none.
    pub fn newly_staged(&self, terminal: &mut Terminal) -> Result<Vec<load::ReadText>, Failure> {
        let repository = self.repository()?;
        let before = match repository.commit("HEAD") {
            Ok(head) => repository.files_of(&head)?,
            Err(GitError::NoCommit) => Listing::default(),
            Err(error) => return Err(error.into()),
        };
        let staged = self.files(&Version::Staged, terminal)?;
        let known: rustc_hash::FxHashSet<&str> = before.files().iter().map(|file| &*file.object).collect();
        let known = |file: &Unread| matches!(&file.at, At::Object(object) if known.contains(&**object));
        let new: Vec<Unread> = staged.into_iter().filter(|file| !known(file)).collect();
        let objects = self.objects(new.iter())?;
        let texts = new.iter().map(|file| load::ReadText {
            path: self.root.join(&file.path),
            text: file.bytes(&objects).and_then(load::text),
        });
        Ok(texts.collect())
    }

    /// Reads one version of the book.
    pub fn load_one(&self, version: &Version, terminal: &mut Terminal) -> Result<Book, Failure> {
        let files = self.files(version, terminal)?;
        let objects = self.objects(files.iter())?;
        Ok(Book::new(files.par_iter().map(|file| Arc::new(file.read(&objects))).collect()))
    }

    fn objects<'f>(&self, files: impl Iterator<Item = &'f Unread>) -> Result<Objects, Failure> {
        let mut names: Vec<&str> = files
            .filter_map(|file| match &file.at {
                At::Object(object) => Some(&**object),
                _ => None,
            })
            .collect();
        names.sort_unstable();
        names.dedup();
        if names.is_empty() {
            return Ok(Objects::default());
        }
        let bytes = Blobs::of(self.repository()?)?.read_all(&names);
        Ok(names.into_iter().map(str::to_owned).zip(bytes).collect())
    }
}

/// Says which files of a version cannot be trusted.
pub(super) fn warn_of_files(terminal: &mut Terminal, label: &str, book: &Book) {
    for (_, file) in book.files() {
        let place = format!("{label}: {}", file.path);
        if let Some(problem) = &file.problem {
            terminal.warn(&harmless(&format!("{place}: {}", load::problem(problem, file.text.as_bytes()))));
        }
        if let Some(conflict) = file.errors.iter().find(|error| error.kind == SyntaxErrorKind::ConflictMarkers) {
            let line = file.line_index().line_of(conflict.span.start) + 1;
            let what = "a conflict is not resolved; its first side is read";
            terminal.warn(&harmless(&format!("{place}:{line}: {what}")));
        }
    }
}

fn folder(path: &Path) -> Result<Version, Failure> {
    let root = path
        .canonicalize()
        .map_err(|error| Failure::new(format!("`{}` cannot be opened: {}", path.display(), reason(&error))))?;
    let books = roots_below(&root);
    let whole = |root: PathBuf| Version::Folder { root, part: None };
    match books.as_slice() {
        // The folder of a book, or one without any, whose sheets are compared as one book.
        _ if books.contains(&root) => Ok(whole(root)),
        [] => Ok(whole(root)),
        [one] => {
            let part = Some(root.clone()).filter(|root| root.starts_with(one));
            Ok(Version::Folder { root: one.clone(), part })
        }
        _ => {
            Err(Failure::new(format!("`{}` holds several books", path.display()))
                .help("name the folder of one of them"))
        }
    }
}

/// Says of a folder whether it is compared as more than it holds, or lacks what its sheets name.
pub(super) fn warn_of_parts(terminal: &mut Terminal, version: &Version, book: &Book) {
    let Version::Folder { root, part } = version else { return };
    let shown = |path: &Path| harmless(&paths::shown(path));
    if let Some(part) = part {
        let (part, whole) = (shown(part), shown(root));
        return terminal.warn(&format!("`{part}` is a part of the book in `{whole}`, which is compared as a whole"));
    }
    if book.shop_id().is_some() {
        return;
    }
    let named = book.items().flat_map(|id| references(book.item(id)));
    let mut missing: Vec<(Kind, &str)> = named
        .filter(|reference| book.find(reference.kind, &reference.name.text).is_err())
        .map(|reference| (reference.kind, &*reference.name.text))
        .collect();
    missing.sort_unstable();
    missing.dedup();
    let Some((kind, name)) = missing.first() else { return };
    let more = match missing.len() - 1 {
        0 => "is not in it".to_owned(),
        more => format!("and {more} more are not in it"),
    };
    terminal.warn(&format!(
        "`{}` is not a whole book: {kind} \"{}\" {more}, and what rests on that is not compared. Name the folder of the book, \
         where `{BOOK}` lies",
        shown(root),
        harmless(name)
    ));
}

fn a_file(text: &str) -> Failure {
    Failure::new(format!("`{text}` is a file")).help(format!("name the folder of its book, where `{BOOK}` lies"))
}

/// The only book below the current folder, else the current folder with the books below it.
fn book_below() -> Result<(PathBuf, Vec<String>), Failure> {
    let cannot = |error| Failure::new(format!("the current folder cannot be opened: {}", reason(&error)));
    let here = Path::new(".").canonicalize().map_err(cannot)?;
    let books = roots_below(&here);
    Ok(match books.as_slice() {
        [one] => (one.clone(), Vec::new()),
        several => (here, several.iter().map(|root| paths::shown(root)).collect()),
    })
}

fn roots_below(folder: &Path) -> Vec<PathBuf> {
    let found = disk::books_below(folder).into_iter();
    let roots = found.filter_map(|found| match found {
        disk::Found::Book { root, .. } => Some(root),
        disk::Found::Loose(_) => None,
    });
    roots.collect()
}

/// A folder of a tree; as git has it, `.` and `./a` are from the current folder, others from the top.
fn in_tree(repository: &Repository, folder: &str) -> String {
    let is_from_here = folder == "." || folder.starts_with("./");
    let here = Path::new(".").canonicalize().ok().filter(|_| is_from_here);
    let here = here.and_then(|here| repository.prefix(&here)).unwrap_or_default();
    let parts = here.split('/').chain(folder.split('/')).filter(|part| !matches!(*part, "" | "."));
    parts.collect::<Vec<_>>().join("/")
}

fn shown_folder(folder: &str) -> String {
    if folder.is_empty() { "its top folder".to_owned() } else { format!("`{folder}`") }
}
