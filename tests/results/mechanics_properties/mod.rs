//! What must hold for every geometry: limits that are never broken, formulas that come back, and the geometry of cuts
//! against sums over many thin slices.

mod cuts;
mod domain;
mod limits;
mod machines;
mod places;
mod planes;

/// Whether two numbers agree within a share of the larger.
fn close(left: f64, right: f64, share: f64) -> bool {
    (left - right).abs() <= share * left.abs().max(right.abs())
}
