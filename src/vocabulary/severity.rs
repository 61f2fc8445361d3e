//! How the shop ranks a diagnostic.

use super::define::*;

block! {
    /// How this shop ranks one diagnostic, with the reason.
    Severity named Code;

    /// How much it weighs in this shop.
    LEVEL: Level = "level".must()
        .headline();
    /// Why the shop ranks it so.
    BECAUSE: Text = "because".must();
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats();
}

choice! {
    /// How much a diagnostic weighs.
    Level {
        Error = "error",
        Warning = "warning",
        Note = "note",
        Off = "off",
    }
}
