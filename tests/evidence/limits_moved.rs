//! A limit that is moved through what was measured changes the word where the budget says, and nowhere else.

use rotorbook::book::Book;
use rotorbook::mechanics::verdict::Verdict;

use crate::scaling::scaled;
use crate::shelf::{RowSaid, Said, books, records};

/// ISO 14253-1 (from memory): within where the limit is above what was measured by the uncertainty at least, over where
/// it is exceeded by more than that. Amounts without angles may be less than their worst sum, so "over" is not asked of
/// them.
fn disagreement(row: &RowSaid) -> Option<String> {
    let word = row.word?;
    let left = row.limit - row.measured;
    let near = (left.abs() - row.uncertainty).abs() < 1e-9 * row.limit;
    let may = if near {
        return None;
    } else if left > row.uncertainty {
        if row.not_known.is_empty() { &[Verdict::Within][..] } else { &[Verdict::WithinAsRead] }
    } else if -left > row.uncertainty {
        if row.not_known.is_empty() {
            &[Verdict::Over, Verdict::NotShown][..]
        } else {
            &[Verdict::OverAsRead, Verdict::NotShown]
        }
    } else {
        &[Verdict::NotShown][..]
    };
    (!may.contains(&word)).then(|| format!("{row:?}"))
}

/// The whole word by those of its rows.
fn whole(said: &Said) -> Verdict {
    if said.nothing_counts {
        return Verdict::NotShown;
    }
    let words = said.rows.iter().map(|row| row.word.unwrap_or(Verdict::NotShown));
    words.max().unwrap_or(Verdict::NotShown)
}

fn check(what: &str, said: &Said, wrong: &mut Vec<String>) {
    wrong.extend(said.rows.iter().filter_map(disagreement).map(|row| format!("{what}: {row}")));
    if said.verdict != whole(said) {
        wrong.push(format!("{what}: {:?} of {said:?}", said.verdict));
    }
}

/// What the word must be with the limit so many uncertainties above what was measured in the governing row.
pub fn moved(what: &str, book: &Book, record: &str, wrong: &mut Vec<String>) -> usize {
    let Some(base) = Said::of(book, record) else { return 0 };
    check(what, &base, wrong);
    let Some(governing) = base.governing().cloned() else { return 0 };
    let mut exact = 0;
    for (above, word) in [
        (-1.02, Verdict::Over),
        (-0.98, Verdict::NotShown),
        (0.0, Verdict::NotShown),
        (0.98, Verdict::NotShown),
        (1.02, Verdict::Within),
    ] {
        let limit = governing.measured + above * governing.uncertainty;
        if limit <= 0.0 {
            continue;
        }
        let what = format!("{what}, {} with its limit {above} U above", governing.name);
        let Some(other) = scaled(book, limit / governing.limit) else { continue };
        let Some(said) = Said::of(&other, record) else {
            wrong.push(format!("{what}: no verdict any more"));
            continue;
        };
        check(&what, &said, wrong);
        // Where the limit alone has moved, the word is that of the budget.
        let Some(row) = said.row(&governing.name).filter(|row| row.word.is_some()) else { continue };
        let same = |a: f64, b: f64| (a - b).abs() <= 1e-3 * b;
        if same(row.measured, governing.measured)
            && same(row.uncertainty, governing.uncertainty)
            && same(row.limit, limit)
        {
            exact += 1;
            let found = match row.word {
                Some(Verdict::WithinAsRead) => Verdict::Within,
                Some(Verdict::OverAsRead) => Verdict::Over,
                Some(found) => found,
                None => continue,
            };
            let amounts_only = word == Verdict::Over && found == Verdict::NotShown;
            if found != word && !amounts_only {
                wrong.push(format!("{what}: not {word:?} but {row:?}"));
            }
        }
    }
    exact
}

#[test]
fn the_word_changes_where_the_budget_says() {
    let (mut wrong, mut exact, mut count) = (Vec::new(), 0, 0);
    for (name, book) in books() {
        for id in records(&book) {
            let record = book.item(id).name_text();
            count += 1;
            exact += moved(&format!("{name} / {record}"), &book, record, &mut wrong);
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(count > 50 && exact > 60, "{exact} limits of {count} records were moved alone");
}
