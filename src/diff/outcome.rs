//! Whether a result is what it was.

use std::borrow::Cow;
use std::ops::Deref;

use super::value::near;
use crate::book::{Book, Column, Entry, Outcome, RowHead, printed};
use crate::units;

/// Uncertainties come from finite differences, whose noise is far below this share of them.
const SPREAD_SHARE: f64 = 1e-6;

/// Whether two standard uncertainties are the same.
pub(super) fn spread(a: f64, b: f64) -> bool {
    (a - b).abs() <= SPREAD_SHARE * a.abs().max(b.abs())
}

/// Whether a value is what it was: it differs by less than 1e-12 of the larger, or by less than a millionth of what it
/// is known to, for where two amounts nearly cancel only the noise of the arithmetic differs.
fn value(a: f64, b: f64, standard: f64) -> bool {
    near(a, b) || (a - b).abs() <= SPREAD_SHARE * standard
}

/// Angles are the same modulo one turn.
fn angle(a: f64, b: f64, standard: f64) -> bool {
    let turn = std::f64::consts::TAU;
    let apart = (a - b).rem_euclid(turn);
    apart.min(turn - apart) <= (1e-12 * turn).max(SPREAD_SHARE * standard)
}

/// What of a result is not what it was.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Differs {
    Nothing,
    /// What comes after `±`.
    Spread,
    Value,
}

pub(super) fn differs(old: &Outcome, new: &Outcome) -> Differs {
    use Outcome as O;
    let of = |value: bool, spread: bool| match (value, spread) {
        (false, _) => Differs::Value,
        (true, false) => Differs::Spread,
        (true, true) => Differs::Nothing,
    };
    match (old, new) {
        (O::Amount { base: a, unit: u, standard: s }, O::Amount { base: b, unit: v, standard: t }) => {
            of(u.dimension() == v.dimension() && value(*a, *b, s.min(*t)), spread(*s, *t) || idle(*s, *t, *a))
        }
        (
            O::Vector { base: a, angle: x, standard: s, angle_standard: p, meaning: m, sense: c, unit: u },
            O::Vector { base: b, angle: y, standard: t, angle_standard: q, meaning: n, sense: d, unit: v },
        ) => {
            let same = u.dimension() == v.dimension() && m == n && c == d && value(*a, *b, s.min(*t));
            // An amount of nothing points nowhere.
            let direction = angle(*x, *y, p.min(*q)) || (*a == 0.0 && *b == 0.0);
            of(same && direction, (spread(*s, *t) || idle(*s, *t, *a)) && (spread(*p, *q) || idle(*p, *q, 1.0)))
        }
        (
            O::Direction { angle: x, standard: s, meaning: m, sense: c },
            O::Direction { angle: y, standard: t, meaning: n, sense: d },
        ) => of(m == n && c == d && angle(*x, *y, s.min(*t)), spread(*s, *t) || idle(*s, *t, 1.0)),
        (O::ToSet { base: a, unit: u, .. }, O::ToSet { base: b, unit: v, .. }) => {
            of(u.dimension() == v.dimension() && value(*a, *b, 0.0), true)
        }
        (O::Count(a), O::Count(b)) => of(a == b, true),
        (O::Words(a), O::Words(b)) | (O::Void(a), O::Void(b)) => of(a == b || units::same_amounts(a, b), true),
        (O::Table { heads: g, columns: c, rows: a }, O::Table { heads: h, columns: d, rows: b }) => {
            let same_columns = c.len() == d.len()
                && c.iter().zip(d).all(|(c, d)| c.name == d.name && c.unit.dimension() == d.unit.dimension());
            let is_same = |(o, n): &(Option<usize>, Option<usize>)| {
                o.zip(*n).is_some_and(|(o, n)| g.get(o) == h.get(n) && row(&a[o], &b[n]))
            };
            let rows = || rows_beside((g, a.len()), (h, b.len())).is_some_and(|rows| rows.iter().all(is_same));
            of(same_columns && rows(), true)
        }
        (O::Missing(a), O::Missing(b)) => of(a.reason == b.reason && a.origin.name == b.origin.name, true),
        _ => Differs::Value,
    }
}

/// An uncertainty that no digit of the value shows.
fn idle(a: f64, b: f64, value: f64) -> bool {
    a.max(b) <= 1e-9 * value.abs()
}

fn row(a: &[Option<f64>], b: &[Option<f64>]) -> bool {
    a.len() == b.len() && a.iter().zip(b).all(|(a, b)| same_cell(*a, *b))
}

fn same_cell(a: Option<f64>, b: Option<f64>) -> bool {
    match (a, b) {
        (Some(a), Some(b)) => (a - b).abs() <= 1e-9 * a.abs().max(b.abs()),
        (None, None) => true,
        _ => false,
    }
}

