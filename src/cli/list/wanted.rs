//! Facts and results of items as columns of the list, and what an item must hold to be listed.

use crate::book::{self, Computed, Computing, EffectiveBlock, ItemId, Outcome};

/// A fact or result by the words of a sheet: `status`, `tolerance / grade`, `calibrate hub / reading`.
pub(super) fn text(computing: &Computing<'_>, id: ItemId, wanted: &str) -> Option<String> {
    let computed = computing.item(id);
    let parts: Vec<&str> = wanted.split(" / ").map(str::trim).collect();
    let (name, blocks) = parts.split_last()?;
    if let Some(fact) = block(computed.effective(), blocks).and_then(|block| fact(computing, block, name)) {
        return Some(fact);
    }
    result(computing, &computed, blocks, name)
}

fn block<'e, 'b>(from: &'e EffectiveBlock<'b>, path: &[&str]) -> Option<&'e EffectiveBlock<'b>> {
    path.iter()
        .try_fold(from, |block, heading| block.blocks.iter().find(|inner| book::heading(inner.written) == *heading))
}

fn fact(computing: &Computing<'_>, block: &EffectiveBlock<'_>, head: &str) -> Option<String> {
    let field = block.fields.iter().find(|field| book::head_of(field.field) == head)?;
    let written = field.field.value_span.of(&computing.book().file(field.item.file).text);
    let quoted = written.strip_prefix('"').and_then(|text| text.strip_suffix('"'));
    Some(quoted.map_or_else(|| written.to_owned(), |text| text.replace("\"\"", "\"")))
}

fn result(computing: &Computing<'_>, computed: &Computed<'_>, blocks: &[&str], name: &str) -> Option<String> {
    let entry = computed
        .entries()
        .iter()
        .find(|entry| entry.path.blocks().eq(blocks.iter().copied()) && entry.name() == name)?;
    // In a list a hole is an empty cell.
    (!matches!(entry.outcome, Outcome::Missing(_))).then(|| book::text_of(computing.book(), entry))
}

/// Whether a fact holds these words, whatever their capitals.
pub(super) fn holds(computing: &Computing<'_>, id: ItemId, (wanted, words): &(String, String)) -> bool {
    let text = if wanted == "name" {
        Some(computing.book().item(id).name_text().to_owned())
    } else {
        text(computing, id, wanted)
    };
    text.is_some_and(|text| text.to_lowercase().contains(&words.to_lowercase()))
}
