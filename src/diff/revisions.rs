//! Which of two revisions of a sheet comes later.

use std::cmp::Ordering;

/// `B` before `C`, `Z` before `AA`, `9` before `10`, `rev B` before `rev C`; `None` where nothing tells.
pub fn revision_order(a: &str, b: &str) -> Option<Ordering> {
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

fn split(text: &str, is_counted: fn(char) -> bool) -> (&str, &str) {
    text.split_at(text.trim_end_matches(is_counted).len())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn revisions_of_one_kind_have_an_order() {
        for (a, b) in [("B", "C"), ("Z", "AA"), ("9", "10"), ("09", "10"), ("rev B", "rev C"), ("B1", "B2")] {
            assert_eq!((revision_order(a, b), revision_order(b, a)), (Some(Ordering::Less), Some(Ordering::Greater)));
        }
        assert_eq!(revision_order("C", "C"), Some(Ordering::Equal));
        assert_eq!([("C", "7"), ("final", "C"), ("A1", "B2")].map(|(a, b)| revision_order(a, b)), [None; 3]);
    }
}
