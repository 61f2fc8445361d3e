//! What one rotor did on a setup.

use super::define::*;
use super::setup;

block! {
    /// What one rotor did: its runs, corrections and verdict.
    Record named Own;

    /// The setup it ran on.
    SETUP: To<setup::Block> = "setup".must();
    /// The proof of the setup that it was run by. Without one it is judged by `as run`, else by the sheet of today.
    PROOF: Named<ProofName> = "proof".own();
    /// An earlier record of this rotor, whose work this one goes on with.
    CONTINUES: To<Block> = "continues".own();
    /// The revision of the sheet that it ran by.
    REVISION: Text = "revision".own();
    /// The serial number of the rotor.
    SERIAL: Text = "serial".own();
    /// For whom it was balanced.
    CUSTOMER: Text = "customer".own();
    /// The order that it was balanced under.
    ORDER: Text = "order".own();
    /// When it was balanced.
    DATE: Date = "date".own();
    /// Who balanced it.
    BY: Text = "by".own();
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats();

    results {
        /// What it is judged by: a proof of its setup, its own `as run`, or the sheet of today.
        JUDGED_BY = "judged by"
            .quiet();
        /// The arbor's own unbalance, in its angles, from runs with the rotor turned on it.
        ARBOR_UNBALANCE = "arbor unbalance".of_each(Each::Plane)
            .quiet();
        /// The rotor's own unbalance, without the arbor's.
        ROTOR_UNBALANCE = "rotor unbalance".of_each(Each::Plane)
            .quiet();
        /// The farthest that an indexed run lies from what arbor and rotor together explain.
        INDEX_SCATTER = "index scatter".of_each(Each::Plane)
            .quiet();
        /// The unbalance that is judged.
        MEASURED = "measured".of_each(Each::PlaneOrBearing)
            .quiet();
        /// What the measurement does not see: errors of arbor, fit and mounting, by root of squares.
        COMBINED_ERROR = "combined error".of_each(Each::PlaneOrBearing)
            .quiet();
        /// Each of these errors.
        ERRORS = "errors".of_each(Each::PlaneOrBearing)
            .quiet();
        /// What the measured unbalance must not exceed: the tolerance less the combined error.
        ACCEPTANCE_LIMIT = "limit".of_each(Each::PlaneOrBearing)
            .quiet();
        /// What it must not exceed when checked elsewhere: the tolerance and the combined error.
        LATER_LIMIT = "limit at a later check".of_each(Each::PlaneOrBearing)
            .quiet();
        /// Whether the tolerance is kept there: within, not shown, over.
        VERDICT_AT = "verdict at".of_each(Each::PlaneOrBearing)
            .quiet();
        /// Whether the rotor is within its tolerance: within, not shown, over.
        VERDICT = "verdict"
            .hint(Hint::before("verdict "))
            .alert(AlertCode::VerdictChanged, Grave::WhenChanged);
        /// What the verdict rests on.
        REASONS = "reasons"
            .quiet();
    }
}
