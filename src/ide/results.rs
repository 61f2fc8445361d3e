//! The results of an item, and how each is written as a pin.

use crate::book::{self, Computed, Entry, ItemId, Outcome};
use crate::sheet::Block;
use crate::syntax::{self, Kind, Shape};
use crate::text::Span;
use crate::units;

/// The item's own block of this path of headings; of several, the one that holds `near`.
pub(super) fn block_of<'b>(item: &'b Block, path: &book::Path, near: Option<Span>) -> Option<&'b Block> {
    let mut blocks = vec![item];
    for heading in path.blocks() {
        let inner = blocks.iter().flat_map(|block| &block.blocks).filter(|block| book::heading(block) == heading);
        blocks = inner.collect();
    }
    let holds = |block: &&&Block| near.is_some_and(|near| block.span.start <= near.start && near.end <= block.span.end);
    blocks.iter().find(holds).or(blocks.first()).copied()
}

/// The results that belong to this very block, in the order in which they are worked out.
pub(super) fn of_block<'c>(computed: &'c Computed<'_>, item: &Block, id: ItemId, block: &Block) -> Vec<&'c Entry> {
    let of = |entry: &&Entry| {
        let near = (entry.place.0 == id.file).then_some(entry.place.1);
        block_of(item, &entry.path, near).is_some_and(|found| std::ptr::eq(found, block))
    };
    computed.entries().iter().filter(of).collect()
}

/// The pin of a result as its line reads: `permissible unbalance => 81.7 g·mm`. `None` for a hole.
pub(super) fn pin_line(entry: &Entry) -> Option<String> {
    Some(format!("{} => {}", entry.spec.name, pin_value(entry)?))
}

/// What stands behind the arrow of a pin.
pub(super) fn pin_value(entry: &Entry) -> Option<String> {
    Some(match &entry.outcome {
        Outcome::Amount { base, unit, .. } => book::display_value(*base, *unit, 0.0),
        Outcome::Words(words) => as_words(words),
        Outcome::Table { columns, rows } => {
            let cell = |value: &Option<f64>, column: &book::Column| match value {
                Some(base) => units::quantity(column.unit.from_base(*base), &column.unit.to_string(), None),
                None => "–".to_owned(),
            };
            let row = |row: &Vec<Option<f64>>| {
                row.iter().zip(columns).map(|(value, column)| cell(value, column)).collect::<Vec<_>>().join(" → ")
            };
            as_words(&rows.iter().map(row).collect::<Vec<_>>().join("; "))
        }
        Outcome::Missing(_) => return None,
    })
}

/// Words bare where they can be read so, else in quotes.
fn as_words(words: &str) -> String {
    let (value, errors) = syntax::parse_value(words, Span::new(0, words.len() as u32));
    let bare = errors.is_empty() && value.shape == Shape::Words;
    if bare { words.to_owned() } else { crate::check::quoted(words) }
}

/// Whether the block has a pin of this result.
pub(super) fn is_pinned(block: &Block, entry: &Entry) -> bool {
    block.pins.iter().any(|pin| *pin.name == *entry.spec.name)
}

/// Whether the result is no more than a fact repeated.
pub(super) fn is_as_stated(entry: &Entry) -> bool {
    entry.derivation.as_ref().is_some_and(|derivation| derivation.formula.source == "as stated in the sheet")
}

/// Kinds of items of which results are computed.
pub(super) fn has_results(kind: Kind) -> bool {
    matches!(kind, Kind::Rotor | Kind::Setup)
}
