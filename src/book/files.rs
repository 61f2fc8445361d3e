//! The files of a book, and the names in them.

use std::sync::{Arc, OnceLock};

use super::bytes::FileProblem;
use super::index::Index;
use super::lookups::{Lookups, NameKey, Record};
use super::references::references;
use super::shelf::Shelf;
use super::shop::ShopRules;
use super::users::Users;
use crate::sheet::{self, Block, Names, Sheet};
use crate::syntax::{self, Kind, SyntaxError, Tree};
use crate::text::{LineIndex, Span, in_a_line};
use crate::units::Place;

/// The file that marks the root of a book, and holds its shop.
pub const ROOT_FILE: &str = "book.rotor";

#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct FileId(pub u32);

impl FileId {
    /// Where a value of the file stands, as its uncertainty knows it.
    pub fn place(self, value: Span) -> Place {
        Place { file: self.0, start: value.start }
    }
}

/// An item of a book: the n-th of its file.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct ItemId {
    pub file: FileId,
    pub index: u32,
}

/// One file with its facts. Made from its text alone, and shared between books that differ in other files.
#[derive(Debug)]
pub struct SourceFile {
    /// Relative to the book, with `/`.
    pub path: Box<str>,
    pub text: Arc<str>,
    pub sheet: Sheet,
    pub errors: Vec<SyntaxError>,
    /// Why it is no text, or not all of it; then nothing else in it is judged.
    pub problem: Option<FileProblem>,
    /// The lines as they were parsed; kept once somebody has asked for them.
    pub(super) tree: OnceLock<Box<Tree>>,
}

impl SourceFile {
    pub fn read(path: impl Into<Box<str>>, text: impl Into<Arc<str>>) -> Self {
        let text = text.into();
        let tree = syntax::parse(&text);
        let sheet = sheet::lower(&text, &tree);
        // Reports are lines; a name must not forge one.
        let path = in_a_line(&path.into()).into();
        Self { path, text, sheet, errors: tree.errors, problem: None, tree: OnceLock::new() }
    }

    /// The same file with another text, of which not all is read again when it differs in one stretch. Keeps its tree.
    pub fn changed(&self, text: impl Into<Arc<str>>) -> Self {
        let text = text.into();
        let tree = syntax::parse_again(&self.text, self.tree(), &text);
        let sheet = sheet::lower(&text, &tree);
        let errors = tree.errors.clone();
        let tree = OnceLock::from(Box::new(tree));
        Self { path: self.path.clone(), text, sheet, errors, problem: None, tree }
    }

    /// The lines of the file. Judging a book needs its facts alone, so that only who asks pays for them.
    pub fn tree(&self) -> &Tree {
        self.tree.get_or_init(|| Box::new(syntax::parse(&self.text)))
    }

    pub fn line_index(&self) -> LineIndex {
        LineIndex::new(&self.text)
    }

    /// Whether it could not be read at all: nobody knows which names are in it.
    pub fn is_unread(&self) -> bool {
        matches!(self.problem, Some(FileProblem::CannotRead(_) | FileProblem::Utf16))
    }
}

/// Why a reference leads nowhere.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum ReferenceError {
    Unknown,
    /// The name belongs to an item of another kind.
    WrongKind(Kind),
    /// Several items have it; none is trusted.
    Ambiguous(Vec<ItemId>),
}

/// All files of one book. Cheap to copy and to change by a file: what the change does not touch is shared.
#[derive(Clone, Debug, Default)]
pub struct Book {
    contents: Arc<Contents>,
    /// Where it is noted what is looked up. Books made of this one share it.
    record: Option<Arc<Record>>,
}

#[derive(Clone, Debug, Default)]
struct Contents {
    files: Shelf,
    index: Arc<Index>,
    shop: Option<ItemId>,
    rules: Arc<ShopRules>,
    /// How many files could not be read at all.
    unread: usize,
}

impl Contents {
    fn of(files: Shelf) -> Self {
        let index = Arc::new(Index::of(&files));
        let unread = files.iter().filter(|file| file.is_unread()).count();
        let mut contents = Self { files, index, shop: None, rules: Arc::default(), unread };
        contents.read_shop();
        contents
    }

    fn read_shop(&mut self) {
        let shop = self.items().find(|id| self.item(*id).kind == Kind::Shop);
        self.shop = shop;
        self.rules = Arc::new(self.shop.map(|id| ShopRules::read(self.item(id))).unwrap_or_default());
    }

