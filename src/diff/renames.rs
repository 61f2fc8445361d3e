//! The names that items have now.

use rustc_hash::FxHashMap;

use crate::syntax::Kind;

/// Items that have another name than before.
#[derive(Clone, Debug, Default)]
pub struct Renames(FxHashMap<Kind, FxHashMap<Box<str>, Box<str>>>);

impl Renames {
    pub fn add(&mut self, kind: Kind, old: &str, new: &str) {
        self.0.entry(kind).or_default().insert(old.into(), new.into());
    }

    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// What an item of the old book is called in the new one.
    pub fn name_now<'n>(&'n self, kind: Kind, old: &'n str) -> &'n str {
        self.0.get(&kind).and_then(|names| names.get(old)).map_or(old, |new| new)
    }
}
