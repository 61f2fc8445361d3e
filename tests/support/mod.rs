//! What the programs of tests share.
#![allow(dead_code, reason = "each program takes what it needs")]

pub mod books;
pub mod cards;
pub mod cli;
pub mod faulty;
pub mod git;
pub mod lsp_client;
pub mod other_units;
pub mod pages;
pub mod texts;
