//! What is under the cursor, explained.

mod key;
mod name;
mod pin;
mod quantity;
mod value;

pub(super) use key::{of_key, of_kind};

use super::asked::Asked;
use super::names;
use super::place::{self, Place, covers};
use crate::book::{Computing, FileId};
use crate::syntax::{Fact, Head, LineKind, Open};
use crate::text::Span;
use crate::vocabulary;

#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Hover {
    /// The piece of text that is explained.
    pub span: Span,
    pub markdown: String,
}

/// The explanation of what is at `offset`; `None` where nothing is to be said.
pub fn hover(computing: &Computing<'_>, file: FileId, offset: u32) -> Option<Hover> {
    let book = computing.book();
    if book.file(file).problem.is_some() {
        return None;
    }
    let place = Place::at(book, file, offset)?;
    if place.in_comment(offset) {
        return None;
    }
    let asked = Asked::new(computing, place, offset);
    match &place.line.kind {
        LineKind::Open(open) => asked.heading(open),
        LineKind::Fact(fact) if covers(fact.head.span, offset) => asked.head(&fact.head),
        LineKind::Fact(fact) if covers(fact.value.span, offset) => asked.value(fact),
        LineKind::Pin(pin) if covers(pin.head.span.to(pin.value.span), offset) => pin::hover(&asked, pin),
        LineKind::Unfinished(head) if covers(head.span, offset) => asked.head(head),
        _ => None,
    }
}

impl Asked<'_, '_> {
    fn heading(&self, open: &Open) -> Option<Hover> {
        if covers(open.kind_span, self.offset) {
            return Some(Hover { span: open.kind_span, markdown: key::of_kind(open.kind) });
        }
        self.name()
    }

    /// A key, or the name beside it.
    fn head(&self, head: &Head) -> Option<Hover> {
        let opens = self.place.around()?;
        let spec = vocabulary::block(opens.last()?.kind);
        let expected = place::expected(self.place.source, spec, head)?;
        let on_name = expected.name.as_ref().filter(|name| covers(name.span, self.offset));
        if on_name.is_some()
            && let Some(hover) = self.name()
        {
            return Some(hover);
        }
        Some(Hover { span: head.span, markdown: key::of_key(spec, expected.key) })
    }

    fn value(&self, fact: &Fact) -> Option<Hover> {
        self.name().or_else(|| value::hover(self, fact))
    }

    fn name(&self) -> Option<Hover> {
        let mention = names::mention_at(self.computing.book(), self.place.file, self.offset)?;
        let markdown = name::summary(self.computing, &mention)?;
        Some(Hover { span: mention.span, markdown })
    }
}

#[cfg(test)]
mod tests;
