//! What is computed, in the order of the work: the `rotor` and its tolerance, what can be done in a `plane`, the `setup`
//! on a machine, its `trials`, and the `record` of a rotor balanced with it. Beside them, how results are kept
//! (`entry`), made once (`computing`, `kept`) and read (`render`).

mod angles;
mod computing;
mod entry;
mod kept;
mod not_computed;
mod plane;
mod record;
mod render;
mod rotor;
mod setup;
mod trials;

pub use computing::{Computed, Computing, RecordedComputing};
pub use entry::{Column, Entry, Meaning, Outcome, Recorder, Spot};
pub use not_computed::{NotComputed, WhyNot};
pub use plane::PlaneResults;
pub use plane::allowed::Places;
pub use plane::capacity::barred;
pub use plane::removal::{Cut, Geometry};
pub use record::RecordResults;
pub use record::correction::{CorrectionResults, StatedPlace};
pub use record::counting::{DoesNotCount, NotCounted, in_band};
pub use record::errors::{ErrorShare, Place};
pub use record::index::{IndexResults, IndexedPlane};
pub use record::measuring::Found;
pub use record::readings::ReadingResults;
pub use record::run::{PlaneRun, RunResults};
pub use record::step::StepResults;
pub use record::traverse::TraverseResults;
pub use record::verdict::{Judged, RecordVerdict, word_of};
pub use render::{
    PrintedResult, PrintedRow, Said, display_unit, display_value, display_vector, formula_with_numbers, of_vector,
    printed, printed_input, printed_quantity, text_of, to_set_text, vector_text, why,
};
pub use rotor::RotorResults;
pub use rotor::assembly::PartResults;
pub use rotor::clocking::{ClockedParts, ClockingResults};
pub use rotor::keyway::KeywayResults;
pub use rotor::tolerance::ToleranceRule;
pub use setup::SetupResults;
pub use setup::calibrate::CalibrateResults;
pub use setup::check_mass::CheckMassResults;
pub use setup::left_out::LeftOut;
pub use setup::machine::{MachineFacts, ReadoutFacts, ScaleFacts, suits_readout};
pub use setup::proof::{LinearityResults, ProofResults, SeparationResults};
pub use setup::reading::indication;
pub use setup::void::{VoidCause, Voiding};
pub use trials::agreement::Contradiction;
pub use trials::influence::InfluenceResults;
pub use trials::{PreBalanced, TrialResults, TrialRunResults};

pub use crate::vocabulary::Sense;
pub use crate::vocabulary::plane::Method;
