//! The commit that a book is at, and which of its files are not as in it: a card of one of these is a draft.

use std::path::PathBuf;

use rustc_hash::FxHashSet;

use super::load::Loaded;
use crate::book::ItemId;
use crate::card::{self, Printed};
use crate::disk;
use crate::git::Repository;

/// Files of a book as git has them.
pub(super) struct Committed {
    /// The short name of the commit; `None` where there is none.
    commit: Option<String>,
    /// Those that are not as committed; `None` where git does not say.
    changed: Option<FxHashSet<PathBuf>>,
}

impl Committed {
    /// Of all that these items rest on.
    pub fn of(loaded: &Loaded, ids: impl Iterator<Item = ItemId>) -> Self {
        let mut files: Vec<PathBuf> = ids.flat_map(|id| files(loaded, id)).collect();
        files.sort();
        files.dedup();
        // What a sparse checkout leaves out is as the index has it.
        files.retain(|file| file.exists());
        let found =
            Repository::around(&loaded.root).and_then(|repository| Ok((repository.commit("HEAD")?, repository)));
        let Ok((commit, repository)) = found else { return Self { commit: None, changed: None } };
        let changed = repository.uncommitted(&files).ok();
        Self { commit: Some(repository.short(&commit)), changed: changed.map(|files| files.into_iter().collect()) }
    }

    /// What a card of these items is printed with.
    pub fn printed(&self, loaded: &Loaded, ids: &[ItemId]) -> Printed {
        let is_changed = |changed: &FxHashSet<PathBuf>| {
            ids.iter().flat_map(|id| files(loaded, *id)).any(|file| changed.contains(&file))
        };
        let (state, committed) = match (&self.commit, self.changed.as_ref().map(is_changed)) {
            (None, _) => ("uncommitted files".to_owned(), false),
            (Some(commit), Some(false)) => (format!("commit {commit}"), true),
            (Some(commit), Some(true)) => (format!("commit {commit} WITH CHANGES that are not committed"), false),
            (Some(commit), None) => {
                (format!("commit {commit}; whether the files are as committed is not known"), false)
            }
        };
        Printed { on: disk::today(), state, committed, preview: false }
    }
}

/// The files that a card of an item rests on.
fn files(loaded: &Loaded, id: ItemId) -> impl Iterator<Item = PathBuf> {
    let book = &loaded.book;
    let items = card::rests_on(book, id).into_iter().chain(book.shop_id());
    items.map(|item| loaded.root.join(&*book.file(item.file).path))
}
