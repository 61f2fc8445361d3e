//! The packages that the program is built of, as cargo knows them: where each comes from, under which terms, and whether it
//! is in what is shipped.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;

/// Terms that may be taken, each alone; of several joined by `OR` one is enough, joined by `AND` all are needed.
const TERMS: &[&str] = &[
    "MIT",
    "Apache-2.0",
    "Apache-2.0 WITH LLVM-exception",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "ISC",
    "MIT-0",
    "OFL-1.1",
    "Unicode-3.0",
    "Unlicense",
    "Zlib",
];

pub struct Package {
    pub id: String,
    pub name: String,
    pub version: String,
    pub terms: String,
    /// `None` for the crate itself.
    pub source: Option<String>,
    pub folder: PathBuf,
}

/// All packages of the lock file, and the ids of those that are linked into the program.
pub fn all(root: &Path) -> (Vec<Package>, BTreeSet<String>) {
    let arguments = ["metadata", "--locked", "--format-version", "1"];
    let output = Command::new(env!("CARGO")).args(arguments).current_dir(root).output().unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let metadata: Value = serde_json::from_slice(&output.stdout).unwrap();
    let packages = metadata["packages"].as_array().unwrap().iter().map(package).collect();
    let own = metadata["resolve"]["root"].as_str().unwrap();
    (packages, linked(&metadata, own))
}

fn package(value: &Value) -> Package {
    let text = |key: &str| value[key].as_str().unwrap_or_default().to_owned();
    Package {
        id: text("id"),
        name: text("name"),
        version: text("version"),
        terms: text("license").replace('/', " OR "),
        source: value["source"].as_str().map(str::to_owned),
        folder: Path::new(&text("manifest_path")).parent().unwrap().to_owned(),
    }
}

/// Whatever is reached without dependencies of tests and of build scripts, and without macros, which run in the compiler.
fn linked(metadata: &Value, own: &str) -> BTreeSet<String> {
    let is_macro = |package: &&Value| {
        package["targets"].as_array().unwrap().iter().any(|target| target["kind"][0] == "proc-macro")
    };
    let macros: BTreeSet<&str> = metadata["packages"]
        .as_array()
        .unwrap()
        .iter()
        .filter(is_macro)
        .map(|package| package["id"].as_str().unwrap())
        .collect();
    let nodes = metadata["resolve"]["nodes"].as_array().unwrap();
    let nodes: BTreeMap<&str, &Value> = nodes.iter().map(|node| (node["id"].as_str().unwrap(), node)).collect();
    let mut found = BTreeSet::new();
    let mut open = vec![own];
    while let Some(id) = open.pop() {
        for dependency in nodes[id]["deps"].as_array().unwrap() {
            let is_linked = dependency["dep_kinds"].as_array().unwrap().iter().any(|kind| kind["kind"].is_null());
            let id = dependency["pkg"].as_str().unwrap();
            if is_linked && id != own && !macros.contains(id) && found.insert(id.to_owned()) {
                open.push(id);
            }
        }
    }
    found
}

/// Whether the terms may be taken.
pub fn may_be_taken(terms: &str) -> bool {
    terms.split(" AND ").all(|needed| {
        let one_of = needed.trim_matches(['(', ')']);
        one_of.split(" OR ").any(|one| TERMS.contains(&one.trim_matches(['(', ')'])))
    })
}

/// The texts that a package brings: its licences, and notices where it has some.
pub fn texts(folder: &Path) -> Vec<(String, String)> {
    let is_wanted = |name: &str| {
        let name = name.to_ascii_uppercase();
        ["LICENSE", "LICENCE", "COPYING", "NOTICE", "UNLICENSE"].iter().any(|begins| name.starts_with(begins))
    };
    let files = fs::read_dir(folder).into_iter().flatten().map(Result::unwrap);
    let names = files.map(|file| file.file_name().into_string().unwrap()).filter(|name| is_wanted(name));
    let names: BTreeSet<String> = names.collect();
    names.into_iter().filter_map(|name| Some((name.clone(), fs::read_to_string(folder.join(name)).ok()?))).collect()
}
