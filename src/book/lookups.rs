//! What a piece of work looked up in a book, so that it is known which change could alter its outcome.
//!
//! A name stands for itself whatever kind was asked for: who asked for a rotor and found a machine of that name must
//! be told of both. Reading an item needs no note of its own, for items are reached by name, by going through all of
//! them, or because they are one's own.

use std::cell::RefCell;
use std::hash::{Hash, Hasher};

use rustc_hash::{FxHashSet, FxHasher};

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

thread_local! {
    static CURRENT: RefCell<Option<Lookups>> = const { RefCell::new(None) };
}

/// Does the work and tells what it looked up on this thread. What is looked up within counts for whoever records
/// around it too.
pub fn recording<T>(work: impl FnOnce() -> T) -> (T, Lookups) {
    let outer = CURRENT.replace(Some(Lookups::default()));
    // Put back even when the work panics: the thread goes on to other work.
    let guard = Outer(Some(outer));
    let result = work();
    (result, guard.finish())
}

/// The recording around the present one.
struct Outer(Option<Option<Lookups>>);

impl Outer {
    fn finish(mut self) -> Lookups {
        let outer = self.0.take().flatten();
        let lookups = CURRENT.replace(outer).unwrap_or_default();
        note_all(&lookups);
        lookups
    }
}

impl Drop for Outer {
    fn drop(&mut self) {
        if let Some(outer) = self.0.take() {
            CURRENT.set(outer);
        }
    }
}

/// Whether somebody wants to know what is looked up.
pub(super) fn is_recording() -> bool {
    CURRENT.with_borrow(Option::is_some)
}

/// Notes what was looked up for a result that is used again.
pub(super) fn note_all(lookups: &Lookups) {
    note(|current| current.add(lookups));
}

pub(super) fn note_name(name: &str) {
    note(|current| _ = current.names.insert(NameKey::of(name)));
}

pub(super) fn note_names_of(kind: Kind) {
    note(|current| _ = current.names_of.insert(kind));
}

pub(super) fn note_users(name: &str) {
    note(|current| _ = current.users.insert(NameKey::of(name)));
}

pub(super) fn note_everything() {
    note(|current| current.everything = true);
}

fn note(what: impl FnOnce(&mut Lookups)) {
    CURRENT.with_borrow_mut(|current| {
        if let Some(current) = current {
            what(current);
        }
    });
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_looked_up_within_counts_outside_too() {
        let ((_, inner), outer) = recording(|| {
            note_name("a");
            recording(|| note_name("b"))
        });
        assert_eq!(inner.names.len(), 1);
        assert_eq!(outer.names.len(), 2);
        assert!(!is_recording());
    }

    #[test]
    fn a_panic_ends_the_recording() {
        let panicked = std::panic::catch_unwind(|| recording(|| panic!("on purpose")));
        assert!(panicked.is_err());
        assert!(!is_recording());
    }
}
