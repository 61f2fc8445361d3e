//! A starting sheet as blocks of lines, before it is written out.

use std::borrow::Cow;
use std::fmt::Display;

use crate::check::expected_of;
use crate::sheet::quote;
use crate::syntax::{self, Kind};
use crate::vocabulary::{self, KeySpec, Need};

/// A kind of block and the name of this one.
pub type BlockName = (Kind, Option<String>);

/// A block that is put together.
pub struct Draft {
    kind: Kind,
    name: Option<String>,
    lines: Vec<Line>,
    blocks: Vec<Draft>,
    /// Facts that it has from the item that it is like.
    taken_over: Vec<&'static str>,
    /// What may well be taken, as comments.
    is_proposed: bool,
}

struct Line {
    head: String,
    text: LineText,
}

enum LineText {
    /// Holds as it stands.
    Holds(String),
    /// Known to be missing; the form is shown after it.
    Open,
    /// Only named, with what may be written.
    Asked,
    /// What may well be taken, as a comment.
    Proposed(String),
}

impl Draft {
    pub fn new(kind: Kind) -> Self {
        Self { kind, name: None, lines: Vec::new(), blocks: Vec::new(), taken_over: Vec::new(), is_proposed: false }
    }

    pub fn named(kind: Kind, name: &str) -> Self {
        Self { name: Some(name.to_owned()), ..Self::new(kind) }
    }

    pub fn holds(self, head: impl Display, value: impl Into<String>) -> Self {
        self.line(head, LineText::Holds(value.into()))
    }

    /// The name of an item, if there is one.
    pub fn refers(self, head: impl Display, name: Option<&str>) -> Self {
        self.line(head, name.map_or(LineText::Open, |name| LineText::Holds(syntax::quote(name))))
    }

    pub fn open(self, head: impl Display) -> Self {
        self.line(head, LineText::Open)
    }

    pub fn ask(self, head: impl Display) -> Self {
        self.line(head, LineText::Asked)
    }

    pub fn propose(self, head: impl Display, value: String) -> Self {
        self.line(head, LineText::Proposed(value))
    }

    fn line(mut self, head: impl Display, text: LineText) -> Self {
        self.lines.push(Line { head: head.to_string(), text });
        self
    }

    pub fn block(mut self, block: Draft) -> Self {
        self.blocks.push(block);
        self
    }

    /// A block that may well be taken, as comments.
    pub fn propose_block(self, block: Draft) -> Self {
        self.block(Draft { is_proposed: true, ..block })
    }

    pub fn blocks(mut self, blocks: impl IntoIterator<Item = Draft>) -> Self {
        self.blocks.extend(blocks);
        self
    }

    /// States a fact: in place of the line that has its head, or as a line of its own.
    pub fn set(&mut self, head: &str, value: String) {
        let text = LineText::Holds(value);
        match self.lines.iter_mut().find(|line| line.head == head) {
            Some(line) => line.text = text,
            None => self.lines.push(Line { head: head.to_owned(), text }),
        }
    }

    /// The inner block that a path leads to; one that is not there is begun.
    pub fn at(&mut self, path: &[BlockName]) -> &mut Draft {
        let Some(((kind, name), rest)) = path.split_first() else { return self };
        let is_it = |block: &Draft| block.kind == *kind && block.name == *name;
        let at = self.blocks.iter().position(is_it).unwrap_or_else(|| {
            self.blocks.push(Draft { name: name.clone(), ..Draft::new(*kind) });
            self.blocks.len() - 1
        });
        self.blocks[at].at(rest)
    }

    /// Its inner blocks of a kind.
    pub fn inner(&mut self, kind: Kind) -> impl Iterator<Item = &mut Draft> {
        self.blocks.iter_mut().filter(move |block| block.kind == kind)
    }

    /// Whether a line has this head.
    pub fn says(&self, head: &str) -> bool {
        self.lines.iter().any(|line| line.head == head)
    }

    /// The key that a head means, if blocks of this kind have it.
    pub fn key(&self, head: &str) -> Option<&'static KeySpec> {
        key_of(self.kind, head)
    }

    /// With facts that nobody has to give here: the item that it is like gives them.
    pub fn takes_over(self, facts: impl IntoIterator<Item = &'static str>) -> Self {
        Self { taken_over: facts.into_iter().collect(), ..self }
    }

    /// Adds every fact that must be given and is not.
    pub fn complete(mut self) -> Self {
        for key in vocabulary::block(self.kind).keys.iter().filter(|key| key.need == Need::Must) {
            let stands = self.lines.iter().any(|line| self.key(&line.head).is_some_and(|own| own.name == key.name));
            if !stands && !self.taken_over.contains(&key.name) {
                self.lines.push(Line { head: key.name.to_owned(), text: LineText::Open });
            }
        }
        self.blocks = self.blocks.into_iter().map(Draft::complete).collect();
        self
    }

    pub fn text(&self) -> String {
        let mut text = String::new();
        self.write(0, &mut text);
        text
    }

    fn write(&self, depth: usize, text: &mut String) {
        let indent = format!("{}{}", "  ".repeat(depth), if self.is_proposed { "# " } else { "" });
        let name = self.name.as_deref().map(|name| format!(" {}", name_text(name, self.kind))).unwrap_or_default();
        text.push_str(&format!("{indent}{}{name} {{\n", self.kind));
        for line in &self.lines {
            text.push_str(&format!("{indent}  {}\n", self.line_text(line)));
        }
        for (n, block) in self.blocks.iter().enumerate() {
            if n > 0 || !self.lines.is_empty() {
                text.push('\n');
            }
            block.write(depth + 1, text);
        }
        text.push_str(&format!("{indent}}}\n"));
    }

    fn line_text(&self, line: &Line) -> String {
        let head = &line.head;
        let key = self.key(head);
        match (&line.text, key) {
            (LineText::Holds(value), _) => format!("{head}: {value}"),
            (LineText::Proposed(value), _) => format!("# {head}: {value}"),
            (LineText::Open, Some(key)) => format!("{head}: ? # {}", expected_of(key)),
            (LineText::Open, None) => format!("{head}: ?"),
            (LineText::Asked, _) => format!("# {head}: {}", key.map_or_else(String::new, expected_of)),
        }
    }
}

/// The key that a head means: its words, or its words before a name.
fn key_of(kind: Kind, head: &str) -> Option<&'static KeySpec> {
    let spec = vocabulary::block(kind);
    let named = spec.keys.iter().filter(|key| key.head_name.is_some());
    let plain = spec.key(head).filter(|key| key.head_name.is_none());
    plain
        .or_else(|| named.into_iter().find(|key| head.strip_prefix(key.name).is_some_and(|name| name.starts_with(' '))))
}

/// A name after a kind: items in quotes, the rest as bare as it may be.
fn name_text(name: &str, kind: Kind) -> String {
    if kind.is_item() { syntax::quote(name) } else { quote::in_heading(name) }
}

/// A text as somebody gives it, in quotes or not.
pub fn given_text(text: &str) -> String {
    syntax::quote(&unquoted(text))
}

/// A name as somebody gives it, in quotes or not.
pub fn given_name(name: &str) -> String {
    quote::as_value(&unquoted(name))
}

/// What a text that is wholly in quotes says.
pub(super) fn unquoted(text: &str) -> Cow<'_, str> {
    let inner = text.strip_prefix('"').and_then(|text| text.strip_suffix('"'));
    match inner.filter(|inner| !inner.replace("\"\"", "").contains('"')) {
        Some(inner) => Cow::Owned(inner.replace("\"\"", "\"")),
        None => Cow::Borrowed(text),
    }
}
