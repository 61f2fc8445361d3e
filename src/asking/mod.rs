//! What is asked at the bench, one thing at a time, and what each answer becomes in the sheet.
//!
//! The next question follows from the sheet as it is written and from nothing else: work that was broken off goes on
//! where it stopped. What an answer means is worked out by reading the sheet again, as for everybody else. Nothing here
//! asks, prints or writes a file.

mod arbor;
mod check_mass;
mod corrections;
mod extra;
mod forms;
mod proof;
mod question;
mod record;
mod runs;
mod said;
mod set_to;
mod trials;

pub use check_mass::stop_by_check_mass;
pub use proof::{next_of_proof, taken_over};
pub use question::{Question, Refused, Step, is_head};
pub use record::{Begun, PutOn, Rotor, first, next_of_record};