    fn with_file(&self, file: Arc<SourceFile>) -> Self {
        let mut contents = self.clone();
        let at = match contents.files.position(&file.path) {
            Ok(at) => at,
            Err(at) => {
                contents.files.insert(at, file);
                return Self::of(contents.files);
            }
        };
        let before = contents.files.get(at).clone();
        contents.files.replace(at, file.clone());
        contents.unread = contents.unread - usize::from(before.is_unread()) + usize::from(file.is_unread());
        if !same_names(&before.sheet.items, &file.sheet.items) {
            let index = Arc::make_mut(&mut contents.index);
            index.change(FileId(at as u32), &before, &file);
            if index.is_worn() {
                return Self::of(contents.files);
            }
        }
        if has_shop(&before) || has_shop(&file) {
            contents.read_shop();
        }
        contents
    }

    fn items(&self) -> impl Iterator<Item = ItemId> {
        self.files.iter().enumerate().flat_map(|(file, source)| {
            (0..source.sheet.items.len()).map(move |index| ItemId { file: FileId(file as u32), index: index as u32 })
        })
    }

    fn item(&self, id: ItemId) -> &Block {
        &self.files.get(id.file.0 as usize).sheet.items[id.index as usize]
    }
}

impl Book {
    /// Files are put in the order of their paths, so that the same folder always makes the same book.
    pub fn new(mut files: Vec<Arc<SourceFile>>) -> Self {
        files.sort_by(|a, b| a.path.cmp(&b.path));
        Self { contents: Arc::new(Contents::of(Shelf::of(files))), record: None }
    }

    /// The book with one file put in or replaced.
    pub fn with_file(&self, file: Arc<SourceFile>) -> Self {
        self.of(self.contents.with_file(file))
    }

    /// A book of other contents that is recorded as this one is.
    fn of(&self, contents: Contents) -> Self {
        Self { contents: Arc::new(contents), record: self.record.clone() }
    }

    /// The same contents with another record.
    pub(super) fn recorded_in(&self, record: Arc<Record>) -> Self {
        Self { contents: self.contents.clone(), record: Some(record) }
    }

    pub(super) fn record(&self) -> Option<&Arc<Record>> {
        self.record.as_ref()
    }

    fn note(&self, what: impl FnOnce(&mut Lookups)) {
        if let Some(record) = &self.record {
            record.note(what);
        }
    }

    /// Notes that something was used that rests on what is in another record, or on nobody knows what.
    pub(super) fn take_from(&self, other: Option<&Arc<Record>>) {
        match (&self.record, other) {
            (Some(own), Some(other)) => own.take_from(other),
            (Some(_), None) => self.note_everything(),
            (None, _) => {}
        }
    }

    fn note_everything(&self) {
        self.note(|lookups| lookups.everything = true);
    }

    /// Lets go of all files, on as many threads as read them.
    pub fn finish(self) {
        if let Some(contents) = Arc::into_inner(self.contents) {
            contents.files.finish();
        }
    }

    pub fn files(&self) -> impl Iterator<Item = (FileId, &SourceFile)> {
        self.note_everything();
        self.contents.files.iter().enumerate().map(|(index, file)| (FileId(index as u32), &**file))
    }

    pub fn count_files(&self) -> usize {
        self.note_everything();
        self.contents.files.len()
    }

    pub fn file(&self, id: FileId) -> &SourceFile {
        self.shared_file(id)
    }

    /// The file to keep beyond this book.
    pub fn shared_file(&self, id: FileId) -> &Arc<SourceFile> {
        self.contents.files.get(id.0 as usize)
    }

    pub fn file_at(&self, path: &str) -> Option<FileId> {
        self.contents.files.position(path).ok().map(|index| FileId(index as u32))
    }

    pub fn items(&self) -> impl Iterator<Item = ItemId> {
        self.note_everything();
        self.contents.items()
    }

    pub fn item(&self, id: ItemId) -> &Block {
        self.contents.item(id)
    }

    /// The block that states the shop's rules, if the book has one.
    pub fn shop(&self) -> Option<&Block> {
        self.contents.shop.map(|id| self.item(id))
    }

    /// The item of that block.
    pub fn shop_id(&self) -> Option<ItemId> {
        self.contents.shop
    }

    /// The shop's rules, with the defaults where it states none.
    pub fn rules(&self) -> &ShopRules {
        &self.contents.rules
    }

    /// Whether a file could not be read at all, so that any name may be in it.
    pub fn has_unread_files(&self) -> bool {
        self.contents.unread > 0
    }

    /// All items of this kind and name, in order.
    pub fn named(&self, kind: Kind, name: &str) -> &[ItemId] {
        self.note(|lookups| _ = lookups.names.insert(NameKey::of(name)));
        self.contents.index.named(kind, name)
    }

