//! Instruments of the shop.

use super::define::*;

block! {
    /// A scale, calliper or protractor: its resolution feeds the uncertainty of what it measured.
    Instrument named Own;

    /// What the instrument measures.
    MEASURES: Measures = "measures".must().silent(Silent::ResultsMove);
    /// The values the instrument can take.
    RANGE: Range<MassLengthOrAngle> = "range".such_as("up to 200 g").or_zero().silent(Silent::ResultsMove);
    /// The smallest step of its readout.
    RESOLUTION: MassLengthOrAngle = "resolution".such_as("0.01 g").must()
        .headline()
        .silent(Silent::ResultsMove);
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats().silent(Silent::Remark);
}

choice! {
    /// What an instrument measures.
    Measures {
        /// It weighs.
        Mass = "mass".also_called(&["weight", "weights"]),
        /// It measures lengths.
        Length = "length",
        /// It measures angles.
        Angle = "angle",
    }
}
