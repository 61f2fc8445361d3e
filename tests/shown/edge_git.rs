//! What a repository's settings and folders may not make the program do.

use std::fs;
use std::os::unix::fs::PermissionsExt;

use crate::support::git::{Repo, run_with};

#[test]
fn no_filter_and_no_hook_of_the_repository_is_run() {
    let repo = Repo::with_shop("");
    let mark = repo.top().join("ran");
    let script = repo.top().join(".git/run-me");
    fs::write(&script, format!("#!/bin/sh\ntouch '{}'\ncat\n", mark.display())).unwrap();
    fs::set_permissions(&script, fs::Permissions::from_mode(0o755)).unwrap();
    repo.write(".gitattributes", "*.rotor filter=evil diff=evil\n");
    for setting in
        ["filter.evil.clean", "filter.evil.smudge", "core.fsmonitor", "diff.evil.textconv", "diff.evil.command"]
    {
        repo.git_with(&["config", setting, script.to_str().unwrap()]);
    }
    for hook in ["post-index-change", "pre-commit", "reference-transaction"] {
        fs::create_dir_all(repo.top().join(".git/hooks")).unwrap();
        fs::copy(&script, repo.top().join(".git/hooks").join(hook)).unwrap();
    }
    let text = repo.read("masses.rotor");
    repo.write("masses.rotor", &text);
    let name = "fan wheel 315 on the soft bench";
    let card = || {
        let text = repo.run(&["card", name, "--kind", "setup"]).ends(0).stdout;
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    assert!(!card().contains("WITH CHANGES"), "{}", card());
    repo.edit("masses.rotor", "{", "{\n");
    assert!(card().contains("WITH CHANGES"), "{}", card());
    for arguments in
        [&["diff"][..], &["history", "fan wheel 315"], &["check", "--since", "HEAD"], &["check", "--staged"]]
    {
        repo.run(arguments);
    }
    assert!(!mark.exists());
}

#[test]
fn what_could_not_be_read_is_never_no_change() {
    let repo = Repo::with_shop("");
    fs::remove_file(repo.path("masses.rotor")).unwrap();
    assert!(std::process::Command::new("mkfifo").arg(repo.path("masses.rotor")).status().unwrap().success());
    let ran = repo.run(&["diff", "--exit-code"]);
    assert_eq!(ran.code, 1, "{}", ran.stderr);
    assert!(!ran.stdout.contains("no change of meaning") && ran.stdout.contains("could be read"), "{}", ran.stdout);
    assert_eq!(repo.json(&["diff"])["unread"], true);
    let markdown = repo.run(&["diff", "--format", "markdown"]).stdout;
    assert!(markdown.contains("could be read"), "{markdown}");
}

#[test]
fn the_hook_finds_books_in_folders_of_any_name() {
    let repo = Repo::new();
    for folder in ["plain", "a \"b\"", "-rf", "line\nend", "back\\slash", "$(touch ran)"] {
        repo.write(&format!("{folder}/book.rotor"), crate::support::git::SHOP);
    }
    run_with(repo.top(), &["init", "--git"], |_| {}).ends(0);
    repo.git("add -A");
    let calls = repo.top().join(".git/calls");
    let bin = repo.top().join(".git/bin");
    fs::create_dir_all(&bin).unwrap();
    fs::write(bin.join("rotorbook"), format!("#!/bin/sh\nprintf '%s\\0' \"$@\" >> '{}'\n", calls.display())).unwrap();
    fs::set_permissions(bin.join("rotorbook"), fs::Permissions::from_mode(0o755)).unwrap();
    let path = format!("{}:{}", bin.display(), std::env::var("PATH").unwrap());
    let mut commit = crate::support::git::git(repo.top());
    assert!(commit.args(["commit", "-q", "-m", "books"]).env("PATH", path).status().unwrap().success());
    let calls = fs::read_to_string(calls).unwrap();
    for folder in ["plain", "a \"b\"", "-rf", "line\nend", "back\\slash", "$(touch ran)"] {
        assert!(calls.contains(&format!("\0./{folder}/\0")), "{folder:?}: {calls:?}");
    }
    assert!(!repo.top().join("ran").exists());
}

#[test]
fn the_remedy_that_git_names_is_kept() {
    let repo = Repo::with_shop("");
    // As somebody else's repository looks to git; `GIT_TEST_ASSUME_DIFFERENT_OWNER` is git's own switch for its tests.
    let ran = run_with(&repo.path(""), &["diff"], |command| {
        command.env("GIT_TEST_ASSUME_DIFFERENT_OWNER", "1");
    });
    assert_eq!(ran.code, 2, "{}", ran.stderr);
    assert!(ran.stderr.contains("dubious ownership") && ran.stderr.contains("safe.directory"), "{}", ran.stderr);
}

#[test]
fn a_book_in_a_submodule_is_followed_from_the_repository_around_it() {
    let library = Repo::with_shop("");
    let around = Repo::new();
    around.git_with(&[
        "-c",
        "protocol.file.allow=always",
        "submodule",
        "add",
        "-q",
        library.top().to_str().unwrap(),
        "shop",
    ]);
    let staged = around.run(&["diff", "--staged"]).ends(0).stdout;
    assert!(staged.starts_with("HEAD:shop (") && staged.contains("added, with"), "{staged}");
    around.commit("with the library");
    let base = around.git("rev-parse HEAD").trim().to_owned();
    let rotor = around.top().join("shop/rotors/fan-wheel-315.rotor");
    let text = std::fs::read_to_string(&rotor).unwrap().replace("grade: G 6.3", "grade: G 16");
    std::fs::write(&rotor, text).unwrap();
    // Of the work tree, whether or not the submodule has committed it.
    let loosened = |arguments: &[&str]| around.run(arguments).stdout.contains("tolerance loosened");
    assert!(loosened(&["diff"]) && !loosened(&["diff", "--staged"]));
    around.git_with(&["-C", "shop", "commit", "-q", "-a", "-m", "looser"]);
    assert!(loosened(&["diff"]) && !loosened(&["diff", "--staged"]));
    around.git("add shop");
    let staged = around.run(&["diff", "--staged"]).ends(0).stdout;
    assert!(staged.starts_with("HEAD:shop (") && staged.contains("tolerance loosened"), "{staged}");
    let since = around.run(&["check", "--staged", "--since", "HEAD"]);
    assert!(
        since.stdout.contains("stale") || since.stderr.contains("left its mark"),
        "{}{}",
        since.stdout,
        since.stderr
    );
    around.commit("the looser library");
    assert!(loosened(&["diff", &format!("{base}..HEAD")]) && loosened(&["diff", &format!("{base}...HEAD")]));
    assert!(around.run(&["diff"]).stdout.ends_with("no change of meaning\n"));
}

#[test]
fn what_a_sparse_checkout_leaves_out_is_read_from_the_index() {
    let repo = Repo::with_tern_quay();
    let whole = repo.run(&["check", "--brief"]).ends(0).stderr;
    repo.git_with(&["sparse-checkout", "set", "--no-cone", "/*", "!/records/"]);
    assert!(!repo.path("records").join("blower-41.rotor").exists());
    let ran = repo.run(&["check", "--brief"]).ends(0);
    assert!(!ran.stdout.contains("has no record"), "{}\n{}\n{whole}", ran.stdout, ran.stderr);
    let said = repo.run(&["diff"]).ends(0).stdout;
    assert!(said.contains("no change of meaning"), "{said}");
    assert!(repo.run(&["card", "fan wheel 315, 26-0419"]).ends(0).stdout.contains("WITHIN"));
    // What is changed is compared, what is not there is not gone.
    repo.edit("rotors/fan-wheel-315.rotor", "330 mm", "331 mm");
    assert_eq!(repo.facts(&[]), ["fan wheel 315: largest diameter 330 mm → 331 mm"]);
    let since = repo.run(&["check", "--since", "HEAD"]);
    assert!(!since.stdout.contains("record"), "{}", since.stdout);
}
