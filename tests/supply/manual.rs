//! `cargo run --example manual -- FOLDER`: a manual page of each command, as the command line describes itself.

#![allow(clippy::unwrap_used, reason = "a tool of the release stops where something is not as it should be")]

fn main() {
    let folder = std::env::args_os().nth(1).expect("a folder to write into");
    std::fs::create_dir_all(&folder).unwrap();
    clap_mangen::generate_to(rotorbook::cli::command(), folder).unwrap();
}
