//! The book as the editor and the disk have it, beside the server.

use std::collections::BTreeMap;
use std::fs;

use serde_json::{Value, json};

use crate::sheets;
use crate::support::lsp_client::Folder;
use rotorbook::motion::Chance;

/// One file: what lies on disk, and what is open in the editor.
#[derive(Clone, Debug, Default)]
pub struct Text {
    pub disk: Option<String>,
    pub open: Option<(i32, String)>,
}

impl Text {
    /// What counts.
    pub fn now(&self) -> Option<&str> {
        self.open.as_ref().map(|(_, text)| &**text).or(self.disk.as_deref())
    }
}

pub struct Texts {
    pub folder: Folder,
    /// By their paths in the book.
    pub files: BTreeMap<String, Text>,
}

/// What is typed.
const TYPED: [&str; 16] = [
    "",
    "x",
    "7",
    ",",
    "\n",
    "\"",
    "#",
    "}",
    " {\n",
    "µ𝄞",
    " 3.5 mm",
    "\n  mass: 4.8 kg",
    "\n  grade: G 6.3\n",
    "rotor \"fan wheel 2\" {\n}\n",
    "fan wheel 1",
    "reading => 3 div\n",
];

impl Texts {
    /// A book of so many sheets on disk, none of them open.
    pub fn new(count: usize) -> Self {
        let folder = Folder::of([]);
        let mut files = BTreeMap::new();
        for (path, text) in sheets::book(count) {
            folder.write(&path, &text);
            files.insert(path, Text { disk: Some(text), open: None });
        }
        Self { folder, files }
    }

    pub fn paths(&self, wanted: impl Fn(&Text) -> bool) -> Vec<String> {
        self.files.iter().filter(|(_, text)| wanted(text)).map(|(path, _)| path.clone()).collect()
    }

    pub fn write(&mut self, path: &str, text: &str) {
        self.folder.write(path, text);
        self.files.entry(path.to_owned()).or_default().disk = Some(text.to_owned());
    }

    pub fn remove(&mut self, path: &str) {
        fs::remove_file(self.folder.path(path)).expect("it lies there");
        self.forget(path, |text| text.disk = None);
    }

    pub fn close(&mut self, path: &str) {
        self.forget(path, |text| text.open = None);
    }

    fn forget(&mut self, path: &str, part: impl FnOnce(&mut Text)) {
        if let Some(text) = self.files.get_mut(path) {
            part(text);
            if text.now().is_none() {
                self.files.remove(path);
            }
        }
    }
}

/// A sheet as it may be written again.
pub fn fresh(chance: &mut Chance) -> String {
    let n = chance.below(12);
    match chance.below(5) {
        0 => String::new(),
        1 | 2 => sheets::rotor(n),
        _ => sheets::setup(n),
    }
}

/// A few characters go and others come: the change as it is sent, and the text after it.
pub fn edit(chance: &mut Chance, text: &str) -> (Value, String) {
    if text.len() > 8_000 {
        let text = fresh(chance);
        return (json!({ "text": text }), text);
    }
    let boundary = |mut at: usize| {
        while !text.is_char_boundary(at) {
            at -= 1;
        }
        at
    };
    let start = boundary(chance.below(text.len() + 1));
    let gone = if chance.below(3) == 0 { chance.below(12) } else { 0 };
    let end = boundary((start + gone).min(text.len())).max(start);
    let new = one_of(chance, &TYPED);
    let range = json!({ "start": position(text, start), "end": position(text, end) });
    (json!({ "range": range, "text": new }), format!("{}{new}{}", &text[..start], &text[end..]))
}

/// A place as the protocol counts, in UTF-16.
pub fn position(text: &str, at: usize) -> Value {
    let before = &text[..at];
    let line = before.rfind('\n').map_or(0, |end| end + 1);
    json!({ "line": before.matches('\n').count(), "character": before[line..].encode_utf16().count() })
}

/// The byte at a place of the protocol.
pub fn offset(text: &str, place: &Value) -> usize {
    let line = place["line"].as_u64().expect("a number") as usize;
    let start: usize = text.split_inclusive('\n').take(line).map(str::len).sum();
    let mut left = place["character"].as_u64().expect("a number") as usize;
    let mut at = start;
    for letter in text[start..].chars().take_while(|letter| *letter != '\n') {
        if left == 0 {
            break;
        }
        left -= letter.len_utf16();
        at += letter.len_utf8();
    }
    at
}

pub fn one_of<'a, T>(chance: &mut Chance, all: &'a [T]) -> &'a T {
    &all[chance.below(all.len())]
}