/// Whether a result is what it was, uncertainty included.
#[cfg(feature = "internals")]
pub fn same_outcome(old: &Outcome, new: &Outcome) -> bool {
    differs(old, new) == Differs::Nothing
}

/// One side of a change as people read it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct AsRead {
    pub text: String,
    /// The same without uncertainties, where it has any.
    pub brief: Option<String>,
}

impl AsRead {
    pub(super) fn result(book: &Book, entry: &Entry) -> Self {
        let printed = printed(book, entry);
        let is_uncertain = !printed.uncertainties().is_empty();
        let brief = is_uncertain.then(|| printed.without_uncertainties().to_string());
        Self { text: printed.to_string(), brief }
    }
}

/// As a sheet states it.
impl From<String> for AsRead {
    fn from(text: String) -> Self {
        Self { text, brief: None }
    }
}

impl Deref for AsRead {
    type Target = str;

    fn deref(&self) -> &str {
        &self.text
    }
}

/// Both versions of a result as people read them; of two tables, the rows that differ.
pub(super) fn texts(old: (&Book, &Entry), new: (&Book, &Entry)) -> (AsRead, AsRead) {
    if let (Outcome::Table { .. }, Outcome::Table { .. }) = (&old.1.outcome, &new.1.outcome)
        && let Some(rows) = rows_that_differ(&old.1.outcome, &new.1.outcome)
    {
        return (rows.0.into(), rows.1.into());
    }
    (AsRead::result(old.0, old.1), AsRead::result(new.0, new.1))
}

/// The rows of two tables that differ, each beside the one of its name, and of those the cells of columns that differ.
fn rows_that_differ(old: &Outcome, new: &Outcome) -> Option<(String, String)> {
    let (old, new) = (Table::of(old)?, Table::of(new)?);
    let pairs = rows_beside((&old.heads, old.rows.len()), (&new.heads, new.rows.len()))?;
    let none = |name: &str| format!("no {name}");
    let text = |(o, n): (Option<usize>, Option<usize>)| match (o, n) {
        (Some(o), Some(n)) => old.row_beside(o, &new, n),
        (Some(o), None) => Some((old.row(o), none(old.name(o)))),
        (None, Some(n)) => Some((none(new.name(n)), new.row(n))),
        (None, None) => None,
    };
    let (a, b): (Vec<String>, Vec<String>) = pairs.into_iter().filter_map(text).unzip();
    (!a.is_empty() && a != b).then(|| (a.join("; "), b.join("; ")))
}

/// A table, each row of which has a name: its own, else what its first column says.
struct Table<'o> {
    heads: Cow<'o, [RowHead]>,
    columns: &'o [Column],
    rows: &'o [Vec<Option<f64>>],
}

impl<'o> Table<'o> {
    fn of(outcome: &'o Outcome) -> Option<Self> {
        let Outcome::Table { heads, columns, rows } = outcome else { return None };
        if heads.len() == rows.len() {
            return Some(Self { heads: Cow::Borrowed(heads), columns, rows });
        }
        let (first, others) = columns.split_first().filter(|(_, others)| !others.is_empty())?;
        let heads = rows.iter().map(|row| Some(RowHead { name: cell(*row.first()?, first).into(), about: "".into() }));
        let heads: Option<Vec<RowHead>> = heads.collect();
        Some(Self { heads: Cow::Owned(heads?), columns: others, rows })
    }

    /// The cells of a row, without the one that is its name.
    fn cells(&self, n: usize) -> impl Iterator<Item = (&'o Column, Option<f64>)> {
        let row = &self.rows[n];
        std::iter::zip(self.columns, row[row.len() - self.columns.len().min(row.len())..].iter().copied())
    }

    fn name(&self, n: usize) -> &str {
        self.heads.get(n).map_or("such row", |head| &head.name)
    }

    fn row(&self, n: usize) -> String {
        self.written(n, |_, value| value.is_some() || self.columns.len() == 1)
    }

    fn written(&self, n: usize, tells: impl Fn(&Column, Option<f64>) -> bool) -> String {
        let is_named = self.columns.len() > 1;
        let cells = self.cells(n).filter(|(column, value)| tells(column, *value));
        let cells = cells.map(|(column, value)| match is_named {
            true => format!("{} {}", column.name, cell(value, column)),
            false => cell(value, column),
        });
        let cells = cells.collect::<Vec<_>>().join(", ");
        self.heads.get(n).map_or(cells.clone(), |head| format!("{head}: {cells}"))
    }

