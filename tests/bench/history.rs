//! `history` and `diff` on a repository of 2,000 commits and 1,000 sheets, beside checking its book once.
//!
//! Every commit changes one sheet; every fiftieth the one whose history is asked for, which is also renamed and moved on
//! its way. Whole processes are timed, as people wait for them, the median of several runs.

#![allow(clippy::unwrap_used, reason = "a benchmark stops where something is not as it should be")]

mod sheets;

use std::fmt::Write as _;
use std::io::Write as _;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

const SHEETS: usize = 1_000;
const COMMITS: usize = 2_000;
const RUNS: usize = 5;

fn main() {
    // Cargo runs benchmarks as tests too; then there is nothing to measure.
    if !std::env::args().any(|argument| argument == "--bench") {
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    repository(folder.path());
    let check = time(folder.path(), &["check"]);
    println!("\n{SHEETS} sheets, {COMMITS} commits; median of {RUNS} runs\n");
    println!("{:<52} {:>9} {:>9}", "", "ms", "of check");
    let row = |what: &str, time: Duration| {
        let share = time.as_secs_f64() / check.as_secs_f64();
        println!("{what:<52} {:>9.0} {share:>8.2}×", time.as_secs_f64() * 1e3);
    };
    row("check", check);
    let cases: [(&str, &[&str]); 8] = [
        ("diff: work tree and HEAD", &["diff"]),
        ("diff: HEAD and the commit before", &["diff", "HEAD~1..HEAD"]),
        ("diff: HEAD and 100 commits before", &["diff", "HEAD~100..HEAD"]),
        ("diff: HEAD and 1,999 commits before", &["diff", "HEAD~1999..HEAD"]),
        ("check --since HEAD~100", &["check", "--since", "HEAD~100"]),
        ("history of one rotor, 40 changes, renamed and moved", &["history", "fan wheel seven", "--kind", "rotor"]),
        (
            "history of one fact of it",
            &["history", "fan wheel seven", "--kind", "rotor", "--facts", "highest safe speed"],
        ),
        ("history of a name that no commit has", &["history", "no such wheel"]),
    ];
    for (what, arguments) in cases {
        row(what, time(folder.path(), arguments));
    }
}

/// The median of several runs.
fn time(folder: &Path, arguments: &[&str]) -> Duration {
    let mut times: Vec<Duration> = (0..RUNS)
        .map(|_| {
            let begin = Instant::now();
            let output = program(folder).args(arguments).output().unwrap();
            let time = begin.elapsed();
            let said = String::from_utf8_lossy(&output.stderr);
            assert!(!said.contains("panicked") && !said.contains("git says"), "{arguments:?}: {said}");
            time
        })
        .collect();
    times.sort();
    times[RUNS / 2]
}

fn program(folder: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_rotorbook"));
    command.current_dir(folder).env("GIT_CONFIG_NOSYSTEM", "1").env("GIT_CONFIG_GLOBAL", "/dev/null");
    command
}

/// All commits at once, as `git fast-import` takes them.
fn repository(folder: &Path) {
    let git = |arguments: &[&str]| {
        let mut command = Command::new("git");
        command.current_dir(folder).args(arguments).stdout(Stdio::null());
        command
    };
    assert!(git(&["init", "-q", "-b", "main"]).status().unwrap().success());
    let mut stream = String::new();
    let mut files = sheets::book(SHEETS);
    files.push(("rotors/seven.rotor".to_owned(), sheets::rotor(7).replace("fan wheel 7", "fan wheel 7 b")));
    commit(&mut stream, 0, &files.iter().map(|(path, text)| (path.as_str(), text.as_str())).collect::<Vec<_>>(), &[]);
    let seven = files.len() - 1;
    for n in 1..COMMITS {
        let file = if n % 50 == 0 { seven } else { 1 + (n * 7_919) % (files.len() - 2) };
        let (path, text) = &mut files[file];
        let speed = 4_200 + n;
        *text = match text.find("highest safe speed: ") {
            Some(at) => {
                let end = at + text[at..].find(" rpm").unwrap();
                format!("{}highest safe speed: {speed}{}", &text[..at], &text[end..])
            }
            None => text.replacen("date: 20", &format!("note: \"commit {n}\"\n  date: 20"), 1),
        };
        let mut gone = Vec::new();
        if n == 1_000 {
            *text = text.replace("fan wheel 7 b", "fan wheel seven");
            gone.push(std::mem::replace(path, "wheels/seven.rotor".to_owned()));
        }
        commit(&mut stream, n, &[(path, text)], &gone);
    }
    let mut import = git(&["fast-import", "--quiet"]).stdin(Stdio::piped()).spawn().unwrap();
    import.stdin.take().unwrap().write_all(stream.as_bytes()).unwrap();
    assert!(import.wait().unwrap().success());
    assert!(git(&["reset", "-q", "--hard"]).status().unwrap().success());
}

fn commit(stream: &mut String, n: usize, files: &[(&str, &str)], gone: &[String]) {
    let message = format!("commit {n}");
    let when = 1_700_000_000 + n * 3_600;
    let _ = writeln!(stream, "commit refs/heads/main\ncommitter Tern <shop@tern-quay.example> {when} +0000");
    let _ = writeln!(stream, "data {}\n{message}", message.len());
    for path in gone {
        let _ = writeln!(stream, "D {path}");
    }
    for (path, text) in files {
        let _ = writeln!(stream, "M 100644 inline {path}\ndata {}\n{text}", text.len());
    }
    stream.push('\n');
}
