//! Days as numbers, to draw lines over them.

use crate::book::Day;

/// Days since 1970-01-01. Source: the civil calendar's own rules.
pub fn number(day: Day) -> f64 {
    let (year, month) = (i64::from(day.year), i64::from(day.month));
    // Years that begin in March have their odd day at the end.
    let (year, month) = if month <= 2 { (year - 1, month + 9) } else { (year, month - 3) };
    let era = year.div_euclid(400);
    let of_era = year - era * 400;
    let of_year = (153 * month + 2) / 5 + i64::from(day.day) - 1;
    (era * 146_097 + of_era * 365 + of_era / 4 - of_era / 100 + of_year - 719_468) as f64
}

/// The day of a number.
pub fn day(number: f64) -> Day {
    let days = number.round() as i64 + 719_468;
    let era = days.div_euclid(146_097);
    let of_era = days - era * 146_097;
    let year = (of_era - of_era / 1_460 + of_era / 36_524 - of_era / 146_096) / 365;
    let of_year = of_era - (365 * year + year / 4 - year / 100);
    let month = (5 * of_year + 2) / 153;
    let day = of_year - (153 * month + 2) / 5 + 1;
    let (month, later) = if month < 10 { (month + 3, 0) } else { (month - 9, 1) };
    Day { year: (year + era * 400 + later) as i16, month: month as i8, day: day as i8 }
}

const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// `April 2026`
pub fn month(day: Day) -> String {
    let name = usize::try_from(day.month - 1).ok().and_then(|n| MONTHS.get(n)).copied().unwrap_or_default();
    format!("{name} {}", day.year)
}

#[cfg(test)]
mod tests {
    use super::*;

    // By hand: 2000-03-01 is day 11,017; 2024 has a 29th of February.
    #[test]
    fn days_are_counted_and_counted_back() {
        let of = |year, month, day| Day { year, month, day };
        assert_eq!(number(of(1970, 1, 1)), 0.0);
        assert_eq!(number(of(2000, 3, 1)), 11_017.0);
        assert_eq!(number(of(2024, 3, 1)) - number(of(2024, 2, 28)), 2.0);
        for n in [-1.0, 0.0, 59.0, 60.0, 11_016.0, 20_000.0, 25_567.0] {
            assert_eq!(number(day(n)), n);
        }
        assert_eq!(month(of(2026, 4, 30)), "April 2026");
    }
}
