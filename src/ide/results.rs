//! The results of an item, and how each is written as a pin.

use rustc_hash::FxHashMap;

use crate::book::{self, Basis, Book, Computed, Entry, ItemId, Outcome, Path, Step};
use crate::sheet::{Block, quote};
use crate::syntax::{self, Kind, Shape};
use crate::text::Span;
use crate::units::{self, Unit};
use crate::vocabulary::Of;

/// The results of an item by the blocks that they belong to, found in one go.
pub(super) struct ByBlock<'c> {
    id: ItemId,
    blocks: FxHashMap<Path, Vec<&'c Block>>,
    headings: FxHashMap<Span, &'c Block>,
    /// By the place where a block begins, which no two share.
    entries: FxHashMap<u32, Vec<&'c Entry>>,
}

impl<'c> ByBlock<'c> {
    pub fn of(id: ItemId, item: &'c Block, computed: &'c Computed<'_>) -> Self {
        let mut found =
            Self { id, blocks: FxHashMap::default(), headings: FxHashMap::default(), entries: FxHashMap::default() };
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
            self.gather(inner, path.then(Step::of(inner)));
        }
        self.headings.insert(block.heading, block);
        self.blocks.entry(path).or_default().push(block);
    }

    /// The block as the item itself has it; of several with one heading, the one that the result is in. `None` when
    /// all of it was taken over.
    pub fn block(&self, entry: &Entry) -> Option<&'c Block> {
        let blocks = self.blocks.get(&entry.path)?;
        let (file, near) = entry.place;
        let holds =
            |block: &&&Block| file == self.id.file && block.span.start <= near.start && near.end <= block.span.end;
        blocks.iter().find(holds).or(blocks.first()).copied()
    }

    /// The block of the item whose heading this is.
    pub fn headed(&self, heading: Span) -> Option<&'c Block> {
        self.headings.get(&heading).copied()
    }

    /// The results of one block, in the order in which they are worked out.
    pub fn entries(&self, block: &Block) -> &[&'c Entry] {
        self.entries.get(&block.span.start).map_or(&[], |entries| entries)
    }
}

/// The pin of a result as its line reads: `permissible unbalance => 81.7 g·mm`. `None` for a hole, and for a calibration
/// that is void, which is to be mended and not to be kept.
pub(super) fn pin_line(book: &Book, entry: &Entry) -> Option<String> {
    if matches!(entry.outcome, Outcome::Void(_)) {
        return None;
    }
    Some(format!("{} => {}", pinned_name(entry), pin_value(book, entry)?))
}

/// The name as it comes before the arrow: what it is of goes in quotes when it must.
fn pinned_name(entry: &Entry) -> String {
    match &entry.of {
        Some(Of::Control(control)) => quote::as_head(entry.spec.block, control),
        Some(of) if !is_words(&of.to_string()) => {
            format!("{} {}", entry.spec.name, crate::check::quoted(&of.to_string()))
        }
        _ => entry.name().into_owned(),
    }
}

/// One or several bare words, parted by single blanks.
fn is_words(text: &str) -> bool {
    text.split(' ').all(crate::syntax::is_word)
}

/// What comes after the arrow of a pin.
pub(super) fn pin_value(book: &Book, entry: &Entry) -> Option<String> {
    Some(match &entry.outcome {
        Outcome::Amount { base, unit, .. } => book::display_value(*base, *unit, 0.0),
        Outcome::Vector { base, angle, unit, .. } => book::display_vector(*base, *angle, *unit, 0.0, 0.0),
        Outcome::Direction { angle, .. } => {
            let degrees = Unit::DEGREE.from_base(*angle).rem_euclid(360.0);
            units::quantity(degrees, &Unit::DEGREE.to_string(), None)
        }
        Outcome::ToSet { base, unit, decimals, .. } => book::to_set_text(*base, *unit, *decimals),
        Outcome::Count(count) => count.to_string(),
        Outcome::Words(_) | Outcome::Void(_) | Outcome::Table { .. } => as_words(&book::text_of(book, entry)),
        Outcome::Missing(_) => return None,
    })
}

/// Words bare where they can be read so, else in quotes.
fn as_words(words: &str) -> String {
    let (value, errors) = syntax::parse_value(words, Span::new(0, words.len() as u32));
    let bare = errors.is_empty() && value.shape == Shape::Words || words.bytes().all(|byte| byte.is_ascii_digit());
    if bare { words.to_owned() } else { crate::check::quoted(words) }
}

/// Whether the result is in the block already: pinned, or stated as a fact, beside which it cannot be pinned.
pub(super) fn stands(block: &Block, entry: &Entry) -> bool {
    let name = entry.name();
    block.pins.iter().any(|pin| *pin.name == *name) || block.fields.iter().any(|field| book::head_of(field) == *name)
}

/// Whether the result is no more than a fact repeated.
pub(super) fn is_as_stated(entry: &Entry) -> bool {
    entry.derivation.as_ref().is_some_and(|derivation| derivation.formula.basis == Basis::Stated)
}

/// Kinds of items of which results are computed.
pub(super) fn has_results(kind: Kind) -> bool {
    matches!(kind, Kind::Rotor | Kind::Setup | Kind::Record)
}
