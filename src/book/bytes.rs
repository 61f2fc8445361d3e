//! Bytes become the text of a file, or the reason why they do not.

use std::sync::Arc;

use super::files::SourceFile;
use crate::text::Span;

/// Why a file is no text, or not all of it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum FileProblem {
    /// The bytes from `at` on are not UTF-8. The text is kept with a replacement character for each piece that is not,
    /// so that the names in it are still found.
    NotUtf8 {
        /// The first such byte; the text before it is as it is in the file.
        at: u32,
        byte: u8,
        /// How many pieces are not UTF-8.
        pieces: usize,
    },
    /// Two bytes a character, as some editors save "Unicode".
    Utf16,
    /// It could not be read at all, for this reason.
    CannotRead(Box<str>),
}

impl FileProblem {
    /// What is wrong with the bytes of a file; `None` when they are text.
    pub fn of(bytes: &[u8]) -> Option<Self> {
        if is_utf16(bytes) {
            return Some(FileProblem::Utf16);
        }
        let at = std::str::from_utf8(bytes).err()?.valid_up_to();
        let pieces = bytes.utf8_chunks().filter(|chunk| !chunk.invalid().is_empty()).count();
        Some(FileProblem::NotUtf8 { at: at as u32, byte: bytes[at], pieces })
    }

    /// Where it is found in the text that is kept.
    pub fn span(&self) -> Span {
        match self {
            FileProblem::NotUtf8 { at, .. } => Span::at(*at),
            FileProblem::Utf16 | FileProblem::CannotRead(_) => Span::at(0),
        }
    }
}

impl SourceFile {
    /// Reads the bytes of a file; never fails, for what is no text is said in `problem`.
    pub fn from_bytes(path: impl Into<Box<str>>, bytes: Vec<u8>) -> Self {
        let path = path.into();
        if path.contains(char::is_control) {
            return Self::unreadable(path, "its name has a character that is not printed: rename the file");
        }
        match FileProblem::of(&bytes) {
            Some(FileProblem::Utf16) => Self::without_text(path, FileProblem::Utf16),
            problem => Self { problem, ..Self::read(path, String::from_utf8_lossy(&bytes)) },
        }
    }

    /// A file or folder of the book that could not be read.
    pub fn unreadable(path: impl Into<Box<str>>, why: impl Into<Box<str>>) -> Self {
        Self::without_text(path, FileProblem::CannotRead(why.into()))
    }

    fn without_text(path: impl Into<Box<str>>, problem: FileProblem) -> Self {
        Self { problem: Some(problem), ..Self::read(path, Arc::from("")) }
    }
}

/// A byte order mark says so; without one, every other byte of the beginning is zero.
fn is_utf16(bytes: &[u8]) -> bool {
    if bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]) {
        return true;
    }
    let beginning = &bytes[..bytes.len().min(64) & !1];
    let zeros = |from: usize| beginning.iter().skip(from).step_by(2).filter(|byte| **byte == 0).count();
    let most = beginning.len() / 2 * 3 / 4;
    beginning.len() >= 8 && (zeros(0) > most || zeros(1) > most)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_has_no_problem() {
        assert_eq!(SourceFile::from_bytes("a.rotor", "# 3 µm 😀\n".into()).problem, None);
        assert_eq!(SourceFile::from_bytes("a.rotor", Vec::new()).problem, None);
    }

    #[test]
    fn the_first_byte_that_is_not_utf_8_is_named_and_the_names_stay() {
        let file = SourceFile::from_bytes("a.rotor", b"rotor \"a\" {\n  # 45\xb0 and 2\xb0\n}\n".to_vec());
        assert_eq!(file.problem, Some(FileProblem::NotUtf8 { at: 18, byte: 0xb0, pieces: 2 }));
        assert_eq!(file.sheet.items[0].name_text(), "a");
    }

    #[test]
    fn two_bytes_a_character_are_seen_with_and_without_a_mark() {
        let wide = |text: &str| text.encode_utf16().flat_map(u16::to_le_bytes).collect::<Vec<_>>();
        for bytes in [wide("\u{feff}rotor"), wide("rotor \"a\" {"), b"\xfe\xff\0r".to_vec()] {
            assert_eq!(SourceFile::from_bytes("a.rotor", bytes).problem, Some(FileProblem::Utf16));
        }
        assert_eq!(SourceFile::from_bytes("a.rotor", b"rotor\0 \"a\" {\n}\n".to_vec()).problem, None);
    }
}
