//! Which fact a column of the table holds, and in which unit.

use super::Asked;
use super::cell::{Reads, Units};
use super::decimals::Decimals;
use super::read::TableOnDisk;
use crate::cli::Failure;
use crate::cli::new::fact::{FactAt, fact_at};
use crate::limits::{COMPARED_CHARACTERS, NAMES_LISTED};
use crate::sheet::nearest;
use crate::starting::Draft;
use crate::text::{cut, harmless};
use crate::units::{Dimension, Unit};
use crate::vocabulary::ValueType;

/// The column that names the item.
const NAME: &str = "name";

pub(super) struct Column {
    /// Its place in the table.
    pub at: usize,
    pub header: String,
    /// `None` for the name of the item.
    pub fact: Option<FactAt>,
    /// Of numbers that have none of their own.
    pub units: Units,
    pub decimals: Decimals,
    /// What holds in every row, whatever the table has.
    pub always: Option<String>,
}

impl Column {
    /// Whether its heading says that it holds angles.
    pub fn is_of_angles(&self) -> bool {
        let units = match &self.units {
            Units::One(unit) => std::slice::from_ref(unit),
            Units::Several(units) => units.as_slice(),
            Units::None | Units::Otherwise(_) => return false,
        };
        units.iter().all(|unit| Unit::parse(unit).is_ok_and(|unit| unit.dimension() == Dimension::ANGLE))
    }

    pub fn is_name(&self) -> bool {
        self.fact.is_none()
    }

    /// Whether both hold the same fact.
    pub fn is_beside(&self, other: &Self) -> bool {
        let of = |column: &'_ Self| column.fact.as_ref().map(|fact| (fact.path.clone(), fact.head.clone()));
        of(self) == of(other)
    }
}

pub(super) fn is_used(columns: &[Column], header: &str) -> bool {
    columns.iter().any(|column| column.always.is_none() && column.header == header)
}

/// The first of the heads between marks, each cut where it is long.
pub(super) fn list<S: AsRef<str>>(heads: &[S], mark: &str) -> String {
    let shown = |head: &S| {
        let mut head = harmless(head.as_ref());
        cut(&mut head, COMPARED_CHARACTERS);
        format!("{mark}{head}{mark}")
    };
    let listed = heads.iter().take(NAMES_LISTED).map(shown).collect::<Vec<_>>().join(", ");
    match heads.len().saturating_sub(NAMES_LISTED) {
        0 => listed,
        more => format!("{listed} and {more} more"),
    }
}

/// The headers that the table must have.
pub(super) fn wanted<'a>(asked: &Asked<'a>) -> Vec<&'a str> {
    let headers: Vec<&str> = asked.columns.iter().map(|(_, header)| &**header).collect();
    if headers.is_empty() { vec![NAME] } else { headers }
}

/// Columns as they are mapped; one whose header is a fact of the item needs no mapping.
pub(super) fn columns(asked: &Asked<'_>, table: &TableOnDisk) -> Result<Vec<Column>, Failure> {
    let heads = &table.heads;
    let mut columns = Vec::new();
    for (fact, value) in asked.set {
        columns.push(Column { always: Some(value.clone()), ..column(asked, fact, fact, 0)? });
    }
    for (fact, header) in asked.columns {
        let at = heads.iter().position(|head| head == header).ok_or_else(|| no_header(header, heads))?;
        columns.push(column(asked, fact, header, at)?);
    }
    for (at, header) in heads.iter().enumerate().filter(|(_, header)| !header.is_empty()) {
        let (words, _) = without_unit(header);
        let stands = columns.iter().any(|column: &Column| {
            let is_it = |fact: &FactAt| fact.path.is_empty() && fact.head == words;
            column.always.is_none() && column.at == at || column.fact.as_ref().map_or(words == NAME, is_it)
        });
        if !stands && (words == NAME || Draft::new(asked.kind).key(words).is_some()) {
            columns.push(column(asked, words, header, at)?);
        }
    }
    one_each(&columns)?;
    for column in columns.iter_mut().filter(|column| column.always.is_none()) {
        let Some(fact) = &column.fact else { continue };
        let cells = table.rows.iter().filter_map(|row| Some((row.line, row.cells.get(column.at)?.as_str())));
        column.decimals = match asked.decimals {
            Some(mark) => Decimals::said(mark),
            None => Decimals::of_column(cells, Reads::of(fact.key)),
        };
    }
    let mapped = |fact: &str| {
        let is_it = |column: &Column| column.fact.as_ref().is_some_and(|own| own.path.is_empty() && own.head == fact);
        asked.columns.iter().any(|(own, _)| own == fact) || columns.iter().any(is_it)
    };
    if let Some((fact, _)) = asked.units.iter().find(|(fact, _)| !mapped(fact)) {
        return Err(Failure::new(format!("--unit names `{fact}`, which no column holds")));
    }
    Ok(columns)
}

