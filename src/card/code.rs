//! The code of a card: a few letters that lead from the paper to the sheet, and tell whether the sheet is still the same.

use super::checked::rests_on;
use crate::book::{Book, EffectiveBlock, ItemId, effective};
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::text::fingerprint;
use crate::vocabulary::{check_mass, proof, run};

/// Letters that are not taken for each other, or for digits.
const LETTERS: [char; 20] =
    ['B', 'C', 'D', 'F', 'G', 'H', 'J', 'K', 'L', 'M', 'N', 'P', 'Q', 'R', 'S', 'T', 'V', 'W', 'X', 'Z'];
/// Of the sheet, and of what it says.
const LENGTHS: [usize; 2] = [4, 4];

/// What a code leads to.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Coded {
    Setup(ItemId),
    /// The sheet says something else now than on the card.
    OutOfDate(ItemId),
}

/// `KTRB-QFXM`: the first letters are of the name of a setup, the last of its revision, its latest proof, and all other
/// facts of the sheet, its rotor, machine and arbor; remarks, older proofs and checks of the check mass do not count.
pub fn code(book: &Book, setup: ItemId) -> String {
    format!("{}-{}", of_name(book, setup), of_facts(book, setup))
}

/// The setup of a code; `None` when it is no code, or of no setup here.
pub fn coded(book: &Book, code: &str) -> Option<Coded> {
    let (name, facts) = code.split_once('-')?;
    let (name, facts) = (name.to_uppercase(), facts.to_uppercase());
    let is_part = |part: &str, n: usize| part.len() == LENGTHS[n] && part.chars().all(|c| LETTERS.contains(&c));
    if !is_part(&name, 0) || !is_part(&facts, 1) {
        return None;
    }
    let setups = book.items().filter(|id| book.item(*id).kind == Kind::Setup && of_name(book, *id) == name);
    let setups: Vec<ItemId> = setups.collect();
    let same = setups.iter().copied().find(|id| of_facts(book, *id) == facts);
    same.map(Coded::Setup).or_else(|| setups.first().copied().map(Coded::OutOfDate))
}

fn of_name(book: &Book, setup: ItemId) -> String {
    letters(fingerprint(book.item(setup).name_text()), LENGTHS[0])
}

fn of_facts(book: &Book, setup: ItemId) -> String {
    let items = rests_on(book, setup).into_iter();
    let wanted = [Kind::Setup, Kind::Rotor, Kind::Machine, Kind::Arbor];
    let mut lines = Vec::new();
    for item in items.filter(|item| wanted.contains(&book.item(*item).kind)) {
        let (block, _) = effective(book, item);
        let proof = block.latest_proof().map(|proof| proof.path.clone());
        let older = |inner: &EffectiveBlock<'_>| inner.kind == Kind::Proof && Some(&inner.path) != proof.as_ref();
        facts(book, &block, &mut lines);
        block.blocks.iter().filter(|inner| !older(inner)).for_each(|inner| all_facts(book, inner, &mut lines));
    }
    // The order of lines says nothing.
    lines.sort();
    letters(fingerprint(&lines.join("\n")), LENGTHS[1])
}

fn all_facts(book: &Book, block: &EffectiveBlock<'_>, lines: &mut Vec<String>) {
    facts(book, block, lines);
    block.blocks.iter().for_each(|inner| all_facts(book, inner, lines));
}

fn facts(book: &Book, block: &EffectiveBlock<'_>, lines: &mut Vec<String>) {
    let of: Vec<String> = block.path.headings().collect();
    for field in &block.fields {
        let key = field.key.name;
        let says_nothing = key == run::NOTE.words() || key == check_mass::CHECKED.words() || key == proof::BY.words();
        if says_nothing || field.field.value == FieldValue::Unknown {
            continue;
        }
        let value = field.field.value_span.of(&book.file(field.item.file).text);
        let value: Vec<&str> = value.split_whitespace().collect();
        lines.push(format!("{}: {key} {}: {}", of.join(" / "), field.field.name_text(), value.join(" ")));
    }
}

fn letters(hash: u64, count: usize) -> String {
    // The low bits of this hash are the worst mixed.
    let mut rest = hash ^ (hash >> 32);
    let mut letters = String::new();
    for _ in 0..count {
        letters.push(LETTERS[(rest % LETTERS.len() as u64) as usize]);
        rest /= LETTERS.len() as u64;
    }
    letters
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nought_is_the_first_letter() {
        assert_eq!(letters(0, 4), "BBBB");
    }
}
