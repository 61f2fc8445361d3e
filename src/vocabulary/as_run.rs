//! What a record without a proof was run by.

use super::choices::*;
use super::define::*;
use super::kept::{Keeps, kept_block};
use super::of::Bearing;
use super::{arbor, calibrate, machine, masses, readout, rotor, setup, tolerance};

kept_block! {
    /// What the sheet said on the day of the run, with its limits and influences, where no proof says them. Tools write it.
    AsRun, RecordJudged;
}
