//! Results worked out once, however many threads ask for them at the same time.

use std::sync::{Arc, Mutex, OnceLock, PoisonError};

use rayon::prelude::*;
use rustc_hash::FxHashMap;

use crate::book::files::ItemId;
use crate::book::lookups::{self, Lookups};

/// Threads that ask for different items seldom wait for each other.
const SHARDS: usize = 16;

/// The results of items, of one type.
pub(super) struct Kept<T> {
    shards: [Mutex<FxHashMap<ItemId, Cell<T>>>; SHARDS],
}

/// The results of one item, once somebody has asked for them, with what they rest on when that was recorded.
type Cell<T> = Arc<OnceLock<(Arc<T>, Option<Lookups>)>>;

impl<T> Default for Kept<T> {
    fn default() -> Self {
        Self { shards: Default::default() }
    }
}

impl<T> Kept<T> {
    fn shard(&self, id: ItemId) -> &Mutex<FxHashMap<ItemId, Cell<T>>> {
        &self.shards[(id.file.0 ^ id.index) as usize % SHARDS]
    }

    /// What is kept of an item, else what `work` makes. Who asks is noted as having looked up what it rests on.
    pub fn get_or_work_out(&self, id: ItemId, work: impl FnOnce() -> T) -> Arc<T> {
        // A poisoned shard holds only finished or untouched cells, so it can be used on.
        let cell = self.shard(id).lock().unwrap_or_else(PoisonError::into_inner).entry(id).or_default().clone();
        let made = cell.get_or_init(|| match lookups::is_recording() {
            true => {
                let (made, lookups) = lookups::recording(work);
                (Arc::new(made), Some(lookups))
            }
            false => (Arc::new(work()), None),
        });
        note(made)
    }

    /// What is kept of an item.
    pub fn get(&self, id: ItemId) -> Option<Arc<T>> {
        let kept = self.shard(id).lock().unwrap_or_else(PoisonError::into_inner).get(&id).cloned();
        kept.and_then(|cell| cell.get().map(note))
    }
}

impl<T: Send + Sync> Kept<T> {
    /// Lets go of everything, on as many threads as made it.
    pub fn finish(self) {
        self.shards.into_par_iter().for_each(drop);
    }
}

/// Who uses what is kept rests on what it rests on.
fn note<T>((made, lookups): &(Arc<T>, Option<Lookups>)) -> Arc<T> {
    match lookups {
        Some(lookups) => lookups::note_all(lookups),
        None => lookups::note_everything(),
    }
    made.clone()
}
