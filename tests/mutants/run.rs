//! Changes the program in many places, one at a time, and sees whether the tests notice.
//!
//! `cargo run --example mutants` takes 300 places by chance, always the same; `cargo run --example mutants -- 40` takes the
//! first 40 of them. All are compiled at once into a copy of the crate in `target/mutants/`, asleep, and one is woken
//! by the environment of a test. Each test first runs alone, with none awake, to see how long it takes and which places it
//! comes by; a mutant is then met by the tests that come by it, the short and special ones first, until one fails.

#![allow(clippy::unwrap_used, reason = "a tool of tests stops where something is not as it should be")]

mod copy;
mod places;

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Mutex, mpsc};
use std::thread;
use std::time::{Duration, Instant};

use copy::{CrateCopy, Mutant, Source};

/// Where chance begins. Another seed picks other places.
const SEED: u64 = 21_940;
/// Tests and mutants that run at the same time.
const AT_ONCE: usize = 2;
/// No mutant is met by more tests than take this long with none awake; one that none of them notices counts as survived.
const LONGEST: Duration = Duration::from_secs(120);
/// A test that takes ten times its time and this much more hangs, which is noticed.
const HANGS: Duration = Duration::from_secs(10);

/// One test, and what is known of it from a run with no mutant awake.
struct Test {
    program: PathBuf,
    /// `results pins::a_pin_is_kept`
    name: String,
    path: String,
    takes: Duration,
    passes: BTreeSet<usize>,
}

enum Fate {
    Killed(String),
    NoTestComesBy,
    Survived { tests: usize, out_of_time: bool },
}

fn main() {
    let count = std::env::args().nth(1).map_or(300, |count| count.parse().expect("a count of mutants"));

    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    // This program is `target/debug/examples/mutants`.
    let target = std::env::current_exe().unwrap().ancestors().nth(3).unwrap().join("mutants");
    let (sources, all) = copy::all(root);
    println!("{} places in {} files", all.len(), sources.len());
    let copy = CrateCopy::make(root, target.join("rotorbook"), &sources, shuffled(&all), count);
    let programs = copy.build();
    copy.put_sources_back();

    let (tests, broken) = met(&programs, &copy.folder, &target.join("passed"));
    for test in &broken {
        println!("left out, it fails with no mutant awake: {test}");
    }
    println!(
        "{} tests, {:.0} s one by one",
        tests.len(),
        tests.iter().map(|test| test.takes.as_secs_f64()).sum::<f64>()
    );
    let chosen: Vec<(usize, &Mutant)> = copy.mutants.iter().map(|(number, mutant)| (*number, *mutant)).collect();
    let began = Instant::now();
    let fates = at_once(&chosen, |(number, mutant)| {
        let began = Instant::now();
        let fate = fate(*number, &tests, &copy.folder);
        println!("{}", told(*number, mutant, &sources, &fate, began.elapsed()));
        fate
    });
    let killed = fates.iter().filter(|fate| matches!(fate, Fate::Killed(_))).count();
    let share = 100.0 * killed as f64 / fates.len().max(1) as f64;
    println!("{killed} of {} killed, {share:.0} %, in {:.0} s", fates.len(), began.elapsed().as_secs_f64());
}

