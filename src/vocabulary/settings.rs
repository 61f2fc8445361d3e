//! What the machine's dials and switches are set to.

use super::define::*;
use super::proven_with;

block! {
    /// What the machine's own dials and switches are set to, in panel order.
    Settings;

    each Control:
    /// What the control is set to at the start, or `as found`.
    CONTROL: Setting = "control".any_sign()
        .proven_as(proven_with::SETTING.any())
        .silent(Silent::Proven);

    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats().silent(Silent::Remark);

    results {
        /// What the control is set to, as it follows from what it takes: to the step of the control.
        SET_TO = "control".of_each(Each::Control)
            .quiet().silent();
    }
}
