//! `init`: what it writes, and what real git makes of it.

use std::fs;
use std::path::Path;

use crate::support::git::{self, Repo, run_in, shop};

/// The shell of hooks finds the program that is tested.
fn commit_with_hook(repo: &Repo) -> (i32, String) {
    let program = Path::new(env!("CARGO_BIN_EXE_rotorbook")).parent().unwrap();
    let path = format!("{}:{}", program.display(), std::env::var("PATH").unwrap());
    let output = git::git(repo.top()).env("PATH", path).args(["commit", "-m", "a try"]).output().unwrap();
    (output.status.code().unwrap(), String::from_utf8(output.stderr).unwrap())
}

#[test]
fn a_folder_becomes_a_book_and_a_second_time_changes_nothing() {
    let mut repo = Repo::new();
    repo.below = "the sheets".to_owned();
    fs::create_dir(repo.path("")).unwrap();
    let workflow = ["--ci", "github", "--program", "https://tern.example/rotorbook.whl"];
    repo.run(&[&["init", "--name", "Tern Quay Rotor Shop"], &workflow[..]].concat()).ends(0);
    assert!(repo.read("book.rotor").starts_with("shop \"Tern Quay Rotor Shop\" {\n"));
    assert_eq!(repo.read(".gitattributes"), "*.rotor text eol=lf diff=rotor merge=rotor\n");
    let written = fs::read_to_string(repo.top().join(".github/workflows/setup-sheets.yml")).unwrap();
    assert!(written.contains("ROTORBOOK: \"https://tern.example/rotorbook.whl\"\n") && !written.contains("sarif"));
    assert!(repo.git("config --local diff.rotor.xfuncname").contains("setup"));
    assert!(repo.git("config --local merge.rotor.driver").contains(" merge %O %A %B "));
    let again = repo.run(&[&["init"], &workflow[..]].concat()).ends(0);
    assert!(!again.stderr.contains("written"), "{}", again.stderr);
    repo.run(&["check"]).ends(0);
}

#[test]
fn nothing_is_replaced_without_being_asked_for() {
    let repo = Repo::new();
    fs::create_dir_all(repo.top().join(".git/hooks")).unwrap();
    fs::create_dir_all(repo.top().join(".github/workflows")).unwrap();
    let kept = [".git/hooks/pre-commit", ".github/workflows/setup-sheets.yml"];
    kept.iter().for_each(|path| fs::write(repo.top().join(path), "ours\n").unwrap());
    repo.write(".gitattributes", "*.txt text");
    repo.write("book.rotor", git::SHOP);
    repo.git("config diff.rotor.xfuncname ^ours");
    let ran = repo.run(&["init", "--ci", "github"]).ends(1);
    assert_eq!(ran.stderr.matches("is left as it is").count(), 3, "{}", ran.stderr);
    kept.iter().for_each(|path| assert_eq!(fs::read_to_string(repo.top().join(path)).unwrap(), "ours\n"));
    assert_eq!(repo.read("book.rotor"), git::SHOP);
    assert_eq!(repo.read(".gitattributes"), "*.txt text\n*.rotor text eol=lf diff=rotor merge=rotor\n");
    repo.write(".gitattributes", "*.rotor binary\n");
    let ran = repo.run(&["init", "--ci", "github", "--overwrite"]).ends(1);
    assert!(ran.stderr.contains("says something else of sheets"), "{}", ran.stderr);
    assert_eq!(repo.read(".gitattributes"), "*.rotor binary\n");
    kept.iter().for_each(|path| assert_ne!(fs::read_to_string(repo.top().join(path)).unwrap(), "ours\n"));
}

/// Nobody has a forge whose workflow fails until it is told more, unless he asks for it.
#[test]
fn no_workflow_is_written_that_nobody_asked_for() {
    let repo = Repo::new();
    let ran = repo.run(&["init", "--name", "Tern Quay Rotor Shop"]).ends(0);
    assert!(!repo.top().join(".github").exists() && !ran.stderr.contains("workflow"), "{}", ran.stderr);
}

#[test]
fn outside_a_repository_the_book_alone_is_made() {
    let folder = tempfile::tempdir().unwrap();
    let ran = run_in(folder.path(), &["init", "new shop"]).ends(1);
    assert!(folder.path().join("new shop/book.rotor").is_file());
    assert!(ran.stderr.contains("not in a git repository"), "{}", ran.stderr);
    run_in(folder.path(), &["init", "--git"]).is_misuse("not in a git repository");
}

