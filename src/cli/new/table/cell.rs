//! A cell of a table as a sheet would write it.

use super::decimals::Decimals;
use crate::starting::{given_name, given_text};
use crate::units::Unit;
use crate::vocabulary::{KeySpec, ValueType};

/// What is in a column whose heading says it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum Units {
    None,
    /// As the heading says.
    One(String),
    /// As the command line says of numbers that have none.
    Otherwise(String),
    /// The heading names several, and each cell has to say which.
    Several(Vec<String>),
}

/// What people write where there is nothing to write.
const BLANKS: [&str; 6] = ["-", "–", "—", "−", "n/a", "N/A"];

/// What sums and the like are called, in the languages whose tables have decimal commas too.
const SUMS: &str = "total totals subtotal sum sums average mean count σ ∑ summe gesamt mittel mittelwert durchschnitt \
    somme moyenne totaal";

pub(super) fn is_blank(cell: &str) -> bool {
    cell.is_empty() || BLANKS.contains(&cell)
}

/// What may be beside these words.
const OF_SUMS: [&str; 4] = ["grand", "sub", "overall", "all"];

/// Whether a row is called as sums are: `TOTAL`, `Summe:`, `total 2025`, `Grand total`.
pub(super) fn is_sum(name: &str) -> bool {
    let plain = name.to_lowercase();
    let words = || plain.split(|c: char| !c.is_alphabetic() && c != '∑').filter(|word| !word.is_empty());
    let is_one = |word: &str| SUMS.split(' ').any(|sum| sum == word);
    words().any(is_one) && words().all(|word| is_one(word) || OF_SUMS.contains(&word))
}

/// Whether a cell is a bare number, as a count is.
pub(super) fn is_count(cell: &str) -> bool {
    cell.chars().any(|c| c.is_ascii_digit()) && cell.chars().all(|c| c.is_ascii_digit() || matches!(c, '.' | ',' | ' '))
}

/// What the cells of a column hold.
#[derive(Clone, Copy)]
pub(super) struct Reads {
    /// A quantity, whose thousands may have spaces between them.
    pub is_quantity: bool,
    /// One value, so that no comma is between two.
    pub is_one: bool,
}

impl Reads {
    pub fn of(key: &KeySpec) -> Self {
        let is_quantity =
            matches!(key.value, ValueType::Quantity(_) | ValueType::QuantityOrRange(_) | ValueType::Range(_));
        let is_one = is_quantity || matches!(key.value, ValueType::Reading | ValueType::Number | ValueType::Grade);
        Self { is_quantity, is_one }
    }
}

/// Texts and names in quotes, bare numbers with the unit of the column, days as the language writes them; `Err` says why a
/// cell cannot be read in one way only.
pub(super) fn value(key: &KeySpec, cell: &str, units: &Units, decimals: &Decimals) -> Result<String, String> {
    match key.value {
        ValueType::Text | ValueType::Reference(_) => return Ok(given_text(cell)),
        ValueType::Name(_) => return Ok(given_name(cell)),
        ValueType::Choice(_) | ValueType::Names(_) | ValueType::LineHeads => return Ok(cell.to_owned()),
        ValueType::Date => return Ok(day(cell)),
        _ => {}
    }
    let words = numbers(cell, decimals, Reads::of(key))?;
    let bare = |text: &str| text.split(", ").all(is_number);
    let text = words.join(" ");
    if !bare(&text) {
        contradicted(&text, units)?;
        return Ok(text);
    }
    Ok(match (key.value, units) {
        (ValueType::Grade, _) => format!("G {text}"),
        (ValueType::Number | ValueType::Count | ValueType::NumberRange, _) => text,
        (_, Units::One(unit) | Units::Otherwise(unit)) => {
            text.split(", ").map(|one| format!("{one} {unit}")).collect::<Vec<_>>().join(", ")
        }
        (_, Units::None) => text,
        (_, Units::Several(units)) => {
            return Err(format!("`{cell}` is in {}: the heading names both", units.join(" or ")));
        }
    })
}

/// That a cell names another unit than its heading does: one of both is a slip. Multiples by ten, as `3000 mg` in grams, are
/// none.
fn contradicted(text: &str, units: &Units) -> Result<(), String> {
    let headings = match units {
        Units::One(unit) => std::slice::from_ref(unit),
        Units::Several(units) => units.as_slice(),
        Units::None | Units::Otherwise(_) => return Ok(()),
    };
    for part in text.split(", ") {
        let mut words = part.split(' ').skip_while(|word| !is_number(word)).skip(1);
        let Some(own) = words.next().and_then(|word| Unit::parse(word).ok()) else { continue };
        let is_it = |heading: &String| {
            let heading = Unit::parse(heading).ok().filter(|heading| heading.dimension() == own.dimension());
            heading.is_some_and(|heading| {
                let tens = (own.factor() / heading.factor()).log10();
                (tens - tens.round()).abs() < 1e-9
            })
        };
        if !headings.iter().any(is_it) {
            return Err(format!("`{part}` is not in {}, as the heading says", headings.join(" or ")));
        }
    }
    Ok(())
}

fn is_number(text: &str) -> bool {
    let digits = text.replace(['+', '-', '.'], "");
    !digits.is_empty() && digits.bytes().all(|byte| byte.is_ascii_digit())
}

/// `14.04.2026` is a day in one way only; with strokes between, which is the month nobody knows.
fn day(cell: &str) -> String {
    let parts: Vec<&str> = cell.split('.').map(str::trim).collect();
    let is_plain = |text: &&str| text.bytes().all(|byte| byte.is_ascii_digit());
    match parts.as_slice() {
        [day, month, year] if parts.iter().all(is_plain) && year.len() == 4 => {
            format!("{year}-{month:0>2}-{day:0>2}")
        }
        _ => cell.to_owned(),
    }
}

