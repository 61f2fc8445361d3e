//! A starting sheet as blocks of lines, before it is written out.

use std::fmt::Display;

use crate::check::expected;
use crate::syntax::{Kind, is_word};
use crate::units::Dimension;
use crate::vocabulary::{self, KeySpec, NameOf, Need, ValueType};

/// A block that is put together.
pub(super) struct Draft {
    kind: Kind,
    name: Option<String>,
    lines: Vec<Line>,
    blocks: Vec<Draft>,
}

struct Line {
    head: String,
    text: LineText,
}

enum LineText {
    /// Holds as it stands.
    Holds(String),
    /// Shows the form; a person puts the right value in.
    Example(String),
    /// Only named, with what may be written.
    Asked,
}

impl Draft {
    pub fn new(kind: Kind) -> Self {
        Self { kind, name: None, lines: Vec::new(), blocks: Vec::new() }
    }

    pub fn named(kind: Kind, name: &str) -> Self {
        Self { name: Some(name.to_owned()), ..Self::new(kind) }
    }

    pub fn holds(self, head: impl Display, value: impl Into<String>) -> Self {
        self.line(head, LineText::Holds(value.into()))
    }

    pub fn example(self, head: impl Display, value: impl Into<String>) -> Self {
        self.line(head, LineText::Example(value.into()))
    }

    pub fn ask(self, head: impl Display) -> Self {
        self.line(head, LineText::Asked)
    }

    fn line(mut self, head: impl Display, text: LineText) -> Self {
        self.lines.push(Line { head: head.to_string(), text });
        self
    }

    pub fn block(mut self, block: Draft) -> Self {
        self.blocks.push(block);
        self
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

    /// The key that a head means, if blocks of this kind have it.
    pub fn key(&self, head: &str) -> Option<&'static KeySpec> {
        key_of(self.kind, head)
    }

    /// Adds an example of every fact that must be given and is not.
    pub fn complete(mut self) -> Self {
        for key in vocabulary::block(self.kind).keys.iter().filter(|key| key.need == Need::Must) {
            let stands = self.lines.iter().any(|line| self.key(&line.head).is_some_and(|own| own.name == key.name));
            if !stands {
                self.lines.push(Line { head: key.name.to_owned(), text: LineText::Example(example(key.value)) });
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
        let indent = "  ".repeat(depth);
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
        let choices = key.filter(|key| matches!(key.value, ValueType::Choice(_)));
        match (&line.text, choices) {
            (LineText::Holds(value), _) => format!("{head}: {value}"),
            (LineText::Example(value), Some(key)) => format!("{head}: {value} # example: {}", expected(key.value)),
            (LineText::Example(value), None) => format!("{head}: {value} # example"),
            (LineText::Asked, _) => format!("# {head}: {}", key.map_or(String::new(), |key| expected(key.value))),
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

/// A name behind a kind: items in quotes, the rest as bare as it may be.
fn name_text(name: &str, kind: Kind) -> String {
    if kind.is_item() { quoted(name) } else { word(name) }
}

/// A name bare where it is one word, else in quotes.
pub(super) fn word(name: &str) -> String {
    if is_word(name) { name.to_owned() } else { quoted(name) }
}

pub(super) fn quoted(text: &str) -> String {
    format!("\"{}\"", text.replace('"', "\"\""))
}

/// A value of the form that a key wants.
fn example(value: ValueType) -> String {
    use ValueType as T;
    let unit = |dimensions: &[Dimension]| {
        dimensions.first().and_then(|dimension| dimension.usual_units().first()).copied().unwrap_or("").to_owned()
    };
    let with_unit = |number: &str, dimensions| format!("{number} {}", unit(dimensions)).trim_end().to_owned();
    match value {
        T::Quantity(dimensions) | T::QuantityOrRange(dimensions) | T::Quantities(dimensions, None) => {
            with_unit("10", dimensions)
        }
        T::Quantities(dimensions, Some(count)) => {
            (1..=count).map(|n| with_unit(&format!("{n}0"), dimensions)).collect::<Vec<_>>().join(", ")
        }
        T::Range(dimensions) | T::Ranges(dimensions) => {
            format!("{} to {}", with_unit("10", dimensions), with_unit("100", dimensions))
        }
        T::Number | T::Count | T::DialStep => "1".to_owned(),
        T::NumberRange | T::DialRange => "0 to 10".to_owned(),
        T::Percentage | T::PercentageOrAmount => "5 %".to_owned(),
        T::UnitName(dimensions) => unit(dimensions),
        T::Grade => "G 6.3".to_owned(),
        T::Text => "\"in your own words\"".to_owned(),
        T::Reference(kind) => quoted(&format!("new {kind}")),
        T::Name(NameOf::Item(kind)) => quoted(&format!("new {kind}")),
        T::Name(_) | T::Names(_) | T::Positions => "left".to_owned(),
        T::Choice(choices) => choices.words.first().copied().unwrap_or("").to_owned(),
        T::Reading | T::Readings => "10 div".to_owned(),
        T::UnbalanceVector => "10 g·mm @ 0 deg".to_owned(),
        T::ClockOrAngle | T::Clock => "12:00".to_owned(),
        T::Date => "2026-01-31".to_owned(),
        T::Weighing => "10 kg at 0 mm, 10 kg at 500 mm".to_owned(),
        T::Places => "8 from 0 deg".to_owned(),
        T::Setting => "as found".to_owned(),
        T::LineHeads => "\"note\"".to_owned(),
    }
}
