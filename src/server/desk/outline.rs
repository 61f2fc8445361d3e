//! Which files of a book describe what, found without reading them properly.
//!
//! Good enough to judge an open sheet before the whole book has been read: a heading that is missed here is found when
//! the file is read.

use rustc_hash::FxHashMap;

use crate::book::{NameKey, SourceFile};
use crate::syntax::Kind;

/// The bytes of all files of a book, with the names in their headings.
pub(in crate::server) struct Outline {
    /// Paths in the book, in their order.
    files: Vec<(Box<str>, Bytes)>,
    names: FxHashMap<NameKey, Vec<usize>>,
    shops: Vec<usize>,
}

/// The bytes of a file, or why there are none.
pub(in crate::server) type Bytes = Result<Vec<u8>, String>;

impl Outline {
    /// `files` are in the order of their paths.
    pub fn of(files: Vec<(Box<str>, Bytes)>) -> Self {
        let mut outline = Self { files: Vec::new(), names: FxHashMap::default(), shops: Vec::new() };
        for (n, (_, bytes)) in files.iter().enumerate() {
            for (kind, name) in bytes.iter().flat_map(|bytes| headings(bytes)) {
                if kind == Kind::Shop {
                    outline.shops.push(n);
                }
                outline.names.entry(NameKey::of(&name)).or_default().push(n);
            }
        }
        outline.files = files;
        outline
    }

    pub fn count(&self) -> usize {
        self.files.len()
    }

    /// The files in which an item of this name may be described.
    pub fn describing(&self, name: NameKey) -> &[usize] {
        self.names.get(&name).map_or(&[], |files| files)
    }

    /// The files in which the rules of the shop may stand.
    pub fn shops(&self) -> &[usize] {
        &self.shops
    }

    pub fn path(&self, n: usize) -> &str {
        &self.files[n].0
    }

    /// Reads one file.
    pub fn read(&self, n: usize) -> SourceFile {
        let (path, bytes) = &self.files[n];
        match bytes {
            Ok(bytes) => SourceFile::from_bytes(path.clone(), bytes.clone()),
            Err(why) => SourceFile::unreadable(path.clone(), why.as_str()),
        }
    }
}

/// The kinds and names of the items that a text seems to hold.
fn headings(bytes: &[u8]) -> impl Iterator<Item = (Kind, String)> {
    let bytes = bytes.strip_prefix("\u{feff}".as_bytes()).unwrap_or(bytes);
    bytes.split(|byte| *byte == b'\n').filter_map(heading)
}

fn heading(line: &[u8]) -> Option<(Kind, String)> {
    let line = line.trim_ascii();
    // Most lines are facts, and settled by their first letter or by the colon after their first word.
    let word = line.iter().position(|byte| !byte.is_ascii_lowercase())?;
    let kind = item_kind(&line[..word])?;
    let rest = std::str::from_utf8(line[word..].trim_ascii_start()).ok()?;
    let name = match rest.strip_prefix('"') {
        Some(quoted) => quoted_name(quoted),
        None => rest.split([' ', '\t', '{']).next().unwrap_or_default().to_owned(),
    };
    Some((kind, name))
}

/// Up to the quote that is not one of two.
fn quoted_name(behind_quote: &str) -> String {
    let mut name = String::new();
    let mut characters = behind_quote.chars().peekable();
    while let Some(character) = characters.next() {
        if character == '"' && characters.next_if_eq(&'"').is_none() {
            break;
        }
        name.push(character);
    }
    name
}

fn item_kind(word: &[u8]) -> Option<Kind> {
    Kind::ALL.into_iter().find(|kind| kind.is_item() && kind.words().as_bytes() == word)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn headings_are_found_without_reading_the_rest() {
        let text = "\u{feff}# x\nrotor \"fan \"\"wheel\" {\n  rotor: \"no\"\n  made of \"no\" {\n}\n  setup  bench{\nmachine {\r\n";
        let found: Vec<(Kind, String)> = headings(text.as_bytes()).collect();
        let kinds: Vec<Kind> = found.iter().map(|(kind, _)| *kind).collect();
        assert_eq!(kinds, [Kind::Rotor, Kind::Rotor, Kind::Setup, Kind::Machine]);
        assert_eq!((&*found[0].1, &*found[2].1, &*found[3].1), ("fan \"wheel", "bench", ""));
    }

    #[test]
    fn files_are_found_by_name() {
        let file = |path: &str, text: &str| (Box::from(path), Ok(text.as_bytes().to_vec()));
        let outline = Outline::of(vec![file("a.rotor", "shop s {\n}\n"), file("b.rotor", "rotor \"r\" {\n}\n")]);
        assert_eq!(outline.describing(NameKey::of("r")), [1]);
        assert_eq!(outline.shops(), [0]);
        assert_eq!(outline.read(1).sheet.items.len(), 1);
    }
}