/// All places in an order of chance (Fisher and Yates; splitmix64 for chance).
fn shuffled(all: &[Mutant]) -> Vec<&Mutant> {
    let mut order: Vec<&Mutant> = all.iter().collect();
    let mut state = SEED;
    for last in (1..order.len()).rev() {
        state = state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut bits = (state ^ (state >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        bits = (bits ^ (bits >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        order.swap(last, ((bits ^ (bits >> 31)) % (last as u64 + 1)) as usize);
    }
    order
}

/// Does work on several threads; the results are in the order of the work.
fn at_once<T: Sync, R: Send>(work: &[T], one: impl Fn(&T) -> R + Sync) -> Vec<R> {
    let next = AtomicUsize::new(0);
    let (done, results) = mpsc::channel();
    thread::scope(|scope| {
        for done in vec![done; AT_ONCE] {
            let (next, one) = (&next, &one);
            scope.spawn(move || {
                loop {
                    let n = next.fetch_add(1, Ordering::Relaxed);
                    let Some(piece) = work.get(n) else { break };
                    done.send((n, one(piece))).unwrap();
                }
            });
        }
    });
    let mut results: Vec<(usize, R)> = results.into_iter().collect();
    results.sort_by_key(|(n, _)| *n);
    results.into_iter().map(|(_, result)| result).collect()
}

/// Every test that holds with no mutant awake, the short and special ones first, and the names of the others.
fn met(programs: &[(String, PathBuf)], folder: &Path, passed: &Path) -> (Vec<Test>, Vec<String>) {
    let listed = |(name, program): &(String, PathBuf)| -> Vec<(String, PathBuf, String)> {
        let list = Command::new(program).args(["--list", "--format", "terse"]).current_dir(folder).output().unwrap();
        let list = String::from_utf8(list.stdout).unwrap();
        let paths = list.lines().filter_map(|line| line.strip_suffix(": test"));
        paths.map(|path| (name.clone(), program.clone(), path.to_owned())).collect()
    };
    let all: Vec<_> = programs.iter().flat_map(listed).collect();
    let broken = Mutex::new(Vec::new());
    let tests = at_once(&all, |(name, program, path)| {
        let own = passed.join(format!("{name} {}", path.replace("::", " ")));
        _ = fs::remove_dir_all(&own);
        fs::create_dir_all(&own).unwrap();
        let began = Instant::now();
        let holds = holds(program, path, folder, ("MUTANTS_PASSED", own.as_os_str()), LONGEST);
        let takes = began.elapsed();
        let name = format!("{name} {path}");
        if !holds {
            broken.lock().unwrap().push(name);
            return None;
        }
        let seen = fs::read_dir(&own).unwrap();
        let passes = seen.map(|entry| entry.unwrap().file_name().to_str().unwrap().parse().unwrap()).collect();
        Some(Test { program: program.clone(), name, path: path.clone(), takes, passes })
    });
    let mut tests: Vec<Test> = tests.into_iter().flatten().collect();
    // A test that comes by few places is about them.
    tests.sort_by_key(|test| test.takes * u32::try_from(test.passes.len()).unwrap());
    (tests, broken.into_inner().unwrap())
}

/// Whether a test holds; one that takes longer than it may does not.
fn holds(program: &Path, path: &str, folder: &Path, with: (&str, &std::ffi::OsStr), longest: Duration) -> bool {
    let mut test = Command::new(program);
    test.args([path, "--exact", "--test-threads=1"]).current_dir(folder).env(with.0, with.1);
    // No files beside the sources, no looking for a smaller example, and the same chance each time.
    test.env("INSTA_UPDATE", "no").env("INSTA_WORKSPACE_ROOT", folder);
    test.env("PROPTEST_DISABLE_FAILURE_PERSISTENCE", "true").env("PROPTEST_MAX_SHRINK_ITERS", "0");
    test.env("PROPTEST_RNG_SEED", SEED.to_string());
    let mut test = test.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null()).spawn().unwrap();
    let began = Instant::now();
    loop {
        if let Some(status) = test.try_wait().unwrap() {
            return status.success();
        }
        if began.elapsed() > longest {
            _ = test.kill();
            _ = test.wait();
            return false;
        }
        thread::sleep(Duration::from_millis(3));
    }
}

fn fate(number: usize, tests: &[Test], folder: &Path) -> Fate {
    let mut spent = Duration::ZERO;
    let mut run = 0;
    for test in tests.iter().filter(|test| test.passes.contains(&number)) {
        if spent > LONGEST {
            return Fate::Survived { tests: run, out_of_time: true };
        }
        let awake = number.to_string();
        if !holds(&test.program, &test.path, folder, ("MUTANT", awake.as_ref()), test.takes * 10 + HANGS) {
            return Fate::Killed(test.name.clone());
        }
        run += 1;
        spent += test.takes;
    }
    if run == 0 { Fate::NoTestComesBy } else { Fate::Survived { tests: run, out_of_time: false } }
}

/// `survived 17 src/mechanics/force.rs:31: `a < b` is `(a) <= (b)`; 41 tests, 3.1 s`
fn told(number: usize, mutant: &Mutant, sources: &[Source], fate: &Fate, took: Duration) -> String {
    let source = &sources[mutant.source];
    let fate_word = if matches!(fate, Fate::Killed(_)) { "killed" } else { "SURVIVED" };
    let by = match fate {
        Fate::Killed(test) => format!("by {test}"),
        Fate::NoTestComesBy => "no test comes by".to_owned(),
        Fate::Survived { tests, out_of_time: false } => format!("{tests} tests"),
        Fate::Survived { tests, out_of_time: true } => format!("{tests} tests, then out of time"),
    };
    format!(
        "{fate_word} {number} {}:{}: `{}` is `{}`; {by}, {:.1} s",
        source.path.display(),
        mutant.place.line,
        in_a_line(&source.text[mutant.place.range.clone()]),
        in_a_line(&mutant.place.mutated_text(&source.text)),
        took.as_secs_f64()
    )
}

fn in_a_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}
