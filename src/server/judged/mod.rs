//! A book with all that is said of it, kept up to date from change to change.
//!
//! What is said of a file is kept until the file changes or something that its judging looked up does; then the file
//! is stale and is judged again. What is kept speaks of places, in this file and in others, which are moved along when
//! text before them grows or shrinks. After everything stale has been judged, all is as if the book had been judged
//! afresh.

mod dependants;
mod moving;
#[cfg(test)]
mod tests;

use std::collections::VecDeque;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Arc;

use rayon::prelude::*;
use rustc_hash::{FxHashMap, FxHashSet};

use crate::book::{Book, Computing, Difference, FileId, Lookups, RecordedBook, RecordedComputing, SourceFile};
use crate::check::{self, Diagnostic};
use dependants::Dependants;

/// A change of a book: the path in it, and the file that lies there now; `None` when it is gone.
pub(super) type Change = (Box<str>, Option<Arc<SourceFile>>);

/// More files than this are put in at once rather than one by one.
const FEW: usize = 8;

#[derive(Default)]
pub(super) struct JudgedBook {
    book: Book,
    /// By [`FileId`].
    files: Vec<Said>,
    /// What is said of the book as a whole, wherever its places are.
    whole: Vec<Diagnostic>,
    whole_is_stale: bool,
    /// The files of which the book as a whole said something when it was judged last, though it has been dropped since.
    whole_concerned: FxHashSet<FileId>,
    dependants: Dependants,
    /// For a file, the others of which something is said that points into it.
    pointing: FxHashMap<FileId, FxHashSet<FileId>>,
    stale: VecDeque<FileId>,
    /// Goes up with every change of the book.
    edition: u64,
}

/// What is said of one file.
struct Said {
    found: Vec<Diagnostic>,
    lookups: Lookups,
    is_stale: bool,
}

impl Default for Said {
    fn default() -> Self {
        Self { found: Vec::new(), lookups: Lookups::default(), is_stale: true }
    }
}

/// What came of judging one file.
struct Judgement {
    file: FileId,
    found: Vec<Diagnostic>,
    lookups: Lookups,
}

impl JudgedBook {
    /// A book of which nothing has been said yet.
    pub fn new(files: Vec<Arc<SourceFile>>) -> Self {
        let book = Book::new(files);
        let count = book.count_files();
        let mut judged = Self { book, ..Self::default() };
        judged.files.resize_with(count, Said::default);
        judged.stale = (0..count as u32).map(FileId).collect();
        judged.whole_is_stale = true;
        judged
    }

    pub fn book(&self) -> &Book {
        &self.book
    }

    /// Another number after every change of the book.
    pub fn edition(&self) -> u64 {
        self.edition
    }

    /// The files whose judging looked up what has changed.
    pub fn concerned_by(&self, difference: &Difference) -> FxHashSet<FileId> {
        self.dependants.of(difference)
    }

    /// Puts files in, replaces them or takes them away.
    pub fn update(&mut self, changes: Vec<Change>) {
        self.edition += 1;
        let there = |path: &str| self.book.file_at(path).is_some();
        let all_replaced = changes.iter().all(|(path, file)| file.is_some() && there(path));
        if all_replaced && changes.len() <= FEW {
            for file in changes.into_iter().filter_map(|(_, file)| file) {
                self.replace(file);
            }
        } else if !changes.is_empty() {
            self.rebuild(changes);
        }
    }

    fn replace(&mut self, file: Arc<SourceFile>) {
        let Some(id) = self.book.file_at(&file.path) else { return };
        let before = self.book.shared_file(id).clone();
        self.book = self.book.with_file(file.clone());
        self.follow(Some(id), &Difference::between(Some(&before), Some(&file)));
    }

    /// Makes stale what a change of one file concerns. `id` is `None` for a file that is gone.
    fn follow(&mut self, id: Option<FileId>, difference: &Difference) {
        self.whole_is_stale |= difference.headings || difference.shop;
        if difference.shop || difference.unread {
            (0..self.files.len() as u32).for_each(|file| self.make_stale(FileId(file)));
        }
        for file in self.dependants.of(difference) {
            self.make_stale(file);
        }
        let Some(id) = id else { return };
        self.make_stale(id);
        self.whole_is_stale |= !moving::along(&mut self.whole, id, difference);
        for file in self.pointing.get(&id).cloned().unwrap_or_default() {
            if !moving::within(&mut self.files[file.0 as usize].found, id, difference) {
                self.make_stale(file);
            }
        }
    }

    fn make_stale(&mut self, file: FileId) {
        let said = &mut self.files[file.0 as usize];
        if !said.is_stale {
            said.is_stale = true;
            self.stale.push_back(file);
        }
    }

    /// Files come or go, so that others get another number.
    fn rebuild(&mut self, changes: Vec<Change>) {
        let old = std::mem::take(&mut self.book);
        let differences: Vec<(Box<str>, Difference)> = changes
            .iter()
            .map(|(path, after)| {
                let before = old.file_at(path).map(|id| old.file(id));
                (path.clone(), Difference::between(before, after.as_deref()))
            })
            .collect();
        let changed: FxHashSet<&str> = changes.iter().map(|(path, _)| &**path).collect();
        let kept = old.files().filter(|(_, file)| !changed.contains(&*file.path)).map(|(id, _)| old.shared_file(id));
        let new = changes.iter().filter_map(|(_, file)| file.clone());
        self.book = Book::new(kept.cloned().chain(new).collect());
        self.renumber(&old);
        for (path, difference) in &differences {
            self.follow(self.book.file_at(path), difference);
        }
        self.whole_is_stale = true;
    }

