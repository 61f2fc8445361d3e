//! What editors are given: every feature by itself, and the server as a process.

#![allow(clippy::unwrap_used, reason = "a test stops where something is not as it should be")]

mod books;
mod clients;
mod consequences;
#[cfg(unix)]
mod edge_server;
mod features;
mod ide;
mod leads;
mod order;
mod pull;
mod session;
mod silence;
mod soak;
mod writing;

#[path = "../bench/sheets.rs"]
mod sheets;
#[path = "../support/mod.rs"]
mod support;
