//! What a record without a proof was run by.

use super::define::*;

block! {
    /// The limits and influences by which the rotor was balanced, where no proof says them. Tools write it.
    AsRun;

    /// What bearing A was allowed that day.
    LIMIT_AT_BEARING_A: Unbalance = "limit at bearing a".silent(Silent::RecordJudged);
    /// What bearing B was allowed that day.
    LIMIT_AT_BEARING_B: Unbalance = "limit at bearing b".silent(Silent::RecordJudged);
    /// The static unbalance that was allowed that day.
    LIMIT_STATIC: Unbalance = "limit static".silent(Silent::RecordJudged);
    /// The couple unbalance that was allowed that day.
    LIMIT_COUPLE: Couple = "limit couple".silent(Silent::RecordJudged);
    /// What one plane was allowed that day.
    LIMIT_IN: Unbalance = "limit in".per(Plane).silent(Silent::RecordJudged);
    /// What one channel was allowed to read that day.
    LIMIT_ON: ReadoutAmount = "limit on".such_as("2.8 mm/s").per(Channel).silent(Silent::RecordJudged);
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats().silent(Silent::Remark);
}
