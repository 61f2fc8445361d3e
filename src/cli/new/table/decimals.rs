//! Whether the numbers of a column have a decimal point or a decimal comma: `1.150` by itself is 1150 or 1.150.

use std::fmt;

use super::cell;

/// A sign within a number.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(in crate::cli::new) enum Mark {
    Point,
    Comma,
}

impl Mark {
    const fn letter(self) -> char {
        match self {
            Mark::Point => '.',
            Mark::Comma => ',',
        }
    }

    const fn other(self) -> Self {
        match self {
            Mark::Point => Mark::Comma,
            Mark::Comma => Mark::Point,
        }
    }

    pub const fn option(self) -> &'static str {
        match self {
            Mark::Point => "--decimal-point",
            Mark::Comma => "--decimal-comma",
        }
    }
}

/// `point`, `comma`
impl fmt::Display for Mark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Mark::Point => "point",
            Mark::Comma => "comma",
        })
    }
}

/// How a number is written.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Form {
    /// `1150`
    Whole,
    /// `12,5`, `0.150`, `1.150,5`: read in one way only.
    Decimal(Mark),
    /// `1.150.000`: likewise.
    Thousands(Mark),
    /// `1.150`
    Doubtful(Mark),
    /// `1.15,5`
    Neither,
}

/// No group of thousands begins with a zero, and each but the first has three digits.
fn form(number: &str) -> Form {
    let digits = number.trim_start_matches(['+', '-']);
    let count = |mark: Mark| digits.matches(mark.letter()).count();
    let are_thousands = |text: &str, mark: Mark| {
        let mut groups = text.split(mark.letter());
        let first = groups.next().unwrap_or_default();
        (1..=3).contains(&first.len()) && !first.starts_with('0') && groups.all(|group| group.len() == 3)
    };
    let last = match digits.rfind(['.', ',']) {
        None => return Form::Whole,
        Some(at) if at + 1 == digits.len() => return Form::Neither,
        Some(at) if digits[at..].starts_with(',') => Mark::Comma,
        Some(_) => Mark::Point,
    };
    match (count(last), count(last.other())) {
        (1, 0) if are_thousands(digits, last) => Form::Doubtful(last),
        (1, 0) => Form::Decimal(last),
        (1, _) => match digits.rsplit_once(last.letter()) {
            Some((whole, _)) if are_thousands(whole, last.other()) => Form::Decimal(last),
            _ => Form::Neither,
        },
        (_, 0) if are_thousands(digits, last) => Form::Thousands(last),
        _ => Form::Neither,
    }
}

/// What is known of the decimal sign of a column.
#[derive(Clone, Default, Debug)]
pub(super) struct Decimals {
    /// By the command line.
    said: Option<Mark>,
    /// By numbers of the column that are read in one way only, the first of each.
    seen: Vec<(Mark, String)>,
}

impl Decimals {
    pub fn said(mark: Mark) -> Self {
        Self { said: Some(mark), seen: Vec::new() }
    }

    /// Of what is written as a sheet has it.
    pub fn of_a_sheet() -> Self {
        Self { said: None, seen: vec![(Mark::Point, "a sheet".to_owned())] }
    }

