//! Codes that are no longer in use, and what became of them.

use crate::vocabulary::{Became, Former};

/// The codes that were. A rank that a shop gives one of them holds for what it is called now.
pub const FORMER: &[Former] = &[
    Former {
        name: "couple-not-judged",
        became: Became::Retired("every stated limit is judged, and no other"),
        since: "0.1.0",
    },
    Former {
        name: "rotation-without-view",
        became: Became::Retired("`rotation` itself names the end it is seen from"),
        since: "0.1.0",
    },
    #[cfg(test)]
    Former { name: "two-planes-alike", became: Became::Renamed("planes-alike"), since: "0.1.0" },
    #[cfg(test)]
    Former { name: "sheet-too-long", became: Became::Retired("no sheet is too long"), since: "0.1.0" },
];

/// A code that is no longer used, and its successor.
pub fn former_code(code: &str) -> Option<&'static Former> {
    FORMER.iter().find(|former| former.name == code)
}
