//! The book on the desk: an answer is tried in a copy, judged, and only then written.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::book::{Book, Computing, FileId, ItemId, SourceFile};
use crate::check::{self, Diagnostic, Severity};
use crate::cli::findings::say;
use crate::cli::load::Loaded;
use crate::cli::{Failure, Session, write};
use crate::disk;
use crate::format;
use crate::sheet::FieldValue;
use crate::starting::file_name;
use crate::syntax::Kind;
use crate::text::{self, Edit};
use crate::vocabulary::record;

/// What is not worth a word while the work goes on: it is asked next, or the verdict says it.
const GOES_ON: [&str; 10] = [
    "angles-from-unsaid",
    "card-has-a-gap",
    "no-run-after-correction",
    "not-known",
    "record-not-bound",
    "run-reads-like-a-mass",
    "seat-on-arbor-unsaid",
    "verdict-not-known",
    "verdict-not-shown",
    "verdict-over",
];

/// The same of a proof: what it still lacks is asked next, and pins follow what is read.
pub(super) const PROOF_GOES_ON: [&str; 3] = ["pinned-result-stale", "proof-leaves-facts-out", "released-without-proof"];

pub(super) struct Desk {
    pub root: PathBuf,
    pub book: Book,
    /// Whether anything is written into files.
    keeps: bool,
    /// What was before each answer.
    before: Vec<Before>,
    /// What was said already.
    said: Vec<String>,
    /// The answer that was refused last; the same again is taken.
    refused: Option<String>,
    /// The text that a file has, where the book holds more than is written.
    held: Option<(String, Arc<str>)>,
    /// The proof that is being written.
    proof: Option<(ItemId, String)>,
}

/// What an answer is taken back to.
struct Before {
    path: String,
    text: Arc<str>,
    /// How much was said by then: what is found of the same answer again is said again.
    said: usize,
}

/// What became of an answer.
pub(super) enum Tried {
    Written,
    Refused,
}

impl Desk {
    pub fn of(loaded: Loaded) -> Self {
        Self {
            root: loaded.root,
            book: loaded.book,
            keeps: true,
            before: Vec::new(),
            said: Vec::new(),
            refused: None,
            held: None,
            proof: None,
        }
    }

    /// Judges a proof of this name while it is written as if it were finished.
    pub fn judge_proof(&mut self, setup: ItemId, name: &str) {
        self.proof = Some((setup, name.to_owned()));
    }

    /// One on which nothing is written into files.
    pub fn for_practice(loaded: Loaded) -> Self {
        Self { keeps: false, ..Self::of(loaded) }
    }

    /// Counts what is found now as said.
    pub fn take_as_said(&mut self, item: ItemId) {
        self.said = self.found(&self.book, item).iter().map(worded).collect();
    }

    /// Makes edits of the file of an item, unless they bring an error: that is said, and the same answer again is taken
    /// where the sheet still reads.
    pub fn change(
        &mut self,
        session: &mut Session,
        item: ItemId,
        edits: &[Edit],
        answer: &str,
    ) -> Result<Tried, Failure> {
        let source = self.book.shared_file(item.file).clone();
        let tried = text::apply(&source.text, edits).map_err(|_| Failure::new("two edits of the sheet meet"))?;
        let book = self.book.with_file(Arc::new(source.changed(tried.as_str())));
        let fresh: Vec<Diagnostic> =
            self.found(&book, item).into_iter().filter(|one| !self.said.contains(&worded(one))).collect();
        let own = |one: &&Diagnostic| edits.iter().any(|edit| is_of(one, item.file, edit));
        let error = fresh.iter().filter(own).find(|one| one.severity == Severity::Error);
        if let Some(error) = error {
            let still_reads =
                check::check_facts(&book, item.file).len() <= check::check_facts(&self.book, item.file).len();
            let is_insisted = still_reads && self.refused.as_deref() == Some(answer);
            if !is_insisted {
                say(session, error);
                if still_reads {
                    session.terminal.say("  the same answer again is taken as it is");
                }
                self.refused = Some(answer.to_owned());
                return Ok(Tried::Refused);
            }
        }
        let new = self.bound(&book, item).unwrap_or(tried);
        let new = if is_formatted(&source.text) { format::format(&new).unwrap_or(new) } else { new };
        self.write(&source, &new)?;
        self.refused = None;
        let goes_on = |code: &str| GOES_ON.contains(&code) || self.proof.is_some() && PROOF_GOES_ON.contains(&code);
        let told: Vec<&Diagnostic> = fresh.iter().filter(|one| !goes_on(one.rule.code)).collect();
        for one in told {
            say(session, one);
            self.said.push(worded(one));
        }
        if fresh.iter().filter(own).any(|one| one.severity == Severity::Warning && !goes_on(one.rule.code)) {
            session.terminal.say("  the answer is written all the same: `back` takes it out");
        }
        Ok(Tried::Written)
    }