    /// A row and the one that was it, where they differ: in the cells of the columns that differ.
    fn row_beside(&self, o: usize, new: &Table<'_>, n: usize) -> Option<(String, String)> {
        let value = |table: &Table<'_>, row: usize, name: &str| {
            table.cells(row).find(|(column, _)| column.name == name).map(|(_, value)| value)
        };
        let differs = |column: &Column| match (value(self, o, column.name), value(new, n, column.name)) {
            (Some(was), Some(is)) => !same_cell(was, is),
            (Some(one), None) | (None, Some(one)) => one.is_some(),
            (None, None) => false,
        };
        let same_head = self.heads.get(o) == new.heads.get(n);
        let any = self.columns.iter().chain(new.columns).any(differs);
        (!same_head || any)
            .then(|| (self.written(o, |one, _| !any || differs(one)), new.written(n, |one, _| !any || differs(one))))
    }
}

fn cell(value: Option<f64>, column: &Column) -> String {
    match value {
        Some(base) => units::quantity(column.unit.from_base(base), &column.unit.to_string(), None),
        None => "–".to_owned(),
    }
}

/// Rows of two tables side by side: by what each is of, in the order of the new table, then those that are gone; without
/// names as they follow each other, where both have as many.
fn rows_beside(old: (&[RowHead], usize), new: (&[RowHead], usize)) -> Option<Vec<(Option<usize>, Option<usize>)>> {
    if old.0.len() != old.1 || new.0.len() != new.1 {
        return (old.1 == new.1).then(|| (0..old.1).map(|n| (Some(n), Some(n))).collect());
    }
    let mut partner: Vec<Option<usize>> = vec![None; new.1];
    let mut taken = vec![false; old.1];
    let fits: [fn(&RowHead, &RowHead) -> bool; 2] = [|a, b| a == b, |a, b| a.name == b.name];
    for fits in fits {
        for (n, partner) in partner.iter_mut().enumerate().filter(|(_, partner)| partner.is_none()) {
            let found = (0..old.1).find(|o| !taken[*o] && fits(&old.0[*o], &new.0[n]));
            if let Some(o) = found {
                (*partner, taken[o]) = (Some(o), true);
            }
        }
    }
    let gone = (0..old.1).filter(|o| !taken[*o]).map(|o| (Some(o), None));
    Some(partner.iter().enumerate().map(|(n, o)| (*o, Some(n))).chain(gone).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Unit;

    fn budget(lines: &[(&str, &str, f64)]) -> Outcome {
        let column = crate::book::Column { name: "uncertainty", unit: Unit::ONE };
        Outcome::Table {
            heads: lines
                .iter()
                .map(|(name, about, _)| RowHead { name: (*name).into(), about: (*about).into() })
                .collect(),
            columns: vec![column],
            rows: lines.iter().map(|(.., amount)| vec![Some(*amount)]).collect(),
        }
    }

    #[test]
    fn rows_are_told_beside_those_of_their_name() {
        let old =
            budget(&[("scatter", "by measurement", 5.0), ("mounting", "as stated", 3.0), ("arbor", "as stated", 1.0)]);
        let new =
            budget(&[("mounting", "by default", 7.0), ("scatter", "by measurement", 5.0), ("drive", "as stated", 2.0)]);
        let (was, now) = rows_that_differ(&old, &new).unwrap_or_default();
        assert_eq!(was, "mounting, as stated: 3.00; no drive; arbor, as stated: 1.00");
        assert_eq!(now, "mounting, by default: 7.00; drive, as stated: 2.00; no arbor");
        let turned =
            budget(&[("mounting", "as stated", 3.0), ("arbor", "as stated", 1.0), ("scatter", "by measurement", 5.0)]);
        assert!(differs(&old, &turned) == Differs::Nothing && differs(&old, &new) == Differs::Value);
    }

    #[test]
    fn rows_without_a_name_are_told_beside_those_of_the_same_reading_by_what_differs() {
        let table = |columns: &[&'static str], rows: &[&[f64]]| Outcome::Table {
            heads: Vec::new(),
            columns: columns.iter().map(|name| Column { name, unit: Unit::ONE }).collect(),
            rows: rows.iter().map(|row| row.iter().map(|value| Some(*value)).collect()).collect(),
        };
        let old = table(&["reading", "mass", "holes"], &[&[5.0, 2.0, 1.0], &[10.0, 4.0, 2.0]]);
        let new = table(&["reading", "mass", "depth", "holes"], &[&[2.0, 0.8, 3.0, 1.0], &[10.0, 4.0, 6.0, 3.0]]);
        let (was, now) = rows_that_differ(&old, &new).unwrap_or_default();
        assert_eq!(was, "no 2.00; 10.0: holes 2.00; 5.00: mass 2.00, holes 1.00");
        assert_eq!(now, "2.00: mass 0.800, depth 3.00, holes 1.00; 10.0: depth 6.00, holes 3.00; no 5.00");
    }
}
