//! A shop that exists in numbers alone: rigid rotors with unbalance by chance, machines with responses, phases, noise and
//! steps of their own, moved by the equations of motion. It writes sheets, does what the program says, and is judged by
//! what the rotors truly are in the end. Nothing here uses a formula of the program.

#[path = "jobs.rs"]
mod jobs;

use jobs::{distribution, is_clear, jobs, judged};

#[test]
fn rotors_end_within_their_tolerance_or_it_is_said_that_they_do_not() {
    let endings = jobs(0..84);
    let wrong = judged(&endings);
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    // The bench is no bench if nothing is hard on it, and none if everything is.
    let hidden = endings.iter().filter(|ending| !ending.verdict.ends_the_job()).count();
    assert!((3..50).contains(&hidden), "{hidden} of {} were not shown to be within", endings.len());
    let clear = endings.iter().filter(|ending| is_clear(ending)).count();
    assert!(clear * 2 > endings.len(), "only {clear} of {} could be done", endings.len());
}

/// `cargo test --release --test results virtual_bench -- --ignored --nocapture`
#[test]
#[ignore = "ten thousand rotors"]
fn ten_thousand_rotors() {
    let endings = jobs(0..10_000);
    println!("{}", distribution(&endings));
    let wrong = judged(&endings);
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
