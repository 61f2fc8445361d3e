//! A copy of the crate in which all mutants sleep side by side, and the programs of tests that are built of it.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::fs;
use std::io::{BufRead, BufReader};
use std::ops::Range;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use serde_json::Value;
use walkdir::WalkDir;

use crate::places::{self, Piece, Place};

/// Where mutants may be: what computes, and what judges.
const MUTATED: [&str; 4] = ["src/mechanics", "src/book/results", "src/check/rules", "src/diff/alerts"];

/// Asks which mutant is awake, and notes in a folder which of them were come by: so a test that never comes by a mutant
/// need not be run for it.
const SWITCH: &str = r#"
#[doc(hidden)]
pub fn mutant(number: usize) -> bool {
    use std::sync::LazyLock;
    use std::sync::atomic::{AtomicBool, Ordering};
    static AWAKE: LazyLock<Option<usize>> = LazyLock::new(|| std::env::var("MUTANT").ok()?.parse().ok());
    static PASSED: LazyLock<Option<std::path::PathBuf>> =
        LazyLock::new(|| Some(std::path::PathBuf::from(std::env::var_os("MUTANTS_PASSED")?)));
    static SEEN: [AtomicBool; COUNT] = [const { AtomicBool::new(false) }; COUNT];
    if let Some(folder) = &*PASSED && !SEEN[number].swap(true, Ordering::Relaxed) {
        _ = std::fs::write(folder.join(number.to_string()), "");
    }
    *AWAKE == Some(number)
}
"#;

/// A source text in which mutants may be.
pub struct Source {
    /// From the root of the crate.
    pub path: PathBuf,
    pub text: String,
}

/// A place that was chosen.
pub struct Mutant {
    pub source: usize,
    pub place: Place,
}

/// The sources in which mutants may be, and all places in them.
pub fn all(root: &Path) -> (Vec<Source>, Vec<Mutant>) {
    let mut sources = Vec::new();
    for path in MUTATED.iter().flat_map(|folder| files(&root.join(folder))) {
        let is_code = path.extension().is_some_and(|extension| extension == "rs");
        if is_code && path.file_stem().is_some_and(|stem| stem != "tests") {
            let text = fs::read_to_string(&path).unwrap();
            sources.push(Source { path: path.strip_prefix(root).unwrap().to_owned(), text });
        }
    }
    let parsed: Vec<syn::File> = sources.iter().map(|source| syn::parse_file(&source.text).unwrap()).collect();
    let constants: BTreeSet<String> = parsed.iter().flat_map(places::constants).collect();
    let mut mutants = Vec::new();
    for (source, file) in parsed.iter().enumerate() {
        mutants.extend(places::places(file, &constants).into_iter().map(|place| Mutant { source, place }));
    }
    (sources, mutants)
}

fn files(folder: &Path) -> Vec<PathBuf> {
    let is_wanted = |name: &str| !matches!(name, "target" | ".git" | "node_modules");
    let walk = WalkDir::new(folder).sort_by_file_name().into_iter();
    let entries = walk.filter_entry(move |entry| is_wanted(&entry.file_name().to_string_lossy()));
    entries.map(Result::unwrap).filter(|entry| entry.file_type().is_file()).map(walkdir::DirEntry::into_path).collect()
}

/// The folder of the copy, and the mutants that it carries by their numbers.
pub struct CrateCopy<'a> {
    pub folder: PathBuf,
    root: &'a Path,
    sources: &'a [Source],
    pub mutants: BTreeMap<usize, &'a Mutant>,
}

impl<'a> CrateCopy<'a> {
    /// A copy with the first `count` mutants of `order` that the compiler takes.
    pub fn make(root: &'a Path, folder: PathBuf, sources: &'a [Source], order: Vec<&'a Mutant>, count: usize) -> Self {
        let mut copy = Self { folder, root, sources, mutants: BTreeMap::new() };
        copy.bring_over();
        let mut refused = BTreeSet::new();
        loop {
            let numbered = order.iter().copied().enumerate().filter(|(number, _)| !refused.contains(number));
            copy.mutants = numbered.take(count).collect();
            copy.write(order.len());
            let more = copy.refused();
            println!("{} places, {} that the compiler refuses", copy.mutants.len(), more.len());
            if more.is_empty() {
                return copy;
            }
            refused.extend(more);
        }
    }

    /// Every file as it is, and none that is not there any more. What has not changed keeps its time, for cargo's sake.
    fn bring_over(&self) {
        let there: BTreeSet<PathBuf> =
            files(self.root).iter().map(|path| path.strip_prefix(self.root).unwrap().to_owned()).collect();
        fs::create_dir_all(&self.folder).unwrap();
        for path in files(&self.folder) {
            if !there.contains(path.strip_prefix(&self.folder).unwrap()) {
                fs::remove_file(path).unwrap();
            }
        }
        for path in there.iter().filter(|path| !self.sources.iter().any(|source| source.path == **path)) {
            if path != Path::new("src/lib.rs") {
                self.put(path, &fs::read(self.root.join(path)).unwrap());
            }
        }
    }

    fn put(&self, path: &Path, bytes: &[u8]) {
        let to = self.folder.join(path);
        if fs::read(&to).ok().as_deref() != Some(bytes) {
            fs::create_dir_all(to.parent().unwrap()).unwrap();
            fs::write(to, bytes).unwrap();
        }
    }

