//! The proofs of a setup by their days.

use super::effective::{EffectiveBlock, EffectiveField};
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::vocabulary::{Date, Fact, proof};

/// A day as a sheet states it. Days compare by year, month and day.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Day {
    pub year: i16,
    pub month: i8,
    pub day: i8,
}

impl Day {
    pub fn of(value: &FieldValue) -> Option<Self> {
        match *value {
            FieldValue::Date { year, month, day } => Some(Self { year, month, day }),
            FieldValue::OfDay(ref one) => Some(Self { year: one.year, month: one.month, day: one.day }),
            _ => None,
        }
    }

    /// Of `2026-03-02`.
    pub fn read(text: &str) -> Option<Self> {
        let mut parts = text.splitn(3, '-');
        let (year, month, day) = (parts.next()?, parts.next()?, parts.next()?);
        Some(Self { year: year.parse().ok()?, month: month.parse().ok()?, day: day.parse().ok()? })
    }

    /// Counted from a day of its own, so that a difference is a number of days. Source: the Gregorian calendar, years that
    /// begin in March.
    pub fn number(self) -> i64 {
        let month = (i64::from(self.month) + 9) % 12;
        let year = i64::from(self.year) - i64::from(month > 9);
        365 * year + year.div_euclid(4) - year.div_euclid(100)
            + year.div_euclid(400)
            + (153 * month + 2) / 5
            + i64::from(self.day)
    }
}

impl std::fmt::Display for Day {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}

impl<'b> EffectiveBlock<'b> {
    /// The day that a fact of the block states.
    pub fn day(&self, fact: Fact<Date>) -> Option<Day> {
        Day::of(&self.field(fact)?.field.value)
    }

    /// The proof of a setup that its sheet is compared with: the latest by date, of one day the one that is written last.
    /// One that does not say what it was made with is not finished, and comes before none that does.
    pub fn latest_proof(&self) -> Option<&EffectiveBlock<'b>> {
        let finished = self.inner(Kind::Proof).filter(|one| one.proven_with().is_some());
        finished.max_by_key(|one| one.day(proof::DATE)).or_else(|| self.newest_proof())
    }

    /// The latest proof, whether or not it is finished.
    pub fn newest_proof(&self) -> Option<&EffectiveBlock<'b>> {
        self.inner(Kind::Proof).max_by_key(|one| one.day(proof::DATE))
    }

    /// A proof that has begun after the one that the sheet is compared with, and is not finished.
    pub fn unfinished_proof(&self) -> Option<&EffectiveBlock<'b>> {
        let (latest, newest) = (self.latest_proof()?, self.newest_proof()?);
        (latest.path != newest.path).then_some(newest)
    }

    /// What a proof was made with, as it says.
    pub fn proven_with(&self) -> Option<&EffectiveBlock<'b>> {
        self.inner(Kind::ProvenWith).next()
    }

    /// The latest of a fact that repeats, with its day, no later than `until`.
    pub fn latest(&self, fact: Fact<Date>, until: Option<Day>) -> Option<(Day, EffectiveField<'b>)> {
        let fields = self.fields.iter().filter(|field| field.field.key.is(fact));
        let days = fields.filter_map(|field| Some((Day::of(&field.field.value)?, *field)));
        days.filter(|(day, _)| until.is_none_or(|until| *day <= until)).max_by_key(|(day, _)| *day)
    }
}

#[cfg(test)]
mod tests {
    use super::Day;

    // By a library of dates: 1 day over a leap day's eve, 366 and 365 days a year, and 400 years of 146,097 days.
    #[test]
    fn days_are_counted_as_a_calendar_does() {
        let day = |year, month, day| Day { year, month, day };
        let of_library = |one: Day| jiff::civil::date(one.year, one.month, one.day);
        for (a, b) in [
            (day(2026, 2, 28), day(2026, 3, 1)),
            (day(2028, 2, 28), day(2028, 3, 1)),
            (day(2027, 12, 31), day(2028, 12, 31)),
            (day(2026, 3, 10), day(2026, 9, 12)),
            (day(1900, 1, 1), day(2300, 1, 1)),
        ] {
            let days = (of_library(b) - of_library(a)).get_days();
            assert_eq!(b.number() - a.number(), i64::from(days), "{a} {b}");
        }
    }
}
