//! The physics: pure functions over typed quantities. Each says its formula, symbols, domain and source.
//! No strings of a sheet, no places in a text. Clause numbers of standards are from memory.

mod domain;
mod linear;

pub mod allocation;
pub mod budget;
pub mod calibration;
mod circles;
pub mod clocking;
pub mod correction;
pub mod drive;
pub mod effect;
pub mod fits;
pub mod force;
pub mod hard_supports;
pub mod index;
pub mod influence;
pub mod keyway;
pub mod known_masses;
pub mod limits;
pub mod machine;
pub mod planes;
pub mod proof;
pub mod scatter;
pub mod self_proof;
pub mod strobe;
pub mod tolerance;
pub mod verdict;
pub mod weighing;
pub mod without_phase;

pub use domain::{Computed, DomainError, Input, Requirement};
