//! Which of several things of the old book is which of the new one.

use rustc_hash::FxHashSet;

/// Two things that may be one, by their numbers in two lists.
pub(super) struct Likely {
    pub old: usize,
    pub new: usize,
    /// How much speaks for it.
    pub share: f64,
    /// Whether there is enough to call them one.
    pub is_enough: bool,
}

/// The pairs for which more speaks than for any other of either side, the surest first. Where as much speaks for another,
/// or more for one that is not enough, neither side is in a pair.
pub(super) fn settled(mut all: Vec<Likely>) -> Vec<(usize, usize)> {
    all.retain(|one| one.share > 0.0);
    all.sort_by(|a, b| b.share.total_cmp(&a.share).then((a.old, a.new).cmp(&(b.old, b.new))));
    let (mut olds, mut news, mut found) = (FxHashSet::default(), FxHashSet::default(), Vec::new());
    for level in all.chunk_by(|a, b| a.share == b.share) {
        let open: Vec<&Likely> =
            level.iter().filter(|one| !olds.contains(&one.old) && !news.contains(&one.new)).collect();
        let is_alone =
            |one: &Likely| open.iter().filter(|other| one.old == other.old || one.new == other.new).count() == 1;
        found.extend(open.iter().filter(|one| one.is_enough && is_alone(one)).map(|one| (one.old, one.new)));
        olds.extend(open.iter().map(|one| one.old));
        news.extend(open.iter().map(|one| one.new));
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    fn settled_of(all: &[(usize, usize, f64, bool)]) -> Vec<(usize, usize)> {
        settled(all.iter().map(|&(old, new, share, is_enough)| Likely { old, new, share, is_enough }).collect())
    }

    #[test]
    fn the_most_votes_decide_and_a_tie_decides_nothing() {
        assert_eq!(
            settled_of(&[(0, 0, 0.5, true), (0, 1, 0.9, true), (1, 0, 0.8, true), (1, 1, 0.5, true)]),
            [(0, 1), (1, 0)]
        );
        assert_eq!(settled_of(&[(0, 0, 0.9, true), (0, 1, 0.9, true), (1, 0, 0.9, true), (1, 1, 0.9, true)]), []);
        // What ties with one of them may be that one.
        assert_eq!(settled_of(&[(0, 0, 0.9, true), (0, 1, 0.9, true), (1, 1, 0.7, true)]), []);
        // More speaks for a pair that is not enough.
        assert_eq!(
            settled_of(&[(0, 0, 0.9, false), (0, 1, 0.8, true), (1, 2, 0.1, true), (2, 3, 0.0, true)]),
            [(1, 2)]
        );
    }
}
