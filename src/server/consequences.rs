//! What an edit moves: the book as it stands, compared with what it was at the last commit or save.
//!
//! The comparing is done on a thread of its own, of the newest state alone. It is given two small books: the files that a
//! change concerns, with all that these look up. What is not in them has not moved.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::mpsc::{Sender, channel};
use std::time::{Duration, Instant};

use rustc_hash::{FxHashMap, FxHashSet};

use super::judged::JudgedBook;
use super::settings::Since;
use super::snapshot::BookKey;
use crate::book::{Book, Difference, FileId, Lookups, NameKey, SourceFile, references};
use crate::check::{self, Diagnostic, Severity};
use crate::diff;
use crate::disk;
use crate::git::{self, Blobs, GitError, Repository};
use crate::ide::{Consequences, Mended, STALE_PIN};
use std::panic::{AssertUnwindSafe, catch_unwind};

/// How seldom it is asked whether there is a new commit.
const BETWEEN_LOOKS: Duration = Duration::from_secs(2);

/// The book as it was.
pub(super) struct Baseline {
    /// The commit that it is, by its whole and its short name; `None` for what lies on disk.
    pub commit: Option<(String, String)>,
    pub book: Book,
}

impl Baseline {
    /// The book in a folder as it was. What is the same in `live` is shared with it.
    pub fn read(root: &Path, since: Since, live: &Book) -> Self {
        let committed = if since == Since::Commit { of_commit(root, live) } else { None };
        committed.unwrap_or_else(|| Self { commit: None, book: on_disk(root, live) })
    }

    fn name(&self) -> String {
        match &self.commit {
            Some((_, short)) => format!("commit {short}"),
            None => "the last save".to_owned(),
        }
    }

    /// Whether the repository has gone on to another commit.
    fn is_outdated(&self, root: &Path) -> bool {
        let Some((commit, _)) = &self.commit else { return false };
        Repository::around(root).and_then(|repository| repository.commit("HEAD")).is_ok_and(|head| head != *commit)
    }
}

fn of_commit(root: &Path, live: &Book) -> Option<Baseline> {
    let read = || -> Result<Option<Baseline>, GitError> {
        let repository = Repository::around(root)?;
        let commit = repository.commit("HEAD")?;
        let listing = repository.files_of(&commit)?;
        let Some(prefix) = repository.prefix(root) else { return Ok(None) };
        let files = listing.book(&prefix);
        let objects: Vec<&str> = files.iter().map(|(_, file)| &*file.object).collect();
        let bytes = Blobs::of(&repository)?.read_all(&objects);
        let sources = files.iter().zip(bytes).filter_map(|((path, _), bytes)| Some(shared(path, bytes.ok()?, live)));
        let book = Book::new(sources.collect());
        let short = repository.short(&commit);
        Ok((book.count_files() > 0).then_some(Baseline { commit: Some((commit, short)), book }))
    };
    read().ok().flatten()
}

fn on_disk(root: &Path, live: &Book) -> Book {
    let files = disk::walk_book(root).files;
    let read = |path: &PathBuf| (disk::relative(path, root), disk::bytes(path));
    let all = files.iter().map(read).chain(git::read_left_out(root));
    Book::new(all.filter_map(|(path, bytes)| Some(shared(&path, bytes.ok()?, live))).collect())
}

/// The file itself where the live book has the same text.
fn shared(path: &str, bytes: Vec<u8>, live: &Book) -> Arc<SourceFile> {
    let same = live.file_at(path).map(|id| live.shared_file(id));
    match same.filter(|file| file.problem.is_none() && file.text.as_bytes() == bytes) {
        Some(file) => file.clone(),
        None => Arc::new(SourceFile::from_bytes(path, bytes)),
    }
}

/// Two states to be compared.
pub(super) struct Job {
    pub key: BookKey,
    pub since: Since,
    pub baseline: Arc<Baseline>,
    pub live: Book,
    /// The files that the change concerns, with what they have looked up and what is said of them; `None` for all.
    pub concerned: Option<Vec<Concerned>>,
}

pub(super) struct Concerned {
    pub file: FileId,
    pub lookups: Lookups,
    pub found: Vec<Diagnostic>,
}

