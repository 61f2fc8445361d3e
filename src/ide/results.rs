//! The results of an item, and how each is written as a pin.

use rustc_hash::FxHashMap;

use crate::book::{self, Computed, Entry, ItemId, Outcome, Path};
use crate::sheet::Block;
use crate::syntax::{self, Kind, Shape};
use crate::text::Span;
use crate::units::{self, Unit};

/// The results of an item by the blocks that they belong to, found in one go.
pub(super) struct ByBlock<'c> {
    id: ItemId,
    blocks: FxHashMap<Path, Vec<&'c Block>>,
    /// By the place where a block begins, which no two share.
    entries: FxHashMap<u32, Vec<&'c Entry>>,
}

impl<'c> ByBlock<'c> {
    pub fn of(id: ItemId, item: &'c Block, computed: &'c Computed<'_>) -> Self {
        let mut found = Self { id, blocks: FxHashMap::default(), entries: FxHashMap::default() };
        found.gather(item, Path::item());
        for entry in computed.entries() {
            if let Some(block) = found.block(entry) {
                found.entries.entry(block.span.start).or_default().push(entry);
            }
        }
        found
    }

    fn gather(&mut self, block: &'c Block, path: Path) {
        for inner in &block.blocks {
            self.gather(inner, path.then(book::heading(inner)));
        }
        self.blocks.entry(path).or_default().push(block);
    }

    /// The block as the item itself has it; of several with one heading, the one that the result stands in. `None` when
    /// all of it was taken over.
    pub fn block(&self, entry: &Entry) -> Option<&'c Block> {
        let blocks = self.blocks.get(&entry.path)?;
        let (file, near) = entry.place;
        let holds =
            |block: &&&Block| file == self.id.file && block.span.start <= near.start && near.end <= block.span.end;
        blocks.iter().find(holds).or(blocks.first()).copied()
    }

    /// The results of one block, in the order in which they are worked out.
    pub fn entries(&self, block: &Block) -> &[&'c Entry] {
        self.entries.get(&block.span.start).map_or(&[], |entries| entries)
    }
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
        Outcome::Table { columns, rows, .. } => {
            let cell = |value: &Option<f64>, column: &book::Column| match value {
                Some(base) => units::quantity(column.unit.from_base(*base), &column.unit.to_string(), None),
                None => "–".to_owned(),
            };
            let row = |row: &Vec<Option<f64>>| {
                row.iter().zip(columns).map(|(value, column)| cell(value, column)).collect::<Vec<_>>().join(" → ")
            };
            as_words(&rows.iter().map(row).collect::<Vec<_>>().join("; "))
        }
        Outcome::Vector { base, angle, unit, .. } => {
            let [amount, angle] =
                [(*base, *unit), (*angle, Unit::DEGREE)].map(|(base, unit)| book::display_value(base, unit, 0.0));
            format!("{amount} @ {angle}")
        }
        Outcome::Direction { angle, .. } => book::display_value(*angle, Unit::DEGREE, 0.0),
        Outcome::Count(count) => count.to_string(),
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
    matches!(kind, Kind::Rotor | Kind::Setup | Kind::Record)
}
