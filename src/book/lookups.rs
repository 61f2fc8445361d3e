//! What a piece of work looked up in a book, so that it is known which change could alter its outcome.
//!
//! Work that is recorded is given a book of its own to read: the same contents, with a record that whatever is looked
//! up in it goes into, on whichever thread that is done. Nothing else leads to the contents, so that no lookup is lost.
//!
//! A name means itself whatever kind was asked for: who asked for a rotor and found a machine of that name must
//! be told of both. Reading an item needs no note of its own, for items are reached by name, by going through all of
//! them, or because they are one's own.

use std::hash::{Hash, Hasher};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, OnceLock, PoisonError};

use rustc_hash::{FxHashSet, FxHasher};

use super::files::Book;
use crate::syntax::Kind;

/// A name, shortened to a number. Two names may share one, which costs work and no truth.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct NameKey(u64);

impl NameKey {
    pub fn of(name: &str) -> Self {
        let mut hasher = FxHasher::default();
        name.hash(&mut hasher);
        Self(hasher.finish())
    }
}

/// What was looked up.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Lookups {
    pub names: FxHashSet<NameKey>,
    /// Which names there are of a kind.
    pub names_of: FxHashSet<Kind>,
    /// Who names an item.
    pub users: FxHashSet<NameKey>,
    /// The whole book was gone through.
    pub everything: bool,
}

impl Lookups {
    fn add(&mut self, other: &Lookups) {
        self.names.extend(&other.names);
        self.names_of.extend(&other.names_of);
        self.users.extend(&other.users);
        self.everything |= other.everything;
    }
}

/// What one piece of work looked up itself, and the records of what it took from others.
#[derive(Debug, Default)]
pub(super) struct Record(Mutex<Noted>);

#[derive(Debug, Default)]
struct Noted {
    lookups: Lookups,
    taken: Vec<Arc<Record>>,
}

impl Record {
    fn noted(&self) -> MutexGuard<'_, Noted> {
        // Work that panics leaves a record of what it did until then.
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    pub fn note(&self, what: impl FnOnce(&mut Lookups)) {
        what(&mut self.noted().lookups);
    }

    /// Notes that something was used that rests on what is in another record.
    pub fn take_from(&self, other: &Arc<Record>) {
        let taken = &mut self.noted().taken;
        if !taken.iter().any(|known| Arc::ptr_eq(known, other)) {
            taken.push(other.clone());
        }
    }

    /// What was looked up, by the work itself and for whatever it took from others. The record is empty then.
    fn finish(&self) -> Lookups {
        let Noted { lookups: mut all, taken: mut open } = std::mem::take(&mut *self.noted());
        let mut seen: FxHashSet<*const Record> = FxHashSet::default();
        while let Some(record) = open.pop() {
            if seen.insert(Arc::as_ptr(&record)) {
                let noted = record.noted();
                all.add(&noted.lookups);
                open.extend(noted.taken.iter().cloned());
            }
        }
        all
    }
}

/// A book with those that recorded work reads instead of it, which live as long as it does.
#[derive(Debug)]
pub struct RecordedBook {
    book: Book,
    own: Arena<Book>,
}

impl RecordedBook {
    pub fn of(book: &Book) -> Self {
        Self { book: book.clone(), own: Arena::default() }
    }

    /// The book without a record.
    pub(super) fn unrecorded(&self) -> &Book {
        &self.book
    }

    /// A book of these contents with a record of its own.
    pub(super) fn own(&self) -> &Book {
        self.own.put(self.book.recorded_in(Arc::new(Record::default())))
    }
}

/// Does the work with a book that has a record of its own, and tells what was looked up in that.
pub(super) fn recording<'b, T>(book: &'b RecordedBook, work: impl FnOnce(&'b Book) -> T) -> (T, Lookups) {
    let own = book.own();
    let made = work(own);
    (made, own.record().map(|record| record.finish()).unwrap_or_default())
}

/// Values that stay where they were put, and that several threads put in.
#[derive(Debug)]
struct Arena<T> {
    /// Each row has twice the room of the one before.
    rows: [OnceLock<Box<[OnceLock<T>]>>; usize::BITS as usize],
    count: AtomicUsize,
}

impl<T> Default for Arena<T> {
    fn default() -> Self {
        Self { rows: [const { OnceLock::new() }; usize::BITS as usize], count: AtomicUsize::new(0) }
    }
}

