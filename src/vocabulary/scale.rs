//! Scales of a dial.

use super::define::*;

block! {
    /// One of several scales of a dial.
    Scale named Own;

    /// The value of one printed mark of this scale.
    ONE_MARK_IS: ReadoutAmount = "one mark is".such_as("0.5 div").must()
        .headline()
        .silent(Silent::ResultsMove);
    /// How many marks the scale has.
    MARKS: Number = "marks".must().silent(Silent::ResultsMove);
    /// The smallest part of a mark that can be read.
    SMALLEST_STEP: Marks = "smallest step".such_as("0.2 mark").silent(Silent::ResultsMove);
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats().silent(Silent::Remark);
}
