//! What is found by name. Changing one file costs what is in it, however large the book is.

use std::sync::{Arc, OnceLock};

use rustc_hash::FxHashMap;

use super::files::{FileId, ItemId, SourceFile};
use super::materials::BUILT_IN;
use super::references;
use super::shelf::Shelf;
use crate::sheet::Names;
use crate::syntax::Kind;

/// Items under a kind and a name.
type Entries = FxHashMap<Kind, FxHashMap<Box<str>, Vec<ItemId>>>;

/// Names changed on top of the shared entries before all are gathered again.
const MOST_CHANGED: usize = 1000;

/// Two tables that follow the files.
#[derive(Clone, Debug, Default)]
pub(super) struct Index {
    /// Items by their kind and name.
    names: Layered,
    /// Items by the kind and name of an item that they name, themselves or in their blocks.
    users: Layered,
    /// The names of each kind, for names that lead nowhere; made when one does.
    alike: Alike,
}

/// The names of each kind, once they are asked for.
#[derive(Clone, Debug)]
struct Alike([OnceLock<Names>; Kind::ALL.len()]);

impl Default for Alike {
    fn default() -> Self {
        Self(std::array::from_fn(|_| OnceLock::new()))
    }
}

/// Entries with those on top that have changed since they were gathered.
#[derive(Clone, Debug, Default)]
struct Layered {
    base: Arc<Entries>,
    changed: Entries,
    count: usize,
}

/// Which of the two tables an entry is for.
#[derive(Clone, Copy)]
enum Table {
    Names,
    Users,
}

impl Index {
    pub fn of(files: &Shelf) -> Self {
        let (mut names, mut users) = (Entries::default(), Entries::default());
        for (file, source) in files.iter().enumerate() {
            gather(Table::Names, FileId(file as u32), source, &mut names);
            gather(Table::Users, FileId(file as u32), source, &mut users);
        }
        Self { names: Layered::of(names), users: Layered::of(users), alike: Default::default() }
    }

    /// The items of this kind and name, in order.
    pub fn named(&self, kind: Kind, name: &str) -> &[ItemId] {
        self.names.get(kind, name)
    }

    /// The items that name an item of this kind and name, in order.
    pub fn users(&self, kind: Kind, name: &str) -> &[ItemId] {
        self.users.get(kind, name)
    }

    /// All names of a kind, in the order of their items.
    pub fn names_of(&self, kind: Kind) -> Vec<(&str, ItemId)> {
        let mut names: Vec<(&str, ItemId)> = self.names.all(kind).collect();
        names.sort_by_key(|(_, id)| *id);
        names
    }

    /// The same made ready for "did you mean", with the materials that need no item.
    pub fn alike(&self, kind: Kind) -> &Names {
        self.alike.0[kind as usize].get_or_init(|| {
            let built_in = BUILT_IN.iter().map(|metal| metal.name).filter(|_| kind == Kind::Material);
            self.names_of(kind).into_iter().map(|(name, _)| name).chain(built_in).collect()
        })
    }

    /// Whether any item of the kind has a name.
    pub fn has(&self, kind: Kind) -> bool {
        self.names.all(kind).next().is_some()
    }

    /// Follows the change of one file.
    pub fn change(&mut self, file: FileId, before: &SourceFile, after: &SourceFile) {
        self.alike = Default::default();
        self.names.change(Table::Names, file, before, after);
        self.users.change(Table::Users, file, before, after);
    }

    /// Whether so much has changed that all should be gathered again.
    pub fn is_worn(&self) -> bool {
        self.names.count + self.users.count > MOST_CHANGED
    }
}

/// Adds the entries of one file.
fn gather(table: Table, file: FileId, source: &SourceFile, entries: &mut Entries) {
    for (index, item) in source.sheet.items.iter().enumerate() {
        let id = ItemId { file, index: index as u32 };
        match table {
            Table::Names => {
                if let Some(name) = &item.name {
                    put(entries, item.kind, &name.text, id);
                }
            }
            Table::Users => {
                references::each(item, &mut |reference| put(entries, reference.kind, &reference.name.text, id));
            }
        }
    }
}

fn put(entries: &mut Entries, kind: Kind, name: &str, id: ItemId) {
    let names = entries.entry(kind).or_default();
    match names.get_mut(name) {
        // An item that names another twice is one user.
        Some(items) if items.last() == Some(&id) => {}
        Some(items) => items.push(id),
        None => _ = names.insert(name.into(), vec![id]),
    }
}

fn find<'e>(entries: &'e Entries, kind: Kind, name: &str) -> Option<&'e [ItemId]> {
    entries.get(&kind)?.get(name).map(|items| &**items)
}

impl Layered {
    fn of(entries: Entries) -> Self {
        Self { base: Arc::new(entries), changed: Entries::default(), count: 0 }
    }

    fn get(&self, kind: Kind, name: &str) -> &[ItemId] {
        find(&self.changed, kind, name).or_else(|| find(&self.base, kind, name)).unwrap_or(&[])
    }

    fn all(&self, kind: Kind) -> impl Iterator<Item = (&str, ItemId)> {
        let changed = self.changed.get(&kind);
        let base = self.base.get(&kind).into_iter().flatten();
        let unchanged = base.filter(move |(name, _)| changed.is_none_or(|changed| !changed.contains_key(*name)));
        let entries = changed.into_iter().flatten().chain(unchanged);
        entries.flat_map(|(name, items)| items.iter().map(move |id| (&**name, *id)))
    }

    fn change(&mut self, table: Table, file: FileId, before: &SourceFile, after: &SourceFile) {
        let (mut old, mut new) = (Entries::default(), Entries::default());
        gather(table, file, before, &mut old);
        gather(table, file, after, &mut new);
        for (kind, name) in old.iter().chain(&new).flat_map(|(kind, names)| names.keys().map(|name| (*kind, name))) {
            let now = find(&new, kind, name).unwrap_or(&[]);
            if find(&old, kind, name).unwrap_or(&[]) != now {
                self.set(kind, name, file, now);
            }
        }
    }

    /// What one file has under a name, beside what the others have.
    fn set(&mut self, kind: Kind, name: &str, file: FileId, now: &[ItemId]) {
        let others = self.get(kind, name).iter().filter(|id| id.file != file);
        let mut items: Vec<ItemId> = others.chain(now).copied().collect();
        items.sort();
        if self.changed.entry(kind).or_default().insert(name.into(), items).is_none() {
            self.count += 1;
        }
    }
}
