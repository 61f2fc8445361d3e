//! The order of the folders: a file imports only from lower ranks and its own folder, and what must stay apart does.

use std::fs;
use std::path::{Path, PathBuf};

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
