//! The nearest of several words, for "did you mean".

/// The candidate nearest to `word`, if it is near enough to be what was meant.
pub fn nearest<'a>(word: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let word = word.to_lowercase();
    let allowed = (word.chars().count() / 3).max(1);
    candidates
        .into_iter()
        .map(|candidate| (strsim::damerau_levenshtein(&word, &candidate.to_lowercase()), candidate))
        .filter(|(distance, candidate)| *distance <= allowed && *distance < candidate.chars().count())
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, candidate)| candidate)
}

#[cfg(test)]
mod tests {
    use super::nearest;

    #[test]
    fn a_slip_of_the_finger_is_near_and_another_word_is_not() {
        let keys = ["mass", "mass centre", "radius", "reading"];
        assert_eq!(nearest("raduis", keys), Some("radius"));
        assert_eq!(nearest("Mass", keys), Some("mass"));
        assert_eq!(nearest("weight", keys), None);
    }
}
