//! Errors of a measurement that somebody found.

use super::define::*;

block! {
    /// An error of the measurement that somebody found: a stated line of the budget behind a verdict. Named like a line of
    /// the budget it states that line; `end drive` states what the drive puts in.
    BalanceError named Own;

    /// What it may come to at most; at an angle of the rotor, a vector that is taken out of each reading; or a share.
    AMOUNT: ErrorAmount = "amount".must().measured()
        .headline()
        .alert(AlertCode::CheckWeakened, Grave::WhenRemovedOrChanged);
    /// What a share is of.
    OF: ErrorOf = "of"
        .alert(AlertCode::CheckWeakened, Grave::WhenRemovedOrChanged);
    /// The plane in which it acts; without a place, each plane that is read.
    PLANE: Named<PlaneName> = "plane".group("place")
        .alert(AlertCode::CheckWeakened, Grave::WhenRemovedOrChanged);
    /// The axial place on the rotor at which it acts.
    AT: Length = "at".such_as("164 mm").any_sign().group("place")
        .alert(AlertCode::CheckWeakened, Grave::WhenRemovedOrChanged);
    /// Who found it, how and when.
    SOURCE: Text = "source".must()
        .alert(AlertCode::SourceRemoved, Grave::WhenRemoved);
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats().silent(Silent::Remark);
}

choice! {
    /// What the share of a balance error is of: what is read in the same plane, or in the others.
    ErrorOf {
        /// The share is of what is read in the same plane.
        OwnReading = "own reading",
        /// The share is of what is read in the other planes.
        OtherPlanes = "other planes",
    }
}
