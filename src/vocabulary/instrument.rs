//! Instruments of the shop.

use super::define::*;

block! {
    /// A scale, calliper or protractor: its resolution feeds the uncertainty of what it measured.
    Instrument named Own;

    /// What the instrument measures.
    MEASURES: Measures = "measures".must();
    /// The values the instrument can take.
    RANGE: Range<MassLengthOrAngle> = "range".or_zero();
    /// The smallest step of its readout.
    RESOLUTION: MassLengthOrAngle = "resolution".must()
        .headline();
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats();
}

choice! {
    /// What an instrument measures.
    Measures {
        Mass = "mass".also_called(&["weight", "weights"]),
        Length = "length",
        Angle = "angle",
    }
}
