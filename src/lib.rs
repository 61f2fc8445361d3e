//! Rotorbook: setup sheets for balancing rotors, as text that computes and checks itself.
//!
//! Text → tree → facts → results → judgement → surfaces. A module imports only from lower ranks and
//! its own folder; `DEVELOPERS.md` has the table.

// The grammar's generated code names it; pest is used without its std feature, whose look at the stack at every step
// costs a third of the time, and the depth of a text is limited before pest sees it.
extern crate alloc;

pub mod book;
pub mod check;
pub mod mechanics;
pub mod reference;
pub mod sheet;
pub mod syntax;
pub mod text;
pub mod units;
