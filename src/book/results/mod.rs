//! What is computed, in the order of the work.
//!
//! A stage names only stages above it in this list, and within a stage no two files lead to each other;
//! `tests/language/layers.rs` holds both. Three kinds of items have results, each at the end of its row.
//!
//! ```text
//! values       a result as it is kept, why there is none, how it reads
//! plane        where and how much can be corrected
//! rotor        mass, tolerance, what each plane has of it           -> RotorResults
//! bench        the machine, speeds, supports, what a reading is
//! calibration  masses set up: what they read, what a division is worth
//! trials       trial runs: what a channel reads of a plane
//! measuring    what a reading means, by either of them
//! setup        whether it is proven and still holds                 -> SetupResults
//! runs         runs, corrections, indexing, traverses
//! verdict      what counts, the errors, within or not
//! record       the whole of it                                      -> RecordResults
//! ```
//!
//! `computing` is outside as the host: who needs another item asks it by name, and it works that out once (`kept`).

mod bench;
mod calibration;
mod computing;
mod kept;
mod measuring;
mod plane;
mod record;
mod rotor;
mod runs;
mod setup;
mod trials;
mod values;
mod verdict;

pub use bench::angles::AngleRead;
pub use bench::machine::{MachineFacts, ReadoutFacts, ScaleFacts, scale_that_shows, suits_readout};
pub use bench::readings::{ReadingResults, indication};
pub use calibration::calibrate::CalibrateResults;
pub use calibration::check_mass::{CheckMassResults, Checked};
pub use calibration::dial::{SaidBy, SetTo};
pub use calibration::left_out::LeftOut;
pub use computing::{Computed, Computing, RecordedComputing};
pub use measuring::agreement::Contradiction;
pub use measuring::turn::{HeavySpot, Stands};
pub use measuring::{Found, WorkedBy};
pub use plane::PlaneResults;
pub use plane::carried::{Carried, CarriedCut, CarriedMass};
pub use plane::extra::ExtraMass;
pub use plane::made::MadeCut;
pub use plane::near::NearHole;
pub use plane::places::{Places, barred};
pub use plane::removal::{Cut, Geometry};
pub use record::{RecordResults, continued};
pub use rotor::base::ToleranceRule;
pub use rotor::keyway::KeywayResults;
pub use rotor::limits::{Acts, Limit, Standing};
pub use rotor::results::{ClockedParts, ClockingResults, PartResults, RotorResults};
pub use rotor::seen::Seen;
pub use runs::arbor_stated::{ArborNotAsStated, arbor_not_as_stated};
pub use runs::correction::CorrectionResults;
pub use runs::fit::Fit;
pub use runs::index::{IndexResults, IndexedPlane};
pub use runs::like_mass::ReadsLikeMass;
pub use runs::run::{PlaneRun, RunResults};
pub use runs::seating::SeatInDoubt;
pub use runs::stated::StatedPlace;
pub use runs::step::{Foretold, StepResults};
pub use runs::traverse::TraverseResults;
pub use runs::work::WorkResults;
pub use setup::SetupResults;
pub use setup::binding::{Binding, JudgedBy, Untimely};
pub use setup::influences::KeptInfluence;
pub use setup::limits::KeptLimit;
pub use setup::on_machine::Lifting;
pub use setup::proof::{LinearityResults, ProofResults, SeparationResults};
pub use setup::proof_shows::ProofShows;
pub use setup::vibration::VibrationLimit;
pub use setup::void::{VoidCause, Voiding};
pub use trials::TrialResults;
pub use trials::influence::InfluenceResults;
pub use trials::interference::PreBalanced;
pub use trials::series::TrialRunResults;
pub use trials::sets::OtherSpeed;
pub use values::entry::{Column, Entry, Meaning, Outcome, Recorder, RowHead, Spot};
pub use values::missing::why;
pub use values::not_computed::{NotComputed, WhyNot};
pub use values::render::{
    PrintedResult, PrintedRow, Said, display_unit, display_value, display_vector, formula_with_numbers, of_vector,
    printed, printed_input, printed_quantity, text_of, to_set_text,
};
pub use verdict::budget::{Budget, Known, Line};
pub use verdict::counting::{DoesNotCount, NotCounted, in_band};
pub use verdict::{Judged, RecordVerdict, RunApart, word_of, word_of_row};

pub use crate::vocabulary::Sense;
pub use crate::vocabulary::plane::Method;
