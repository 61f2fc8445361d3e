//! Where a diagnostic on an item stands: in the item's own file, whatever file a fact is taken over from.

use super::context::ItemContext;
use super::diagnostic::{Draft, FileEdit, Severity};
use super::{facts, wording};
use crate::book::{Book, EffectiveBlock, EffectiveField, FileId, ItemId};
use crate::sheet::{Block, Field};
use crate::syntax::Kind;
use crate::text::{Edit, Span};
use crate::vocabulary::{AnyFact, setup};

impl<'b> ItemContext<'b, '_> {
    /// The item's own text.
    pub fn source(&self) -> &'b str {
        &self.book().file(self.id.file).text
    }

    /// Where the item says a fact: at its value, or at the `like` that takes it over.
    pub fn place_of(&self, field: EffectiveField<'b>) -> Span {
        if field.item == self.id { field.field.value_span } else { self.taken_over() }
    }

    fn taken_over(&self) -> Span {
        let like = if self.block.kind == Kind::Setup { self.block.field(setup::LIKE) } else { None };
        like.map_or(self.block.heading, |like| like.value_span)
    }

    /// A draft beside a fact.
    pub fn beside(&self, field: EffectiveField<'b>, message: impl Into<String>) -> Draft {
        let draft = self.draft(self.place_of(field), message);
        if field.item == self.id { draft } else { draft.about(field, "taken over from here") }
    }

    /// A draft at a block's heading, or at the `like` that takes the block over.
    pub fn on_heading(&self, block: &EffectiveBlock<'b>, message: impl Into<String>) -> Draft {
        let span = block.own.map_or_else(|| self.taken_over(), |own| own.heading);
        self.draft(span, message)
    }

    /// A draft beside the first of these facts that the block has, else at its heading.
    pub fn beside_first(&self, block: &EffectiveBlock<'b>, facts: &[AnyFact], message: impl Into<String>) -> Draft {
        match facts.iter().find_map(|fact| block.field(*fact)) {
            Some(field) => self.beside(field, message),
            None => self.on_heading(block, message),
        }
    }

    /// The value of a fact as it is written.
    pub fn written(&self, field: EffectiveField<'b>) -> &'b str {
        self.text(field.item.file, field.field.value_span)
    }

    /// A fact as it is written, in code marks: `` `mass: 0.3 g` ``.
    pub fn line(&self, field: EffectiveField<'b>) -> String {
        let head = self.text(field.item.file, field.field.head);
        format!("`{head}: {}`", self.written(field))
    }

    /// Whether every line of the item, and of the items it takes facts over from, could be read. Where one could not,
    /// nobody is told that a fact is missing.
    pub fn is_read_whole(&self) -> bool {
        let block = self.effective();
        let inner = block.blocks.iter().flat_map(|inner| &inner.fields);
        let mut items: Vec<ItemId> = block.fields.iter().chain(inner).map(|field| field.item).collect();
        items.push(self.id);
        items.sort_unstable();
        items.dedup();
        items.into_iter().all(|item| crate::book::is_read_whole(self.book(), item))
    }

    /// What weighs as an error in a released sheet and as a warning in a draft, a rotor or a record.
    pub fn by_status(&self) -> Severity {
        if self.is_released() { Severity::Error } else { Severity::Warning }
    }

    /// Whether the item is a setup that technicians may use.
    pub fn is_released(&self) -> bool {
        self.setup().is_some_and(|setup| setup.is_released())
    }
}

impl Draft {
    /// Offers to write lines into a block, where its facts stand. What the reader has to fill in is a `?`.
    pub fn offer_in(self, book: &Book, (file, block): (FileId, &Block), lines: &[&str]) -> Self {
        let quoted: Vec<String> = lines.iter().map(|line| format!("`{line}`")).collect();
        let edit = lines_in(&book.file(file).text, block, lines);
        self.choice(format!("Write {}", wording::and_list(&quoted)), vec![FileEdit { file, edit }])
    }

