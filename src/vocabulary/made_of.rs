//! Parts of an assembly.

use super::define::*;
use super::record;

block! {
    /// A part of an assembly, itself a rotor of the book.
    MadeOf named Item(Kind::Rotor);

    /// Where the part's datum lies in the assembly.
    AT: Length = "at".such_as("40 mm").any_sign()
        .headline();
    /// How many of it.
    QUANTITY: Count = "quantity".default("1");
    /// Whether the part comes balanced.
    BALANCED: PartBalanced = "balanced";
    /// The angle of its zero mark in the assembly.
    FITTED_AT: Angle = "fitted at".such_as("90 deg").any_sign();
    /// The marks that must meet.
    MATCH_MARK: Text = "match mark"
        .on_card(OnCard::Without(&[FITTED_AT.any(), BALANCED.any()]));
    /// The steps in which it can be turned against the shaft.
    INDEXED_BY: Angle = "indexed by".such_as("60 deg");
    /// The record whose last runs tell the part's own unbalance, from which the clocking of the parts follows.
    RECORD: To<record::Block> = "record".group("known unbalance");
    /// Its own unbalance in one of its planes, in its own angles, from its card.
    UNBALANCE: UnbalanceVector = "unbalance".per(PlaneOfPart).or_zero().group("known unbalance");
    /// Diametral clearance of its fit.
    FIT_CLEARANCE: Length = "fit clearance".such_as("0.01 mm").or_zero();
    /// Total indicator reading of its face.
    FACE_RUNOUT: Length = "face runout".such_as("0.02 mm").or_zero();
    /// The diameter on which the face runout was read.
    AT_DIAMETER: Length = "at diameter".such_as("120 mm");
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats();

    results {
        /// Unbalance that the part may take up by moving in its fit.
        FIT_UNBALANCE = "fit unbalance"
            .hint(Hint::alone());
        /// Couple unbalance from the part's face runout.
        RUNOUT_COUPLE = "runout couple"
            .hint(Hint::alone());
        /// The angle in the assembly at which the part's zero mark leaves least, among its allowed positions.
        CLOCKING = "clocking"
            .hint(Hint::before("best at "));
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
