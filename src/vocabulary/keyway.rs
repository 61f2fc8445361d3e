//! Keyways.

use super::define::*;
use super::material;

block! {
    /// A keyway and the key convention the rotor is balanced with.
    Keyway named Own;

    /// Its axial place.
    AT: Length = "at".any_sign();
    /// What fills the keyway while the rotor is balanced.
    KEY: KeyFitted = "key".source("ISO 21940-32")
        .headline()
        .alert(AlertCode::ConventionChanged, Grave::WhenChanged);
    /// Width of the key.
    WIDTH: Length = "width";
    /// Height of the whole key.
    HEIGHT: Length = "height";
    /// Length of the key of the final assembly.
    LENGTH: Length = "length";
    /// Radius to the centre of mass of the half key.
    RADIUS: Length = "radius";
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
        HalfKey = "half key".also_called(&["half", "half-key"]),
        FullKey = "full key".also_called(&["full", "full-key"]),
        NoKey = "no key".also_called(&["none", "without key"]),
    }
}
