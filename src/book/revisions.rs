//! Which of two revisions of a sheet comes later, and which comes next.

use std::cmp::Ordering;

use crate::vocabulary::setup;

/// `B` before `C`, `Z` before `AA`, `9` before `10`, `rev B` before `rev C`; `None` where nothing tells. On paper ` d` is
/// `D`.
pub fn revision_order(a: &str, b: &str) -> Option<Ordering> {
    let (a, b) = (read(a), read(b));
    if a == b {
        return Some(Ordering::Equal);
    }
    let (a, b) = (&*a, &*b);
    let number = |text: &str| text.chars().all(|c| c.is_ascii_digit());
    for is_counted in [|c: char| c.is_ascii_digit(), |c: char| c.is_ascii_uppercase()] {
        let ((stem, counted), (other_stem, other)) = (split(a, is_counted), split(b, is_counted));
        if stem == other_stem && !counted.is_empty() && !other.is_empty() {
            let plain =
                |text: &'_ str| if number(text) { text.trim_start_matches('0').to_owned() } else { text.to_owned() };
            let (counted, other) = (plain(counted), plain(other));
            return Some(counted.len().cmp(&other.len()).then(counted.cmp(&other)));
        }
    }
    None
}

/// The revision after one: `A` first, `D` after `C`, `AA` after `Z`, `8` after `7`, `B2` after `B1`, `rev D` after `rev C`;
/// `None` where nothing tells.
pub fn next_revision(now: Option<&str>) -> Option<String> {
    let Some(now) = now.filter(|now| !now.is_empty()) else { return Some("A".to_owned()) };
    let (stem, digits) = split(now, |c| c.is_ascii_digit());
    if let Ok(count) = digits.parse::<u64>() {
        return Some(format!("{stem}{:0width$}", count.checked_add(1)?, width = digits.len()));
    }
    let (stem, letters) = split(now, |c| c.is_ascii_uppercase());
    match (letters.strip_suffix('Z'), letters.char_indices().next_back()) {
        (Some(""), _) => Some(format!("{stem}AA")),
        (Some(rest), _) => Some(format!("{}A", next_revision(Some(&format!("{stem}{rest}")))?)),
        (None, Some((at, last))) => Some(format!("{stem}{}{}", &letters[..at], char::from(last as u8 + 1))),
        (None, None) => None,
    }
}

/// As a card writes it, which has the word before it: `C` of `rev C`, and of `Ｃ`, a letter as wide as a Chinese one; `None`
/// where that is not letters and digits, with points and hyphens between them.
pub fn plain_revision(revision: &str) -> Option<String> {
    const WIDE: u32 = 0xfee0;
    let narrow = |c: char| match c {
        '\u{ff01}'..='\u{ff5e}' => char::from_u32(u32::from(c) - WIDE).unwrap_or(c),
        c => c,
    };
    let narrow: String = revision.chars().map(narrow).collect();
    let is_between = |c: char| c.is_whitespace() || ".:-".contains(c);
    let after_word = |text: &str, word: &str| {
        let (first, rest) = text.split_at_checked(word.len())?;
        let rest = first.eq_ignore_ascii_case(word).then_some(rest).filter(|rest| rest.starts_with(is_between))?;
        Some(rest.trim_start_matches(is_between).to_owned()).filter(|rest| !rest.is_empty())
    };
    let narrow = narrow.trim();
    let plain = [setup::REVISION.words(), "rev", "issue"].iter().find_map(|word| after_word(narrow, word));
    let plain = plain.unwrap_or_else(|| narrow.to_owned());
    let is_counted = |c: char| c.is_ascii_alphanumeric();
    let is_plain = plain.starts_with(is_counted)
        && plain.ends_with(is_counted)
        && plain.chars().all(|c| is_counted(c) || ".-".contains(c));
    is_plain.then_some(plain)
}

/// As people read it: without spaces around it and the word before it, a letter or two in either case.
fn read(revision: &str) -> String {
    const LETTERS: usize = 2;
    let plain = plain_revision(revision);
    let revision = plain.as_deref().unwrap_or_else(|| revision.trim());
    let letters = revision.len() - revision.trim_end_matches(|c: char| c.is_ascii_alphabetic()).len();
    if letters <= LETTERS { revision.to_ascii_uppercase() } else { revision.to_owned() }
}

fn split(text: &str, is_counted: fn(char) -> bool) -> (&str, &str) {
    text.split_at(text.trim_end_matches(is_counted).len())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_revision_that_comes_next_comes_later() {
        let pairs = [
            ("C", "D"),
            ("Z", "AA"),
            ("AZ", "BA"),
            ("ZZ", "AAA"),
            ("7", "8"),
            ("09", "10"),
            ("007", "008"),
            ("B1", "B2"),
            ("rev C", "rev D"),
            ("2026-03", "2026-04"),
        ];
        for (now, next) in pairs {
            assert_eq!(next_revision(Some(now)).as_deref(), Some(next), "{now}");
            assert_eq!(revision_order(now, next), Some(Ordering::Less), "{now}");
        }
        assert_eq!([None, Some("")].map(next_revision), [Some("A".to_owned()), Some("A".to_owned())]);
        assert_eq!(["final", "c", "18446744073709551615"].map(|now| next_revision(Some(now))), [None, None, None]);
    }

    #[test]
    fn a_revision_is_letters_and_digits() {
        for (said, plain) in [
            ("C", "C"),
            ("rev C", "C"),
            ("Rev. 7", "7"),
            ("revision: B1", "B1"),
            ("REV-C", "C"),
            ("\u{ff23}", "C"),
            ("\u{ff12}\u{ff10}", "20"),
            ("2026-03", "2026-03"),
            ("rev", "rev"),
            ("revB", "revB"),
        ] {
            assert_eq!(plain_revision(said).as_deref(), Some(plain), "{said}");
        }
        // The third is Cyrillic.
        for said in ["", " ", "\u{421}", "C 2", "C!", "-C"] {
            assert_eq!(plain_revision(said), None, "{said}");
        }
    }

    #[test]
    fn revisions_of_one_kind_have_an_order() {
        for (a, b) in [("B", "C"), ("Z", "AA"), ("9", "10"), ("09", "10"), ("rev B", "rev C"), ("B1", "B2")] {
            assert_eq!((revision_order(a, b), revision_order(b, a)), (Some(Ordering::Less), Some(Ordering::Greater)));
        }
        for (a, b) in [
            ("C", "C"),
            ("d", "D"),
            (" D", "D"),
            ("Rev D ", "rev d"),
            ("7", "07"),
            ("final", "final"),
            ("rev C", "C"),
            ("Ｃ", "C"),
        ] {
            assert_eq!(revision_order(a, b), Some(Ordering::Equal), "{a:?} {b:?}");
        }
        assert_eq!(revision_order("c", "D"), Some(Ordering::Less));
        assert_eq!([("C", "7"), ("final", "C"), ("A1", "B2")].map(|(a, b)| revision_order(a, b)), [None; 3]);
    }
}
