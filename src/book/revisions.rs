//! Which of two revisions of a sheet comes later, and which comes next.

use std::cmp::Ordering;

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

/// As people read it: without spaces around it, a letter or two in either case.
fn read(revision: &str) -> String {
    const LETTERS: usize = 2;
    let revision = revision.trim();
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
    fn revisions_of_one_kind_have_an_order() {
        for (a, b) in [("B", "C"), ("Z", "AA"), ("9", "10"), ("09", "10"), ("rev B", "rev C"), ("B1", "B2")] {
            assert_eq!((revision_order(a, b), revision_order(b, a)), (Some(Ordering::Less), Some(Ordering::Greater)));
        }
        for (a, b) in [("C", "C"), ("d", "D"), (" D", "D"), ("Rev D ", "rev d"), ("7", "07"), ("final", "final")] {
            assert_eq!(revision_order(a, b), Some(Ordering::Equal), "{a:?} {b:?}");
        }
        assert_eq!(revision_order("c", "D"), Some(Ordering::Less));
        assert_eq!([("C", "7"), ("final", "C"), ("A1", "B2")].map(|(a, b)| revision_order(a, b)), [None; 3]);
    }
}