    /// Carries over what is said of the files of `old`.
    fn renumber(&mut self, old: &Book) {
        let now: Vec<Option<FileId>> = old.files().map(|(_, file)| self.book.file_at(&file.path)).collect();
        let mut files: Vec<Said> = Vec::new();
        files.resize_with(self.book.count_files(), Said::default);
        for (id, mut said) in now.iter().zip(std::mem::take(&mut self.files)) {
            let Some(id) = id else { continue };
            said.is_stale |= !moving::to_files(&mut said.found, &now);
            files[id.0 as usize] = said;
        }
        moving::to_files(&mut self.whole, &now);
        let concerned = self.whole_concerned.iter().filter_map(|file| now[file.0 as usize]);
        self.whole_concerned = concerned.collect();
        self.files = files;
        (self.dependants, self.pointing) = Default::default();
        let all = || (0..).map(FileId);
        for (id, said) in all().zip(&self.files) {
            self.dependants.change(id, &Lookups::default(), &said.lookups);
            point(&mut self.pointing, id, &[], &said.found);
        }
        self.stale = all().zip(&self.files).filter(|(_, said)| said.is_stale).map(|(id, _)| id).collect();
    }

    pub fn is_stale(&self, file: FileId) -> bool {
        self.files[file.0 as usize].is_stale
    }

    /// Whether anything is left to be judged.
    pub fn has_stale(&self) -> bool {
        self.whole_is_stale || self.stale.iter().any(|file| self.is_stale(*file))
    }

    /// Judges one file now; `false` when `go_on` has said to give up.
    pub fn judge(&mut self, file: FileId, go_on: impl Fn() -> bool) -> bool {
        let book = RecordedBook::of(&self.book);
        let computing = Computing::recorded(&book);
        let Some(judgement) = judge(&computing, file, go_on) else { return false };
        self.settle(judgement);
        true
    }

    /// Judges up to so many stale files, on all processors; those that were judged.
    pub fn judge_some(&mut self, most: usize) -> Vec<FileId> {
        let mut files = Vec::new();
        while files.len() < most
            && let Some(file) = self.stale.pop_front()
        {
            if self.is_stale(file) {
                files.push(file);
            }
        }
        let book = RecordedBook::of(&self.book);
        let computing = Computing::recorded(&book);
        let each = files.par_iter().with_min_len(4);
        let judgements: Vec<Judgement> = each.filter_map(|file| judge(&computing, *file, || true)).collect();
        judgements.into_iter().for_each(|judgement| self.settle(judgement));
        files
    }

    fn settle(&mut self, Judgement { file, found, lookups }: Judgement) {
        let said = &mut self.files[file.0 as usize];
        self.dependants.change(file, &said.lookups, &lookups);
        point(&mut self.pointing, file, &said.found, &found);
        *said = Said { found, lookups, is_stale: false };
    }

    /// What one file looked up when it was judged last.
    pub fn lookups(&self, file: FileId) -> &Lookups {
        &self.files[file.0 as usize].lookups
    }

    pub fn whole_is_stale(&self) -> bool {
        self.whole_is_stale
    }

    /// Judges the book as a whole; the files of which something else is said than before.
    pub fn judge_whole(&mut self) -> FxHashSet<FileId> {
        let found = catch_unwind(AssertUnwindSafe(|| check::check_book(&self.book))).unwrap_or_default();
        let mut concerned: FxHashSet<FileId> = found.iter().map(|said| said.place.file).collect();
        let before = std::mem::replace(&mut self.whole_concerned, concerned.clone());
        self.whole = found;
        self.whole_is_stale = false;
        concerned.extend(before);
        concerned
    }

    /// What is said of a file, in the order of places. The file is not stale: places in what is may be anywhere.
    pub fn diagnostics(&self, file: FileId) -> Vec<Diagnostic> {
        let mut all = self.files[file.0 as usize].found.clone();
        let whole = self.whole.iter().filter(|said| said.place.file == file);
        let before = all.len();
        all.extend(whole.cloned());
        if all.len() > before {
            check::sort(&mut all);
        }
        all
    }

    /// Whether anything is said of a file.
    pub fn has_diagnostics(&self, file: FileId) -> bool {
        !self.files[file.0 as usize].found.is_empty() || self.whole.iter().any(|said| said.place.file == file)
    }
}

/// Judges one file. A rule that panics costs what is said of this file, and nothing else.
fn judge(computing: &RecordedComputing<'_>, file: FileId, go_on: impl Fn() -> bool) -> Option<Judgement> {
    let work = || computing.record(|own| check::check_file(own, file, go_on));
    let (found, lookups) = catch_unwind(AssertUnwindSafe(work)).unwrap_or_else(|_| (Some(Vec::new()), everything()));
    Some(Judgement { file, found: found?, lookups })
}

/// What to suppose of work that did not come to its end.
fn everything() -> Lookups {
    Lookups { everything: true, ..Lookups::default() }
}

/// Notes into which other files that which is said of `file` points.
fn point(
    pointing: &mut FxHashMap<FileId, FxHashSet<FileId>>,
    file: FileId,
    before: &[Diagnostic],
    after: &[Diagnostic],
) {
    for target in moving::others(before, file) {
        if let Some(files) = pointing.get_mut(&target) {
            files.remove(&file);
        }
    }
    for target in moving::others(after, file) {
        pointing.entry(target).or_default().insert(file);
    }
}
