//! Keyways.

use super::define::*;
use super::material;

block! {
    /// A keyway and the key convention the rotor is balanced with.
    Keyway named Own;

    /// Its axial place.
    AT: Length = "at".such_as("150 mm").any_sign().silent(Silent::ResultsMove);
    /// What fills the keyway while the rotor is balanced.
    KEY: KeyFitted = "key".source("ISO 21940-32")
        .headline()
        .alert(AlertCode::ConventionChanged, Grave::WhenChanged);
    /// Width of the key.
    WIDTH: Length = "width".such_as("8 mm").silent(Silent::ResultsMove);
    /// Height of the whole key.
    HEIGHT: Length = "height".such_as("7 mm").silent(Silent::ResultsMove);
    /// Length of the key of the final assembly.
    LENGTH: Length = "length".such_as("25 mm").silent(Silent::ResultsMove);
    /// Radius to the centre of mass of the half key.
    RADIUS: Length = "radius".such_as("14 mm").silent(Silent::ResultsMove);
    /// Material of the key.
    MATERIAL: To<material::Block> = "material".default("carbon steel").silent(Silent::ResultsMove);
    /// The mark on the end face that names the convention.
    MARK: Text = "mark".silent(Silent::ResultsMove);
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats().silent(Silent::Remark);

    results {
        /// Mass of the half key.
        HALF_KEY_MASS = "half-key mass"
            .hint(Hint::before("half key "))
            .headline().silent();
        /// Unbalance that a wrong key convention puts in.
        WRONG_KEY_UNBALANCE = "wrong key unbalance"
            .quiet().silent();
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