/// The words of a cell; `1 150,5` is one.
fn words(cell: &str, reads: Reads) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for word in cell.replace('−', "-").split(' ') {
        let is_group = |text: &str| text.len() == 3 && text.bytes().all(|byte| byte.is_ascii_digit());
        let groups = word.split([',', '.']).next().unwrap_or_default();
        // Spaces between thousands.
        if reads.is_quantity
            && is_group(groups)
            && let Some(before) = words.last_mut()
            && before.trim_start_matches(['+', '-']).len() <= 3
            && is_number(before)
            && !before.contains('.')
        {
            before.push_str(word);
            continue;
        }
        words.push(word.to_owned());
    }
    words
}

/// A word as the number in it, with its sign, and what comes before and after that.
fn number_in(word: &str) -> Option<(&str, &str, &str)> {
    let (grade, rest) = match word.strip_prefix('G') {
        Some(rest) if rest.starts_with(|c: char| c.is_ascii_digit()) => word.split_at(word.len() - rest.len()),
        _ => ("", word),
    };
    let length = rest.find(|c: char| !(c.is_ascii_digit() || "+-.,".contains(c))).unwrap_or(rest.len());
    let number = rest[..length].trim_end_matches(',');
    number.contains(|c: char| c.is_ascii_digit()).then(|| (grade, number, &rest[number.len()..]))
}

/// The numbers of a cell as they are written.
pub(super) fn numbers_in(cell: &str, reads: Reads) -> Vec<String> {
    words(cell, reads).iter().filter_map(|word| Some(number_in(word)?.1.to_owned())).collect()
}

/// The words of a cell with each number as a sheet writes it: a decimal point, nothing between thousands, its unit apart.
fn numbers(cell: &str, decimals: &Decimals, reads: Reads) -> Result<Vec<String>, String> {
    let words = words(cell, reads);
    let mut written = Vec::new();
    for word in &words {
        let Some((grade, number, behind)) = number_in(word) else {
            written.push(word.clone());
            continue;
        };
        if !grade.is_empty() {
            written.push(grade.to_owned());
        }
        let is_bare = words.len() <= 2 && behind.is_empty() && grade.is_empty() && !cell.contains(' ');
        let read = decimals.read(number, is_bare, reads.is_one)?;
        let (listed, behind) = behind.split_at(behind.len() - behind.trim_start_matches(',').len());
        // A power of ten belongs to its number, a unit stands apart from it.
        let is_power = behind.strip_prefix(['e', 'E']).is_some_and(is_number);
        match behind.chars().next() {
            Some(first) if !is_power && (first.is_alphabetic() || "%°µ".contains(first)) => {
                written.push(format!("{read}{listed}"));
                written.push(behind.to_owned());
            }
            _ => written.push(format!("{read}{listed}{behind}")),
        }
    }
    Ok(written)
}

#[cfg(test)]
mod tests {
    use super::super::decimals::Mark;
    use super::*;

    const ONE: Reads = Reads { is_quantity: true, is_one: true };

    #[test]
    fn decimal_commas_in_every_form() {
        let commas = Decimals::said(Mark::Comma);
        let read = |cell: &str| numbers(cell, &commas, ONE).map(|words| words.join(" "));
        for (cell, written) in [
            ("134,2", "134.2"),
            ("3,00 g", "3.00 g"),
            ("12,0cm", "12.0 cm"),
            ("G 6,3", "G 6.3"),
            ("G6,3", "G 6.3"),
            ("1.150,5 rpm", "1150.5 rpm"),
            ("1 150,5 rpm", "1150.5 rpm"),
            ("−14,5", "-14.5"),
            ("3,00 g ± 0,01 g", "3.00 g ± 0.01 g"),
            ("0 mm, 164,5 mm", "0 mm, 164.5 mm"),
            ("8,8 div @ 310 deg", "8.8 div @ 310 deg"),
            ("1,5e-3 kg", "1.5e-3 kg"),
        ] {
            assert_eq!(read(cell).as_deref(), Ok(written), "{cell}");
        }
        for doubtful in ["1.150", "1.150 rpm", "134.2", "1,150,000", "1.15,5"] {
            assert!(read(doubtful).is_err(), "{doubtful}");
        }
    }

    #[test]
    fn a_comma_that_three_digits_do_not_follow_is_between_no_thousands() {
        let read = |cell: &str, is_one: bool| {
            numbers(cell, &Decimals::default(), Reads { is_quantity: is_one, is_one }).map(|words| words.join(" "))
        };
        for (cell, written) in
            [("12,8", "12.8"), ("4,1 g", "4.1 g"), ("-0,25", "-0.25"), ("1,1505", "1.1505"), ("1,150,000", "1150000")]
        {
            assert_eq!(read(cell, true).as_deref(), Ok(written), "{cell}");
        }
        // 1150, or 1.150; and of a list, two values or one.
        for (doubtful, is_one) in [("1,150", true), ("12.875 rpm", true), ("12,8", false)] {
            assert!(read(doubtful, is_one).is_err(), "{doubtful}");
        }
    }

    #[test]
    fn days_blanks_and_sums() {
        assert_eq!(["14.04.2026", "4.4.2026", "04/05/2026"].map(day), ["2026-04-14", "2026-04-04", "04/05/2026"]);
        assert!(["", "-", "–", "n/a"].map(is_blank).iter().all(|blank| *blank) && !is_blank("-14"));
        assert!(
            ["TOTAL", "Summe:", "total 2025", "∑", "Grand total", "Sub-total"].map(is_sum).iter().all(|sum| *sum)
                && !is_sum("total loss fan")
        );
    }
}
