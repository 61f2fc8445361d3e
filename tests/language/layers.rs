//! The order of the folders: a file imports only from lower ranks and its own folder, and what must stay apart does.

use std::fs;
use std::path::{Path, PathBuf};

use super::uses::Uses;

/// Folders by rank, lowest first; those of one rank do not see each other.
const RANKS: [&[&str]; 12] = [
    &["text", "units"],
    &["syntax", "mechanics"],
    &["vocabulary"],
    &["sheet"],
    &["book"],
    &["check"],
    &["card", "diff", "format", "reference"],
    &["ide"],
    &["disk"],
    &["git"],
    &["server"],
    &["cli"],
];

/// Below this rank a folder sees only what is named here.
const NARROW: [(&str, &[&str]); 4] = [("text", &[]), ("units", &[]), ("syntax", &["text"]), ("mechanics", &["units"])];

/// The stages of `book/results`, first ones first; see `src/book/results/mod.rs`.
const STAGES: [&str; 11] =
    ["values", "plane", "rotor", "bench", "calibration", "trials", "measuring", "setup", "runs", "verdict", "record"];

const RESULTS: &str = "book/results/";

/// Asked for other items by any stage, and knows the last stage of each: outside their order.
const HOST: [&str; 2] = ["book/results/computing.rs", "book/results/kept.rs"];

/// Folders that lead back to themselves, and why.
const CIRCLES: &[(&str, &str)] = &[];

fn source() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("src")
}

fn files_below(folder: &Path) -> Vec<(PathBuf, String)> {
    let mut files = Vec::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            files.extend(files_below(&path));
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            let text = fs::read_to_string(&path).unwrap();
            files.push((path, text));
        }
    }
    files
}

fn rank(folder: &str) -> usize {
    RANKS.iter().position(|folders| folders.contains(&folder)).unwrap_or_else(|| panic!("{folder} has no rank"))
}

/// The folders of this crate that a text names in `crate::folder`.
fn imports(text: &str) -> Vec<String> {
    let code = text.lines().filter(|line| !line.trim_start().starts_with("//"));
    code.flat_map(|line| line.split("crate::").skip(1).map(first_word).collect::<Vec<_>>()).collect()
}

fn first_word(text: &str) -> String {
    text.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect()
}

#[test]
fn imports_never_point_up() {
    for entry in fs::read_dir(source()).unwrap() {
        let path = entry.unwrap().path();
        if !path.is_dir() {
            continue;
        }
        let folder = path.file_name().unwrap().to_str().unwrap().to_owned();
        for (file, text) in files_below(&path) {
            for import in imports(&text).into_iter().filter(|import| source().join(import).is_dir()) {
                let allowed = import == folder || rank(&import) < rank(&folder);
                assert!(allowed, "{} imports {import}", file.display());
                if let Some((_, seen)) = NARROW.iter().find(|(name, _)| *name == folder) {
                    assert!(import == folder || seen.contains(&&*import), "{} imports {import}", file.display());
                }
            }
        }
    }
}

/// The folder or file directly below `folder` that a file belongs to; `None` elsewhere.
fn part_of<'f>(folder: &str, file: &'f str) -> Option<&'f str> {
    let rest = file.strip_prefix(folder)?;
    Some(rest.split('/').next().unwrap_or(rest))
}

#[test]
fn a_stage_of_the_results_names_only_earlier_ones() {
    let uses = Uses::of(&source());
    let stage = |file: &str| {
        let part = part_of(RESULTS, file).unwrap().trim_end_matches(".rs");
        STAGES.iter().position(|stage| *stage == part).unwrap_or_else(|| panic!("{file} belongs to no stage"))
    };
    let front = [format!("{RESULTS}mod.rs"), "book/mod.rs".to_owned()];
    for (file, named) in uses.below(RESULTS).filter(|(file, _)| !HOST.contains(file) && *file != front[0]) {
        for other in named.iter().filter(|other| !HOST.contains(&&***other)) {
            assert!(!front.contains(other), "{file} names something by way of {other}");
            let is_earlier = !other.starts_with(RESULTS) || stage(other) <= stage(file);
            assert!(is_earlier, "{file} names {other}, which is a later stage");
        }
    }
}

