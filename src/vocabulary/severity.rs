//! How the shop ranks a diagnostic.

use super::define::*;

block! {
    /// How this shop ranks one diagnostic, with the reason.
    Severity named Code;

    /// How much it weighs in this shop.
    LEVEL: Level = "level".must()
        .headline()
        .alert(AlertCode::CheckWeakened, Grave::WhenLowered);
    /// Why the shop ranks it so.
    BECAUSE: Text = "because".must()
        .alert(AlertCode::SourceRemoved, Grave::WhenRemoved);
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats().silent(Silent::Remark);
}

choice! {
    /// How much a diagnostic weighs.
    Level {
        /// It must be put right: the sheet cannot be released.
        Error = "error",
        /// It is likely to be wrong and should be looked at.
        Warning = "warning",
        /// It is worth knowing.
        Note = "note",
        /// It is not reported.
        Off = "off",
    }
}
