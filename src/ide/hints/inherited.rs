//! What `like` brought: at the line that says so, and in the blocks that it filled up.

use crate::vocabulary::setup;
use std::fmt::Write as _;

use super::{Hint, HintKind};
use crate::book::{self, Book, Computed, Computing, EffectiveBlock, EffectiveField, ItemId};
use crate::check::Place;
use crate::ide::{explain, inherit, markdown};
use crate::sheet::Block;

pub(super) fn of(computing: &Computing<'_>, id: ItemId, item: &Block, computed: &Computed<'_>, hints: &mut Vec<Hint>) {
    let Computed::Setup(setup) = computed else { return };
    let Some(like) = item.field(setup::LIKE) else { return };
    let book = computing.book();
    let brought = inherit::brought(&setup.block, id);
    let whole: Vec<&EffectiveBlock<'_>> = setup.block.blocks.iter().filter(|block| block.own.is_none()).collect();
    for block in setup.block.blocks.iter().filter(|block| block.own.is_some()) {
        hints.extend(in_block(book, id, block));
    }
    if brought.is_empty() && whole.is_empty() {
        return;
    }
    let mut label = counted(brought.len(), "fact");
    if !whole.is_empty() {
        let _ = write!(label, ", {}", counted(whole.len(), "block"));
    }
    let mut tooltip = "Taken over, for this sheet gives none of its own:\n".to_owned();
    for field in &brought {
        let _ = write!(tooltip, "\n- {}{}", markdown::code(&inherit::line(book, field)), from(book, field.item));
    }
    for block in &whole {
        let _ = write!(tooltip, "\n- {}{}", markdown::code(&book::heading(block.written)), from(book, block.item));
    }
    for dropped in &setup.dropped {
        let heads: Vec<String> = dropped.heads.iter().map(|head| markdown::code(head)).collect();
        let because: Vec<String> = dropped.because.iter().map(|key| markdown::code(key)).collect();
        let differs = if because.len() == 1 { "differs" } else { "differ" };
        let (heads, because) = (crate::check::and_list(&heads), crate::check::and_list(&because));
        let _ = write!(tooltip, "\n\nNot taken over, because {because} {differs}: {heads}");
    }
    let first = brought.first().map(|field| field.item).or(whole.first().map(|block| block.item));
    hints.push(Hint {
        at: like.value_span.end,
        label: format!("brings {label}"),
        kind: HintKind::Inherited,
        tooltip,
        edits: Vec::new(),
        target: first.map(|item| Place { file: item.file, span: book.item(item).heading }),
    });
}

/// The facts that filled up a block of the sheet, after its heading.
fn in_block(book: &Book, id: ItemId, block: &EffectiveBlock<'_>) -> Option<Hint> {
    let own = block.own?;
    let brought = inherit::brought(block, id);
    let first = brought.first()?;
    let lines: Vec<String> = brought.iter().map(|field| inherit::line(book, field)).collect();
    let source = book.file(id.file);
    let shown: Vec<&str> = lines.iter().map(|line| &**line).take(2).collect();
    let more = if lines.len() > 2 { format!(" and {} more", lines.len() - 2) } else { String::new() };
    let listed: String = brought
        .iter()
        .zip(&lines)
        .map(|(field, line)| format!("\n- {}{}", markdown::code(line), from(book, field.item)))
        .collect();
    Some(Hint {
        at: inherit::behind_heading(source, own)?,
        label: format!("{}{more}", shown.join(", ")),
        kind: HintKind::Inherited,
        tooltip: format!("Taken over through `like`:\n{listed}"),
        edits: vec![crate::ide::lines::into_block(source, own, &lines)],
        target: Some(place_of(first)),
    })
}

fn place_of(field: &EffectiveField<'_>) -> Place {
    Place { file: field.item.file, span: field.field.head.to(field.field.value_span) }
}

fn from(book: &Book, item: ItemId) -> String {
    format!(": {}", markdown::code(&explain::called(book, item)))
}

fn counted(count: usize, one: &str) -> String {
    if count == 1 { format!("1 {one}") } else { format!("{count} {one}s") }
}
