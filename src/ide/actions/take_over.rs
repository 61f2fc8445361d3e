//! Facts that came over through `like`, written into the sheet itself.

use super::{Action, ActionKind, Asked};
use crate::book::{self, Book, Computed, EffectiveBlock};
use crate::ide::{inherit, known, lines, markdown};
use crate::sheet::Block;
use crate::syntax::{Kind, LineKind};
use crate::text::Edit;
use crate::vocabulary::setup;

pub(super) fn at(asked: &Asked<'_, '_>) -> Option<Action> {
    let blocks = asked.place.blocks()?;
    if blocks.path[0].kind != Kind::Setup {
        return None;
    }
    let Computed::Setup(computed) = asked.computed()? else { return None };
    let on_like = asked.place.field().is_some_and(|(_, field)| field.key.is(setup::LIKE));
    if on_like {
        return whole(asked, &computed.block, blocks.path[0]);
    }
    let block = blocks.innermost();
    let heads = matches!(asked.place.line.kind, LineKind::Open(_)) && blocks.path.len() > 1;
    heads.then(|| filled_up(asked, known::find(&computed.block, block)?, block)).flatten()
}

/// Everything that `like` brought.
fn whole(asked: &Asked<'_, '_>, effective: &EffectiveBlock<'_>, item: &Block) -> Option<Action> {
    let book = asked.computing.book();
    let source = asked.place.source;
    let mut edits = Vec::new();
    let mut count = 0;
    for (holds, own) in std::iter::once((effective, item)).chain(own_blocks(effective)) {
        let lines: Vec<String> = brought(asked, holds);
        count += lines.len();
        if !lines.is_empty() {
            edits.push(lines::into_block(source, own, &lines));
        }
    }
    let blocks: Vec<&EffectiveBlock<'_>> = effective.blocks.iter().filter(|block| block.own.is_none()).collect();
    if count == 0 && blocks.is_empty() {
        return None;
    }
    if !blocks.is_empty() {
        let end = lines::line_end(&source.text);
        let mut text = String::new();
        for line in blocks.iter().flat_map(|block| written(book, block)) {
            text.push_str(format!("  {line}").trim_end());
            text.push_str(end);
        }
        edits.push(Edit::insert(item.end, text));
    }
    let what = match (count, blocks.len()) {
        (count, 0) => counted(count, "fact"),
        (0, blocks) => counted(blocks, "block"),
        (count, blocks) => format!("{} and {}", counted(count, "fact"), counted(blocks, "block")),
    };
    Some(asked.action(ActionKind::Insert, format!("Write the {what} taken over into this sheet"), edits))
}

fn own_blocks<'c, 'b>(effective: &'c EffectiveBlock<'b>) -> impl Iterator<Item = (&'c EffectiveBlock<'b>, &'b Block)> {
    effective.blocks.iter().filter_map(|block| Some((block, block.own?)))
}

/// The facts that filled up one block.
fn filled_up(asked: &Asked<'_, '_>, effective: &EffectiveBlock<'_>, own: &Block) -> Option<Action> {
    let lines = brought(asked, effective);
    let what = match &lines[..] {
        [] => return None,
        [one] => markdown::code(one),
        several => format!("the {} facts taken over", several.len()),
    };
    let edit = lines::into_block(asked.place.source, own, &lines);
    Some(asked.action(ActionKind::Insert, format!("Write {what} into this block"), vec![edit]))
}

fn brought(asked: &Asked<'_, '_>, effective: &EffectiveBlock<'_>) -> Vec<String> {
    let book = asked.computing.book();
    let facts = inherit::brought(effective, id_of(asked));
    facts.iter().map(|field| inherit::line(book, field)).collect()
}

fn id_of(asked: &Asked<'_, '_>) -> book::ItemId {
    asked.place.blocks().map_or(book::ItemId { file: asked.place.file, index: 0 }, |blocks| blocks.item)
}

/// The lines of a block that was taken over whole, without its pins.
fn written(book: &Book, block: &EffectiveBlock<'_>) -> Vec<String> {
    let heading = block.written.heading.of(&book.file(block.item.file).text);
    let mut out = vec![String::new(), format!("{heading} {{")];
    out.extend(block.fields.iter().map(|field| format!("  {}", inherit::line(book, field))));
    out.extend(block.blocks.iter().flat_map(|inner| written(book, inner)).map(|line| format!("  {line}")));
    out.push("}".to_owned());
    out
}

fn counted(count: usize, one: &str) -> String {
    if count == 1 { format!("1 {one}") } else { format!("{count} {one}s") }
}
