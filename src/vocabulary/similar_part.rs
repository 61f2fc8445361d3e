//! A similar rotor that the book does not hold.

use super::define::*;

block! {
    /// A similar rotor that the book does not hold, with the tolerance on its job card.
    SimilarPart;

    /// Its mass.
    MASS: Mass = "mass".such_as("4.6 kg").must().silent(Silent::ResultsMove);
    /// Its highest service speed.
    HIGHEST_SERVICE_SPEED: Speed = "highest service speed".such_as("3000 rpm").must()
        .alert(AlertCode::SpeedRaised, Grave::WhenRaised);
    /// Its permissible unbalance.
    TOTAL: Unbalance = "total".must()
        .headline()
        .silent(Silent::ResultsMove);
    /// The card it is on.
    SOURCE: Text = "source"
        .alert(AlertCode::SourceRemoved, Grave::WhenRemoved);
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats().silent(Silent::Remark);
}
