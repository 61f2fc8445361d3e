//! Rehearsals: simulated rotors, worked by a setup as its card says before the first steel is.
//!
//! A rotor is drawn, turned by the equations of motion, read on a machine with the errors that the sheets tell of it, and
//! corrected as the program calls for. Whether it is within in the end, the motion says; what the program's verdict says is
//! told beside it. What the sheets do not say is drawn from a stated range, and named.

mod answers;
mod ending;
mod given;
mod machine;
mod plan;
mod practice;
mod reading;
mod rotor;
mod subject;
mod work;

use rayon::prelude::*;

use crate::book::Book;

pub use ending::{Cause, Ending, Limiting, Named, Rehearsal, Row, Short};
pub use given::{Cannot, Drawn, Plan};
pub use practice::{Mistake, Practice, Shows};
pub use subject::Subject;
pub use work::MOST_CORRECTIONS;

/// Rotors whose records are in one book at a time.
const TOGETHER: u64 = 25;

/// How a rehearsal is done.
#[derive(Clone, Copy, Debug)]
pub struct Order {
    pub rotors: u64,
    pub seed: u64,
    /// How often a rotor is laid in before it is judged.
    pub mountings: usize,
}

/// Works so many rotors; `done` hears of every few that are.
pub fn rehearse(plan: &Plan, book: &Book, order: Order, done: &(dyn Fn(u64) + Sync)) -> Result<Rehearsal, Cannot> {
    let batches: Vec<u64> = (0..order.rotors).step_by(TOGETHER as usize).collect();
    let batch = |first: &u64| {
        let numbers = *first..(*first + TOGETHER).min(order.rotors);
        let count = numbers.end - numbers.start;
        let jobs = numbers.map(|number| work::Job::new(plan, order.seed, number)).collect();
        let endings = work::work(plan, book, jobs, order.mountings)?;
        done(count);
        Ok(endings)
    };
    let endings = batches.par_iter().map(batch).collect::<Result<Vec<Vec<Ending>>, Cannot>>()?;
    Ok(Rehearsal::of(plan, order.seed, order.mountings, endings.into_iter().flatten().collect()))
}
