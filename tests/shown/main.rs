//! What people are shown: the command line, cards, and comparisons.

#![allow(clippy::unwrap_used, reason = "a test stops where something is not as it should be")]

mod balance_answers;
mod balance_by_amounts;
mod balance_orders;
mod card;
mod card_gaps;
mod card_harm;
mod card_heavy_spot;
mod card_in_browser;
mod card_limits;
mod card_pages;
mod card_pieces;
mod card_scale;
mod ci_workflows;
mod cli_balance;
mod cli_batch;
mod cli_card;
mod cli_check;
mod cli_conventions;
mod cli_diff;
mod cli_fmt;
mod cli_help;
mod cli_history;
mod cli_import;
mod cli_init;
mod cli_merge;
mod cli_pin;
mod cli_rehearse;
mod cli_release;
mod cli_report;
mod cli_show;
mod cli_terminal;
mod cli_trend;
mod deeper_orders;
mod diff_alerts;
mod diff_altered;
mod diff_cards;
mod diff_cause;
mod diff_large;
mod diff_properties;
mod diff_renames;
mod diff_told;
#[cfg(unix)]
mod edge_files;
#[cfg(unix)]
mod edge_git;
mod extra_masses_on;
mod json_schemas;
mod mass_left_on;
mod orders_answered;
mod proving;
mod sarif_schema;
mod what_was_done;

#[path = "../support/mod.rs"]
mod support;
