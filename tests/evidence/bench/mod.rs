//! A shop like others, whose rotors are truly known: readings to the step of the needle, dials that interfere, are off and
//! not quite in proportion, mountings, arbors, limits of every kind, sheets that change after their proof. The limits are
//! allocated here from the wording of the standard, the true unbalance of the motion decides.

#![allow(clippy::needless_range_loop, reason = "planes, channels and dials are counted together")]

mod gates;
mod job;
mod machine;
#[allow(dead_code, reason = "shared with the bench on which whole jobs are done")]
#[path = "../../results/virtual_bench/part.rs"]
mod part;
mod rehearsed;
mod rotor;
mod truth;
mod words;

use gates::{jobs, report};

/// Where the numbers begin from which the jobs are drawn: `ROTORBOOK_SEEDS=20261129` draws others than every time.
fn first() -> u64 {
    std::env::var("ROTORBOOK_SEEDS").ok().and_then(|seed| seed.parse().ok()).unwrap_or(0)
}

fn hold(count: u64) {
    let report = report(&jobs(first()..first() + count));
    println!("{}", report.text);
    assert!(report.wrong.is_empty(), "{}\n{}", report.text, report.wrong.join("\n"));
}

#[test]
fn a_thousand_rotors_are_what_is_said_of_them() {
    hold(1_000);
}

/// `cargo test --release --test evidence bench -- --ignored --nocapture`
#[test]
#[ignore = "ten thousand rotors"]
fn ten_thousand_rotors_are_what_is_said_of_them() {
    hold(10_000);
}
