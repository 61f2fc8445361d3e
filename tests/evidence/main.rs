//! That a verdict never says more than the facts: what must hold of every sheet, a shop whose true rotors are known,
//! and a fact taken away makes no word better.

#![allow(clippy::unwrap_used, reason = "a test stops where something is not as it should be")]

mod bench;
mod bound;
mod drawn;
mod facts_taken;
mod limits_moved;
mod rehearsals;
mod scaling;
mod shelf;
mod whole;

#[path = "../support/mod.rs"]
mod support;
