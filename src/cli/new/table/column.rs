//! Which fact a column of the table holds, and in which unit.

use super::Asked;
use crate::cli::Failure;
use crate::cli::new::sheet::Draft;
use crate::limits::{COMPARED_CHARACTERS, NAMES_LISTED};
use crate::sheet::nearest;
use crate::syntax::Kind;
use crate::text::{cut, harmless};
use crate::units::Unit;
use crate::vocabulary::{self, KeySpec};

/// The column that names the item.
const NAME: &str = "name";

pub(super) struct Column {
    /// Its place in the table.
    pub at: usize,
    pub header: String,
    /// The inner block: its kind and name.
    pub block: Option<(Kind, Option<String>)>,
    /// The head of the fact: a key, or a name where the block's facts are named.
    pub fact: String,
    /// `None` for the name of the item.
    pub key: Option<&'static KeySpec>,
    /// The unit of numbers that have none of their own.
    pub unit: Option<String>,
    /// What holds in every row, whatever the table has.
    pub always: Option<String>,
}

impl Column {
    pub fn is_name(&self) -> bool {
        self.key.is_none()
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

/// Columns as they are mapped; one whose header is a fact of the item needs no mapping.
pub(super) fn columns(asked: &Asked<'_>, heads: &[String]) -> Result<Vec<Column>, Failure> {
    let mut columns = Vec::new();
    for (fact, value) in asked.set_in_blocks {
        columns.push(Column { always: Some(value.clone()), ..column(asked, fact, fact, 0)? });
    }
    for (fact, header) in asked.columns {
        let at = heads.iter().position(|head| head == header).ok_or_else(|| no_header(header, heads))?;
        columns.push(column(asked, fact, header, at)?);
    }
    for (at, header) in heads.iter().enumerate().filter(|(_, header)| !header.is_empty()) {
        let (words, _) = without_unit(header);
        let stands = columns.iter().any(|column: &Column| {
            column.always.is_none() && column.at == at || column.block.is_none() && column.fact == words
        });
        if !stands && (words == NAME || Draft::new(asked.kind).key(words).is_some()) {
            columns.push(column(asked, words, header, at)?);
        }
    }
    let mapped =
        |fact: &str| asked.columns.iter().any(|(own, _)| own == fact) || columns.iter().any(|own| own.fact == fact);
    if let Some((fact, _)) = asked.units.iter().find(|(fact, _)| !mapped(fact)) {
        return Err(Failure::new(format!("--unit names `{fact}`, which no column holds")));
    }
    Ok(columns)
}

fn no_header(header: &str, heads: &[String]) -> Failure {
    let failure = Failure::new(format!("the table has no column `{header}`"));
    match nearest(header, heads.iter().map(String::as_str)) {
        Some(near) => failure.help(format!("did you mean `{near}`?")),
        None => failure.help(format!("it has {}", list(heads, "`"))),
    }
}

fn column(asked: &Asked<'_>, fact: &str, header: &str, at: usize) -> Result<Column, Failure> {
    let unit = match asked.units.iter().find(|(own, _)| own == fact) {
        Some((_, unit)) => {
            Unit::parse(unit).map_err(|_| Failure::new(format!("`{unit}` is no unit that a sheet knows")))?;
            Some(unit.clone())
        }
        None => without_unit(header).1,
    };
    let column = |block, fact: &str, key| Column {
        at,
        header: header.to_owned(),
        block,
        fact: fact.to_owned(),
        key,
        unit,
        always: None,
    };
    if fact == NAME {
        return Ok(column(None, fact, None));
    }
    let Some((block, head)) = fact.rsplit_once(" / ") else {
        let key = Draft::new(asked.kind).key(fact).ok_or_else(|| unknown(asked.kind, fact))?;
        return Ok(column(None, fact, Some(key)));
    };
    let (kind, name) = inner(asked.kind, block).ok_or_else(|| {
        Failure::new(format!("a {} has no block `{block}`", asked.kind))
            .help("write it as in a sheet, then ` / ` and the fact: `calibrate hub / mass`")
    })?;
    let spec = vocabulary::block(kind);
    let named = spec.named_facts.as_ref().map(|named| &named.spec);
    let key = Draft::new(kind).key(head).or(named).ok_or_else(|| unknown(kind, head))?;
    Ok(column(Some((kind, name)), head, Some(key)))
}

fn unknown(kind: Kind, fact: &str) -> Failure {
    let keys = vocabulary::block(kind).keys.iter().map(|key| key.name);
    let failure = Failure::new(format!("a {kind} has no `{fact}`"));
    match nearest(fact, keys.clone()) {
        Some(near) => failure.help(format!("did you mean `{near}`?")),
        None => failure.help(format!("it may have {}", keys.collect::<Vec<_>>().join(", "))),
    }
}

/// `calibrate hub`: a kind of block that the item holds, and its name.
fn inner(item: Kind, block: &str) -> Option<(Kind, Option<String>)> {
    let kinds = Kind::all_in(Some(item));
    let matching = kinds.filter_map(|kind| {
        let rest = block.strip_prefix(kind.words())?;
        match rest.strip_prefix(' ').map(str::trim) {
            Some(name) if !name.is_empty() => Some((kind, Some(name.trim_matches('"').to_owned()))),
            _ if rest.is_empty() => Some((kind, None)),
            _ => None,
        }
    });
    matching.max_by_key(|(kind, _)| kind.words().len())
}

/// A header without the unit that stands behind it in brackets: `n [rpm]`, `mass (g)`.
fn without_unit(header: &str) -> (&str, Option<String>) {
    for (open, close) in [('[', ']'), ('(', ')')] {
        let Some((words, rest)) = header.split_once(open) else { continue };
        let Some(unit) = rest.strip_suffix(close).map(str::trim) else { continue };
        if Unit::parse(unit).is_ok() {
            return (words.trim(), Some(unit.to_owned()));
        }
    }
    (header, None)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn units_in_headers() {
        assert_eq!(without_unit("n [rpm]"), ("n", Some("rpm".to_owned())));
        assert_eq!(without_unit("mass (g)"), ("mass", Some("g".to_owned())));
        assert_eq!(without_unit("mass (with wax)"), ("mass (with wax)", None));
    }

    #[test]
    fn blocks_of_an_item() {
        assert_eq!(inner(Kind::Setup, "calibrate hub"), Some((Kind::Calibrate, Some("hub".to_owned()))));
        assert_eq!(inner(Kind::Setup, "check mass"), Some((Kind::CheckMass, None)));
        assert_eq!(inner(Kind::Rotor, "tolerance"), Some((Kind::Tolerance, None)));
        assert_eq!(inner(Kind::Setup, "plane hub"), None);
    }
}
