//! What is worked out of a sheet and how it is judged: formulas, whole sheets, uncertainty, and a shop in numbers.

#![allow(clippy::unwrap_used, reason = "a test stops where something is not as it should be")]

mod boundaries;
mod budget;
mod claims;
mod deeper;
mod doubts;
mod drilled;
mod example_book;
mod extra_masses;
mod kept_influences;
mod kept_of_a_day;
mod ledger;
mod mechanics_properties;
mod mechanics_table;
mod metamorphic;
mod nearest_sheets;
mod not_computed;
mod pins;
mod proof_as_event;
mod record_results;
mod rings;
mod rotor_results;
mod rules_on_rotors;
mod rules_on_trials;
mod same_rotor_other_words;
mod scales;
mod setup_results;
mod shown_formulas;
mod stated_errors;
mod static_stand;
mod thresholds;
mod trends;
mod trial_sets;
mod uncertainty;
mod verdicts;
mod virtual_bench;
mod worked_by;
mod worked_sheets;

#[path = "../bench/sheets.rs"]
mod sheets;
#[path = "../support/mod.rs"]
mod support;
