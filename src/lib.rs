//! Rotorbook: setup sheets for balancing rotors, as text that computes and checks itself.
//!
//! Text → tree → facts → results → judgement → surfaces. A module imports only from lower ranks and
//! its own folder; `DEVELOPERS.md` has the table.

pub mod book;
pub mod card;
pub mod check;
pub mod cli;
pub mod diff;
pub mod disk;
pub mod format;
pub mod git;
pub mod ide;
pub mod limits;
pub mod mechanics;
pub mod reference;
pub mod server;
pub mod sheet;
pub mod syntax;
pub mod text;
pub mod units;
pub mod vocabulary;
