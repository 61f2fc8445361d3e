//! Which fact of a file a place belongs to, so that a message can call it by its name.

use super::context::FileContext;
use super::wording;
use crate::book::SourceFile;
use crate::sheet::{Block, Field};
use crate::syntax::Kind;
use crate::text::{Edit, Span};
use crate::vocabulary::{KeySpec, ValueType};

/// A fact with the block it is in.
#[derive(Clone, Copy)]
pub struct FactAt<'b> {
    pub block: &'b Block,
    pub field: &'b Field,
}

/// The innermost block around a place.
pub fn block_at(source: &SourceFile, span: Span) -> Option<&Block> {
    // Blocks are in their order and apart: only two that touch may both reach the place.
    let around = |blocks: &'_ [Block]| {
        let first = blocks.partition_point(|block| block.span.end < span.start);
        let reaching = blocks[first..].iter().take_while(|block| block.span.start <= span.start);
        Some(first + reaching.enumerate().find(|(_, block)| holds(block.span, span))?.0)
    };
    let mut block = &source.sheet.items[around(&source.sheet.items)?];
    while let Some(inner) = around(&block.blocks) {
        block = &block.blocks[inner];
    }
    Some(block)
}

/// The fact whose head or value a place lies in.
pub fn fact_at(source: &SourceFile, span: Span) -> Option<FactAt<'_>> {
    let block = block_at(source, span)?;
    let field = block.fields.iter().find(|field| holds(field.head.to(field.value_span), span))?;
    Some(FactAt { block, field })
}

/// What a message calls the fact or pinned result around a place: "`radius`", "`reading left`", else "this value".
pub fn subject(context: &FileContext<'_>, span: Span) -> String {
    if let Some(fact) = fact_at(context.source, span) {
        return named(context, fact);
    }
    let pin = block_at(context.source, span)
        .and_then(|block| block.pins.iter().find(|pin| holds(pin.head.to(pin.value_span), span)));
    pin.map_or_else(|| "this value".to_owned(), |pin| wording::shown(context.text(pin.head)))
}

fn named(context: &FileContext<'_>, fact: FactAt<'_>) -> String {
    let head = wording::shown(context.text(fact.field.head));
    match fact.block.kind {
        Kind::Tolerance if fact.field.name.is_some() => format!("the tolerance of {head}"),
        _ => head,
    }
}

/// What the fact around a place wants; `None` outside every fact.
pub fn expected_at(source: &SourceFile, span: Span) -> Option<ValueType> {
    fact_at(source, span).map(|fact| fact.field.key.value)
}

/// Whether `inner` lies within `outer`; both may be empty.
pub fn holds(outer: Span, inner: Span) -> bool {
    outer.start <= inner.start && inner.end <= outer.end
}

/// Takes out the fact or pin whose head is at `head`, with its line when nothing else stands there.
pub fn delete_fact(source: &SourceFile, head: Span) -> Edit {
    let text = &source.text;
    let value = block_at(source, head).and_then(|block| {
        let facts = block.fields.iter().map(|field| (field.head, field.value_span));
        let pins = block.pins.iter().map(|pin| (pin.head, pin.value_span));
        facts.chain(pins).find(|(at, _)| *at == head).map(|(_, value)| value)
    });
    let fact = head.to(value.unwrap_or(head));
    let start = text[..fact.start as usize].rfind('\n').map_or(0, |at| at + 1);
    let end = text[fact.end as usize..].find('\n').map_or(text.len(), |at| fact.end as usize + at + 1);
    let behind = text[fact.end as usize..end].trim();
    let alone = text[start..fact.start as usize].trim().is_empty() && (behind.is_empty() || behind.starts_with('#'));
    Edit::delete(if alone { Span::new(start as u32, end as u32) } else { fact })
}

/// Takes out the whole line around a place.
pub fn delete_line(source: &SourceFile, span: Span) -> Edit {
    let text = &source.text;
    let start = text[..span.start as usize].rfind('\n').map_or(0, |at| at + 1);
    let end = text[span.end as usize..].find('\n').map_or(text.len(), |at| span.end as usize + at + 1);
    Edit::delete(Span::new(start as u32, end as u32))
}

/// The whole line around a place, without its line end.
pub fn line_around(text: &str, at: u32) -> &str {
    let start = text[..at as usize].rfind('\n').map_or(0, |at| at + 1);
    let end = text[at as usize..].find('\n').map_or(text.len(), |end| at as usize + end);
    &text[start..end]
}

/// The heads under which a key may be in this block and does not yet.
pub fn keys_left(block: &Block) -> Vec<&'static str> {
    let free = |key: &&KeySpec| key.repeats || block.fields.iter().all(|field| field.key.name != key.name);
    block.spec().keys.iter().filter(free).map(|key| key.name).collect()
}
