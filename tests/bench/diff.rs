//! `diff` of changes that reach a whole book, beside checking the new book in the same run: 400 changed sheets with ten
//! slips among them, and 10,000 sheets of which every one is changed.
//!
//! Whole processes over two folders are timed, as people wait for them, the median of several runs.

#![allow(clippy::unwrap_used, reason = "a benchmark stops where something is not as it should be")]

mod sheets;

use std::fs;
use std::path::Path;
use std::process::Command;
use std::time::{Duration, Instant};

const RUNS: usize = 5;

fn main() {
    // Cargo runs benchmarks as tests too; then there is nothing to measure.
    if !std::env::args().any(|argument| argument == "--bench") {
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    println!("\nmedian of {RUNS} runs, alternating\n\n{:<44} {:>9} {:>9}", "", "ms", "of check");
    slips(folder.path());
    for count in [1_000, 10_000] {
        every_sheet(folder.path(), count);
    }
}

/// A sheet as another rotor of the same drawing has it: by another name, with readings of its own.
fn of_wheel(text: &str, n: usize) -> String {
    let own = |line: &str| match line.strip_suffix(" deg") {
        Some(start) if start.contains("reading ") => format!("{start}.{n:03} deg\n"),
        _ => format!("{line}\n"),
    };
    text.replace("fan wheel 315", &format!("wheel {n:03}.")).lines().map(own).collect()
}

/// Released sheets whose cards are compared, of 200 rotors.
fn slips(folder: &Path) {
    let example = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/tern-quay");
    let read = |path: &str| fs::read_to_string(example.join(path)).unwrap();
    let (rotor, setup) = (read("rotors/fan-wheel-315.rotor"), read("setups/fan-wheel-315-soft-bench.rotor"));
    let shared: Vec<(String, String)> = ["book.rotor", "masses.rotor", "materials.rotor", "machines/soft-bench.rotor"]
        .map(|path| (path.to_owned(), read(path)))
        .into();
    let slips = [
        (7, "grade: G 6.3", "grade: G 16"),
        (23, "rotation: clockwise", "rotation: anticlockwise"),
        (42, "highest safe speed: 4200 rpm", "highest safe speed: 4700 rpm"),
        (55, "  caution: \"lock the cradle before the belt comes off\"\n", ""),
        (61, "    \"left strength\": 212", "    \"left strength\": 221"),
        (77, "revision: \"D\"\n  by: \"fan bay\"", "revision: \"C\"\n  by: \"day shift\""),
        (99, "wall at least: 3 mm", "wall at least: 1 mm"),
        (120, "    within: 5 %", "    within: 15 %"),
        (150, "places: 8 from 0 deg", "places: 9 from 0 deg"),
        (180, "indicates: heavy spot", "indicates: light spot"),
    ];
    let (mut old, mut new) = (shared.clone(), shared);
    for n in 0..200 {
        for (kind, text) in [("rotors", &rotor), ("setups", &setup)] {
            let path = format!("{kind}/{n}.rotor");
            let text = of_wheel(text, n);
            let changed = text
                .replace("service speed: 3550 rpm", "service speed: 3540 rpm")
                .replace("revision: \"C\"", "revision: \"D\"");
            let own = slips.iter().filter(|slip| slip.0 == n);
            let changed = own.fold(changed, |text, (_, was, is)| text.replacen(was, is, 1));
            old.push((path.clone(), text));
            new.push((path, changed));
        }
    }
    let folders = written(folder, "400", &old, &new);
    let text = compared(&folders, "400 changed sheets, ten slips among them");
    let page: String = text.lines().take(70).collect();
    let found = slips.iter().filter(|(n, ..)| page.contains(&format!("wheel {n:03}."))).count();
    println!("{:<44} {found:>9}", "  of the slips on the first page");
}

/// In each rotor another service speed, in each setup another radius of the hub's mass.
fn every_sheet(folder: &Path, count: usize) {
    let old = sheets::book(count);
    let change = |(path, text): &(String, String)| {
        let text = text.replace("service speed: 3550 rpm", "service speed: 3540 rpm");
        (path.clone(), text.replacen("mass: 3.00 g\n    radius: 1", "mass: 3.00 g\n    radius: 2", 1))
    };
    let new: Vec<(String, String)> = old.iter().map(change).collect();
    assert!(old.iter().zip(&new).filter(|(a, b)| a.1 != b.1).count() >= count);
    let folders = written(folder, &count.to_string(), &old, &new);
    compared(&folders, &format!("{count} sheets, every one changed"));
}

fn written(folder: &Path, name: &str, old: &[(String, String)], new: &[(String, String)]) -> [String; 2] {
    [("old", old), ("new", new)].map(|(which, files)| {
        let root = folder.join(name).join(which);
        for (path, text) in files {
            let path = root.join(path);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, text).unwrap();
        }
        root.display().to_string()
    })
}

/// Prints how long a check and a comparison take, and gives what the comparison says.
fn compared([old, new]: &[String; 2], what: &str) -> String {
    let mut check = Vec::new();
    let mut diff = Vec::new();
    let mut said = String::new();
    for _ in 0..RUNS {
        check.push(run(&["check", "--brief", new]).0);
        let (time, text) = run(&["diff", old, new]);
        diff.push(time);
        said = text;
    }
    let (check, diff) = (median(check), median(diff));
    let row = |what: &str, time: Duration| {
        let share = time.as_secs_f64() / check.as_secs_f64();
        println!("{what:<44} {:>9.0} {share:>8.2}×", time.as_secs_f64() * 1e3);
    };
    row(&format!("{what}: check"), check);
    row("  diff", diff);
    said
}

fn median(mut times: Vec<Duration>) -> Duration {
    times.sort();
    times[times.len() / 2]
}

fn run(arguments: &[&str]) -> (Duration, String) {
    let begin = Instant::now();
    let output = Command::new(env!("CARGO_BIN_EXE_rotorbook")).args(arguments).output().unwrap();
    let time = begin.elapsed();
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(!said.contains("panicked") && output.status.code() != Some(2), "{arguments:?}: {said}");
    (time, String::from_utf8_lossy(&output.stdout).into_owned())
}
