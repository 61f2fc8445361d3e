//! How far rotors come on the virtual bench: the distribution of the reduction, by the way they were worked on.
//!
//! `cargo bench --bench reduction` does ten thousand rotors; `cargo bench --bench reduction -- 500` as many as named.
#![allow(clippy::unwrap_used, reason = "a benchmark may panic")]

#[path = "../results/virtual_bench/jobs.rs"]
mod jobs;

fn main() {
    // What cargo itself hands over begins with a dash.
    let count = std::env::args().skip(1).find_map(|argument| argument.parse().ok()).unwrap_or(10_000);
    let endings = jobs::jobs(0..count);
    println!("{}", jobs::distribution(&endings));
    let clear = endings.iter().filter(|ending| jobs::is_clear(ending)).count();
    println!("{clear} of {} clear of noise", endings.len());
    for words in jobs::judged(&endings) {
        println!("{words}");
    }
}
