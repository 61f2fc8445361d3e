//! Sets of calibration and trial masses.

use super::define::*;

block! {
    /// A set of calibration and trial masses that the shop keeps.
    Masses named Own;

    /// The masses of the set.
    VALUES: List<Mass> = "values".such_as("1.00 g, 2.00 g, 5.00 g").must()
        .also_called(&["masses", "weights", "pieces"])
        .alert(AlertCode::MeasurementAltered, Grave::WhenOneIsGone);
    /// What each value is known to, as expanded uncertainty with k = 2.
    UNCERTAINTY: Mass = "uncertainty".such_as("0.005 g")
        .alert(AlertCode::MeasurementAltered, Grave::WhenRemovedOrChanged);
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats().silent(Silent::Remark);
}
