//! A file as the facts, pins and blocks that can be told from each other, with all that is written about them.

use crate::book::{SourceFile, head_of, heading};
use crate::sheet::{Block, Field, Pin};
use crate::text::Span;

/// One fact, pin or block.
#[derive(Clone)]
pub(super) struct Entry<'t> {
    /// What tells it from others of its block; of several alike, also which of them.
    pub key: (String, usize),
    /// Comments and blank lines before it.
    pub lead: &'t str,
    /// Its own lines, to the end of the last one.
    pub text: &'t str,
    pub what: What<'t>,
}

#[derive(Clone)]
pub(super) enum What<'t> {
    /// With the length of its line up to the end of the value.
    Fact(&'t Field, usize),
    Pin,
    Block(Body<'t>),
}

/// What is in a file or a block.
#[derive(Clone)]
pub(super) struct Body<'t> {
    /// `None` for the file itself.
    pub block: Option<&'t Block>,
    /// The line of its heading.
    pub opening: &'t str,
    pub entries: Vec<Entry<'t>>,
    /// What comes after the last entry.
    pub tail: &'t str,
    pub closing: &'t str,
}

impl Entry<'_> {
    /// As people call it.
    pub fn head(&self) -> String {
        match &self.what {
            What::Fact(field, _) => head_of(field),
            What::Pin | What::Block(_) => self.key.0.trim_end_matches([':', '{', ' ']).to_owned(),
        }
    }
}

impl<'t> Body<'t> {
    /// `None` where not every line was understood.
    pub fn of(file: &'t SourceFile) -> Option<Self> {
        if file.problem.is_some() || !file.errors.is_empty() {
            return None;
        }
        let text: &'t str = &file.text;
        let parts = file.sheet.items.iter().map(|item| (item.span, Part::Block(item))).collect();
        let (entries, tail) = entries(text, 0, text.len(), parts)?;
        Some(Self { block: None, opening: "", entries, tail, closing: "" })
    }

    fn of_block(text: &'t str, block: &'t Block) -> Option<Self> {
        let start = line_start(text, block.heading.start as usize);
        let end = line_end(text, block.span.end as usize);
        let (body, close) = (block.body as usize, block.end as usize);
        // A block on one line, or one that was never closed, is merged as lines.
        if !(start < body && body <= close && close < end) {
            return None;
        }
        let facts =
            block.fields.iter().map(|field| (Span::new(field.head.start, field.value_span.end), Part::Fact(field)));
        let pins = block.pins.iter().map(|pin| (Span::new(pin.head.start, pin.value_span.end), Part::Pin(pin)));
        let blocks = block.blocks.iter().map(|inner| (inner.span, Part::Block(inner)));
        let parts = facts.chain(pins).chain(blocks).collect();
        let (entries, tail) = entries(text, body, close, parts)?;
        Some(Self { block: Some(block), opening: &text[start..body], entries, tail, closing: &text[close..end] })
    }

    /// All that is written in it but pins, by which two versions are the same.
    pub fn without_pins(&self) -> String {
        let mut all = self.opening.trim().to_owned();
        for entry in &self.entries {
            match &entry.what {
                What::Pin => {}
                What::Fact(..) => all.push_str(entry.text.trim()),
                What::Block(body) => all.push_str(&body.without_pins()),
            }
            all.push('\n');
        }
        all
    }
}

enum Part<'t> {
    Fact(&'t Field),
    Pin(&'t Pin),
    Block(&'t Block),
}

fn entries<'t>(
    text: &'t str,
    start: usize,
    end: usize,
    mut parts: Vec<(Span, Part<'t>)>,
) -> Option<(Vec<Entry<'t>>, &'t str)> {
    parts.sort_by_key(|(span, _)| span.start);
    let mut found: Vec<Entry<'t>> = Vec::with_capacity(parts.len());
    let mut at = start;
    for (span, part) in parts {
        let from = line_start(text, span.start as usize);
        let to = line_end(text, span.end as usize);
        if from < at || to > end {
            return None;
        }
        let (key, what) = match part {
            Part::Fact(field) => (key_of(text, field), What::Fact(field, field.value_span.end as usize - from)),
            Part::Pin(pin) => (format!("=> {}", pin.name), What::Pin),
            Part::Block(block) => (format!("{} {{", heading(block)), What::Block(Body::of_block(text, block)?)),
        };
        let count = found.iter().filter(|entry| entry.key.0 == key).count();
        found.push(Entry { key: (key, count), lead: &text[at..from], text: &text[from..to], what });
        at = to;
    }
    Some((found, &text[at..end]))
}

/// A fact that may be written more than once is told by what it says; of those that say one thing in different ways, as
/// `radius` and `diameter`, one holds.
fn key_of(text: &str, field: &Field) -> String {
    match field.key.group.filter(|_| field.name.is_none()) {
        _ if field.key.repeats => format!("{}: {}", head_of(field), field.value_span.of(text).trim()),
        Some(group) => format!("one of {group}:"),
        None => format!("{}:", head_of(field)),
    }
}

fn line_start(text: &str, at: usize) -> usize {
    text[..at].rfind('\n').map_or(0, |at| at + 1)
}

/// Just after the line that ends here.
fn line_end(text: &str, at: usize) -> usize {
    if at > 0 && text.as_bytes()[at - 1] == b'\n' {
        return at;
    }
    text[at..].find('\n').map_or(text.len(), |end| at + end + 1)
}
