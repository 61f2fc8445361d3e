//! The code of a card: a few letters that lead from the paper to the sheet, and tell whether the card still says the same.

use super::changes::said;
use super::{foot, setup_to_compare};
use crate::book::{Book, Computing, ItemId, SetupResults};
use crate::syntax::Kind;
use crate::text::fingerprint;

/// Letters that are not taken for each other, or for digits.
const LETTERS: [char; 20] =
    ['B', 'C', 'D', 'F', 'G', 'H', 'J', 'K', 'L', 'M', 'N', 'P', 'Q', 'R', 'S', 'T', 'V', 'W', 'X', 'Z'];
/// Of the sheet, and of what its card says.
const LENGTHS: [usize; 2] = [4, 4];

/// What a code leads to.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Coded {
    Setup(ItemId),
    /// The card says something else now.
    OutOfDate(ItemId),
}

/// `KTRB-QFXM`: the first letters are of the name of a setup, the last of all that both sides of its card say and draw.
/// What the sheet holds beyond that does not count.
pub fn code(book: &Book, setup: &SetupResults<'_>) -> String {
    format!("{}-{}", of_name(book, setup.id), of_card(book, setup))
}

/// The setup of a code; `None` when it is no code, or of no setup here.
pub fn coded(computing: &Computing<'_>, code: &str) -> Option<Coded> {
    let book = computing.book();
    // As it is typed from paper: `ktrb qfxm`, `KTRBQFXM`.
    let typed: String = code.chars().filter(|c| !c.is_whitespace() && *c != '-').flat_map(char::to_uppercase).collect();
    let is_code = typed.len() == LENGTHS[0] + LENGTHS[1] && typed.chars().all(|c| LETTERS.contains(&c));
    let (name, card) = typed.split_at_checked(LENGTHS[0]).filter(|_| is_code)?;
    let setups = book.items().filter(|id| book.item(*id).kind == Kind::Setup && of_name(book, *id) == name);
    let setups: Vec<ItemId> = setups.collect();
    let is_same = |id: &ItemId| computing.setup(*id).is_some_and(|setup| of_card(book, &setup) == card);
    let same = setups.iter().copied().find(is_same);
    same.map(Coded::Setup).or_else(|| setups.first().copied().map(Coded::OutOfDate))
}

fn of_name(book: &Book, setup: ItemId) -> String {
    letters(fingerprint(book.item(setup).name_text()), LENGTHS[0])
}

fn of_card(book: &Book, setup: &SetupResults<'_>) -> String {
    // Another version of the program may say the same.
    let said = said(&setup_to_compare(book, setup)).replace(&foot::program(), "");
    letters(fingerprint(&said), LENGTHS[1])
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
