//! What one rotor did on a setup.

use super::choices::*;
use super::define::*;
use super::setup;

block! {
    /// What one rotor did: its runs, corrections and verdict.
    Record named Own;

    /// The setup it ran on.
    SETUP: To<setup::Block> = "setup".must().silent(Silent::Finding);
    /// The proof of the setup that it was run by. Without one it is judged by `as run`, else by the sheet of today.
    PROOF: Named<ProofName> = "proof".own().silent(Silent::RecordJudged);
    /// Why its sheet was not to be used when the rotor was run by it. Nothing that was read then shows that the rotor is within.
    DESPITE: Text = "despite".own().silent(Silent::RecordJudged);
    /// An earlier record of this rotor, whose work this one goes on with: what it put on and took off is in the rotor, what was
    /// read there first is what was found.
    CONTINUES: To<Block> = "continues".own().silent(Silent::RecordJudged);
    /// Whether its setup's trial runs were made with this rotor, and nothing was done to it since. Trial runs that read amounts
    /// alone tell the angle of their own rotor, and of no other.
    TRIAL_RUNS_OF_THIS_ROTOR: YesNo = "trial runs of this rotor".own().silent(Silent::RecordJudged);
    /// The revision of the sheet that it was run to.
    REVISION: Text = "revision".own().silent(Silent::Identity);
    /// The status of the sheet on the day of the run, where it was not released. Its card and its certificate are then marked
    /// DRAFT, whatever becomes of the sheet.
    SHEET_STATUS: setup::Status = "sheet status".own().silent(Silent::RecordJudged);
    /// The serial number of the rotor.
    SERIAL: Text = "serial".own().silent(Silent::Identity);
    /// The customer it was balanced for.
    CUSTOMER: Text = "customer".own().silent(Silent::Identity);
    /// The order number it was balanced for.
    ORDER: Text = "order".own().silent(Silent::Identity);
    /// When it was balanced.
    DATE: Date = "date".own().silent(Silent::Identity);
    /// Who balanced it.
    BY: Text = "by".own().silent(Silent::Identity);
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats().silent(Silent::Remark);

    results {
        /// What it is judged by: a proof of its setup, its own `as run`, or the sheet of today.
        JUDGED_BY = "judged by"
            .quiet().silent();
        /// The arbor's own unbalance, in its angles, from runs with the rotor turned on it.
        ARBOR_UNBALANCE = "arbor unbalance".of_each(Each::Plane)
            .quiet().silent();
        /// The rotor's own unbalance, without the arbor's.
        ROTOR_UNBALANCE = "rotor unbalance".of_each(Each::Plane)
            .quiet().silent();
        /// The largest difference between an indexed run and what arbor and rotor together explain.
        INDEX_SCATTER = "index scatter".of_each(Each::Plane)
            .quiet().silent();
        /// What acts at a limit: the mean of all runs of the rotor as it is now; at the worst phase, where only amounts
        /// are known.
        MEASURED = "measured".of_each(Each::Limit)
            .quiet().silent();
        /// What that is known to, at 95 %, by all lines of the budget.
        UNCERTAINTY = "uncertainty".of_each(Each::Limit)
            .quiet().silent();
        /// The lines of the budget, worst first: each by itself at 95 %, and its standard uncertainty. Last what they make
        /// together: the standard uncertainties by root of squares, times one factor.
        BUDGET = "budget".of_each(Each::Limit)
            .quiet().silent();
        /// What it must not exceed.
        LIMIT_AT = "limit".of_each(Each::Limit)
            .quiet().silent();
        /// Whether the limit is kept: within, within as read, not shown, over as read, over.
        VERDICT_AT = "verdict at".of_each(Each::Limit)
            .quiet().silent();
        /// Whether the rotor is within its tolerance: within, within as read, not shown, over as read, over.
        VERDICT = "verdict"
            .hint(Hint::before("verdict "))
            .alert(AlertCode::VerdictChanged, Grave::WhenChanged);
        /// The lines of the budget that are not known.
        NOT_ASSESSED = "not assessed"
            .quiet().silent();
        /// What would cost least to make it within, where it is not shown or within as read.
        CHEAPEST_WAY = "cheapest way"
            .quiet().silent();
        /// What the verdict rests on.
        REASONS = "reasons"
            .quiet().silent();
    }
}