    /// Whether the book has a named item of this kind.
    pub fn has(&self, kind: Kind) -> bool {
        self.note(|lookups| _ = lookups.names_of.insert(kind));
        self.contents.index.has(kind)
    }

    /// Who refers to whom.
    pub fn users(&self) -> Users<'_> {
        Users { book: self }
    }

    /// All items that name an item of this kind and name, in order: themselves, or in one of their blocks.
    pub fn naming(&self, kind: Kind, name: &str) -> &[ItemId] {
        self.note(|lookups| _ = lookups.users.insert(NameKey::of(name)));
        self.contents.index.users(kind, name)
    }

    /// All names of one kind, in the order of their items.
    pub fn names_of(&self, kind: Kind) -> impl Iterator<Item = (&str, ItemId)> {
        self.note(|lookups| _ = lookups.names_of.insert(kind));
        self.contents.index.names_of(kind).into_iter()
    }

    /// The names that a reference to such an item may be meant for, with those that need no item.
    pub fn names_alike(&self, kind: Kind) -> &Names {
        self.note(|lookups| _ = lookups.names_of.insert(kind));
        self.contents.index.alike(kind)
    }

    /// The item that a reference means.
    pub fn find(&self, kind: Kind, name: &str) -> Result<ItemId, ReferenceError> {
        match self.named(kind, name) {
            [one] => Ok(*one),
            [] => {
                let other = Kind::ALL.into_iter().filter(|other| other.is_item());
                let other = other.into_iter().find(|other| !self.named(*other, name).is_empty());
                Err(other.map_or(ReferenceError::Unknown, ReferenceError::WrongKind))
            }
            several => Err(ReferenceError::Ambiguous(several.to_vec())),
        }
    }
}

fn has_shop(file: &SourceFile) -> bool {
    file.sheet.items.iter().any(|item| item.kind == Kind::Shop)
}

/// Whether two versions of a file are found by the same names and name the same, item by item.
fn same_names(before: &[Block], after: &[Block]) -> bool {
    let own = |item: &'_ Block| (item.kind, item.name.is_some());
    before.len() == after.len()
        && before.iter().zip(after).all(|(before, after)| {
            let (old, new) = (references(before), references(after));
            own(before) == own(after)
                && before.name_text() == after.name_text()
                && old.len() == new.len()
                && old.iter().zip(&new).all(|(old, new)| old.kind == new.kind && old.name.text == new.name.text)
        })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn file(path: &str, text: &str) -> Arc<SourceFile> {
        Arc::new(SourceFile::read(path, text))
    }

    /// Everything that is found by name, in one string.
    fn found(book: &Book) -> String {
        let names = ["a", "b", "c"];
        let kinds = [Kind::Rotor, Kind::Setup, Kind::Machine, Kind::Shop];
        let each = kinds.iter().flat_map(|kind| names.map(|name| (*kind, name)));
        let entries: Vec<String> = each
            .map(|(kind, name)| format!("{kind} {name} {:?} {:?}", book.named(kind, name), book.naming(kind, name)))
            .collect();
        let all: Vec<String> = kinds.map(|kind| format!("{:?}", book.names_of(kind).collect::<Vec<_>>())).into();
        format!("{entries:?} {all:?} {:?} {:?}", book.shop_id(), book.rules().unbalance_unit)
    }

    #[test]
    fn a_changed_book_finds_what_a_fresh_one_finds() {
        let texts = [
            "",
            "rotor \"a\" {\n}\n",
            "rotor \"a\" {\n}\nrotor \"b\" {\n}\n",
            "rotor \"b\" {\n  made of \"a\" {\n  }\n}\n",
            "setup \"c\" {\n  rotor: \"a\"\n  machine: \"b\"\n}\n",
            "setup \"a\" {\n  rotor: \"b\"\n  like: \"c\"\n}\nmachine \"b\" {\n}\n",
            "shop \"a\" {\n  show in: oz·in\n}\n",
            "shop \"b\" {\n}\nrotor \"a\" {\n}\n",
        ];
        let mut files = vec![file("1.rotor", texts[1]), file("2.rotor", texts[4]), file("3.rotor", texts[6])];
        let mut book = Book::new(files.clone());
        for round in 0..200usize {
            let path = format!("{}.rotor", round % 3 + 1);
            let changed = file(&path, texts[(round * 7 + round / 5) % texts.len()]);
            files[round % 3] = changed.clone();
            book = book.with_file(changed);
            assert_eq!(found(&book), found(&Book::new(files.clone())), "round {round}");
        }
    }
}
