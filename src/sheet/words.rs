//! The nearest of several words, for "did you mean".

/// The candidate nearest to `word`, if it is near enough to be what was meant. Of two letters none may be wrong: `no`
/// is not `on`.
pub fn nearest<'a>(word: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    within(word, word.chars().count() / 3, candidates)
}

/// The same among names that people have given. They often come in pairs, such as near and far side: only a slip or two
/// of the finger is forgiven.
pub fn nearest_name<'a>(name: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let alike = |candidate: &&str| {
        let (words, others) = (name.split_whitespace(), candidate.split_whitespace());
        words.clone().count() != others.clone().count()
            || words.zip(others).all(|(word, other)| within(word, (word.chars().count() / 4).max(1), [other]).is_some())
    };
    within(name, 1 + name.chars().count() / 12, candidates.into_iter().filter(alike))
}

fn within<'a>(word: &str, allowed: usize, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let word = word.to_lowercase();
    candidates
        .into_iter()
        .map(|candidate| (strsim::damerau_levenshtein(&word, &candidate.to_lowercase()), candidate))
        .filter(|(distance, candidate)| {
            *distance <= allowed && (*distance == 0 || *distance < candidate.chars().count())
        })
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, candidate)| candidate)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slip_of_the_finger_is_near_and_another_word_is_not() {
        let keys = ["mass", "mass centre", "radius", "reading"];
        assert_eq!(nearest("raduis", keys), Some("radius"));
        assert_eq!(nearest("Mass", keys), Some("mass"));
        assert_eq!(nearest("weight", keys), None);
        assert_eq!(nearest("no", ["on", "off"]), None);
    }

    #[test]
    fn names_that_differ_by_a_word_are_different_names() {
        let names = ["gain, near side", "fan wheel 315"];
        assert_eq!(nearest_name("gain, far side", names), None);
        assert_eq!(nearest_name("gain near side", names), Some("gain, near side"));
        assert_eq!(nearest_name("Fan Weel 315", names), Some("fan wheel 315"));
    }
}
