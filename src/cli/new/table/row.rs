//! One row as a sheet.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::Asked;
use super::column::Column;
use super::read::{RowOnDisk, TableOnDisk};
use crate::book::{Book, SourceFile};
use crate::check::{self, Severity};
use crate::cli::new::sheet::{Draft, quoted, word};
use crate::syntax::Kind;
use crate::vocabulary::{self, Choice, KeySpec, Need, ValueType, YesNo, run, setup};

pub(super) struct Sheets<'a> {
    pub asked: &'a Asked<'a>,
    pub columns: &'a [Column],
    /// The names that are taken: in the book, and by rows before.
    pub names: BTreeSet<String>,
}

impl Sheets<'_> {
    /// The name and the sheet of a row, or why it is not taken.
    pub fn sheet(&mut self, table: &TableOnDisk, row: &RowOnDisk) -> Result<(String, String), String> {
        let kind = self.asked.kind;
        if row.is_open {
            return Err(format!("a quote is opened and not closed; it takes in all up to line {}", row.last_line));
        }
        if row.cells.len() != table.heads.len() {
            let counted = format!("it has {} cells where the heads have {}", row.cells.len(), table.heads.len());
            return Err(match row.last_line > row.line {
                true => format!(
                    "{counted}; it takes in lines {} to {}, so a quote may be left open in it",
                    row.line, row.last_line
                ),
                false => counted,
            });
        }
        let name = self.columns.iter().find(|column| column.is_name()).map(|column| &row.cells[column.at]);
        let name = name.filter(|name| !name.is_empty()).ok_or("it has no name")?;
        if let Some(character) = name.chars().find(|character| crate::text::is_harmful(*character)) {
            return Err(format!("its name holds a character that no name may hold (U+{:04X})", u32::from(character)));
        }
        if self.names.contains(name.as_str()) {
            return Err(format!("there is a {kind} \"{name}\" already"));
        }
        let mut draft = Draft::named(kind, name);
        for (fact, value) in self.asked.set {
            draft.set(fact, value.clone());
        }
        if kind == Kind::Setup {
            draft.set(setup::STATUS.words(), setup::Status::Draft.words().to_owned());
        }
        let mut blocks: Vec<(Kind, Option<String>, Draft)> = Vec::new();
        for column in self.columns {
            let cell = column.always.as_ref().unwrap_or(&row.cells[column.at]);
            let Some(key) = column.key else { continue };
            if cell.is_empty() {
                continue;
            }
            let value = self.value(key, cell, column)?;
            let line = match column.always {
                Some(_) => value.clone(),
                None => format!("{value} # {}, line {}, {}", table.file, row.line, column.header),
            };
            refuse(kind, column, &value)?;
            let head = head(column);
            match &column.block {
                None => draft.set(&head, line),
                Some((kind, name)) => {
                    let at = blocks.iter().position(|(own, own_name, _)| (own, own_name) == (kind, name));
                    let at = at.unwrap_or_else(|| {
                        let block = name.as_ref().map_or_else(|| Draft::new(*kind), |name| Draft::named(*kind, name));
                        blocks.push((*kind, name.clone(), block));
                        blocks.len() - 1
                    });
                    blocks[at].2.set(&head, line);
                }
            }
        }
        if kind == Kind::Record {
            leave_corrections_open(&mut blocks);
        }
        let given = |key: &KeySpec| {
            let column = |column: &Column| column.block.is_none() && column.key.is_some_and(|own| own.name == key.name);
            let filled = |column: &&Column| !row.cells[column.at].is_empty();
            self.columns.iter().filter(|own| column(own)).any(|own| filled(&own))
                || self.asked.set.iter().any(|(fact, _)| fact == key.name)
        };
        for key in vocabulary::block(kind).keys.iter().filter(|key| key.need == Need::Must && !given(key)) {
            draft = draft.ask(key.name);
        }
        draft = draft.blocks(blocks.into_iter().map(|(_, _, block)| block));
        let text = draft.text();
        let read = SourceFile::read("row.rotor", text.as_str());
        let is_it = matches!(&*read.sheet.items, [item] if item.kind == kind && item.name_text() == *name);
        if !is_it || !read.errors.is_empty() || !read.sheet.problems.is_empty() {
            return Err("the sheet that it makes would not be read as it is meant".to_owned());
        }
        self.names.insert(name.clone());
        Ok((name.clone(), text))
    }

    /// A cell as a sheet states it: texts and names in quotes, bare numbers with the unit of the column.
    fn value(&self, key: &KeySpec, cell: &str, column: &Column) -> Result<String, String> {
        let quotes = |text: &str| if text.starts_with('"') { text.to_owned() } else { quoted(text) };
        match key.value {
            ValueType::Text | ValueType::Reference(_) => return Ok(quotes(cell)),
            ValueType::Name(_) => return Ok(word(cell)),
            _ => {}
        }
        let mut cell = cell.replace('−', "-");
        if self.asked.decimal_comma && has_doubtful_point(&cell) {
            return Err(format!(
                "`{}`: `{cell}` may have a decimal point or a point between thousands; write it with a decimal comma, as \
                 --decimal-comma says, and without a point",
                column.header
            ));
        }
        let digits =
            |text: &str| text.replace(['+', '-', '.', ','], "").chars().all(|c| c.is_ascii_digit()) && !text.is_empty();
        if digits(&cell) && cell.contains(',') {
            if !self.asked.decimal_comma {
                return Err(format!(
                    "`{}`: `{cell}` may have a decimal comma or a comma between thousands; with --decimal-comma it is read \
                     as a decimal comma",
                    column.header
                ));
            }
            if cell.contains('.') || cell.matches(',').count() > 1 {
                return Err(format!("`{}`: `{cell}` cannot be read as a number with a decimal comma", column.header));
            }
            cell = cell.replace(',', ".");
        }
        if !digits(&cell) {
            return Ok(cell);
        }
        Ok(match (key.value, &column.unit) {
            (ValueType::Grade, _) => format!("G {cell}"),
            (ValueType::Number | ValueType::Count, _) => cell,
            (_, Some(unit)) => format!("{cell} {unit}"),
            (_, None) => cell,
        })
    }
}