    /// Of the cells of a column, each with its line. In a list a comma may be between two values, and tells nothing.
    pub fn of_column<'c>(cells: impl Iterator<Item = (usize, &'c str)>, reads: cell::Reads) -> Self {
        let mut all = Self::default();
        for (line, cell) in cells {
            for number in cell::numbers_in(cell, reads) {
                let mark = match form(&number) {
                    Form::Decimal(mark) => mark,
                    Form::Thousands(mark) => mark.other(),
                    _ => continue,
                };
                let is_list = !reads.is_one && number.matches(',').count() > 0 && !number.contains('.');
                if !is_list && all.seen.iter().all(|(other, _)| *other != mark) {
                    all.seen.push((mark, format!("`{number}` in line {line}")));
                }
            }
        }
        all
    }

    /// The number that tells, where the column alone does.
    pub fn is_told_by(&self, mark: Mark) -> Option<&str> {
        match (self.said, self.seen.as_slice()) {
            (None, [(seen, number)]) if *seen == mark => Some(number),
            _ => None,
        }
    }

    fn mark(&self) -> Option<Mark> {
        self.said.or(match self.seen.as_slice() {
            [(mark, _)] => Some(*mark),
            _ => None,
        })
    }

    /// A number with a decimal point and nothing between thousands; `Err` says what may be meant, and what to write.
    pub fn read(&self, number: &str, is_bare: bool, is_one: bool) -> Result<String, String> {
        let plain = |decimal: Mark| number.replace(decimal.other().letter(), "").replace(decimal.letter(), ".");
        let mark = self.mark();
        let is_list = !is_one && self.said != Some(Mark::Comma) && number.contains(',');
        match form(number) {
            Form::Whole => Ok(number.to_owned()),
            _ if is_list => {
                Err(format!("`{number}` may be one number or several; write a space after the comma between two"))
            }
            Form::Neither => Err(format!("`{number}` cannot be read as a number")),
            // A number with a unit is read on its own, whatever the option says.
            Form::Decimal(own) if self.said == Some(own.other()) && is_bare => Err(format!(
                "`{number}` has a decimal {own}, and {} says otherwise; write `{}`",
                own.other().option(),
                swapped(number)
            )),
            Form::Decimal(own) => Ok(plain(own)),
            Form::Thousands(own) if self.said == Some(own) => {
                Err(format!("`{number}` cannot be read as a number with a decimal {own}"))
            }
            Form::Thousands(own) => Ok(plain(own.other())),
            Form::Doubtful(own) if mark == Some(own) => Ok(plain(own)),
            Form::Doubtful(own) => Err(self.doubt(number, own)),
        }
    }

    fn doubt(&self, number: &str, own: Mark) -> String {
        let (whole, part) = (number.replace(own.letter(), ""), number.replace(own.letter(), "."));
        let other = swapped(number);
        let may_be = format!("`{number}` may be {whole} or {part}");
        match (self.said, self.seen.as_slice()) {
            (Some(said), _) => {
                format!("{may_be}: write `{whole}`, or `{other}` with the {said} that {} says", said.option())
            }
            (None, [(_, beside)]) => {
                format!("{may_be}, as {beside} has a decimal {}: write `{whole}` or `{other}`", own.other())
            }
            (None, [(_, one), (_, another), ..]) => {
                format!(
                    "{may_be}, as {one} and {another} do not have the same decimal sign: write `{whole}`, or one sign in the whole column"
                )
            }
            (None, []) => format!(
                "{may_be}, and no other number of its column tells which: write `{whole}`, or say {} if it is {part}",
                own.option()
            ),
        }
    }
}

/// With the other sign.
fn swapped(number: &str) -> String {
    let swap = |c: char| match c {
        '.' => ',',
        ',' => '.',
        c => c,
    };
    number.chars().map(swap).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_is_read_in_one_way_or_two() {
        for (number, is) in [
            ("1150", Form::Whole),
            ("12,5", Form::Decimal(Mark::Comma)),
            ("1150.500", Form::Decimal(Mark::Point)),
            ("0,150", Form::Decimal(Mark::Comma)),
            ("-0.150", Form::Decimal(Mark::Point)),
            ("1.150,5", Form::Decimal(Mark::Comma)),
            ("1,150.5", Form::Decimal(Mark::Point)),
            ("1.150", Form::Doubtful(Mark::Point)),
            ("-12,875", Form::Doubtful(Mark::Comma)),
            ("1.150.000", Form::Thousands(Mark::Point)),
            ("1.15,5", Form::Neither),
            ("1,5.5,5", Form::Neither),
            ("12,", Form::Neither),
        ] {
            assert_eq!(form(number), is, "{number}");
        }
    }

    #[test]
    fn the_column_tells_which() {
        let reads = cell::Reads { is_quantity: true, is_one: true };
        let read = |column: &[&str], number: &str| {
            let cells = column.iter().enumerate().map(|(n, cell)| (n + 2, *cell));
            Decimals::of_column(cells, reads).read(number, true, true)
        };
        for (column, number, is) in [
            (["1149,5", "1,150"], "1,150", "1.150"),
            (["1149.5", "1.150"], "1.150", "1.150"),
            (["0.980", "1.150"], "1.150", "1.150"),
            (["1.150.000", "1,150"], "1,150", "1.150"),
        ] {
            assert_eq!(read(&column, number).as_deref(), Ok(is), "{column:?}");
        }
        for (column, number, says) in [
            (
                ["1149,5", "1.150"],
                "1.150",
                "may be 1150 or 1.150, as `1149,5` in line 2 has a decimal comma: write `1150` or `1,150`",
            ),
            (["1149.5", "1,150"], "1,150", "write `1150` or `1.150`"),
            (
                ["980", "1.150"],
                "1.150",
                "no other number of its column tells which: write `1150`, or say --decimal-point if it is 1.150",
            ),
            (["12.5", "12,5"], "1.150", "do not have the same decimal sign"),
        ] {
            let why = read(&column, number).unwrap_err();
            assert!(why.contains(says), "{why}");
        }
        assert!(Decimals::said(Mark::Comma).read("134.2", true, true).unwrap_err().contains("write `134,2`"));
    }
}
