//! Rotorbook: setup sheets for balancing rotors, as text that computes and checks itself.
//!
//! Text → tree → facts → results → judgement → surfaces. A module imports only from lower ranks and
//! its own folder; `DEVELOPERS.md` has the table.
//!
//! To the outside there is [`run`]. The feature `internals`, which tests and benchmarks ask for by themselves, opens
//! the folders as well; without it the compiler sees what nothing reaches.

// What only tests name is exported from its module all the same.
#![cfg_attr(not(feature = "internals"), allow(unused_imports))]

#[cfg(not(target_family = "wasm"))]
pub use cli::run;

cfg_if::cfg_if! {
    if #[cfg(feature = "internals")] {
        pub mod asking;
        pub mod book;
        pub mod card;
        pub mod check;
        #[cfg(not(target_family = "wasm"))]
        pub mod cli;
        pub mod diff;
        #[cfg(not(target_family = "wasm"))]
        pub mod disk;
        pub mod format;
        #[cfg(not(target_family = "wasm"))]
        pub mod git;
        pub mod ide;
        pub mod likeness;
        pub mod limits;
        pub mod mechanics;
        pub mod motion;
        pub mod reference;
        pub mod rehearsal;
        #[cfg(not(target_family = "wasm"))]
        pub mod server;
        pub mod sheet;
        pub mod starting;
        pub mod syntax;
        pub mod text;
        pub mod trend;
        pub mod units;
        pub mod vocabulary;
    } else {
        mod asking;
        mod book;
        mod card;
        mod check;
        #[cfg(not(target_family = "wasm"))]
        mod cli;
        mod diff;
        #[cfg(not(target_family = "wasm"))]
        mod disk;
        mod format;
        #[cfg(not(target_family = "wasm"))]
        mod git;
        mod ide;
        mod likeness;
        mod limits;
        mod mechanics;
        mod motion;
        mod rehearsal;
        #[cfg(not(target_family = "wasm"))]
        mod server;
        mod sheet;
        mod starting;
        mod syntax;
        mod text;
        mod trend;
        mod units;
        mod vocabulary;
    }
}