/// A table of readings as found and as left does not say what was done between them; each later run says so.
fn leave_corrections_open(blocks: &mut [(Kind, Option<String>, Draft)]) {
    if blocks.iter().any(|(kind, ..)| *kind == Kind::Correction) {
        return;
    }
    let runs = blocks.iter_mut().filter(|(kind, ..)| *kind == Kind::Run).map(|(.., block)| block).skip(1);
    let said = [run::REMOUNTED.words(), run::TURNED_ON_ARBOR_BY.words(), run::CORRECTION_NOT_RECORDED.words()];
    for block in runs.filter(|block| !said.iter().any(|fact| block.says(fact))) {
        block.set(run::CORRECTION_NOT_RECORDED.words(), YesNo::Yes.words().to_owned());
    }
}

/// Beside decimal commas, a point in a bare number may stand between thousands; with a unit behind it, one with three
/// digits after it may.
fn has_doubtful_point(cell: &str) -> bool {
    let (number, unit) = cell.split_once(' ').unwrap_or((cell, ""));
    let is_plain = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    let mut groups = number.trim_start_matches(['+', '-']).split('.');
    let first = groups.next().unwrap_or_default();
    let groups: Vec<&str> = groups.collect();
    let is_number = is_plain(first) && !groups.is_empty() && groups.iter().all(|group| is_plain(group));
    is_number && (unit.is_empty() || first.len() <= 3 && groups.iter().all(|group| group.len() == 3))
}

/// The head of a fact; a control or a plane is named as a sheet names it.
fn head(column: &Column) -> String {
    let is_key =
        column.key.is_some_and(|key| column.fact == key.name || column.fact.starts_with(&format!("{} ", key.name)));
    if is_key { column.fact.clone() } else { word(&column.fact) }
}

/// Whether a sheet can read the value; `Err` says why not, as a check would.
fn refuse(item: Kind, column: &Column, value: &str) -> Result<(), String> {
    let draft = match &column.block {
        None => Draft::named(item, "row").holds(head(column), value),
        Some((kind, name)) => {
            let block = name.as_ref().map_or_else(|| Draft::new(*kind), |name| Draft::named(*kind, name));
            Draft::named(item, "row").block(block.holds(head(column), value))
        }
    };
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
        Some(found) => {
            let help = found.help.as_ref().map(|help| format!(" ({help})")).unwrap_or_default();
            format!("`{}`: `{value}`: {}{help}", column.header, found.message)
        }
        None => format!("`{}`: `{value}` cannot be read as `{}`", column.header, column.fact),
    })
}

#[cfg(test)]
mod tests {
    use super::has_doubtful_point;

    #[test]
    fn points_beside_decimal_commas() {
        for doubtful in ["1.150", "134.2", "-1.150.000", "1.150 rpm"] {
            assert!(has_doubtful_point(doubtful), "{doubtful}");
        }
        for clear in ["1150", "134.2 mm", "0.1205 m", "8 from 0 deg", "G 6.3", "3,00", "."] {
            assert!(!has_doubtful_point(clear), "{clear}");
        }
    }
}
