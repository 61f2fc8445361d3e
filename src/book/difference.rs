//! What two versions of a file do not have in common, as far as other files can tell.

use std::sync::{Arc, OnceLock};

use rayon::prelude::*;
use rustc_hash::FxHashSet;

use super::files::{Book, FileId, SourceFile};
use super::lookups::{Lookups, NameKey};
use super::references::references;
use super::unread::reads_whole;
use crate::sheet::Block;
use crate::syntax::{Kind, SyntaxErrorKind};
use crate::text::Span;

/// What changed. Items are compared by what is written in them, wherever in the file they stand.
#[derive(Debug, Default)]
pub struct Difference {
    /// Names of items that are not what they were.
    pub names: FxHashSet<NameKey>,
    /// Names that such an item names, or named.
    pub users: FxHashSet<NameKey>,
    /// Kinds of which there are other names than before.
    pub names_of: FxHashSet<Kind>,
    /// The rules of the shop may be others.
    pub shop: bool,
    /// The file can be read now, or no longer.
    pub unread: bool,
    /// Items have come, gone or been renamed.
    pub headings: bool,
    /// Items that are what they were: where they stood and where they stand.
    pub same: Vec<(Span, Span)>,
    /// The texts before and after, when there are both.
    texts: Option<(Arc<str>, Arc<str>)>,
    /// What went and what came, found when somebody asks.
    edit: OnceLock<(Span, Span)>,
}

impl Difference {
    /// `None` means a file that is not there.
    pub fn between(before: Option<&SourceFile>, after: Option<&SourceFile>) -> Self {
        let (old, new) = (items(before), items(after));
        let is_unread = |file: Option<&SourceFile>| file.is_some_and(SourceFile::is_unread);
        let mut difference = Self { unread: is_unread(before) != is_unread(after), ..Self::default() };
        let unsettled = has_conflict(before) || has_conflict(after);
        let shorter = if unsettled { 0 } else { old.len().min(new.len()) };
        let front = old.iter().zip(&new).take(shorter).take_while(|(old, new)| old.is_same(new)).count();
        let back =
            old.iter().rev().zip(new.iter().rev()).take(shorter - front).take_while(|(old, new)| old.is_same(new));
        let back = back.count();
        let same = old[..front].iter().zip(&new[..front]);
        let same = same.chain(old[old.len() - back..].iter().zip(&new[new.len() - back..]));
        difference.same = same.map(|(old, new)| (old.item.span, new.item.span)).collect();
        difference.texts = before.zip(after).map(|(before, after)| (before.text.clone(), after.text.clone()));
        difference.changed(&old[front..old.len() - back], &new[front..new.len() - back]);
        difference
    }

    fn changed(&mut self, old: &[Item<'_>], new: &[Item<'_>]) {
        let same_headings = old.iter().map(Item::heading).eq(new.iter().map(Item::heading));
        self.headings = !same_headings;
        for Item { item, .. } in old.iter().chain(new) {
            if let Some(name) = &item.name {
                self.names.insert(NameKey::of(&name.text));
                if !same_headings {
                    self.names_of.insert(item.kind);
                }
            }
            self.users.extend(references(item).iter().map(|reference| NameKey::of(&reference.name.text)));
            self.shop |= item.kind == Kind::Shop;
        }
    }

    /// What two books do not have in common, as far as items can tell. Files are compared by their paths, so that an item
    /// that has moved to another file counts as changed.
    pub fn between_books(before: &Book, after: &Book) -> Self {
        let mut all = Self::default();
        for (_, old) in before.files().filter(|(_, old)| after.file_at(&old.path).is_none()) {
            all.add(Self::between(Some(old), None));
        }
        let files: Vec<FileId> = after.files().map(|(id, _)| id).collect();
        let between = |id: &FileId| {
            let new = after.shared_file(*id);
            let old = before.file_at(&new.path).map(|old| before.shared_file(old));
            match old {
                Some(old) if Arc::ptr_eq(old, new) => None,
                old => Some(Self::between(old.map(|old| &**old), Some(new))),
            }
        };
        let found: Vec<Self> = files.par_iter().with_min_len(16).filter_map(between).collect();
        found.into_iter().for_each(|one| all.add(one));
        all
    }

    /// Adds what changed in another file. Which items are the same where is a matter of one file, and is let go.
    fn add(&mut self, other: Self) {
        self.names.extend(other.names);
        self.users.extend(other.users);
        self.names_of.extend(other.names_of);
        self.shop |= other.shop;
        self.unread |= other.unread;
        self.headings |= other.headings;
    }

    /// Whether work that looked this up may come to another outcome now.
    pub fn touches(&self, lookups: &Lookups) -> bool {
        self.shop
            || self.unread
            || (lookups.everything && !self.is_nothing())
            || !self.names.is_disjoint(&lookups.names)
            || !self.users.is_disjoint(&lookups.users)
            || !self.names_of.is_disjoint(&lookups.names_of)
    }

