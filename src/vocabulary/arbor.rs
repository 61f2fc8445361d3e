//! Arbors.

use super::define::*;

block! {
    /// An auxiliary shaft that carries a part while it is balanced.
    Arbor named Own;

    /// Its mass.
    MASS: Mass = "mass".such_as("1.20 kg").measured().silent(Silent::ResultsMove);
    /// Its own unbalance towards the left support, in its own angles.
    UNBALANCE_LEFT: UnbalanceVector = "unbalance left".measured().or_zero()
        .alert(AlertCode::MeasurementAltered, Grave::WhenRemovedOrChanged);
    /// Its own unbalance towards the right support, in its own angles.
    UNBALANCE_RIGHT: UnbalanceVector = "unbalance right".measured().or_zero()
        .alert(AlertCode::MeasurementAltered, Grave::WhenRemovedOrChanged);
    /// When the unbalances were found.
    DATE: Date = "date".silent(Silent::Identity);
    /// The diameter it is expanded to when it carries this part.
    EXPANDED_TO: Length = "expanded to".such_as("40.02 mm").silent(Silent::ResultsMove);
    /// Diametral clearance between arbor and bore.
    FIT_CLEARANCE: Length = "fit clearance".such_as("0.01 mm").or_zero().silent(Silent::ResultsMove);
    /// Total indicator reading of its seat.
    RUNOUT: Length = "runout".such_as("0.005 mm").or_zero().silent(Silent::ResultsMove);
    /// How far the axis of a part moves from one mounting to the next.
    CENTRING_REPEATABILITY: Length = "centring repeatability".such_as("0.004 mm").or_zero()
        .silent(Silent::ResultsMove);
    /// The mark its angles count from.
    ZERO_ANGLE: Text = "zero angle"
        .alert(AlertCode::ConventionChanged, Grave::WhenChanged);
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats().silent(Silent::Remark);
}
