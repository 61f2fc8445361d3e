//! The order of the folders: a file imports only from lower ranks and its own folder, and what must stay apart does.

use std::fs;
use std::path::{Path, PathBuf};

use super::uses::Uses;

/// Folders by rank, lowest first; those of one rank do not see each other.
const RANKS: [&[&str]; 13] = [
    &["motion", "text", "units"],
    &["syntax", "mechanics"],
    &["vocabulary"],
    &["sheet"],
    &["book"],
    &["check", "likeness", "trend"],
    &["card", "format", "reference", "starting"],
    &["diff"],
    &["asking", "ide", "rehearsal"],
    &["disk"],
    &["git"],
    &["server"],
    &["cli"],
];

/// Below this rank a folder sees only what is named here.
const NARROW: [(&str, &[&str]); 5] =
    [("motion", &[]), ("text", &[]), ("units", &[]), ("syntax", &["text"]), ("mechanics", &["units"])];

/// The stages of `book/results`, first ones first; see `src/book/results/mod.rs`.
const STAGES: [&str; 11] =
    ["values", "plane", "rotor", "bench", "calibration", "trials", "measuring", "setup", "runs", "verdict", "record"];

const RESULTS: &str = "book/results/";

/// Asked for other items by any stage, and knows the last stage of each: outside their order.
const HOST: [&str; 2] = ["book/results/computing.rs", "book/results/kept.rs"];

/// Folders that lead back to themselves, and why.
const CIRCLES: &[(&str, &str)] = &[
    ("diff/alerts", "an alert names items as the comparison that holds it does"),
    ("server/convert", "places are converted with the texts of a snapshot, which keeps what was converted"),
    ("server/desk", "a ticket gives way to newer work of the desk, which hands tickets out"),
    ("server/features", "what a client is told of a feature and its commands stands beside it"),
];

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
    let uses = Uses::of_this_crate();
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
    let uses = Uses::of_this_crate();
    let circles = uses.circles(|file| (file.starts_with(RESULTS) && !HOST.contains(&file)).then(|| file.to_owned()));
    let shown: Vec<String> = circles.iter().map(|way| way.join(" -> ")).collect();
    assert!(shown.is_empty(), "{}", shown.join("\n"));
}

/// The sub-folders of all folders that lead back to themselves, `card/drawing`, each with a shortest way.
///
/// Files beside the sub-folders are parts of their own, so that none leads to itself by way of one of them. A `mod.rs` is
/// where its folder is entered: it knows all parts, and what it hands on counts as named where it is declared.
fn circles_of_folders() -> Vec<(String, String)> {
    let of_folder = |folder: &&str| {
        let below = format!("{folder}/");
        let part = |file: &str| Some(part_of(&below, file)?.to_owned()).filter(|part| part != "mod.rs");
        let circles = Uses::of_this_crate().circles(part).into_iter().filter(|way| !way[0].ends_with(".rs"));
        circles.map(|way| (format!("{below}{}", way[0]), way.join(" -> "))).collect::<Vec<_>>()
    };
    RANKS.iter().flat_map(|folders| folders.iter()).flat_map(of_folder).collect()
}

#[test]
fn no_folders_lead_to_each_other() {
    let found = circles_of_folders();
    let is_known = |folder: &str| CIRCLES.iter().any(|(known, _)| *known == folder);
    let new: Vec<String> =
        found.iter().filter(|(folder, _)| !is_known(folder)).map(|(folder, way)| format!("{folder}: {way}")).collect();
    assert!(new.is_empty(), "{}", new.join("\n"));
    for (known, _) in CIRCLES {
        assert!(found.iter().any(|(folder, _)| folder == known), "{known} leads to itself no more");
    }
}

/// What newcomers read first has each folder at its rank.
#[test]
fn developers_are_told_the_ranks_as_they_are() {
    let page = fs::read_to_string(source().with_file_name("DEVELOPERS.md")).unwrap();
    let mut told: [Vec<String>; RANKS.len()] = Default::default();
    for row in page.lines().take_while(|line| !line.starts_with("## ")) {
        let cells: Vec<&str> = row.split(" | ").collect();
        let [rank, folders, _, _] = cells[..] else { continue };
        let Ok(rank) = rank.trim_start_matches("| ").parse::<usize>() else { continue };
        told[rank]
            .extend(folders.split_whitespace().map(|folder| folder.trim_matches('`').trim_end_matches('/').to_owned()));
    }
    for (rank, folders) in RANKS.iter().enumerate() {
        told[rank].sort();
        let mut folders = folders.to_vec();
        folders.sort_unstable();
        assert_eq!(told[rank], folders, "rank {rank}");
    }
}

/// What newcomers read first names files as they are.
#[test]
fn files_that_developers_are_sent_to_are_there() {
    let page = fs::read_to_string(source().with_file_name("DEVELOPERS.md")).unwrap();
    let way = page.split("## The way of one number").nth(1).unwrap().split("\n## ").next().unwrap();
    let (numbers, stages) = way.split_once("### The stages").unwrap();
    let first_cells = |table: &str| -> Vec<String> {
        let cells = table.lines().filter_map(|line| line.strip_prefix("| `")?.split(" | ").next());
        cells.flat_map(|cell| cell.split(", ")).map(|name| name.replace('`', "")).collect()
    };
    let named = first_cells(numbers);
    assert!(named.len() > STAGES.len(), "{named:?}");
    for name in named {
        assert!(source().join(&name).exists(), "{name} is not there");
    }
    let stages: Vec<String> = first_cells(stages).iter().map(|name| name.trim_end_matches('/').to_owned()).collect();
    assert_eq!(stages, STAGES);
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

/// What lies at a path may be a pipe, which is waited for for ever: files are opened where that is thought of.
#[test]
fn files_are_opened_in_one_place() {
    // A folder, which is opened to make what happened in it outlast a power failure.
    const OTHERS: &[(&str, usize)] = &[("disk/read.rs", 2), ("cli/write.rs", 1)];
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    for entry in walkdir::WalkDir::new(&src).into_iter().filter_map(Result::ok) {
        let path = entry.path().strip_prefix(&src).unwrap().to_string_lossy().replace('\\', "/");
        if !path.ends_with(".rs") {
            continue;
        }
        let text = fs::read_to_string(entry.path()).unwrap();
        let opened = ["File::open(", "fs::read("].iter().map(|call| text.matches(call).count()).sum::<usize>();
        let may = OTHERS.iter().find(|(file, _)| path == *file).map_or(0, |(_, count)| *count);
        assert!(opened <= may, "{path} opens a file by itself: `disk::open` or `disk::bytes` do");
    }
}