impl<T> Arena<T> {
    fn put(&self, value: T) -> &T {
        let n = self.count.fetch_add(1, Ordering::Relaxed) + 1;
        let row = n.ilog2();
        let room = 1usize << row;
        let cells = self.rows[row as usize].get_or_init(|| (0..room).map(|_| OnceLock::new()).collect());
        // No other thread has been given this place.
        cells[n - room].get_or_init(|| value)
    }
}

#[cfg(test)]
mod tests {
    use rayon::prelude::*;

    use super::*;
    use crate::book::{Computing, ItemId, SourceFile};

    const COUNT: usize = 300;

    /// Rotors that are made of each other: the n-th of the one after it and of a shaft of its own.
    fn assemblies() -> Book {
        let rotor = |n: usize| {
            let part = |name: String| format!("  made of \"{name}\" {{\n    at: 0 mm\n  }}\n");
            let next = if n % 5 < 4 { part(format!("rotor {}", n + 1)) } else { String::new() };
            let text = format!("rotor \"rotor {n}\" {{\n{next}{}}}\n", part(format!("shaft {n}")));
            Arc::new(SourceFile::read(format!("{n:03}.rotor"), text))
        };
        Book::new((0..COUNT).map(rotor).collect())
    }

    fn in_parallel(work: impl Fn(usize) + Sync + Send) {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(8).build().unwrap();
        pool.install(|| (0..COUNT).into_par_iter().with_max_len(1).for_each(work));
    }

    #[test]
    fn nothing_that_a_parallel_loop_looks_up_is_lost() {
        let book = RecordedBook::of(&assemblies());
        let computing = Computing::recorded(&book);
        let ((), lookups) = computing.record(|own| {
            in_parallel(|n| {
                own.book().named(Kind::Rotor, &format!("looked up {n}"));
                own.book().naming(Kind::Rotor, &format!("used {n}"));
            });
        });
        let keys = |what: &str| (0..COUNT).map(|n| NameKey::of(&format!("{what} {n}"))).collect::<FxHashSet<_>>();
        assert_eq!(lookups.names, keys("looked up"));
        assert_eq!(lookups.users, keys("used"));
        assert!(!lookups.everything);
    }

    /// Whoever asks first, and on whichever thread a rotor was worked out: who used it rests on what it rests on.
    #[test]
    fn what_is_worked_out_once_for_many_threads_counts_for_each_that_used_it() {
        let plain = assemblies();
        let book = RecordedBook::of(&plain);
        let computing = Computing::recorded(&book);
        let ids: Vec<ItemId> = plain.items().collect();
        let each: Vec<Mutex<Lookups>> = (0..COUNT).map(|_| Mutex::default()).collect();
        let ((), all) = computing.record(|own| {
            in_parallel(|n| {
                *each[n].lock().unwrap() = computing.record(|own| own.rotor(ids[n])).1;
                own.rotor(ids[n]);
            });
        });
        for (n, lookups) in each.iter().enumerate() {
            let alone = RecordedBook::of(&plain);
            let (_, expected) = Computing::recorded(&alone).record(|own| own.rotor(ids[n]));
            assert_eq!(*lookups.lock().unwrap(), expected, "rotor {n}");
            for rests_on in (n..=n / 5 * 5 + 4).flat_map(|m| [format!("shaft {m}"), format!("rotor {}", m.max(n + 1))])
            {
                let is_own_end = n % 5 == 4 && rests_on.starts_with("rotor");
                assert!(is_own_end || expected.names.contains(&NameKey::of(&rests_on)), "rotor {n}: {rests_on}");
            }
            assert!(expected.names.is_subset(&all.names), "rotor {n}");
        }
    }

    #[test]
    fn a_book_that_is_changed_under_record_is_recorded_on() {
        let book = RecordedBook::of(&assemblies());
        let ((), lookups) = recording(&book, |own| {
            let changed = own.with_file(Arc::new(SourceFile::read("more.rotor", "")));
            let _ = changed.find(Kind::Setup, "a");
            let _ = changed.names_of(Kind::Setup);
        });
        assert!(lookups.names.contains(&NameKey::of("a")) && lookups.names_of.contains(&Kind::Setup));
        assert!(!book.unrecorded().named(Kind::Rotor, "rotor 1").is_empty());
    }

    #[test]
    fn what_is_put_into_an_arena_stays_where_it_is() {
        let arena = Arena::default();
        let places: Vec<&usize> = (0..COUNT).map(|n| arena.put(n)).collect();
        assert!(places.iter().enumerate().all(|(n, place)| **place == n));
    }
}
