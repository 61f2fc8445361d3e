//! Rigid rotors on two supports, moved by the equations of motion, and numbers drawn by chance.
//!
//! The yardstick of the formulas: nothing here knows them, and `tests/language/layers.rs` keeps it so. Plain numbers in SI
//! units, complex ones as phasors in the angles of the body, counted with rotation.

mod body;
mod chance;
mod cut;

pub use body::{Body, Supports};
pub use chance::Chance;
pub use cut::{Cut, Shape};
