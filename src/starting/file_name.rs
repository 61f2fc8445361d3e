//! What the file of a sheet that is begun is called.

use crate::book::ROOT_FILE;
use crate::syntax::Kind;

/// Letters and digits of a name, joined by hyphens, without the ending. A file of the root's own name would make its folder
/// a book, and some names are devices to Windows, with whatever ending.
pub fn file_name(name: &str) -> String {
    const DEVICES: [&str; 6] = ["con", "prn", "aux", "nul", "conin", "conout"];
    let plain = plain_file_name(name);
    let numbered = ["com", "lpt"].iter().find_map(|device| plain.strip_prefix(device));
    let is_port = numbered.is_some_and(|number| number.chars().count() == 1 && number.chars().all(char::is_numeric));
    match is_port || DEVICES.contains(&&*plain) || format!("{plain}.{}", Kind::Rotor) == ROOT_FILE {
        true => format!("{plain}-sheet"),
        false => plain,
    }
}

/// The same, whatever it means to a disk. File systems take 255 bytes; numbers and the ending come after these.
pub fn plain_file_name(name: &str) -> String {
    const MOST: usize = 120;
    let words = name.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty());
    let joined = words.map(str::to_lowercase).collect::<Vec<_>>().join("-");
    let end = joined.char_indices().map(|(at, letter)| at + letter.len_utf8()).take_while(|end| *end <= MOST).last();
    let cut = &joined[..end.unwrap_or_default()];
    if cut.is_empty() { "sheet".to_owned() } else { cut.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::file_name;

    #[test]
    fn names_of_files() {
        assert_eq!(file_name("Fan wheel 315, left/right"), "fan-wheel-315-left-right");
        for empty in ["../..", ".", "", "\"", "\0"] {
            assert_eq!(file_name(empty), "sheet");
        }
        for reserved in ["Book", "CON", "aux", "nul.", "COM1", "lpt²"] {
            assert!(file_name(reserved).ends_with("-sheet"), "{reserved}");
        }
        assert_eq!((file_name("com10"), file_name("console")), ("com10".to_owned(), "console".to_owned()));
        for long in ["é".repeat(200), "x".repeat(5_000)] {
            assert_eq!(file_name(&long).len(), 120);
        }
    }
}
