//! What the program is built of: known sources, terms that may be taken, and no package twice without a reason.

use std::collections::BTreeMap;
use std::path::Path;

#[path = "../supply/packages.rs"]
mod packages;

const REGISTRY: &str = "registry+https://github.com/rust-lang/crates.io-index";

/// Linked into the program in two versions, and why.
const TWICE: &[(&str, &str)] = &[
    ("bitflags", "the protocol's types, which tower-lsp holds back, want the first"),
    ("hashbrown", "dashmap, of tower-lsp, wants an earlier one"),
    ("unicode-width", "textwrap, held below ICU, wants an earlier one"),
];

/// Packages without the text of their terms, which their manifests name; the same texts are those of others.
const WITHOUT_TEXT: &[&str] = &["maud", "r-efi"];

fn linked() -> Vec<packages::Package> {
    let (all, linked) = packages::all(Path::new(env!("CARGO_MANIFEST_DIR")));
    all.into_iter().filter(|package| linked.contains(&package.id)).collect()
}

#[test]
fn every_package_comes_from_the_registry_under_terms_that_may_be_taken() {
    let (all, _) = packages::all(Path::new(env!("CARGO_MANIFEST_DIR")));
    for package in &all {
        let of = format!("{} {}", package.name, package.version);
        assert!(package.source.as_deref().is_none_or(|source| source == REGISTRY), "{of}: {:?}", package.source);
        assert!(packages::may_be_taken(&package.terms), "{of}: {}", package.terms);
    }
}

#[test]
fn what_is_shipped_brings_its_terms() {
    let linked = linked();
    let silent = linked.iter().filter(|package| packages::texts(&package.folder).is_empty());
    let silent: Vec<&str> = silent.map(|package| &*package.name).collect();
    assert_eq!(silent, WITHOUT_TEXT);
}

#[test]
fn no_package_is_linked_twice_without_a_reason() {
    let mut versions: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for package in linked() {
        versions.entry(package.name).or_default().push(package.version);
    }
    let twice: Vec<String> =
        versions.into_iter().filter(|(_, versions)| versions.len() > 1).map(|(name, _)| name).collect();
    let known: Vec<&str> = TWICE.iter().map(|(name, _)| *name).collect();
    assert_eq!(twice, known);
}
