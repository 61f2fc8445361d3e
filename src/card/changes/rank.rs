//! Which changes of a card a technician must see first.

use super::{CardChange, CardChangeKind, STAMP};
use crate::card::words::Rank;

impl CardChange {
    pub fn rank(&self) -> Rank {
        let is_grave = |about: &Rank| matches!(about, Rank::Stamp | Rank::Speed);
        match self.what {
            _ if self.of == STAMP => Rank::Stamp,
            CardChangeKind::Document => Rank::Document,
            _ if let Some(about) = self.about.filter(is_grave) => about,
            _ if self.is_set => Rank::Panel,
            CardChangeKind::Drawing => Rank::Places,
            CardChangeKind::Rows => Rank::Rows,
            CardChangeKind::Order if self.of.starts_with("rows") => Rank::Rows,
            CardChangeKind::Order => Rank::Panel,
            CardChangeKind::Sentence => self.about.unwrap_or(Rank::Texts),
            CardChangeKind::Value => self.about.unwrap_or(Rank::Panel),
        }
    }

    /// Whether its numbers differ by one in the last written digit, and by less than one per cent.
    pub fn is_last_digit(&self) -> bool {
        let (Some(old), Some(new)) = (&self.old, &self.new) else { return false };
        if self.is_set || matches!(self.rank(), Rank::Stamp | Rank::Speed | Rank::Places) {
            return false;
        }
        let (a, b) = (pieces(old), pieces(new));
        let near = |(a, b): (&Piece<'_>, &Piece<'_>)| match (a, b) {
            (Piece::Number(a, step), Piece::Number(b, other)) => {
                let step = step.max(*other);
                (a - b).abs() <= 1.001 * step && (a - b).abs() <= 0.01 * a.abs().max(b.abs())
            }
            (a, b) => a == b,
        };
        a.len() == b.len() && a != b && a.iter().zip(&b).all(near)
    }

    /// The largest change of a number, as the logarithm of the ratio of new to old; 0 where no numbers can be compared.
    pub fn reach(&self) -> f64 {
        let (Some(old), Some(new)) = (&self.old, &self.new) else { return 0.0 };
        let numbers = |text: &str| -> Vec<f64> {
            let pieces = pieces(text);
            let of = |(n, piece): (usize, &Piece<'_>)| match piece {
                // The number after `±` is an uncertainty.
                Piece::Number(number, _)
                    if n == 0 || !matches!(pieces[n - 1], Piece::Words(words) if words.ends_with("± ")) =>
                {
                    Some(*number)
                }
                _ => None,
            };
            pieces.iter().enumerate().filter_map(of).collect()
        };
        let (a, b) = (numbers(old), numbers(new));
        if a.len() != b.len() {
            return 0.0;
        }
        let ratio = |(a, b): (&f64, &f64)| if *a > 0.0 && *b > 0.0 { (b / a).ln().abs() } else { 0.0 };
        a.iter().zip(&b).map(ratio).fold(0.0, f64::max)
    }
}

#[derive(Clone, Copy, PartialEq, Debug)]
enum Piece<'t> {
    Words(&'t str),
    /// A number, and one in its last digit.
    Number(f64, f64),
}

/// A text as its numbers and what is between them. Digits of a name are words.
fn pieces(text: &str) -> Vec<Piece<'_>> {
    let mut found = Vec::new();
    let (mut words, mut read) = (0, 0);
    let mut before = ' ';
    for (at, letter) in text.char_indices() {
        let begins = letter.is_ascii_digit() && !before.is_alphanumeric() && before != '-';
        before = letter;
        if at < read || !begins {
            continue;
        }
        let digits = text[at..].find(|c: char| !c.is_ascii_digit() && c != '.').map_or(text.len(), |end| at + end);
        let number = text[at..digits].trim_end_matches('.');
        if let Ok(value) = number.parse::<f64>() {
            let decimals = number.split_once('.').map_or(0, |(_, decimals)| decimals.len());
            found.push(Piece::Words(&text[words..at]));
            found.push(Piece::Number(value, 10f64.powi(-(decimals as i32))));
            words = at + number.len();
        }
        read = digits;
    }
    found.push(Piece::Words(&text[words..]));
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    fn change(of: &str, old: &str, new: &str, what: CardChangeKind) -> CardChange {
        let said = |text: &str| Some(text.to_owned()).filter(|text| !text.is_empty());
        CardChange {
            side: "Run card",
            section: "Plane hub".to_owned(),
            of: of.to_owned(),
            old: said(old),
            new: said(new),
            what,
            is_set: false,
            about: None,
        }
    }

    #[test]
    fn one_in_the_last_digit_is_no_other_number() {
        for (old, new, is_it) in [
            ("7.25 div", "7.24 div", true),
            ("140 g·mm", "139 g·mm", true),
            ("11.5 to 12.7 div (up to 25.5 marks on fine)", "11.5 to 12.7 div (up to 25.4 marks on fine)", true),
            // More than a hundredth, more than one, other words, nothing else at all.
            ("4.4 mm", "4.5 mm", false),
            ("7.25 div", "7.23 div", false),
            ("7.25 div", "7.24 mm", false),
            ("7.25 div", "7.25 div", false),
        ] {
            assert_eq!(change("Below", old, new, CardChangeKind::Value).is_last_digit(), is_it, "{old} {new}");
        }
        let never_above = change("Never above", "4200 rpm", "4201 rpm", CardChangeKind::Value);
        assert!(!CardChange { about: Some(Rank::Speed), ..never_above }.is_last_digit());
    }

    #[test]
    fn what_is_known_to_is_not_how_far_a_number_moved() {
        let slots = change("slots", "11.2 g·mm ± 2.1 g·mm", "17.7 g·mm ± 9.1 g·mm", CardChangeKind::Value);
        // ln(17.7 / 11.2)
        assert!((slots.reach() - 0.4577).abs() < 1e-3, "{}", slots.reach());
        let noisy = change("", "µ1 \u{202e} 5.0 °", "", CardChangeKind::Sentence);
        assert!(!noisy.is_last_digit() && noisy.reach() == 0.0);
        assert_eq!(change("bay", "S-212", "S-213", CardChangeKind::Value).reach(), 0.0);
    }
}