#[test]
fn no_files_of_the_results_lead_to_each_other() {
    let uses = Uses::of(&source());
    let circles = uses.circles(|file| (file.starts_with(RESULTS) && !HOST.contains(&file)).then(|| file.to_owned()));
    let shown: Vec<String> = circles.iter().map(|way| way.join(" -> ")).collect();
    assert!(shown.is_empty(), "{}", shown.join("\n"));
}

/// Files beside the folders are parts of their own, so that no folder leads to itself by way of one of them. A `mod.rs`
/// is where its folder is entered: it knows all parts, and what it hands on counts as named where it is declared.
#[test]
fn no_folders_lead_to_each_other() {
    let uses = Uses::of(&source());
    for folder in RANKS.iter().flat_map(|folders| folders.iter()) {
        let below = format!("{folder}/");
        let circles = uses.circles(|file| Some(part_of(&below, file)?.to_owned()).filter(|part| part != "mod.rs"));
        for way in circles.iter().filter(|way| !way[0].ends_with(".rs")) {
            let known = format!("{folder}/{}", way[0]);
            let is_known = CIRCLES.iter().any(|(circle, _)| *circle == known);
            assert!(is_known, "{folder}: {}", way.join(" -> "));
        }
    }
}

/// An exception that is none any more goes.
#[test]
fn each_circle_that_is_let_pass_is_one() {
    let uses = Uses::of(&source());
    for (circle, _) in CIRCLES {
        let (folder, part) = circle.split_once('/').unwrap();
        let below = format!("{folder}/");
        let circles = uses.circles(|file| Some(part_of(&below, file)?.to_owned()).filter(|part| part != "mod.rs"));
        assert!(circles.iter().any(|way| way[0] == part), "{circle} leads to itself no more");
    }
}

#[test]
fn each_library_stays_in_its_folder() {
    let places = [
        ("pest", "syntax"),
        ("pest_derive", "syntax"),
        ("miette", "cli"),
        ("clap", "cli"),
        ("indicatif", "cli"),
        ("tower_lsp", "server/protocol.rs"),
        ("tower_service", "server"),
        ("tokio", "server"),
    ];
    for (library, folder) in places {
        for (file, text) in files_below(&source()) {
            let named = text.lines().any(|line| {
                let code = line.trim_start();
                !code.starts_with("//")
                    && code.split(|c: char| !(c.is_alphanumeric() || c == '_')).any(|word| word == library)
                    && code.contains(&format!("{library}::"))
            });
            let inside = file.starts_with(source().join(folder));
            assert!(!named || inside, "{} uses {library}, which belongs in {folder}/", file.display());
        }
    }
}

/// A loop on several threads would lose what a thread keeps to itself, such as the record of what was looked up.
#[test]
fn what_is_computed_keeps_nothing_to_its_thread() {
    for (file, text) in files_below(&source()) {
        let is_free = ["server", "cli"].iter().any(|place| file.starts_with(source().join(place)));
        assert!(is_free || !text.contains("thread_local!"), "{} keeps something to its thread", file.display());
    }
}

#[test]
fn nothing_below_the_command_line_prints_reads_files_or_asks_the_clock() {
    let forbidden =
        ["println!", "eprintln!", "print!(", "dbg!", "std::fs", "std::io", "std::env", "SystemTime", "Instant::now"];
    for (file, text) in files_below(&source()) {
        let outermost = ["cli", "server", "disk", "git", "main.rs"];
        if outermost.iter().any(|place| file.starts_with(source().join(place))) {
            continue;
        }
        for (number, line) in text.lines().enumerate() {
            let code = line.trim_start();
            if code.starts_with("//") {
                continue;
            }
            for word in forbidden {
                assert!(!code.contains(word), "{}:{} uses {word}", file.display(), number + 1);
            }
        }
    }
}