#[test]
fn a_fresh_clone_sets_up_what_is_its_own() {
    let repo = Repo::with_shop("");
    let files = repo.git("status --porcelain");
    repo.run(&["init", "--git"]).ends(0);
    assert_eq!(repo.git("status --porcelain"), files, "no file of the repository is written");
    assert!(repo.top().join(".git/hooks/pre-commit").is_file());
}

/// The headings over the pieces of a difference, as git finds them.
fn headings(repo: &Repo) -> Vec<String> {
    let text = repo.git_with(&["diff", "-U0", "--", "."]);
    let heads = text
        .lines()
        .filter_map(|line| line.strip_prefix("@@ ")?.split_once(" @@").map(|(_, head)| head.trim().to_owned()));
    heads.collect()
}

#[test]
fn git_names_the_item_of_each_piece_and_no_block_within_it() {
    let repo = Repo::with_shop("");
    repo.run(&["init", "--no-hook", "--ci", "none"]).ends(0);
    repo.commit("prepared");
    // After inner blocks, after facts that begin like items, and in a file of several items.
    repo.edit("setups/fan-wheel-315.rotor", "\n  belt runs on: 60 mm", "\n  belt runs on: 61 mm");
    repo.edit("setups/fan-wheel-315.rotor", "    \"lamp delay\": 4 deg", "    \"lamp delay\": 5 deg");
    repo.edit("setups/fan-wheel-315.rotor", "    within: 5 %", "    within: 6 %");
    assert_eq!(headings(&repo), vec!["setup \"fan wheel 315 on the soft bench\""; 3]);
    repo.git("checkout -q -- .");
    let odd = concat!(
        "shop {\n  format: 1\n}\n",
        "rotor \"a \"\"quoted\"\" { name\" {\n  mass: 1 kg\n  plane hub {\n    at: 3 mm\n    material: \"rotor x {\"\n    radius: 3 mm\n  }\n}\n",
        "machine bench {\n  rotor mass: up to 9 kg # rotor {\n  swing: 300 mm\n  control \"setup x {\" {\n    range: 0 to 9\n  }\n}\n",
        "  setup indented   {\n    rotor: \"a {\"\n    machine: \"bench\"\n    calibrate hub {\n      mass: 1 g\n    }\n  }\n",
        "record \"r\" {\n  setup: \"indented\"\n  run one {\n    speed: 900 rpm\n  }\n}\n",
    );
    repo.write("odd.rotor", odd);
    repo.git("add -A");
    for (old, new) in [
        ("radius: 3 mm", "radius: 4 mm"),
        ("range: 0 to 9", "range: 0 to 8"),
        ("mass: 1 g", "mass: 2 g"),
        ("speed: 900", "speed: 901"),
    ] {
        repo.edit("odd.rotor", old, new);
    }
    assert_eq!(
        headings(&repo),
        ["rotor \"a \"\"quoted\"\" { name\"", "machine bench", "setup indented", "record \"r\""]
    );
}

#[test]
fn the_hook_looks_at_what_is_staged_and_not_at_what_lies_there() {
    let repo = Repo::with_shop("odd folder µ");
    repo.run(&["init", "--ci", "none"]).ends(0);
    repo.git("add -A");
    let (code, said) = commit_with_hook(&repo);
    assert_eq!(code, 0, "{said}");
    // Right in the work tree, wrong in what is staged.
    repo.edit("setups/fan-wheel-315.rotor", "reading => 8.60 div", "reading => 9.60 div");
    repo.git("add -A");
    repo.edit("setups/fan-wheel-315.rotor", "reading => 9.60 div", "reading => 8.60 div");
    let (code, said) = commit_with_hook(&repo);
    assert_eq!(code, 1, "{said}");
    assert!(said.contains("pinned as 9.60 div") || said.contains("1 error"), "{said}");
    // Wrong in the work tree, right in what is staged.
    repo.git("add -A");
    repo.edit("setups/fan-wheel-315.rotor", "by: \"fan bay\"", "by: \"the fan bay\"");
    repo.git("add -A");
    repo.edit("setups/fan-wheel-315.rotor", "reading => 8.60 div", "reading => 9.60 div");
    let (code, said) = commit_with_hook(&repo);
    assert_eq!(code, 0, "{said}");
    // The layout of what is staged.
    repo.git("checkout -q -- .");
    repo.edit("masses.rotor", "  values:", "    values:");
    repo.git("add -A");
    repo.edit("masses.rotor", "    values:", "  values:");
    let (code, said) = commit_with_hook(&repo);
    assert_eq!(code, 1, "{said}");
    assert!(said.contains("1 of 1 file would be formatted"), "{said}");
}

