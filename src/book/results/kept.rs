//! Results worked out once, however many threads ask for them at the same time.

use std::sync::{Arc, Mutex, OnceLock, PoisonError};

use rayon::prelude::*;
use rustc_hash::FxHashMap;

use crate::book::files::{Book, ItemId};
use crate::book::lookups::Record;

/// Threads that ask for different items seldom wait for each other.
const SHARDS: usize = 16;

/// The results of items, of one type.
pub(super) struct Kept<T> {
    shards: [Mutex<FxHashMap<ItemId, Cell<T>>>; SHARDS],
}

/// The results of one item, once somebody has asked for them, with the record of what they rest on, if there is one.
type Cell<T> = Arc<OnceLock<(Arc<T>, Option<Arc<Record>>)>>;

impl<T> Default for Kept<T> {
    fn default() -> Self {
        Self { shards: Default::default() }
    }
}

impl<T> Kept<T> {
    fn shard(&self, id: ItemId) -> &Mutex<FxHashMap<ItemId, Cell<T>>> {
        &self.shards[(id.file.0 ^ id.index) as usize % SHARDS]
    }

    /// What is kept of an item, else what `work` makes of a book of its own. Whoever reads the book `asked_in` is noted
    /// as having looked up what it rests on.
    pub fn get_or_work_out<'b>(&self, id: ItemId, asked_in: &Book, work: impl FnOnce() -> (T, &'b Book)) -> Arc<T> {
        // A poisoned shard holds only finished or untouched cells, so it can be used on.
        let cell = self.shard(id).lock().unwrap_or_else(PoisonError::into_inner).entry(id).or_default().clone();
        let made = cell.get_or_init(|| {
            let (made, read) = work();
            (Arc::new(made), read.record().cloned())
        });
        taken(made, asked_in)
    }

    /// What is kept of an item.
    pub fn get(&self, id: ItemId, asked_in: &Book) -> Option<Arc<T>> {
        let kept = self.shard(id).lock().unwrap_or_else(PoisonError::into_inner).get(&id).cloned();
        kept.and_then(|cell| cell.get().map(|made| taken(made, asked_in)))
    }
}

impl<T: Send + Sync> Kept<T> {
    /// Lets go of everything, on as many threads as made it.
    pub fn finish(self) {
        self.shards.into_par_iter().for_each(drop);
    }
}

/// Who uses what is kept rests on what it rests on.
fn taken<T>((made, record): &(Arc<T>, Option<Arc<Record>>), asked_in: &Book) -> Arc<T> {
    asked_in.take_from(record.as_ref());
    made.clone()
}
