//! The language: its text and trees, its layout, what is said of slips and faulty sheets, its reference and grammars, and
//! the order of the code that reads it.

#![allow(clippy::unwrap_used, reason = "a test stops where something is not as it should be")]

mod edge_layout;
mod editor_files;
mod faulty;
mod format;
mod layers;
mod leads_on;
mod like;
mod names;
mod readme;
mod recipes;
mod reference;
mod site;
mod slips;
mod style;
mod supply;
mod syntax_again;
mod syntax_corpus;
mod syntax_properties;
mod tree_sitter;
mod uses;
mod vocabulary;

#[path = "../support/mod.rs"]
mod support;