#[test]
fn a_commit_without_sheets_is_none_of_the_hooks_business() {
    let repo = Repo::with_shop("");
    repo.run(&["init", "--ci", "none"]).ends(0);
    repo.commit("prepared");
    repo.write("readme.md", "about\n");
    repo.git("add -A");
    let (code, said) = commit_with_hook(&repo);
    assert_eq!((code, said.as_str()), (0, ""));
}

#[test]
fn only_what_a_change_can_affect_is_reported() {
    let repo = Repo::with_shop("");
    // Two faults that were there before: one in a rotor that nobody touches, one in the setup that rests on the other.
    repo.edit("setups/fan-wheel-315.rotor", "reading => 8.60 div", "reading => 9.60 div");
    repo.write("rotors/other.rotor", "rotor \"other\" {\n  mas: 3 kg\n}\n");
    repo.commit("faults");
    let codes = |arguments: &[&str]| {
        let document = repo.json(&[&["check"], arguments].concat());
        let all = document["diagnostics"].as_array().unwrap().clone();
        all.iter()
            .filter(|one| one["severity"] == "error")
            .map(|one| one["code"].as_str().unwrap().to_owned())
            .collect::<Vec<_>>()
    };
    assert!(codes(&[]).len() >= 2);
    assert!(codes(&["--since", "HEAD"]).is_empty());
    repo.edit("rotors/fan-wheel-315.rotor", "largest diameter: 330 mm", "largest diameter: 331 mm");
    // What was wrong before in a sheet that rests on it is not brought by that.
    assert!(codes(&["--since", "HEAD"]).is_empty());
    assert_eq!(codes(&["--since", "HEAD~1"]).len(), codes(&[]).len());
    repo.git("add -A");
    repo.git("checkout -q HEAD -- .");
    repo.edit("rotors/other.rotor", "mas: 3 kg", "mas: 3 kg\n  masse: 4 kg");
    repo.git("add -A");
    assert_eq!(codes(&["--since", "HEAD", "--staged"])[..1], ["unknown-key"]);
    let ran = repo.run(&["check", "--since", "HEAD"]).ends(1);
    assert!(ran.stderr.contains("which the change does not bring"), "{}", ran.stderr);
    repo.run(&["check", "--since", "nowhere"]).is_misuse("git knows no revision");
    assert!(!shop().is_empty());
}

#[test]
fn the_hook_tells_errors_first_and_counts_what_is_not_of_this_commit() {
    let repo = Repo::with_shop("");
    repo.run(&["init", "--ci", "none"]).ends(0);
    repo.write("rotors/other.rotor", "rotor \"other\" {\n  mas: 3 kg\n}\n");
    repo.commit("a fault");
    repo.edit("masses.rotor", "masses \"brass set\"", "# As counted.\nmasses \"brass set\"");
    repo.git("add -A");
    let (code, said) = commit_with_hook(&repo);
    assert_eq!(code, 0, "{said}");
    assert!(said.contains("which the change does not bring") && !said.contains("unknown-key"), "{said}");
    repo.edit("setups/fan-wheel-315.rotor", "\n  balancing speed: 1150 rpm", "\n  balancing speed: 9000 rpm");
    repo.git("add -A");
    let (code, said) = commit_with_hook(&repo);
    assert_eq!(code, 1, "{said}");
    let ran = repo.run(&["check", "--staged", "--brief", "--since", "HEAD"]).ends(1);
    let (errors, warnings) = (ran.stdout.rfind("error "), ran.stdout.find("warning "));
    assert!(warnings.is_none() || errors < warnings, "{}", ran.stdout);
    assert!(!ran.stdout.contains("note "), "{}", ran.stdout);
}
