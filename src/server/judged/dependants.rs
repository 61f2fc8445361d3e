//! Which files looked up what, so that a change reaches those that it concerns and no others.

use std::hash::Hash;

use rustc_hash::{FxHashMap, FxHashSet};

use crate::book::{Difference, FileId, Lookups, NameKey};
use crate::syntax::Kind;

type Files = FxHashSet<FileId>;

#[derive(Debug, Default)]
pub(super) struct Dependants {
    names: FxHashMap<NameKey, Files>,
    users: FxHashMap<NameKey, Files>,
    names_of: FxHashMap<Kind, Files>,
    everything: Files,
}

impl Dependants {
    /// What `file` looked up is no longer `before` but `after`.
    pub fn change(&mut self, file: FileId, before: &Lookups, after: &Lookups) {
        if before == after {
            return;
        }
        change(&mut self.names, file, &before.names, &after.names);
        change(&mut self.users, file, &before.users, &after.users);
        change(&mut self.names_of, file, &before.names_of, &after.names_of);
        match after.everything {
            true => _ = self.everything.insert(file),
            false => _ = self.everything.remove(&file),
        }
    }

    /// The files that a change concerns, the changed one perhaps among them.
    pub fn of(&self, difference: &Difference) -> Files {
        let mut files = Files::default();
        if !difference.is_nothing() {
            files.extend(&self.everything);
        }
        gather(&mut files, &self.names, &difference.names);
        gather(&mut files, &self.users, &difference.users);
        gather(&mut files, &self.names_of, &difference.names_of);
        files
    }
}

fn change<K: Hash + Eq + Copy>(
    table: &mut FxHashMap<K, Files>,
    file: FileId,
    before: &FxHashSet<K>,
    after: &FxHashSet<K>,
) {
    for gone in before.difference(after) {
        if let Some(files) = table.get_mut(gone) {
            files.remove(&file);
            if files.is_empty() {
                table.remove(gone);
            }
        }
    }
    for new in after.difference(before) {
        table.entry(*new).or_default().insert(file);
    }
}

fn gather<K: Hash + Eq>(files: &mut Files, table: &FxHashMap<K, Files>, changed: &FxHashSet<K>) {
    files.extend(changed.iter().filter_map(|key| table.get(key)).flatten());
}
