//! What a setup was proven with.

use super::choices::*;
use super::define::*;
use super::kept::{Keeps, kept_block};
use super::of::Bearing;
use super::{arbor, calibrate, machine, masses, readout, rotor, setup, tolerance};

kept_block! {
    /// What the sheet said on the day of the proof, which does not change any more. Tools write it; records are judged by it.
    ProvenWith, Proven;
}
