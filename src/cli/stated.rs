//! A text of the command line that goes into a sheet.

use crate::text::unreadable;

/// One line that can be read.
pub(super) fn stated(text: &str) -> Result<String, String> {
    match unreadable(text) {
        _ if text.trim().is_empty() => Err("it says nothing; write what the sheet is to say".to_owned()),
        Some(letter) => Err(format!("no sheet can hold the character U+{:04X}; leave it out", u32::from(letter))),
        None => Ok(text.trim().to_owned()),
    }
}
