//! A bar on stderr while a large book is read or rotors are rehearsed; nothing when nobody sees it.

use std::io::IsTerminal;

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

/// Smaller books are done before a bar could be read.
const LARGE: usize = 500;

/// A bar that counts rotors, or one that shows nothing.
pub(super) fn rehearsing(rotors: u64) -> ProgressBar {
    if !std::io::stderr().is_terminal() {
        return ProgressBar::with_draw_target(None, ProgressDrawTarget::hidden());
    }
    let bar = ProgressBar::with_draw_target(Some(rotors), ProgressDrawTarget::stderr());
    let style = ProgressStyle::with_template("rehearsing {bar:30} {pos} of {len} rotors");
    bar.with_style(style.unwrap_or_else(|_| ProgressStyle::default_bar()))
}

/// A bar that counts `files`, or one that shows nothing.
pub(super) fn reading(files: usize) -> ProgressBar {
    if files <= LARGE || !std::io::stderr().is_terminal() {
        return ProgressBar::with_draw_target(None, ProgressDrawTarget::hidden());
    }
    let bar = ProgressBar::with_draw_target(Some(files as u64), ProgressDrawTarget::stderr());
    let style = ProgressStyle::with_template("reading {bar:30} {pos} of {len} files");
    bar.with_style(style.unwrap_or_else(|_| ProgressStyle::default_bar()))
}
