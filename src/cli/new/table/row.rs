//! One row as a sheet.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::Asked;
use super::cell;
use super::column::Column;
use super::read::{RowOnDisk, TableOnDisk};
use crate::book::{Book, SourceFile};
use crate::check::{self, Severity};
use crate::cli::Failure;
use crate::cli::new::fact::FactAt;
use crate::starting::Draft;
use crate::syntax::Kind;
use crate::vocabulary::{self, Choice, KeySpec, Need, ValueType, YesNo, run, setup};

pub(super) struct Sheets<'a> {
    pub asked: &'a Asked<'a>,
    pub columns: &'a [Column],
    /// The names that are taken: in the book, and by rows before.
    pub names: BTreeSet<String>,
    /// Names that several rows have, each with their lines.
    pub twice: Vec<(String, Vec<usize>)>,
}

/// What becomes of a row.
pub(super) enum Became {
    /// A sheet, and what was left of the row, cell by cell; last, cells that say that they say nothing.
    Sheet {
        name: String,
        text: String,
        left: Vec<String>,
        silent: Vec<String>,
    },
    /// Nothing: it is a sum, the heading again, or blank.
    Nothing(String),
    Refused(String),
}

impl Sheets<'_> {
    /// The names that more than one row has.
    pub fn twice(columns: &[Column], table: &TableOnDisk) -> Vec<(String, Vec<usize>)> {
        let mut names: Vec<(String, Vec<usize>)> = Vec::new();
        for row in table.rows.iter().filter(|row| row.cells.len() >= table.heads.len()) {
            let Some(name) = name_in(columns, row).filter(|name| !cell::is_sum(name)) else { continue };
            match names.iter_mut().find(|(own, _)| own == name) {
                Some((_, lines)) => lines.push(row.line),
                None => names.push((name.to_owned(), vec![row.line])),
            }
        }
        names.retain(|(_, lines)| lines.len() > 1);
        names
    }

    pub fn sheet(&mut self, table: &TableOnDisk, row: &RowOnDisk) -> Became {
        if let Some(why) = self.is_nothing(table, row) {
            return Became::Nothing(why);
        }
        self.taken(table, row).unwrap_or_else(Became::Refused)
    }

    /// Why a row is no sheet and is not meant to be one.
    fn is_nothing(&self, table: &TableOnDisk, row: &RowOnDisk) -> Option<String> {
        if row.cells == table.heads {
            return Some("the heading again".to_owned());
        }
        let in_table = |column: &&Column| column.always.is_none();
        let mut cells = self.columns.iter().filter(in_table).filter_map(|column| row.cells.get(column.at));
        if cells.all(|cell| cell::is_blank(cell)) {
            return Some("blank".to_owned());
        }
        let name = name_in(self.columns, row)?;
        let says = |column: &Column| {
            let is_text = |fact: &FactAt| matches!(fact.key.value, ValueType::Text | ValueType::Reference(_));
            column.fact.as_ref().is_some_and(is_text)
                // In the row of a sum a number there is how many rows there were.
                && row.cells.get(column.at).is_some_and(|cell| !cell::is_blank(cell) && !cell::is_count(cell))
        };
        let is_sum = cell::is_sum(name) && !self.columns.iter().filter(in_table).any(says);
        is_sum.then(|| format!("a sum, by its name \"{name}\""))
    }

    fn taken(&mut self, table: &TableOnDisk, row: &RowOnDisk) -> Result<Became, String> {
        let kind = self.asked.kind;
        if row.is_open {
            return Err(format!("a quote is opened and not closed; it takes in all up to line {}", row.last_line));
        }
        let rest = row.cells.get(table.heads.len()..).unwrap_or_default();
        if row.cells.len() < table.heads.len() || !rest.iter().all(String::is_empty) {
            let counted = format!("it has {} cells where the heads have {}", row.cells.len(), table.heads.len());
            return Err(match row.last_line > row.line {
                true => format!(
                    "{counted}; it takes in lines {} to {}, so a quote may be left open in it",
                    row.line, row.last_line
                ),
                false => counted,
            });
        }
        let name = name_in(self.columns, row).ok_or("it has no name")?;
        if let Some(fault) = check::fault_of_name(name) {
            return Err(fault);
        }
        if let Some((_, lines)) = self.twice.iter().find(|(own, _)| own == name) {
            let lines: Vec<String> = lines.iter().map(usize::to_string).collect();
            return Err(format!(
                "lines {} are all called \"{name}\", and none of them is taken: give each a name of its own",
                check::and_list(&lines)
            ));
        }
        if self.names.contains(name) {
            return Err(format!("there is a {kind} \"{name}\" already"));
        }
        let mut draft = Draft::named(kind, name);
        if kind == Kind::Setup {
            draft.set(setup::STATUS.words(), setup::Status::Draft.words().to_owned());
        }
        let (mut left, mut silent) = (Vec::new(), Vec::new());
        for (n, column) in self.columns.iter().enumerate() {
            let Some(fact) = &column.fact else { continue };
            if self.columns[..n].iter().any(|first| first.is_beside(column)) {
                continue;
            }
            // Several columns of one fact are the values of its list.
            let all: Vec<&Column> = self.columns[n..].iter().filter(|other| other.is_beside(column)).collect();
            let cells: Vec<&str> =
                all.iter().map(|column| column.always.as_deref().unwrap_or(&row.cells[column.at])).collect();
            if cells.iter().all(|cell| cell::is_blank(cell)) {
                let said = all.iter().zip(&cells).filter(|(_, cell)| !cell.is_empty());
                silent.extend(said.map(|(column, cell)| format!("`{}`: `{cell}`", column.header)));
                continue;
            }
            let value = read(self.asked.kind, &all, fact, &cells);
            let header = all.iter().map(|column| column.header.as_str()).collect::<Vec<_>>().join(" and ");
            let cell = cells.join(", ");
            let from = format!("{}, line {}, {header}", table.file, row.line);
            let line = match (value, &column.always) {
                (Ok(value), None) => format!("{value} # {from}"),
                (Ok(value), Some(_)) => value,
                (Err(why), _) => {
                    left.push(format!("`{header}`: {why}"));
                    format!("? # {from}: {cell}")
                }
            };
            draft.at(&fact.path).set(&fact.head, line);
        }
        if kind == Kind::Record {
            leave_corrections_open(&mut draft);
        }
        for key in vocabulary::block(kind).keys.iter().filter(|key| key.need == Need::Must && !self.gives(row, key)) {
            draft = draft.ask(key.name);
        }
        let text = draft.text();
        let read = SourceFile::read("row.rotor", text.as_str());
        let is_it = matches!(&*read.sheet.items, [item] if item.kind == kind && item.name_text() == name);
        if !is_it || !read.errors.is_empty() || !read.sheet.problems.is_empty() {
            return Err("the sheet that it makes would not be read as it is meant".to_owned());
        }
        self.names.insert(name.to_owned());
        Ok(Became::Sheet { name: name.to_owned(), text, left, silent })
    }

    /// Whether a row states a fact of the item itself.
    fn gives(&self, row: &RowOnDisk, key: &KeySpec) -> bool {
        let of_it = |fact: &FactAt| fact.path.is_empty() && fact.key.name == key.name;
        let columns = self.columns.iter().filter(|column| column.fact.as_ref().is_some_and(of_it));
        columns.into_iter().any(|column| column.always.is_some() || !cell::is_blank(&row.cells[column.at]))
    }
}