/// The files that are not what they were, and those that have looked up what changed; `None` for all.
pub(super) fn concerned(judged: &JudgedBook, before: &Book, difference: &Difference) -> Option<Vec<Concerned>> {
    if difference.shop || difference.unread {
        return None;
    }
    let is_other = |(_, file): &(FileId, &SourceFile)| {
        before.file_at(&file.path).is_none_or(|id| before.file(id).text != file.text)
    };
    let mut files = judged.concerned_by(difference);
    files.extend(judged.book().files().filter(is_other).map(|(id, _)| id));
    let of = |file: FileId| Concerned { file, lookups: judged.lookups(file).clone(), found: judged.diagnostics(file) };
    let all: Vec<Concerned> = files.into_iter().map(of).collect();
    (!all.iter().any(|one| one.lookups.everything)).then_some(all)
}

/// What comes of it.
pub(super) enum Outcome {
    Compared(BookKey, Arc<Consequences>),
    /// There has been a commit since: this is what to compare with from now on.
    NewBaseline(BookKey, Arc<Baseline>),
}

/// Starts the thread that compares. It ends when nobody can give it anything any more.
pub(super) fn start(tell: impl Fn(Outcome) + Send + 'static) -> Sender<Job> {
    let (sender, jobs) = channel::<Job>();
    std::thread::spawn(move || {
        let mut looked = Instant::now();
        while let Ok(first) = jobs.recv() {
            let mut newest: FxHashMap<BookKey, Job> = FxHashMap::default();
            for job in std::iter::once(first).chain(jobs.try_iter()) {
                newest.insert(job.key.clone(), job);
            }
            for (key, job) in newest {
                let look_again = looked.elapsed() > BETWEEN_LOOKS;
                let compared = catch_unwind(AssertUnwindSafe(|| compare(&job)));
                if let Ok(found) = compared {
                    tell(Outcome::Compared(key.clone(), Arc::new(found)));
                }
                if look_again {
                    looked = Instant::now();
                    if job.baseline.is_outdated(key.root()) {
                        let baseline = Baseline::read(key.root(), job.since, &job.live);
                        tell(Outcome::NewBaseline(key, Arc::new(baseline)));
                    }
                }
            }
        }
    });
    sender
}

fn compare(job: &Job) -> Consequences {
    let (old, new) = match &job.concerned {
        Some(concerned) => reduced(&job.baseline.book, &job.live, concerned),
        None => (job.baseline.book.clone(), job.live.clone()),
    };
    let diff = diff::compare_and_judge(&old, &new);
    let mended = job.concerned.as_ref().map(|concerned| mended(&old, &job.live, concerned)).unwrap_or_default();
    Consequences { since: job.baseline.name(), diff, mended }
}

/// What was said of the files and is no longer.
fn mended(old: &Book, live: &Book, concerned: &[Concerned]) -> Vec<Mended> {
    let computing = crate::book::Computing::without_explanations(old);
    let mut gone = Vec::new();
    for one in concerned {
        let path = &live.file(one.file).path;
        let Some(before) = old.file_at(path) else { continue };
        let weighs = |said: &&Diagnostic| said.severity != Severity::Note && said.rule.code != STALE_PIN;
        let mut codes: FxHashMap<&str, usize> = FxHashMap::default();
        one.found.iter().filter(weighs).for_each(|said| *codes.entry(said.rule.code).or_default() += 1);
        for said in check::check_file(&computing, before, || true).unwrap_or_default().iter().filter(weighs) {
            match codes.get_mut(said.rule.code) {
                Some(count) if *count > 0 => *count -= 1,
                _ => gone.push(Mended { file: path.to_string(), code: said.rule.code, message: said.message.clone() }),
            }
        }
    }
    computing.finish();
    gone
}

