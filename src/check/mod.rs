//! Judgement: a registry of diagnostics, each one file with its page beside it.
//!
//! The command line and the language server both read what stands here.

mod angles;
mod context;
mod diagnostic;
mod registry;
mod rotors;
mod rules;
mod slips;
mod wording;

pub use context::{FileContext, ItemContext, Sink};
pub use diagnostic::{Diagnostic, Draft, FileEdit, Fix, Place, Related, Severity};
pub use registry::{Rule, Run, check, check_item, rule, rules};
