//! Keyways.

use super::define::*;
use super::material;

block! {
    /// A keyway and the key convention the rotor is balanced with.
    Keyway named Own;

    /// Its axial place.
    AT: Length = "at".such_as("150 mm").any_sign();
    /// What fills the keyway while the rotor is balanced.
    KEY: KeyFitted = "key".source("ISO 21940-32")
        .headline()
        .alert(AlertCode::ConventionChanged, Grave::WhenChanged);
    /// Width of the key.
    WIDTH: Length = "width".such_as("8 mm");
    /// Height of the whole key.
    HEIGHT: Length = "height".such_as("7 mm");
    /// Length of the key of the final assembly.
    LENGTH: Length = "length".such_as("25 mm");
    /// Radius to the centre of mass of the half key.
    RADIUS: Length = "radius".such_as("14 mm");
    /// Material of the key.
    MATERIAL: To<material::Block> = "material".default("carbon steel");
    /// The mark on the end face that names the convention.
    MARK: Text = "mark";
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats();

    results {
        /// Mass of the half key.
        HALF_KEY_MASS = "half-key mass"
            .hint(Hint::before("half key "))
            .headline();
        /// Unbalance that a wrong key convention puts in.
        WRONG_KEY_UNBALANCE = "wrong key unbalance"
            .quiet();
    }
}

choice! {
    /// What fills a keyway while the rotor is balanced.
    KeyFitted {
        /// A key that fills the keyway to the surface of the shaft.
        HalfKey = "half key".also_called(&["half", "half-key"]),
        /// The whole key, as in service.
        FullKey = "full key".also_called(&["full", "full-key"]),
        /// The keyway is left empty.
        NoKey = "no key".also_called(&["none", "without key"]),
    }
}