/// Several columns are the values of one list, in their order; a reading may have one for its amount and one for its angle;
/// another fact has one.
fn one_each(columns: &[Column]) -> Result<(), Failure> {
    for (n, column) in columns.iter().enumerate() {
        let Some(first) = columns[..n].iter().find(|first| first.is_beside(column)) else { continue };
        let is_list = column.fact.as_ref().is_some_and(|fact| {
            matches!(fact.key.value, ValueType::Quantities(..) | ValueType::Readings | ValueType::Names(_))
        });
        let of_one: Vec<&Column> = columns.iter().filter(|other| other.is_beside(column)).collect();
        let is_vector = column.fact.as_ref().is_some_and(|fact| fact.key.value == ValueType::Reading)
            && of_one.len() == 2
            && of_one.iter().filter(|column| column.is_of_angles()).count() == 1;
        if !(is_list || is_vector) || first.always.is_some() || column.always.is_some() {
            let what = column.fact.as_ref().map_or(NAME, |fact| &fact.head);
            let both = list(&[&first.header, &column.header], "`");
            return Err(Failure::new(format!("`{what}` is one value, and {both} both give it")));
        }
    }
    Ok(())
}

fn no_header(header: &str, heads: &[String]) -> Failure {
    let failure = Failure::new(format!("the table has no column `{header}`"));
    match nearest(header, heads.iter().map(String::as_str)) {
        Some(near) => failure.help(format!("did you mean `{near}`?")),
        None => failure.help(format!("it has {}", list(heads, "`"))),
    }
}

fn column(asked: &Asked<'_>, fact: &str, header: &str, at: usize) -> Result<Column, Failure> {
    let own = without_unit(header).1;
    let is_of_angles =
        matches!(&own, Units::One(unit) if Unit::parse(unit).is_ok_and(|unit| unit.dimension() == Dimension::ANGLE));
    let units = match asked.units.iter().find(|(own, _)| own == fact) {
        // Of a reading in two columns, the unit is that of its amount.
        Some(_) if is_of_angles && header != fact => own,
        Some((_, unit)) => {
            Unit::parse(unit).map_err(|_| Failure::new(format!("`{unit}` is not a unit that a sheet knows")))?;
            Units::Otherwise(unit.clone())
        }
        None => own,
    };
    let fact = if fact == NAME { None } else { Some(fact_at(asked.kind, fact)?) };
    Ok(Column { at, header: header.to_owned(), fact, units, decimals: Decimals::of_a_sheet(), always: None })
}

/// A header without the units that come after it in brackets or after a comma: `n [rpm]`, `mass (g)`, `m [g or oz]`.
fn without_unit(header: &str) -> (&str, Units) {
    let is_unit = |text: &&str| Unit::parse(text).is_ok();
    for (open, close) in [('[', ']'), ('(', ')')] {
        let Some((words, rest)) = header.split_once(open) else { continue };
        let Some(written) = rest.strip_suffix(close).map(str::trim) else { continue };
        for mark in [" or ", ", ", "; ", " / ", "/", ",", "|"] {
            let several: Vec<&str> = written.split(mark).map(str::trim).collect();
            // `g/oz` are two units of the same kind, `1/min` is one.
            let alike = |units: &[&str]| {
                let dimensions: Vec<_> = units.iter().filter_map(|unit| Unit::parse(unit).ok()).collect();
                dimensions.windows(2).all(|two| two[0].dimension() == two[1].dimension())
            };
            if several.len() > 1 && several.iter().all(is_unit) && alike(&several) {
                return (words.trim(), Units::Several(several.into_iter().map(str::to_owned).collect()));
            }
        }
        if is_unit(&written) {
            return (words.trim(), Units::One(written.to_owned()));
        }
    }
    (header, Units::None)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn units_in_headers() {
        let one = |unit: &str| Units::One(unit.to_owned());
        assert_eq!(without_unit("n [rpm]"), ("n", one("rpm")));
        assert_eq!(without_unit("mass (g)"), ("mass", one("g")));
        assert_eq!(without_unit("n [1/min]"), ("n", one("1/min")));
        assert_eq!(without_unit("mass (with wax)"), ("mass (with wax)", Units::None));
        let both = Units::Several(vec!["g".to_owned(), "oz".to_owned()]);
        assert_eq!(without_unit("m [g/oz]").1, both);
        assert_eq!(without_unit("m (g or oz)").1, both);
    }
}
