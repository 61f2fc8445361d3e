//! `cargo run --example notices`: the terms of all that is linked into the program, as the text that is shipped with it. A
//! text that several packages bring is printed once, below all of their names.

#![allow(clippy::unwrap_used, reason = "a tool of the release stops where something is not as it should be")]

mod packages;

use std::collections::BTreeMap;
use std::path::Path;

fn main() {
    let (all, linked) = packages::all(Path::new(env!("CARGO_MANIFEST_DIR")));
    let mut by_text: BTreeMap<String, Vec<String>> = BTreeMap::new();
    println!("Rotorbook contains these packages, each under the terms beside it; their texts follow.\n");
    for package in all.iter().filter(|package| package.source.is_some() && linked.contains(&package.id)) {
        assert!(packages::may_be_taken(&package.terms), "{}: {}", package.name, package.terms);
        println!("{} {}: {}", package.name, package.version, package.terms);
        for (name, text) in packages::texts(&package.folder) {
            by_text.entry(text).or_default().push(format!("{} {}, {name}", package.name, package.version));
        }
    }
    for (text, names) in by_text {
        println!("\n{}\n{}\n\n{}", "-".repeat(80), names.join("\n"), text.trim_end());
    }
    println!(
        "\n{}\nThe letters of cards\n\n{}",
        "-".repeat(80),
        include_str!("../../src/card/fonts/OFL.txt").trim_end()
    );
}
