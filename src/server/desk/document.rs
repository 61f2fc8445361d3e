//! A text that is open in the editor.

use std::path::PathBuf;
use std::sync::Arc;

use crate::server::convert::{Encoding, Places};
use crate::server::protocol::{TextDocumentContentChangeEvent, Url};
use crate::server::snapshot::{BookKey, OpenView};
use crate::text::LineIndex;

/// The text as the editor has it, saved or not.
#[derive(Debug)]
pub(super) struct Document {
    /// As the editor spells it.
    pub url: Url,
    /// Where it lies, or would lie.
    pub path: PathBuf,
    /// The book it belongs to.
    pub key: BookKey,
    pub version: i32,
    text: String,
    lines: LineIndex,
    /// The same for readers, once somebody has asked.
    shared: Option<(Arc<str>, Arc<LineIndex>)>,
}

impl Document {
    pub fn new(url: Url, path: PathBuf, key: BookKey, version: i32, text: String) -> Self {
        let lines = LineIndex::with_lone_returns(&text);
        Self { url, path, key, version, text, lines, shared: None }
    }

    /// Applies changes one after the other, each to the text that the one before has left.
    pub fn change(&mut self, version: i32, changes: Vec<TextDocumentContentChangeEvent>, encoding: Encoding) {
        self.version = version;
        self.shared = None;
        for change in changes {
            let Some(range) = change.range else {
                self.lines = LineIndex::with_lone_returns(&change.text);
                self.text = change.text;
                continue;
            };
            let lines = Arc::new(std::mem::replace(&mut self.lines, LineIndex::new("")));
            let span = Places::new(&self.text, lines.clone(), encoding).span(range);
            self.lines = Arc::unwrap_or_clone(lines);
            self.text.replace_range(span.range(), &change.text);
            self.lines.change(span, change.text.len() as u32, &self.text);
        }
    }

    /// The text with the places of its lines.
    pub fn shared(&mut self) -> (Arc<str>, Arc<LineIndex>) {
        let share = || (Arc::from(&*self.text), Arc::new(self.lines.clone()));
        self.shared.get_or_insert_with(share).clone()
    }

    /// The document as readers see it.
    pub fn view(&mut self) -> OpenView {
        let (_, lines) = self.shared();
        OpenView { url: self.url.clone(), version: self.version, lines, key: self.key.clone() }
    }
}

#[cfg(test)]
mod tests {
    use crate::server::protocol::{Position, Range};

    use super::*;

    fn edit(start: (u32, u32), end: (u32, u32), text: &str) -> TextDocumentContentChangeEvent {
        let position = |(line, character)| Position::new(line, character);
        let range = Some(Range::new(position(start), position(end)));
        TextDocumentContentChangeEvent { range, range_length: None, text: text.to_owned() }
    }

    fn document(text: &str) -> Document {
        let (url, path) = (Url::parse("file:///a.rotor").unwrap(), PathBuf::from("/a.rotor"));
        Document::new(url, path.clone(), BookKey::File(path), 1, text.to_owned())
    }

    #[test]
    fn each_change_speaks_of_the_text_that_the_one_before_has_left() {
        let mut document = document("ab\ncd\n");
        document.change(2, vec![edit((0, 1), (1, 1), "𝄞\n"), edit((0, 3), (0, 3), "x")], Encoding::Utf16);
        assert_eq!(&*document.shared().0, "a𝄞x\nd\n");
        document.change(3, vec![edit((0, 5), (0, 6), "")], Encoding::Utf8);
        assert_eq!(&*document.shared().0, "a𝄞\nd\n");
        assert_eq!(document.version, 3);
    }

    #[test]
    fn a_change_without_a_range_is_the_whole_text() {
        let mut document = document("ab");
        let whole = TextDocumentContentChangeEvent { range: None, range_length: None, text: "x\ny".to_owned() };
        document.change(2, vec![whole, edit((1, 0), (1, 1), "z")], Encoding::Utf16);
        assert_eq!(&*document.shared().0, "x\nz");
    }
}
