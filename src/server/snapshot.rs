//! All that a request may look at, as it stood when the request arrived.

use std::cell::RefCell;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use rustc_hash::FxHashMap;

use super::client::Client;
use super::convert::{Elsewhere, Places};
use super::protocol::{Location, Url};
use super::settings::Settings;
use crate::book::{Book, FileId};
use crate::check::Place;
use crate::disk;
use crate::ide::Consequences;
use crate::text::LineIndex;

/// What makes a book one.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub(super) enum BookKey {
    /// The folder of its `book.rotor`.
    Folder(PathBuf),
    /// A file in no such folder.
    File(PathBuf),
    /// A text that lies nowhere yet.
    Unsaved(Url),
}

impl BookKey {
    /// The folder that the paths in the book start from.
    pub fn root(&self) -> &Path {
        match self {
            BookKey::Folder(folder) => folder,
            BookKey::File(file) => file.parent().unwrap_or(file),
            BookKey::Unsaved(_) => Path::new(""),
        }
    }

    /// The path of a file in the book.
    pub fn relative(&self, path: &Path) -> String {
        disk::relative(path, self.root())
    }
}

/// A folder that is open in the editor.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Folder {
    /// Without links.
    pub path: PathBuf,
    /// As the editor names it.
    pub named: PathBuf,
}

/// The whole state, never to change.
pub(super) struct View {
    pub client: Client,
    pub settings: Settings,
    pub folders: Vec<Folder>,
    pub books: Vec<BookView>,
    /// By the paths they lie at.
    pub open: FxHashMap<PathBuf, OpenView>,
}

/// One book with the unsaved texts in it.
#[derive(Clone)]
pub(super) struct BookView {
    pub key: BookKey,
    pub book: Book,
    /// What it moves beside what it was, as far as that is known.
    pub moves: Option<Arc<Consequences>>,
}

impl BookView {
    pub fn new(key: &BookKey, book: &Book, moves: &Option<Arc<Consequences>>) -> Self {
        Self { key: key.clone(), book: book.clone(), moves: moves.clone() }
    }
}

/// A text that is open in the editor.
#[derive(Clone)]
pub(super) struct OpenView {
    pub url: Url,
    pub version: i32,
    pub lines: Arc<LineIndex>,
    pub key: BookKey,
    /// Where it was written in last.
    pub written: Option<u32>,
}

/// One file of a view.
#[derive(Clone, Copy)]
pub(super) struct FileView<'v> {
    pub view: &'v View,
    pub in_book: &'v BookView,
    pub file: FileId,
}

impl View {
    /// The file of a document, open or not.
    pub fn file(&self, url: &Url) -> Option<FileView<'_>> {
        let path = self.path(url);
        let in_book = match self.open.get(&path) {
            Some(open) => self.books.iter().find(|book| book.key == open.key)?,
            None => self.book_of(&path)?,
        };
        let file = in_book.book.file_at(&in_book.key.relative(&path))?;
        Some(FileView { view: self, in_book, file })
    }

    fn path(&self, url: &Url) -> PathBuf {
        let open = self.open.iter().find(|(_, open)| open.url == *url);
        open.map_or_else(|| path_of(url), |(path, _)| path.clone())
    }

    /// The book that holds a file: the one with the nearest root.
    pub fn book_of(&self, path: &Path) -> Option<&BookView> {
        let holds = |book: &&BookView| match &book.key {
            BookKey::Folder(root) => path.starts_with(root),
            BookKey::File(file) => path == file,
            BookKey::Unsaved(_) => false,
        };
        self.books.iter().filter(holds).max_by_key(|book| book.key.root().as_os_str().len())
    }

    /// A file as the editor names it.
    pub fn url_of(&self, path: &Path) -> Option<Url> {
        if let Some(open) = self.open.get(path) {
            return Some(open.url.clone());
        }
        url_of(path, &self.folders)
    }
}

/// The path of a document, without links; for a text that lies nowhere, its address.
pub(super) fn path_of(url: &Url) -> PathBuf {
    let Ok(path) = url.to_file_path() else { return PathBuf::from(url.as_str()) };
    if let Ok(real) = path.canonicalize() {
        return real;
    }
    // It is not there yet, but its folder may be.
    let folder = path.parent().and_then(|folder| folder.canonicalize().ok());
    match (folder, path.file_name()) {
        (Some(folder), Some(name)) => folder.join(name),
        _ => path,
    }
}

/// A path as the editor names it: below the folder that it has opened, however that is spelt.
pub(super) fn url_of(path: &Path, folders: &[Folder]) -> Option<Url> {
    let nearest = folders.iter().filter(|folder| path.starts_with(&folder.path));
    let nearest = nearest.max_by_key(|folder| folder.path.as_os_str().len());
    let below = nearest.and_then(|folder| Some(folder.named.join(path.strip_prefix(&folder.path).ok()?)));
    Url::from_file_path(below.as_deref().unwrap_or(path)).ok()
}

impl<'v> FileView<'v> {
    pub fn book(&self) -> &'v Book {
        &self.in_book.book
    }

    pub fn places(&self) -> Places<'v> {
        self.places_of(self.file)
    }

    /// The places of any file of the same book.
    pub fn places_of(&self, file: FileId) -> Places<'v> {
        let text = &self.in_book.book.file(file).text;
        match self.view.open.get(&self.path_of(file)) {
            Some(open) => Places::new(text, open.lines.clone(), self.view.client.encoding),
            None => Places::of(text, self.view.client.encoding),
        }
    }

    fn path_of(&self, file: FileId) -> PathBuf {
        match &self.in_book.key {
            BookKey::Unsaved(url) => PathBuf::from(url.as_str()),
            key => key.root().join(&*self.in_book.book.file(file).path),
        }
    }

    /// The address of any file of the same book.
    pub fn url(&self, file: FileId) -> Option<Url> {
        self.view.url_of(&self.path_of(file))
    }

    /// What the book moves beside what it was.
    pub fn moves(&self) -> Option<&'v Consequences> {
        self.in_book.moves.as_deref()
    }

    /// Where the file was written in last, while it is open.
    pub fn written(&self) -> Option<u32> {
        self.view.open.get(&self.path_of(self.file))?.written
    }

    /// The version of any file of the same book, where it is open.
    pub fn version(&self, file: FileId) -> Option<i32> {
        self.view.open.get(&self.path_of(file)).map(|open| open.version)
    }
}

/// Finds places in the files of one book; each file is looked at once.
pub(super) struct Locator<'v> {
    file: FileView<'v>,
    files: RefCell<FxHashMap<FileId, Option<(Url, Places<'v>)>>>,
}

impl<'v> FileView<'v> {
    pub fn locator(self) -> Locator<'v> {
        Locator { file: self, files: RefCell::default() }
    }
}

impl Elsewhere for Locator<'_> {
    fn location(&self, place: Place) -> Option<Location> {
        let mut files = self.files.borrow_mut();
        let found = files.entry(place.file).or_insert_with(|| {
            let url = self.file.url(place.file)?;
            Some((url, self.file.places_of(place.file)))
        });
        found.as_ref().map(|(url, places)| Location::new(url.clone(), places.range(place.span)))
    }
}