    /// Whether nothing has changed that another file could tell, places apart.
    pub fn is_nothing(&self) -> bool {
        self.names.is_empty() && self.users.is_empty() && !self.shop && !self.unread && !self.headings
    }

    /// Where a place in an item that is what it was stands now.
    pub fn moved(&self, span: Span) -> Option<Span> {
        let at = self.same.partition_point(|(old, _)| old.start <= span.start).checked_sub(1)?;
        let (old, new) = self.same[at];
        let within = span.end <= old.end;
        within.then(|| Span::new(span.start - old.start + new.start, span.end - old.start + new.start))
    }
}

impl Difference {
    /// Where a place stands now by the text alone: before what changed, or after it.
    pub fn carried(&self, span: Span) -> Option<Span> {
        let (old, new) = self.texts.as_ref()?;
        let (gone, come) = self.edit.get_or_init(|| edit(old, new));
        let carry = |at: u32| at - gone.end + come.end;
        match span {
            span if span.end <= gone.start => Some(span),
            span if span.start >= gone.end => Some(Span::new(carry(span.start), carry(span.end))),
            _ => None,
        }
    }
}

/// The bytes that went, and those that came in their place.
fn edit(old: &str, new: &str) -> (Span, Span) {
    let (old, new) = (old.as_bytes(), new.as_bytes());
    let shorter = old.len().min(new.len());
    let front = old.iter().zip(new).take_while(|(old, new)| old == new).count();
    let back = old.iter().rev().zip(new.iter().rev()).take(shorter - front);
    let back = back.take_while(|(old, new)| old == new).count();
    let changed = |text: &[u8]| Span::new(front as u32, (text.len() - back) as u32);
    (changed(old), changed(new))
}

struct Item<'f> {
    item: &'f Block,
    text: &'f str,
    /// An error beside an item can keep it from being read whole, with no letter of it changed.
    reads_whole: bool,
}

impl Item<'_> {
    fn is_same(&self, other: &Self) -> bool {
        self.text == other.text && self.heading() == other.heading() && self.reads_whole == other.reads_whole
    }

    fn heading(&self) -> (Kind, Option<&str>) {
        (self.item.kind, self.item.name.as_ref().map(|name| &*name.text))
    }
}

fn items(file: Option<&SourceFile>) -> Vec<Item<'_>> {
    let Some(file) = file else { return Vec::new() };
    let read = |item| Item { item, text: item.span.of(&file.text), reads_whole: reads_whole(file, item) };
    file.sheet.items.iter().map(read).collect()
}

/// Which lines are read in a file with a conflict is a matter of more than their own text.
fn has_conflict(file: Option<&SourceFile>) -> bool {
    file.is_some_and(|file| file.errors.iter().any(|error| error.kind == SyntaxErrorKind::ConflictMarkers))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn file(text: &str) -> SourceFile {
        SourceFile::read("a.rotor", text)
    }

    #[test]
    fn what_stands_elsewhere_is_the_same() {
        let before = file("rotor \"a\" {\n  mass: 3 kg\n}\nrotor \"b\" {\n}\n");
        let after = file("# a comment\nrotor \"a\" {\n  mass: 4 kg\n}\n\nrotor \"b\" {\n}\n");
        let difference = Difference::between(Some(&before), Some(&after));
        assert!(difference.names.contains(&NameKey::of("a")) && !difference.names.contains(&NameKey::of("b")));
        assert!(!difference.headings && !difference.shop);
        let b = before.sheet.items[1].heading;
        assert_eq!(difference.moved(b), Some(after.sheet.items[1].heading));
        assert_eq!(difference.moved(before.sheet.items[0].heading), None);
    }

    #[test]
    fn a_place_that_was_not_typed_into_is_carried_along() {
        let before = file("rotor \"a\" {\n  mass: 3 kg\n}\n");
        let after = file("rotor \"a\" {\n  mass: 33 kg\n}\n");
        let difference = Difference::between(Some(&before), Some(&after));
        let heading = before.sheet.items[0].heading;
        assert_eq!((difference.moved(heading), difference.carried(heading)), (None, Some(heading)));
        assert_eq!(difference.carried(Span::new(22, 24)), Some(Span::new(23, 25)));
        assert_eq!(difference.carried(Span::new(0, 26)), None);
    }

    #[test]
    fn a_file_that_comes_or_goes_changes_all_its_names() {
        let only = file("setup \"s\" {\n  rotor: \"a\"\n}\n");
        for difference in [Difference::between(None, Some(&only)), Difference::between(Some(&only), None)] {
            assert!(difference.names.contains(&NameKey::of("s")));
            assert!(difference.users.contains(&NameKey::of("a")));
            assert!(difference.headings && difference.names_of.contains(&Kind::Setup));
        }
    }

    #[test]
    fn nothing_is_the_same_around_a_conflict() {
        let before = file("<<<<<<< a\n=======\n>>>>>>> b\nrotor \"a\" {\n}\n");
        let after = file("rotor \"a\" {\n}\n");
        let difference = Difference::between(Some(&before), Some(&after));
        assert!(difference.names.contains(&NameKey::of("a")));
    }
}
