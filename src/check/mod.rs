//! Judgement: a registry of diagnostics, each one file with its page beside it.
//!
//! The command line and the language server both read what stands here.

mod agreement;
mod amounts;
mod angles;
mod behind_value;
mod binding;
mod calibration;
mod confusions;
mod context;
mod diagnostic;
mod factors;
mod facts;
mod machine_limits;
mod names;
mod open_verdict;
mod pin_text;
mod pins;
mod placing;
mod proven_with;
mod readings;
mod references;
mod registry;
mod rotors;
mod rule;
mod rules;
mod runs;
mod settings;
mod slip;
mod solving;
mod told;
mod wording;

pub use binding::edits_that_bind;
pub use context::{FileContext, ItemContext, Sink};
pub use diagnostic::{Diagnostic, Draft, FileEdit, Fix, Place, Related, Severity};
pub use pin_text::{LimitsText, Written};
pub use pins::{Computed as ComputedAmount, PinState, compare, pins};
pub use placing::{line_at_end, line_behind};
pub use proven_with::facts_of_proof;
pub use registry::{
    check, check_book, check_facts, check_file, check_item, judge_item, newer_format_of, of_revision_that_goes_back,
    of_rewritten_proof, rule, rules, sort,
};
pub use rule::{Rule, Run};
pub use rules::check_mass_drifted::outside as check_mass_outside;
pub use rules::proof_rewritten::Rewriting;
pub use rules::readings_copied::REPEATED;
pub use slip::Slip;
pub use told::{More, Told, told};
pub use wording::{
    a_kind, and_list, expected_at_a_glance, expected_of, fault_of_name, name_as_written, or_list, place_as_written,
    quoted,
};
