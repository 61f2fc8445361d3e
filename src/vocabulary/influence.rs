//! What a channel reads for an unbalance in each plane.

use super::define::*;

block! {
    /// What one channel reads for an unbalance in each plane, found by runs at one speed.
    Influence named Channel;

    each Plane:
    /// What the channel reads for that unbalance in this plane, and how far the reading stands ahead of it.
    IN_PLANE: Reading = "plane".or_zero().silent(Silent::RecordJudged);

    /// The speed at which it was found.
    SPEED: Speed = "speed".must().silent(Silent::RecordJudged);
    /// The unbalance that the readings are for.
    PER: Unbalance = "per".must().silent(Silent::RecordJudged);
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats().silent(Silent::Remark);
}
