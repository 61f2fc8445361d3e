//! How long a rehearsal of a thousand rotors takes, beside a full check of the book that its setup is in.
//!
//! `cargo bench --bench rehearsal`; `cargo bench --bench rehearsal -- 100` rehearses as many rotors as named.
#![allow(clippy::unwrap_used, reason = "a benchmark may panic")]

use std::path::Path;
use std::sync::Arc;
use std::time::{Duration, Instant};

use rotorbook::book::{Book, Computing};
use rotorbook::check;
use rotorbook::disk;
use rotorbook::rehearsal::{Order, Plan, rehearse};
use rotorbook::syntax::Kind;

const SETUPS: [&str; 3] = [
    "fan wheel 315 on the soft bench",
    "pump impeller 125 on the stiff bench",
    "grinding spindle 30 on the stiff bench",
];

fn timed(work: impl FnOnce()) -> Duration {
    let start = Instant::now();
    work();
    start.elapsed()
}

fn main() {
    // What cargo itself hands over begins with a dash.
    let rotors = std::env::args().skip(1).find_map(|argument| argument.parse().ok()).unwrap_or(1_000);
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/tern-quay");
    let files = disk::walk_book(&root).files;
    let book = Book::new(files.iter().map(|path| Arc::new(disk::source(path, &root))).collect());
    let check = (0..5).map(|_| timed(|| drop(check::check(&book)))).min().unwrap();
    println!("a check of the example book: {check:.1?}");
    for setup in SETUPS {
        let id = book.find(Kind::Setup, setup).unwrap();
        let plan = Plan::of(&Computing::without_explanations(&book), id, None).unwrap();
        let order = Order { rotors, seed: 1, mountings: 2 };
        let took = timed(|| drop(rehearse(&plan, &book, order, &|_| ()).unwrap()));
        let checks = took.as_secs_f64() / check.as_secs_f64();
        println!("{rotors} rotors by \"{setup}\": {took:.2?}, {checks:.0} checks of the example book");
    }
}
