//! How much is done for any one text: the one table of the limits that keep a hostile or broken file cheap.
//!
//! A sheet that is meant for a machine comes nowhere near them. Where something is cut, what is shown says so.

/// Bytes of a file. A sheet has a few kilobytes.
pub const FILE_BYTES: u64 = 64 * 1024 * 1024;

/// Findings of one code that are worded, among the lines of a file or in one item; those beyond are counted.
pub const FINDINGS_WORDED: usize = 10_000;

/// Findings of one code in one file that programs and editors are told, unless all are asked for.
pub const FINDINGS_FOR_PROGRAMS: usize = 1_000;

/// The same for people; whoever made the same slip a thousand times knows it by then.
pub const FINDINGS_FOR_PEOPLE: usize = 20;

/// Bytes of a message, a help or the title of a fix.
pub const MESSAGE_BYTES: usize = 2_000;

/// Characters of a word or a name for which "did you mean" is asked.
pub const COMPARED_CHARACTERS: usize = 64;

/// Names among which it is asked.
pub const COMPARED_NAMES: usize = 10_000;

/// Pairs of characters that one such question may compare: four of the longest names in full, hundreds of short ones.
pub const COMPARED_PAIRS: usize = 4 * COMPARED_CHARACTERS * COMPARED_CHARACTERS;

/// Names of a list in a message on the terminal.
pub const NAMES_LISTED: usize = 20;