    fn write(&self, count: usize) {
        for (n, source) in self.sources.iter().enumerate() {
            let mut here: Vec<(usize, &Place)> = self
                .mutants
                .iter()
                .filter(|(_, mutant)| mutant.source == n)
                .map(|(number, mutant)| (*number, &mutant.place))
                .collect();
            here.sort_by_key(|(_, place)| (place.range.start, std::cmp::Reverse(place.range.end)));
            self.put(&source.path, rendered(&source.text, 0..source.text.len(), &here).as_bytes());
        }
        let library = fs::read_to_string(self.root.join("src/lib.rs")).unwrap();
        let switch = SWITCH.replace("COUNT", &count.to_string());
        self.put(Path::new("src/lib.rs"), format!("#![allow(warnings, clippy::all)]\n{library}{switch}").as_bytes());
    }

    /// The sources as they are, once the programs are built: some tests read them.
    pub fn put_sources_back(&self) {
        for source in self.sources {
            self.put(&source.path, source.text.as_bytes());
        }
        self.put(Path::new("src/lib.rs"), &fs::read(self.root.join("src/lib.rs")).unwrap());
    }

    fn cargo(&self, arguments: &[&str]) -> (bool, Vec<Value>) {
        let mut cargo = Command::new(env!("CARGO"));
        cargo.args(arguments).args(["--locked", "--message-format=json"]).current_dir(&self.folder);
        cargo.env("CARGO_TARGET_DIR", self.folder.with_file_name("built"));
        let mut cargo = cargo.stdout(Stdio::piped()).spawn().unwrap();
        let lines = BufReader::new(cargo.stdout.take().unwrap()).lines();
        let said = lines.map(|line| serde_json::from_str(&line.unwrap()).unwrap()).collect();
        (cargo.wait().unwrap().success(), said)
    }

    /// The mutants that the compiler complains about.
    fn refused(&self) -> BTreeSet<usize> {
        let (taken, said) = self.cargo(&["check", "--quiet", "--lib"]);
        let mut refused = BTreeSet::new();
        for message in said.iter().map(|line| &line["message"]).filter(|message| message["level"] == "error") {
            for span in message["spans"].as_array().unwrap().iter().filter(|span| span["is_primary"] == true) {
                let text = fs::read_to_string(self.folder.join(span["file_name"].as_str().unwrap())).unwrap();
                let [start, end] = ["byte_start", "byte_end"].map(|end| span[end].as_u64().unwrap() as usize);
                refused.extend(concerned(&text, start..end));
            }
        }
        assert!(taken || !refused.is_empty(), "the copy does not compile: {said:#?}");
        refused
    }

    /// The programs of tests, each with its name.
    pub fn build(&self) -> Vec<(String, PathBuf)> {
        let (built, said) = self.cargo(&["test", "--no-run", "--tests"]);
        assert!(built, "the copy does not compile: {said:#?}");
        let programs = said.iter().filter(|line| line["profile"]["test"] == true && line["executable"].is_string());
        programs
            .map(|line| {
                let name = line["target"]["name"].as_str().unwrap().to_owned();
                (name, PathBuf::from(line["executable"].as_str().unwrap()))
            })
            .collect()
    }
}

/// A stretch of a source with the mutants in it, outermost first. Between marks, so that a complaint of the compiler can be
/// told to its mutant.
fn rendered(text: &str, range: Range<usize>, places: &[(usize, &Place)]) -> String {
    let mut whole = String::new();
    let mut at = range.start;
    for (n, (number, place)) in places.iter().enumerate() {
        if place.range.start < at || place.range.end > range.end {
            continue;
        }
        let inner = &places[n + 1..];
        let mutated: String = place
            .mutated
            .iter()
            .map(|piece| match piece {
                Piece::Words(words) => (*words).to_owned(),
                Piece::Source(piece) => rendered(text, piece.clone(), inner),
            })
            .collect();
        let own = rendered(text, place.range.clone(), inner);
        whole.push_str(&text[at..place.range.start]);
        write!(whole, "(/*<{number}*/if crate::mutant({number}) {{ {mutated} }} else {{ {own} }}/*>*/)").unwrap();
        at = place.range.end;
    }
    whole.push_str(&text[at..range.end]);
    whole
}

/// The mutants to leave out for a complaint about a stretch: the innermost around it, else those in it, else the nearest.
fn concerned(text: &str, complaint: Range<usize>) -> Vec<usize> {
    let number = |at: usize| -> usize { text[at + 3..].split('*').next().unwrap().parse().unwrap() };
    let starts: Vec<usize> = text.match_indices("/*<").map(|(at, _)| at).collect();
    let mut open = Vec::new();
    let mut marks: Vec<(usize, bool)> = starts.iter().map(|at| (*at, true)).collect();
    marks.extend(text.match_indices("/*>*/").map(|(at, _)| (at, false)));
    marks.sort_unstable();
    for (at, opens) in marks.into_iter().take_while(|(at, _)| *at <= complaint.start) {
        if opens {
            open.push(number(at));
        } else {
            open.pop();
        }
    }
    if let Some(innermost) = open.last() {
        return vec![*innermost];
    }
    let inside: Vec<usize> = starts.iter().copied().filter(|at| complaint.contains(at)).map(number).collect();
    if !inside.is_empty() {
        return inside;
    }
    starts.into_iter().min_by_key(|at| at.abs_diff(complaint.start)).map(number).into_iter().collect()
}
