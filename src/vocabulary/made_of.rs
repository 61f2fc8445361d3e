//! Parts of an assembly.

use super::define::*;
use super::record;

block! {
    /// A part of an assembly, itself a rotor of the book.
    MadeOf named Item(Kind::Rotor);

    /// Where the part's datum lies in the assembly.
    AT: Length = "at".such_as("40 mm").any_sign()
        .headline()
        .silent(Silent::ResultsMove);
    /// How many of it.
    QUANTITY: Count = "quantity".default("1").silent(Silent::ResultsMove);
    /// Whether the part comes balanced.
    BALANCED: PartBalanced = "balanced".silent(Silent::ResultsMove);
    /// The angle of its zero mark in the assembly.
    FITTED_AT: Angle = "fitted at".such_as("90 deg").any_sign().silent(Silent::ResultsMove);
    /// The marks that must meet.
    MATCH_MARK: Text = "match mark"
        .on_card(OnCard::Without(&[FITTED_AT.any(), BALANCED.any()]))
        .silent(Silent::ResultsMove);
    /// The steps in which it can be turned against the shaft.
    INDEXED_BY: Angle = "indexed by".such_as("60 deg").silent(Silent::ResultsMove);
    /// The record whose last runs tell the part's own unbalance, from which the clocking of the parts follows.
    RECORD: To<record::Block> = "record".group("known unbalance").silent(Silent::ResultsMove);
    /// Its own unbalance in one of its planes, in its own angles, from its card.
    UNBALANCE: UnbalanceVector = "unbalance".per(PlaneOfPart).or_zero().group("known unbalance")
        .silent(Silent::ResultsMove);
    /// Diametral clearance of its fit.
    FIT_CLEARANCE: Length = "fit clearance".such_as("0.01 mm").or_zero().silent(Silent::ResultsMove);
    /// Total indicator reading of its face.
    FACE_RUNOUT: Length = "face runout".such_as("0.02 mm").or_zero().silent(Silent::ResultsMove);
    /// The diameter on which the face runout was read.
    AT_DIAMETER: Length = "at diameter".such_as("120 mm").silent(Silent::ResultsMove);
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats().silent(Silent::Remark);

    results {
        /// Unbalance that the part may take up by moving in its fit.
        FIT_UNBALANCE = "fit unbalance"
            .hint(Hint::alone()).silent();
        /// Couple unbalance from the part's face runout.
        RUNOUT_COUPLE = "runout couple"
            .hint(Hint::alone()).silent();
        /// The angle in the assembly at which the part's zero mark leaves least, among its allowed positions.
        CLOCKING = "clocking"
            .hint(Hint::before("best at ")).silent();
    }
}

choice! {
    /// Whether a part comes balanced.
    PartBalanced {
        /// It was balanced before it was fitted.
        ByItself = "by itself",
        /// It comes as it was made.
        NotBalanced = "not balanced",
        /// It is balanced once it is fitted, as part of the assembly.
        AfterFitting = "after fitting",
    }
}