/// Both books with nothing in them but the files that are concerned, what these look up, and the shop.
fn reduced(old: &Book, new: &Book, concerned: &[Concerned]) -> (Book, Book) {
    let mut wanted = Lookups::default();
    let mut paths: FxHashSet<Box<str>> = FxHashSet::default();
    for one in concerned {
        wanted.names.extend(&one.lookups.names);
        wanted.users.extend(&one.lookups.users);
        paths.insert(new.file(one.file).path.clone());
    }
    // What is named by something that has been changed since may have been looked up before.
    for (_, file) in old.files().filter(|(_, file)| paths.contains(&file.path)) {
        let named = file.sheet.items.iter().flat_map(references);
        wanted.names.extend(named.map(|reference| NameKey::of(&reference.name.text)));
    }
    for book in [old, new] {
        let more = book.files().filter(|(_, file)| is_wanted(file, &wanted)).map(|(_, file)| file.path.clone());
        paths.extend(more);
    }
    let only = |book: &Book| {
        let files = book.files().filter(|(_, file)| paths.contains(&file.path));
        Book::new(files.map(|(id, _)| book.shared_file(id).clone()).collect())
    };
    (only(old), only(new))
}

fn is_wanted(file: &SourceFile, wanted: &Lookups) -> bool {
    file.sheet.items.iter().any(|item| {
        let is_named = |name: &str| wanted.names.contains(&NameKey::of(name));
        let names = |reference: crate::book::Reference<'_>| wanted.users.contains(&NameKey::of(&reference.name.text));
        item.kind == crate::syntax::Kind::Shop
            || is_named(item.name_text())
            || (!wanted.users.is_empty() && references(item).into_iter().any(names))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diff::BookDiff;
    use crate::ide::testing::{SETUP, SHOP, fixture};

    /// Rotors and setups that have nothing to do with the wheel.
    const OTHERS: &str = "#! others.rotor\nrotor spare {\n  mass: 3 kg\n}\nsetup idle {\n  rotor: spare\n}\n";

    fn told(diff: &BookDiff) -> Vec<String> {
        let mut told = Vec::new();
        for item in &diff.items {
            told.push(format!("{} {:?}", item.item, item.change));
            told.extend(item.facts.iter().map(|fact| format!("{:?} {:?} {:?}", fact.path, fact.old, fact.new)));
            told.extend(
                item.results.iter().map(|one| format!("{} {:?} {:?} {:?}", one.item, one.path, one.old, one.new)),
            );
            told.extend(item.alerts.iter().map(|alert| format!("{:?} {}", alert.code, alert.item)));
            told.extend(item.findings.iter().map(|found| format!("{} {}", found.code, found.message)));
        }
        told
    }

    /// What is left out of the small books has not moved.
    #[test]
    fn small_books_tell_what_whole_books_tell() {
        let calibration = "  calibrate hub {\n    mass: 4.00 g\n    radius: 100.0 mm\n  }\n}\n";
        let text = format!("{OTHERS}{SHOP}{SETUP}  masses: \"brass set\"\n{calibration}");
        let old = fixture(&text).book;
        for (from, to) in [
            ("total: 80 g·mm", "total: 40 g·mm"),
            ("radius: 100.0 mm", "radius: 110.0 mm"),
            ("uncertainty: 0.004 g", "uncertainty: 0.1 g"),
            ("rotor wheel {", "rotor disc {"),
            ("channels: left, right", "channels: near, far"),
        ] {
            assert!(text.contains(from), "{from}");
            let new = fixture(&text.replace(from, to)).book;
            let mut judged = JudgedBook::new(old.files().map(|(id, _)| old.shared_file(id).clone()).collect());
            judged.judge_some(99);
            let changed = new
                .files()
                .filter(|(_, file)| old.file_at(&file.path).is_some_and(|id| old.file(id).text != file.text));
            judged.update(changed.map(|(id, file)| (file.path.clone(), Some(new.shared_file(id).clone()))).collect());
            judged.judge_some(99);
            let difference = Difference::between_books(&old, judged.book());
            let concerned = concerned(&judged, &old, &difference).unwrap();
            let (before, after) = reduced(&old, judged.book(), &concerned);
            assert!(after.file_at("others.rotor").is_none(), "{from}: what has nothing to do with it is left out");
            let small = diff::compare_and_judge(&before, &after);
            let whole = diff::compare_and_judge(&old, judged.book());
            assert_eq!(told(&small), told(&whole), "{from}");
            assert!(!told(&small).is_empty(), "{from}");
        }
    }
}