    /// The same for the item that is judged.
    pub fn offer(self, context: &ItemContext<'_, '_>, lines: &[&str]) -> Self {
        self.offer_in(context.book(), (context.id.file, context.block), lines)
    }

    /// Offers another value for a fact.
    pub fn offer_value(self, context: &ItemContext<'_, '_>, field: EffectiveField<'_>, value: &str) -> Self {
        let file = field.item.file;
        let head = context.text(file, field.field.head);
        let edit = Edit::replace(field.field.value_span, value);
        self.choice(format!("Write `{head}: {value}`"), vec![FileEdit { file, edit }])
    }

    /// Offers to take a fact out, where the item itself states it.
    pub fn offer_without<'b>(self, context: &ItemContext<'b, '_>, field: EffectiveField<'b>) -> Self {
        if field.item != context.id {
            return self;
        }
        let file = field.item.file;
        let edit = facts::delete_fact(context.book().file(file), field.field.head);
        self.choice(format!("Take {} out", context.line(field)), vec![FileEdit { file, edit }])
    }

    /// Points at another fact that the message speaks of.
    pub fn about(self, field: EffectiveField<'_>, message: impl Into<String>) -> Self {
        self.related(field.item.file, field.field.head.to(field.field.value_span), message)
    }
}

impl EffectiveBlock<'_> {
    /// Where the block is written.
    pub fn place(&self) -> (FileId, &Block) {
        (self.item.file, self.written)
    }
}

/// Lines put into a block, below its other facts and above its inner blocks.
pub fn lines_in(text: &str, block: &Block, lines: &[&str]) -> Edit {
    let last = block.fields.iter().map(|field| field.value_span.end);
    let first_block = block.blocks.iter().map(|inner| inner.span.start).min().unwrap_or(u32::MAX);
    let after = last.filter(|end| *end < first_block).max().unwrap_or(block.heading.end);
    let at = text[after as usize..].find(['\r', '\n']).map_or(text.len(), |more| after as usize + more);
    let line_start = text[..block.heading.start as usize].rfind('\n').map_or(0, |newline| newline + 1);
    let indent: String = text[line_start..].chars().take_while(|c| matches!(c, ' ' | '\t')).collect();
    let end = if text[at..].starts_with('\r') { "\r\n" } else { "\n" };
    Edit::insert(at as u32, lines.iter().map(|line| format!("{end}{indent}  {line}")).collect::<String>())
}

/// An edit that adds a line at the end of a block; `None` when the block's closing brace has no line of its own.
pub fn line_at_end(text: &str, block: &Block, line: &str) -> Option<Edit> {
    let rest = &text[block.end as usize..];
    let indentation = &rest[..rest.len() - rest.trim_start_matches([' ', '\t']).len()];
    let alone = rest.trim_start_matches([' ', '\t']).starts_with('}') && text[..block.end as usize].ends_with('\n');
    let lines = line.lines().map(|line| match line {
        "" => "\n".to_owned(),
        line => format!("{indentation}  {line}\n"),
    });
    alone.then(|| Edit::insert(block.end, lines.collect::<String>()))
}

/// An edit that adds a line of its own after that of a fact; `None` where other things are on that line.
pub fn line_behind(text: &str, field: &Field, line: &str) -> Option<Edit> {
    let start = text[..field.head.start as usize].rfind('\n').map_or(0, |at| at + 1);
    let indentation = &text[start..field.head.start as usize];
    let end = field.value_span.end as usize + text[field.value_span.end as usize..].find('\n')? + 1;
    indentation.trim().is_empty().then(|| Edit::insert(end as u32, format!("{indentation}{line}\n")))
}

/// An edit that takes away the whole line on which a fact stands.
pub fn without_line(text: &str, span: Span) -> Edit {
    let start = text[..span.start as usize].rfind('\n').map_or(0, |at| at + 1);
    let end = text[span.end as usize..].find('\n').map_or(text.len(), |at| span.end as usize + at + 1);
    Edit::delete(Span::new(start as u32, end as u32))
}
