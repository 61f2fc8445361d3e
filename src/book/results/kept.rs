//! Results worked out once, however many threads ask for them at the same time.

use std::hash::{BuildHasher, Hash};
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

use rayon::prelude::*;
use rustc_hash::{FxBuildHasher, FxHashMap};

use crate::book::files::{Book, ItemId};
use crate::book::lookups::Record;

/// Threads that ask for different items seldom wait for each other.
const SHARDS: usize = 16;

/// The results of items, of one type, or of an item by something that it says in several ways.
pub(super) struct Kept<T, K = ItemId> {
    shards: [Mutex<FxHashMap<K, Cell<T>>>; SHARDS],
}

/// The results of one item, once somebody has asked for them, with the record of what they rest on, if there is one.
type Cell<T> = Arc<OnceLock<(Arc<T>, Option<Arc<Record>>)>>;

impl<T, K> Default for Kept<T, K> {
    fn default() -> Self {
        Self { shards: Default::default() }
    }
}

impl<T, K: Eq + Hash> Kept<T, K> {
    fn shard(&self, key: &K) -> &Mutex<FxHashMap<K, Cell<T>>> {
        &self.shards[FxBuildHasher.hash_one(key) as usize % SHARDS]
    }

    /// What is kept of an item, else what `work` makes of a book of its own. Whoever reads the book `asked_in` is noted
    /// as having looked up what it rests on.
    pub fn get_or_work_out<'b>(&self, key: K, asked_in: &Book, work: impl FnOnce() -> (T, &'b Book)) -> Arc<T> {
        // A poisoned shard holds only finished or untouched cells, so it can be used on.
        let cell = self.shard(&key).lock().unwrap_or_else(PoisonError::into_inner).entry(key).or_default().clone();
        let made = cell.get_or_init(|| {
            let (made, read) = work();
            (Arc::new(made), read.record().cloned())
        });
        taken(made, asked_in)
    }

    /// What is kept of an item.
    pub fn get(&self, key: &K, asked_in: &Book) -> Option<Arc<T>> {
        let kept = self.shard(key).lock().unwrap_or_else(PoisonError::into_inner).get(key).cloned();
        kept.and_then(|cell| cell.get().map(|made| taken(made, asked_in)))
    }
}

impl<T: Send + Sync, K: Send> Kept<T, K> {
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
