//! The files of a book, and the names in them.

use std::sync::Arc;

use rustc_hash::FxHashMap;

use super::shop::ShopRules;
use crate::sheet::{self, Block, Sheet};
use crate::syntax::{self, Kind, SyntaxError};
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
}

impl SourceFile {
    pub fn read(path: impl Into<Box<str>>, text: impl Into<Arc<str>>) -> Self {
        let text = text.into();
        let tree = syntax::parse(&text);
        let sheet = sheet::lower(&text, &tree);
        Self { path: path.into(), text, sheet, errors: tree.errors }
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

/// All files of one book.
#[derive(Debug, Default)]
pub struct Book {
    files: Vec<Arc<SourceFile>>,
    names: FxHashMap<(Kind, Box<str>), Vec<ItemId>>,
    shop: Option<ItemId>,
    rules: ShopRules,
}

impl Book {
    /// Files are put in the order of their paths, so that the same folder always makes the same book.
    pub fn new(mut files: Vec<Arc<SourceFile>>) -> Self {
        files.sort_by(|a, b| a.path.cmp(&b.path));
        let mut names: FxHashMap<(Kind, Box<str>), Vec<ItemId>> = FxHashMap::default();
        let mut shop = None;
        for (file, source) in files.iter().enumerate() {
            for (index, item) in source.sheet.items.iter().enumerate() {
                let id = ItemId { file: FileId(file as u32), index: index as u32 };
                if item.kind == Kind::Shop && shop.is_none() {
                    shop = Some(id);
                }
                if let Some(name) = &item.name {
                    names.entry((item.kind, name.text.clone())).or_default().push(id);
                }
            }
        }
        let mut book = Self { files, names, shop, rules: ShopRules::default() };
        book.rules = ShopRules::of(&book);
        book
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
        self.shop.map(|id| self.item(id))
    }

    pub fn shop_id(&self) -> Option<ItemId> {
        self.shop
    }

    /// The shop's rules, with the defaults where it states none.
    pub fn rules(&self) -> &ShopRules {
        &self.rules
    }

    /// All items of this kind and name.
    pub fn named(&self, kind: Kind, name: &str) -> &[ItemId] {
        self.names.get(&(kind, Box::from(name))).map_or(&[], |items| items)
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
