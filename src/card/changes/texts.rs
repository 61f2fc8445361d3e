//! Sentences that say nearly the same.

use similar::{Algorithm, DiffOp, capture_diff_slices};

use crate::units::same_amounts;

/// Of the words of two sentences, the share that both have; from here on one is the other, changed.
const NEARLY_THE_SAME: f64 = 0.5;

/// Whether two sentences have enough words in common to be one that was changed.
pub(super) fn alike(old: &str, new: &str) -> bool {
    let (a, b): (Vec<&str>, Vec<&str>) = (old.split(' ').collect(), new.split(' ').collect());
    let same = a.iter().filter(|word| b.contains(word)).count();
    2.0 * same as f64 >= NEARLY_THE_SAME * (a.len() + b.len()) as f64
}

/// The clauses of two texts that differ, each with what stood there before.
pub(super) fn clauses_that_differ(old: &str, new: &str) -> Vec<(Option<String>, Option<String>)> {
    let (a, b) = (clauses(old), clauses(new));
    let said = |clauses: &[&str]| (!clauses.is_empty()).then(|| clauses.join(", "));
    let differ = capture_diff_slices(Algorithm::Myers, &a, &b).into_iter();
    let differ = differ.filter(|op| !matches!(op, DiffOp::Equal { .. }));
    let differ = differ.map(|op| {
        let (old, new) = (op.old_range(), op.new_range());
        // What begins with a number says nothing without what comes before it.
        let begins =
            |clauses: &[&str]| clauses.first().is_some_and(|clause| clause.starts_with(|c: char| c.is_ascii_digit()));
        let more = usize::from((begins(&a[old.clone()]) || begins(&b[new.clone()])) && old.start > 0 && new.start > 0);
        (said(&a[old.start - more..old.end]), said(&b[new.start - more..new.end]))
    });
    differ.filter(|both| !matches!(both, (Some(old), Some(new)) if same_amounts(old, new))).collect()
}

/// What is between commas, semicolons and points; none of these ends a clause within a number or a name.
fn clauses(text: &str) -> Vec<&str> {
    let ends = |(at, mark): &(usize, char)| {
        matches!(mark, ',' | ';' | '.') && (text[at + 1..].starts_with(' ') || text.len() == at + 1)
    };
    let mut found = Vec::new();
    let mut start = 0;
    for (at, _) in text.char_indices().filter(ends) {
        found.push(text[start..at].trim());
        start = at + 1;
    }
    found.push(text[start..].trim());
    found.retain(|clause| !clause.is_empty());
    found
}
