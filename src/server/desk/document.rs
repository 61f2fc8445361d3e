//! A text that is open in the editor.

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::Arc;

use super::pen::Written;
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
    gap: Option<Gap>,
    /// What the last change has put in.
    written: Option<Written>,
    /// The same for readers, once somebody has asked.
    shared: Option<(Arc<str>, Arc<LineIndex>)>,
}

/// A version that has not come, though later ones have: some editors send each change from a task of its own, and the tasks
/// overtake each other.
#[derive(Debug)]
struct Gap {
    /// The last version before it, and the text then.
    version: i32,
    text: String,
    later: BTreeMap<i32, Vec<TextDocumentContentChangeEvent>>,
}

impl Gap {
    /// After so many later changes the client just does not count by ones.
    const PATIENCE: usize = 64;

    fn is_over(&self) -> bool {
        let closed = self.later.keys().zip(self.version + 1..).all(|(came, next)| *came == next);
        closed || self.later.len() > Self::PATIENCE
    }
}

/// A change of a version that has been passed and cannot be put in its place any more.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct OutOfOrder;

impl Document {
    pub fn new(url: Url, path: PathBuf, key: BookKey, version: i32, text: String) -> Self {
        let lines = LineIndex::with_lone_returns(&text);
        Self { url, path, key, version, text, lines, gap: None, written: None, shared: None }
    }

    /// Applies the changes of a version, in the order of versions whatever the order in which they come. Where that
    /// cannot be done any more they are applied as they come, which is told.
    pub fn change(
        &mut self,
        version: i32,
        changes: Vec<TextDocumentContentChangeEvent>,
        encoding: Encoding,
    ) -> Result<(), OutOfOrder> {
        self.shared = None;
        if self.gap.is_none() && version > self.version + 1 {
            self.gap = Some(Gap { version: self.version, text: self.text.clone(), later: BTreeMap::new() });
        }
        let is_next = version >= self.version;
        let Some(mut gap) = self.gap.take() else {
            self.version = self.version.max(version);
            self.apply(changes, encoding);
            return if is_next { Ok(()) } else { Err(OutOfOrder) };
        };
        if version <= gap.version || gap.later.contains_key(&version) {
            self.apply(changes, encoding);
            return Err(OutOfOrder);
        }
        gap.later.insert(version, changes.clone());
        match is_next {
            true => self.apply(changes, encoding),
            false => {
                self.set(gap.text.clone());
                gap.later.values().for_each(|changes| self.apply(changes.clone(), encoding));
            }
        }
        self.version = self.version.max(version);
        self.gap = Some(gap).filter(|gap| !gap.is_over());
        Ok(())
    }

    fn set(&mut self, text: String) {
        self.lines = LineIndex::with_lone_returns(&text);
        self.text = text;
    }

    /// Applies changes one after the other, each to the text that the one before has left.
    fn apply(&mut self, changes: Vec<TextDocumentContentChangeEvent>, encoding: Encoding) {
        for change in changes {
            let Some(range) = change.range else {
                self.written = Some(Written::between(&self.text, &change.text));
                self.set(change.text);
                continue;
            };
            let lines = Arc::new(std::mem::replace(&mut self.lines, LineIndex::new("")));
            let span = Places::new(&self.text, lines.clone(), encoding).span(range);
            self.lines = Arc::unwrap_or_clone(lines);
            let put = change.text.len() as u32;
            self.written = Some(Written { at: span.start, removed: span.end - span.start, put });
            self.text.replace_range(span.range(), &change.text);
            self.lines.change(span, put, &self.text);
        }
    }

    /// What the last change has put in.
    pub fn written(&self) -> Option<Written> {
        self.written
    }

    /// The text with the places of its lines.
    pub fn shared(&mut self) -> (Arc<str>, Arc<LineIndex>) {
        let share = || (Arc::from(&*self.text), Arc::new(self.lines.clone()));
        self.shared.get_or_insert_with(share).clone()
    }

    /// The document as readers see it.
    pub fn view(&mut self) -> OpenView {
        let (_, lines) = self.shared();
        let written = self.written.map(Written::end);
        OpenView { url: self.url.clone(), version: self.version, lines, key: self.key.clone(), written }
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
        document.change(2, vec![edit((0, 1), (1, 1), "𝄞\n"), edit((0, 3), (0, 3), "x")], Encoding::Utf16).unwrap();
        assert_eq!(&*document.shared().0, "a𝄞x\nd\n");
        document.change(3, vec![edit((0, 5), (0, 6), "")], Encoding::Utf8).unwrap();
        assert_eq!(&*document.shared().0, "a𝄞\nd\n");
        assert_eq!(document.version, 3);
    }

    #[test]
    fn a_change_without_a_range_is_the_whole_text() {
        let mut document = document("ab");
        let whole = TextDocumentContentChangeEvent { range: None, range_length: None, text: "x\ny".to_owned() };
        document.change(2, vec![whole, edit((1, 0), (1, 1), "z")], Encoding::Utf16).unwrap();
        assert_eq!(&*document.shared().0, "x\nz");
    }

    #[test]
    fn changes_that_overtake_each_other_are_put_in_order() {
        let mut document = document("rotor \"\"");
        let typed = |column, text| vec![edit((0, column), (0, column), text)];
        for (version, column, text) in [(2, 7, "b"), (5, 10, "e"), (4, 9, "w"), (3, 8, "o")] {
            document.change(version, typed(column, text), Encoding::Utf16).unwrap();
        }
        assert_eq!(&*document.shared().0, "rotor \"bowe\"");
        assert_eq!(document.version, 5);
        // The gap is closed: what is older than all of it has no place any more.
        assert_eq!(document.change(4, typed(0, "x"), Encoding::Utf16), Err(OutOfOrder));
    }

    #[test]
    fn a_client_may_count_by_more_than_one() {
        let mut document = document("");
        for n in 0..200 {
            document.change(10 * n + 10, vec![edit((0, 0), (0, 0), "x")], Encoding::Utf16).unwrap();
        }
        assert_eq!(document.shared().0.len(), 200);
    }
}