/// The cells of a fact as the sheet states it, or why they cannot be read.
fn read(kind: Kind, columns: &[&Column], fact: &FactAt, cells: &[&str]) -> Result<String, String> {
    let mut values = Vec::with_capacity(cells.len());
    let is_vector = columns.len() == 2 && fact.key.value == ValueType::Reading;
    for (column, cell) in columns.iter().zip(cells) {
        if is_vector && column.is_of_angles() && cell::is_blank(cell) {
            continue;
        }
        if cell::is_blank(cell) {
            return Err(format!("`{}` says nothing, and the others cannot be told apart without it", column.header));
        }
        values.push(cell::value(fact.key, cell, &column.units, &column.decimals)?);
    }
    if is_vector && columns[0].is_of_angles() {
        values.reverse();
    }
    let value = values.join(if is_vector { " @ " } else { ", " });
    refuse(kind, fact, &value).map(|()| value)
}

/// What holds in every row is read once, and nothing is taken where it cannot be.
pub(super) fn stated_once(asked: &Asked<'_>, column: &Column) -> Result<(), Failure> {
    let (Some(fact), Some(value)) = (&column.fact, &column.always) else { return Ok(()) };
    let read = read(asked.kind, &[column], fact, &[value.as_str()]);
    read.map(|_| ()).map_err(|why| Failure::new(format!("--set `{}`: {why}", column.header)))
}

fn name_in<'r>(columns: &[Column], row: &'r RowOnDisk) -> Option<&'r str> {
    let column = columns.iter().find(|column| column.is_name())?;
    row.cells.get(column.at).map(String::as_str).filter(|name| !cell::is_blank(name))
}

/// A table of readings as found and as left does not say what was done between them; each later run says so. A rotor that
/// was taken out may well have been corrected meanwhile.
fn leave_corrections_open(draft: &mut Draft) {
    if draft.inner(Kind::Correction).next().is_some() {
        return;
    }
    let said = [run::TURNED_ON_ARBOR_BY.words(), run::CORRECTION_NOT_RECORDED.words()];
    for block in draft.inner(Kind::Run).skip(1) {
        if !said.iter().any(|fact| block.says(fact)) {
            block.set(run::CORRECTION_NOT_RECORDED.words(), YesNo::Yes.words().to_owned());
        }
    }
}

/// Whether a sheet can read the value; `Err` says why not, as a check would.
fn refuse(item: Kind, fact: &FactAt, value: &str) -> Result<(), String> {
    let mut draft = Draft::named(item, "row");
    draft.at(&fact.path).set(&fact.head, value.to_owned());
    let file = SourceFile::read("row.rotor", draft.text());
    if file.errors.is_empty() && file.sheet.problems.is_empty() {
        return Ok(());
    }
    let places: Vec<_> = file
        .errors
        .iter()
        .map(|error| error.span)
        .chain(file.sheet.problems.iter().map(|problem| problem.span))
        .collect();
    let book = Book::new(vec![Arc::new(file)]);
    let found = check::check(&book);
    let errors = found.iter().filter(|found| found.severity == Severity::Error);
    let near = |span: &crate::text::Span, place: &crate::text::Span| span.start <= place.end && place.start <= span.end;
    let said = errors
        .clone()
        .find(|found| places.iter().any(|place| near(&found.place.span, place)))
        .or_else(|| errors.clone().next());
    Err(match said {
        Some(found) => format!("`{value}`: {}", found.message),
        None => format!("`{value}` cannot be read as `{}`", fact.head),
    })
}