    /// The text with what it is judged by, where a fix writes that down.
    fn bound(&self, book: &Book, item: ItemId) -> Option<String> {
        let edits = check::edits_that_bind(&Computing::without_explanations(book), item);
        if edits.is_empty() { None } else { text::apply(&book.file(item.file).text, &edits).ok() }
    }

    fn edited(&self, source: &SourceFile, edits: &[Edit]) -> Result<String, Failure> {
        let new = text::apply(&source.text, edits).map_err(|_| Failure::new("two edits of the sheet meet"))?;
        Ok(if is_formatted(&source.text) { format::format(&new).unwrap_or(new) } else { new })
    }

    fn write(&mut self, source: &SourceFile, new: &str) -> Result<(), Failure> {
        let held = self.held.take_if(|(path, _)| **path == *source.path);
        let old = held.map_or_else(|| source.text.clone(), |(_, text)| text);
        if self.keeps {
            let path = self.root.join(&*source.path);
            write::replace(&path, &old, new)
                .map_err(|why| Failure::new(format!("`{}` cannot be written: {why}", path.display())))?;
        }
        self.before.push(Before { path: source.path.to_string(), text: old, said: self.said.len() });
        self.book = self.book.with_file(Arc::new(source.changed(new)));
        Ok(())
    }

    /// Makes edits that nobody was asked for.
    pub fn add(&mut self, file: FileId, edits: &[Edit]) -> Result<(), Failure> {
        let source = self.book.shared_file(file).clone();
        let new = self.edited(&source, edits)?;
        self.write(&source, &new)
    }

    /// Makes edits in the book alone: the next answer writes them with itself.
    pub fn hold(&mut self, file: FileId, edits: &[Edit]) -> Result<(), Failure> {
        let source = self.book.shared_file(file).clone();
        let new = self.edited(&source, edits)?;
        self.held = Some((source.path.to_string(), source.text.clone()));
        self.book = self.book.with_file(Arc::new(source.changed(new)));
        Ok(())
    }

    /// Whether the book holds what no answer has written yet.
    pub fn is_held(&self) -> bool {
        self.held.is_some()
    }

    /// What a check finds in an item, and in the lines of its file; of a proof that is being written, as if it were finished.
    fn found(&self, book: &Book, item: ItemId) -> Vec<Diagnostic> {
        match self.with_proof_finished(book) {
            Some(finished) => found(&finished, item),
            None => found(book, item),
        }
    }

    fn with_proof_finished(&self, book: &Book) -> Option<Book> {
        let (id, name) = self.proof.as_ref()?;
        let proof = book.item(*id).inner(Kind::Proof).find(|proof| proof.name_text() == name)?;
        if proof.inner(Kind::ProvenWith).next().is_some() {
            return None;
        }
        let source = book.shared_file(id.file);
        let edit = check::line_at_end(&source.text, proof, &format!("{} {{\n}}", Kind::ProvenWith))?;
        Some(book.with_file(Arc::new(source.changed(text::apply(&source.text, &[edit]).ok()?))))
    }

    /// Takes the last answer out again; `false` when none was given since the start.
    pub fn back(&mut self) -> Result<bool, Failure> {
        let Some(Before { path, text: old, said }) = self.before.pop() else { return Ok(false) };
        self.said.truncate(said);
        self.refused = None;
        let Some(file) = self.book.file_at(&path) else { return Ok(false) };
        let source = self.book.shared_file(file).clone();
        if self.keeps {
            let place = self.root.join(&path);
            write::replace(&place, &source.text, &old)
                .map_err(|why| Failure::new(format!("`{}` cannot be written: {why}", place.display())))?;
        }
        self.book = self.book.with_file(Arc::new(source.changed(old)));
        Ok(true)
    }

