//! The permissible residual unbalance.

use super::define::*;
use super::{proven_with, rotor};

block! {
    /// The permissible residual unbalance, by one rule or several; where there are several, the lowest governs.
    Tolerance;

    each Plane:
    /// The tolerance of one correction plane, named before the colon.
    PLANE: Unbalance = "plane"
        .alert(AlertCode::ToleranceLoosened, Grave::WhenRaised);

    /// Balance quality grade.
    GRADE: Grade = "grade".source("ISO 21940-11")
        .also_called(&[
            "quality", "balance quality", "balance grade", "quality grade", "balance quality grade", "class",
        ])
        .alert(AlertCode::ToleranceLoosened, Grave::WhenRaised);
    /// The edition of the standard that the grade is taken from.
    EDITION: Text = "edition"
        .alert(AlertCode::SourceRemoved, Grave::WhenRemoved)
        .on_card(OnCard::With(GRADE.any()));
    /// Permissible unbalance of the whole rotor.
    TOTAL: Unbalance = "total"
        .also_called(&["permissible residual unbalance", "max unbalance", "tolerance", "limit"])
        .alert(AlertCode::ToleranceLoosened, Grave::WhenRaised);
    /// Permissible unbalance at bearing A.
    AT_BEARING_A: Unbalance = "at bearing a"
        .alert(AlertCode::ToleranceLoosened, Grave::WhenRaised);
    /// Permissible unbalance at bearing B.
    AT_BEARING_B: Unbalance = "at bearing b"
        .alert(AlertCode::ToleranceLoosened, Grave::WhenRaised);
    /// Permissible static unbalance.
    STATIC: Unbalance = "static"
        .alert(AlertCode::ToleranceLoosened, Grave::WhenRaised);
    /// Permissible couple unbalance.
    COUPLE: Couple = "couple"
        .alert(AlertCode::ToleranceLoosened, Grave::WhenRaised);
    /// The place about which that couple is stated; the mass centre, where there is none.
    COUPLE_ABOUT: Length = "couple about".such_as("82 mm").any_sign()
        .alert(AlertCode::ToleranceLoosened, Grave::WhenChanged);
    /// 4W/N in oz·in per plane, W in lb, N in r/min: W the load on the journal, or the whole weight.
    RULE: WeightOverSpeedRule = "rule".source("form 4W/N: API 610, API 617, MIL-STD-167-1")
        .silent(Silent::ResultsMove);
    /// A rotor of the book whose tolerance is scaled by mass and speed.
    SCALED_FROM: To<rotor::Block> = "scaled from".silent(Silent::ResultsMove);
    /// In how many planes the rotor is balanced.
    PLANES: PlanesBalanced = "planes"
        .proven_as(proven_with::PLANES.any())
        .silent(Silent::ResultsMove);
    /// Where the tolerance comes from: drawing note, contract, standard.
    SOURCE: Text = "source"
        .alert(AlertCode::SourceRemoved, Grave::WhenRemoved);
    /// Who accepted a tolerance that scaling loosened.
    ACCEPTED_BY: Text = "accepted by"
        .alert(AlertCode::SourceRemoved, Grave::WhenRemoved);
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats().silent(Silent::Remark);

    results {
        /// Permissible unbalance divided by the mass.
        PERMISSIBLE_SPECIFIC = "permissible specific unbalance"
            .quiet().silent();
        /// Permissible residual unbalance of the whole rotor.
        PERMISSIBLE = "permissible unbalance"
            .hint(Hint::before("permissible "))
            .headline()
            .alert(AlertCode::ToleranceLoosened, Grave::WhenRaised);
        /// Which of the stated rules gives the lowest permissible unbalance.
        GOVERNING_RULE = "governing rule"
            .hint(Hint::behind(" governs")).silent();
        /// The balance quality grade to which the permissible unbalance amounts at the highest service speed.
        EQUIVALENT_GRADE = "equivalent grade"
            .quiet().silent();
        /// Permissible unbalance in the plane of bearing A.
        TOLERANCE_AT_A = "tolerance at a"
            .hint(Hint::before("bearing a "))
            .alert(AlertCode::ToleranceLoosened, Grave::WhenRaised);
        /// Permissible unbalance in the plane of bearing B.
        TOLERANCE_AT_B = "tolerance at b"
            .hint(Hint::before("bearing b "))
            .alert(AlertCode::ToleranceLoosened, Grave::WhenRaised);
        /// Permissible static unbalance.
        STATIC_LIMIT = "static limit"
            .quiet()
            .alert(AlertCode::ToleranceLoosened, Grave::WhenRaised);
        /// Permissible couple unbalance.
        COUPLE_LIMIT = "couple limit"
            .quiet()
            .alert(AlertCode::ToleranceLoosened, Grave::WhenRaised);
    }
}

choice! {
    /// Which weight means W in 4W/N.
    WeightOverSpeedRule {
        /// W is the load on each journal.
        ByJournalLoad = "W/N by journal load",
        /// W is the weight of the whole rotor.
        ByWholeWeight = "W/N by whole weight",
    }
}

choice! {
    /// In how many planes a rotor is balanced.
    PlanesBalanced {
        /// One plane is enough: the couple is not judged.
        One = "one".also_called(&["1"]),
        /// Two planes, which take static and couple unbalance.
        Two = "two".also_called(&["2"]),
    }
}
