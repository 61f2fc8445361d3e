//! The nearest of several words, for "did you mean".
//!
//! A word is compared with thousands of names in a large book, so that what cannot be near is told by its length and
//! its letters alone.

use crate::limits::{COMPARED_CHARACTERS, COMPARED_NAMES, COMPARED_PAIRS};

/// The candidate nearest to `word`, if it is near enough to be what was meant. Of two letters none may be wrong: `no`
/// is not `on`.
pub fn nearest<'a>(word: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let word = Form::of(word)?;
    let mut search = Search::new(&word, word.length / 3);
    let mut nearest = None;
    for candidate in candidates {
        if let Some(form) = Form::of(candidate)
            && search.is_nearer(&form.lower, form.letters, form.length)
        {
            nearest = Some(candidate);
        }
    }
    nearest
}

/// Names that one may be meant for, made ready to be compared with many.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Names {
    all: Vec<Box<str>>,
    /// Those that are not too long, with their place among all.
    forms: Vec<(usize, Box<str>)>,
    /// The letters and lengths of those, side by side.
    outlines: Vec<(u64, usize)>,
}

impl<'a> FromIterator<&'a str> for Names {
    fn from_iter<I: IntoIterator<Item = &'a str>>(names: I) -> Self {
        let mut made = Self { all: names.into_iter().map(Into::into).collect(), ..Self::default() };
        if made.all.len() <= COMPARED_NAMES {
            for (at, form) in made.all.iter().enumerate().filter_map(|(at, name)| Some((at, Form::of(name)?))) {
                made.forms.push((at, form.lower.into()));
                made.outlines.push((form.letters, form.length));
            }
        }
        made
    }
}

impl Names {
    pub fn all(&self) -> &[Box<str>] {
        &self.all
    }

    /// The name nearest to this one. Names often come in pairs, such as left and right strength: only a slip or two of the
    /// finger is forgiven. `None` also where there are too many to look through.
    pub fn nearest(&self, name: &str) -> Option<&str> {
        let form = Form::of(name)?;
        let mut search = Search::new(&form, 1 + form.length / 12);
        let mut nearest = None;
        for (n, (letters, length)) in self.outlines.iter().enumerate() {
            if !search.may_be_nearer(*letters, *length) {
                continue;
            }
            let (at, lower) = &self.forms[n];
            if alike(&form.lower, lower) && search.is_nearer(lower, *letters, *length) {
                nearest = Some(&*self.all[*at]);
            }
        }
        nearest
    }

    /// The names that hold each of these words: `carbon steel` for `steel`.
    pub fn holding(&self, words: &str) -> impl Iterator<Item = &str> {
        let form = Form::of(words).filter(|_| !words.is_empty());
        let candidates = self.outlines.iter().zip(&self.forms).filter_map(move |((letters, _), (at, lower))| {
            let form = form.as_ref()?;
            let holds = form.letters & !letters == 0
                && form.lower.split(' ').all(|word| lower.split(' ').any(|part| part == word));
            holds.then_some(*at)
        });
        candidates.map(|at| &*self.all[at])
    }
}

/// Whether two names have other numbers of words, or the same whose words are near each other one by one.
fn alike(name: &str, other: &str) -> bool {
    let (words, others) = (name.split_whitespace(), other.split_whitespace());
    words.clone().count() != others.clone().count()
        || words.zip(others).all(|(word, other)| {
            let length = word.chars().count();
            let within = strsim::damerau_levenshtein(word, other);
            within <= (length / 4).max(1) && (within == 0 || within < other.chars().count())
        })
}

/// A word as it is compared: without its capitals, and what can be told of it at once.
struct Form {
    lower: String,
    letters: u64,
    length: usize,
}

impl Form {
    /// `None` for what is longer than a word that a person mistypes.
    fn of(word: &str) -> Option<Self> {
        let short = word.char_indices().nth(COMPARED_CHARACTERS).is_none();
        short.then(|| {
            // Blanks are no part of a name, however many there are: laying a sheet out changes nothing here.
            let lower = word.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
            Self { letters: letters(&lower), length: lower.chars().count(), lower }
        })
    }
}

/// Which characters are in a word, a bit each; rare ones share theirs.
fn letters(lower: &str) -> u64 {
    lower.chars().fold(0, |letters, character| {
        let bit = match character {
            'a'..='z' => u32::from(character) - u32::from('a'),
            '0'..='9' => 26 + u32::from(character) - u32::from('0'),
            _ => 36 + u32::from(character) % 28,
        };
        letters | 1 << bit
    })
}

/// The search for what is nearest to one word.
struct Search<'w> {
    word: &'w Form,
    allowed: usize,
    /// The distance of the nearest so far.
    best: Option<usize>,
    /// What may still be compared in full.
    pairs: usize,
}

impl<'w> Search<'w> {
    fn new(word: &'w Form, allowed: usize) -> Self {
        Self { word, allowed, best: None, pairs: COMPARED_PAIRS }
    }

    /// A slip changes the length by one at most, and which letters there are by two.
    fn may_be_nearer(&self, letters: u64, length: usize) -> bool {
        let mut differing = self.word.letters ^ letters;
        for _ in 0..2 * self.allowed {
            differing &= differing.wrapping_sub(1);
        }
        differing == 0 && self.word.length.abs_diff(length) <= self.allowed
    }

    /// Whether a candidate is near, and nearer than those before it.
    fn is_nearer(&mut self, lower: &str, letters: u64, length: usize) -> bool {
        if !self.may_be_nearer(letters, length) {
            return false;
        }
        let Some(pairs) = self.pairs.checked_sub(self.word.length * length) else { return false };
        self.pairs = pairs;
        let distance = strsim::damerau_levenshtein(&self.word.lower, lower);
        let near = distance <= self.allowed && (distance == 0 || distance < length);
        let nearer = near && self.best.is_none_or(|best| distance < best);
        if nearer {
            self.best = Some(distance);
        }
        nearer
    }
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
        let names = Names::from_iter(["strength, left side", "fan wheel 315"]);
        assert_eq!(names.nearest("strength, right side"), None);
        assert_eq!(names.nearest("strength left side"), Some("strength, left side"));
        assert_eq!(names.nearest("Fan Weel 315"), Some("fan wheel 315"));
        assert_eq!(names.holding("315").collect::<Vec<_>>(), ["fan wheel 315"]);
        assert_eq!(names.holding("").count(), 0);
    }

    /// What is told by lengths and letters is what comparing all in full would tell.
    #[test]
    fn nothing_near_is_passed_over() {
        let words = ["", "a", "ab", "ba", "abc", "mass", "masse", "mÄss", "ßmass", "dial 1", "dial 12", "1 dial", "İx"];
        for (word, other) in words.iter().flat_map(|word| words.iter().map(move |other| (*word, *other))) {
            let (a, b) = (word.to_lowercase(), other.to_lowercase());
            let distance = strsim::damerau_levenshtein(&a, &b);
            let near = distance <= a.chars().count() / 3 && (distance == 0 || distance < b.chars().count());
            assert_eq!(nearest(word, [other]).is_some(), near, "{word} {other}");
        }
    }

    #[test]
    fn what_no_finger_types_is_not_compared() {
        let long = "k".repeat(COMPARED_CHARACTERS + 1);
        assert_eq!(nearest(&long, [&*long]), None);
        assert_eq!(Names::from_iter([&*long]).nearest(&long[1..]), None);
        let many: Vec<String> = (0..=COMPARED_NAMES).map(|n| n.to_string()).collect();
        assert_eq!(many.iter().map(String::as_str).collect::<Names>().nearest("1x"), None);
    }
}
