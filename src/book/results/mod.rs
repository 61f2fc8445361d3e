//! What is computed for each kind of item: one file a block, in the order of the sheet.

mod assembly;
mod bearings;
mod calibrate;
mod capacity;
mod check_mass;
mod computing;
mod division;
mod entry;
mod keyway;
mod left_out;
mod plane;
mod removal;
mod render;
mod rotor;
mod setup;
mod sharing;
mod supports;
mod tolerance;
mod tolerance_rules;

pub use assembly::PartResults;
pub use calibrate::{CalibrateResults, indication};
pub use capacity::barred;
pub use check_mass::CheckMassResults;
pub use computing::{Computed, Computing};
pub use entry::{Column, Entry, Outcome, Recorder, Spot};
pub use keyway::KeywayResults;
pub use plane::{Method, PlaneResults};
pub use removal::Geometry;
pub use render::{display_unit, display_value, formula_with_numbers, text_of, why};
pub use rotor::RotorResults;
pub use setup::{MachineFacts, ReadoutFacts, ScaleFacts, SetupResults, suits_readout};
pub use tolerance::ToleranceRule;
