//! Sets of calibration and trial masses.

use super::define::*;

block! {
    /// A set of calibration and trial masses that the shop keeps.
    Masses named Own;

    /// The masses of the set.
    VALUES: List<Mass> = "values".must()
        .also_called(&["masses", "weights", "pieces"]);
    /// What each value is known to, as expanded uncertainty with k = 2.
    UNCERTAINTY: Mass = "uncertainty";
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats();
}
