//! What masses that are set up tell of the machine: what it reads, and what one division is worth.

pub(in crate::book::results) mod calibrate;
pub(in crate::book::results) mod check_mass;
pub(in crate::book::results) mod dial;
pub(in crate::book::results) mod division;
pub(in crate::book::results) mod left_out;
mod one;
mod reading;
mod residual;
mod set_mass;
mod table;
