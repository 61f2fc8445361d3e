//! The files of a book, and the names in them.

use std::sync::{Arc, OnceLock};

use rayon::prelude::*;
use rustc_hash::FxHashMap;

use super::bytes::FileProblem;
use super::shop::ShopRules;
use super::users::Users;
use crate::sheet::{self, Block, Sheet};
use crate::syntax::{self, Kind, SyntaxError, Tree};
use crate::text::LineIndex;

#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct FileId(pub u32);

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
        Self { path: path.into(), text, sheet, errors: tree.errors, problem: None, tree: OnceLock::new() }
    }

    /// The lines of the file. Judging a book needs its facts alone, so that only who asks pays for them.
    pub fn tree(&self) -> &Tree {
        self.tree.get_or_init(|| Box::new(syntax::parse(&self.text)))
    }

    pub fn line_index(&self) -> LineIndex {
        LineIndex::new(&self.text)
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

/// All files of one book. Cheap to change by a file: what the change does not touch is shared.
#[derive(Clone, Debug, Default)]
pub struct Book {
    files: Vec<Arc<SourceFile>>,
    index: Arc<Index>,
    /// Found out when somebody asks; a change of the book forgets it.
    users: OnceLock<Users>,
}

/// What is found by name, and the shop's rules.
#[derive(Debug, Default)]
struct Index {
    /// Items by kind, then by name.
    names: FxHashMap<Kind, FxHashMap<Box<str>, Vec<ItemId>>>,
    shop: Option<ItemId>,
    rules: ShopRules,
}

impl Book {
    /// Files are put in the order of their paths, so that the same folder always makes the same book.
    pub fn new(mut files: Vec<Arc<SourceFile>>) -> Self {
        files.sort_by(|a, b| a.path.cmp(&b.path));
        let index = Arc::new(Index::of(&files));
        Self { files, index, users: OnceLock::new() }
    }

    /// The book with one file put in or replaced.
    pub fn with_file(&self, file: Arc<SourceFile>) -> Self {
        let mut files = self.files.clone();
        match files.binary_search_by(|other| other.path.cmp(&file.path)) {
            Ok(at) => {
                let same_names = same_headings(&files[at].sheet.items, &file.sheet.items);
                let shop = self.index.shop.is_some_and(|shop| shop.file.0 as usize == at);
                files[at] = file;
                if same_names && !shop {
                    return Self { files, index: self.index.clone(), users: OnceLock::new() };
                }
            }
            Err(at) => files.insert(at, file),
        }
        let index = Arc::new(Index::of(&files));
        Self { files, index, users: OnceLock::new() }
    }

    /// The book without one file.
    pub fn without_file(&self, path: &str) -> Self {
        let files: Vec<_> = self.files.iter().filter(|file| *file.path != *path).cloned().collect();
        let index = Arc::new(Index::of(&files));
        Self { files, index, users: OnceLock::new() }
    }

    /// Lets go of all files, on as many threads as read them.
    pub fn finish(self) {
        self.files.into_par_iter().for_each(drop);
    }

    pub fn files(&self) -> impl Iterator<Item = (FileId, &SourceFile)> {
        self.files.iter().enumerate().map(|(index, file)| (FileId(index as u32), &**file))
    }

    pub fn file(&self, id: FileId) -> &SourceFile {
        &self.files[id.0 as usize]
    }

    pub fn file_at(&self, path: &str) -> Option<FileId> {
        self.files.binary_search_by(|file| (*file.path).cmp(path)).ok().map(|index| FileId(index as u32))
    }

    pub fn items(&self) -> impl Iterator<Item = ItemId> {
        self.files.iter().enumerate().flat_map(|(file, source)| {
            (0..source.sheet.items.len()).map(move |index| ItemId { file: FileId(file as u32), index: index as u32 })
        })
    }

    pub fn item(&self, id: ItemId) -> &Block {
        &self.file(id.file).sheet.items[id.index as usize]
    }

    /// The block that states the shop's rules, if the book has one.
    pub fn shop(&self) -> Option<&Block> {
        self.index.shop.map(|id| self.item(id))
    }

    /// The item of that block.
    pub fn shop_id(&self) -> Option<ItemId> {
        self.index.shop
    }

    /// The shop's rules, with the defaults where it states none.
    pub fn rules(&self) -> &ShopRules {
        &self.index.rules
    }

    /// All items of this kind and name.
    pub fn named(&self, kind: Kind, name: &str) -> &[ItemId] {
        self.index.names.get(&kind).and_then(|names| names.get(name)).map_or(&[], |items| items)
    }

    /// Whether the book has a named item of this kind.
    pub fn has(&self, kind: Kind) -> bool {
        self.index.names.get(&kind).is_some_and(|names| !names.is_empty())
    }

    /// Who refers to whom.
    pub fn users(&self) -> &Users {
        self.users.get_or_init(|| Users::of(self))
    }

    /// All names of one kind, in the order of their items.
    pub fn names_of(&self, kind: Kind) -> impl Iterator<Item = (&str, ItemId)> {
        self.items().filter_map(move |id| {
            let item = self.item(id);
            (item.kind == kind).then_some(item.name.as_ref().map(|name| (&*name.text, id))).flatten()
        })
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

impl Index {
    fn of(files: &[Arc<SourceFile>]) -> Self {
        let mut index = Self::default();
        for (file, source) in files.iter().enumerate() {
            for (number, item) in source.sheet.items.iter().enumerate() {
                let id = ItemId { file: FileId(file as u32), index: number as u32 };
                if item.kind == Kind::Shop && index.shop.is_none() {
                    index.shop = Some(id);
                    index.rules = ShopRules::read(item);
                }
                if let Some(name) = &item.name {
                    index.names.entry(item.kind).or_default().entry(name.text.clone()).or_default().push(id);
                }
            }
        }
        index
    }
}

fn same_headings(before: &[Block], after: &[Block]) -> bool {
    let heading = |item: &Block| (item.kind, item.name.as_ref().map(|name| name.text.clone()));
    before.len() == after.len() && before.iter().zip(after).all(|(before, after)| heading(before) == heading(after))
}