    /// Writes a new item: into a new file, or at the end of one that is there.
    pub fn begin(&mut self, path: &str, text: &str) -> Result<(), Failure> {
        let place = self.root.join(path);
        let cannot = |why: String| Failure::new(format!("`{}` cannot be written: {why}", place.display()));
        let source = match self.book.file_at(path) {
            Some(file) => {
                let source = self.book.shared_file(file).clone();
                let new = format!("{}\n\n{text}", source.text.trim_end());
                if self.keeps {
                    write::replace(&place, &source.text, &new).map_err(cannot)?;
                }
                source.changed(new)
            }
            None => {
                if self.keeps {
                    write::create(&place, text).map_err(cannot)?;
                }
                SourceFile::read(path, text)
            }
        };
        self.book = self.book.with_file(Arc::new(source));
        Ok(())
    }

    /// The item of a kind and name.
    pub fn item(&self, kind: Kind, name: &str) -> Result<ItemId, Failure> {
        self.book.find(kind, name).map_err(|_| Failure::new(format!("the book has not one {kind} \"{name}\"")))
    }

    /// The file of a new record: as asked, else beside the other records.
    pub fn place_of(&self, setup: &str, name: &str, asked: Option<&Path>) -> String {
        if let Some(output) = asked {
            return self.below(output);
        }
        let book = &self.book;
        let folder = |id: ItemId| {
            let path = &*book.file(id.file).path;
            path.rsplit_once('/').map(|(folder, _)| folder.to_owned()).unwrap_or_default()
        };
        let records = book.items().filter(|id| book.item(*id).kind == Kind::Record);
        let of_setup = |id: &ItemId| {
            let named = book.item(*id).field(record::SETUP).map(|field| &field.value);
            matches!(named, Some(FieldValue::Name(name)) if *name.text == *setup)
        };
        let records: Vec<ItemId> = records.collect();
        let like = records.iter().copied().find(of_setup).or_else(|| records.first().copied());
        let folder = like.map_or_else(|| "records".to_owned(), folder);
        let stem = file_name(name);
        let path = |n: u32| {
            let name = if n == 1 { format!("{stem}.rotor") } else { format!("{stem}-{n}.rotor") };
            if folder.is_empty() { name } else { format!("{folder}/{name}") }
        };
        (1..).map(path).find(|path| !self.root.join(path).exists()).unwrap_or_else(|| path(1))
    }

    /// The path of a file below the book.
    fn below(&self, path: &Path) -> String {
        let full = std::path::absolute(path).unwrap_or_else(|_| path.to_owned());
        let root = self.root.canonicalize().unwrap_or_else(|_| self.root.clone());
        let folder = full.parent().and_then(|folder| folder.canonicalize().ok());
        let full = match (folder, full.file_name()) {
            (Some(folder), Some(name)) => folder.join(name),
            _ => full,
        };
        disk::relative(&full, &root)
    }
}

/// What a check finds in an item, and in the lines of its file.
fn found(book: &Book, item: ItemId) -> Vec<Diagnostic> {
    let computing = Computing::without_explanations(book);
    let mut found = check::check_facts(book, item.file);
    found.extend(check::check_item(&computing, item));
    found
}

/// Whether a finding is of what an edit has written, where edits come one at a time or in order.
fn is_of(one: &Diagnostic, file: FileId, edit: &Edit) -> bool {
    let (start, end) = (edit.span.start, edit.span.start + edit.text.len() as u32);
    one.place.file == file && start <= one.place.span.start && one.place.span.start <= end
}

/// A file that somebody has formatted otherwise stays as it is.
fn is_formatted(text: &str) -> bool {
    format::format(text).is_ok_and(|formatted| formatted == *text)
}

fn worded(one: &Diagnostic) -> String {
    format!("{}: {}", one.rule.code, one.message)
}
