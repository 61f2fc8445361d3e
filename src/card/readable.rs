//! Texts of a sheet as they may be printed.

pub(super) use crate::text::harmless;

/// No text of a sheet is printed longer than this; it says so when one is.
const LONGEST: usize = 400;

/// Nothing that turns its neighbours, and no longer than a card has room for.
pub(super) fn readable(text: &str) -> String {
    shortened(&harmless(text), LONGEST)
}

pub(super) fn shortened(text: &str, most: usize) -> String {
    let count = text.chars().count();
    if count <= most {
        return text.to_owned();
    }
    let kept: String = text.chars().take(most).collect();
    format!("{kept}… [cut here: {} more characters are in the sheet]", count - most)
}
