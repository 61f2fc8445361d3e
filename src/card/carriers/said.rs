//! What a stretch of a card says, to be held against another version of it.

use std::collections::HashSet;

use crate::card::document::{Figure, Part, Row, Table, Value};
use crate::card::drawing::Drawing;
use crate::card::words::Words;

/// All that some parts say, each line, row and drawing by itself.
#[derive(Default)]
pub(super) struct Said {
    texts: HashSet<String>,
    drawings: Vec<Drawing>,
}

impl Said {
    pub fn of(parts: &[Part]) -> Self {
        let mut said = Self::default();
        parts.iter().for_each(|part| said.part(part));
        said
    }

    pub fn says(&self, text: &str) -> bool {
        self.texts.contains(text)
    }

    pub fn draws(&self, drawing: &Drawing) -> bool {
        self.drawings.iter().any(|own| own.is_drawn_like(drawing))
    }

    /// Whether both say and draw the same.
    pub fn is_like(&self, other: &Self) -> bool {
        let drawn = self.drawings.len() == other.drawings.len()
            && self.drawings.iter().zip(&other.drawings).all(|(a, b)| a.is_drawn_like(b));
        drawn && self.texts == other.texts
    }

    fn part(&mut self, part: &Part) {
        match part {
            Part::Text(words) | Part::Far(words) => self.words(words),
            Part::Cautions(all) => all.iter().for_each(|words| self.words(words)),
            Part::Numbers(numbers) => {
                self.texts.extend(numbers.iter().map(|number| labelled(&number.head(), &number.value)));
            }
            Part::Rows(rows) | Part::Fields(rows) => self.rows(rows),
            Part::Table(table) => self.table(table),
            Part::Columns(columns) => {
                let sections = columns.iter().flat_map(|column| &column.sections);
                sections.flat_map(|section| &section.parts).for_each(|part| self.part(part));
            }
            Part::Steps(steps) => steps.iter().for_each(|step| {
                self.words(&step.does);
                self.rows(&step.rows);
            }),
            Part::Figures(figures) => figures.iter().for_each(|figure| self.figure(figure)),
            Part::Beside(table, figure) => {
                self.table(table);
                self.figure(figure);
            }
        }
    }

    fn words(&mut self, words: &Words) {
        self.texts.insert(words.plain());
    }

    fn rows(&mut self, rows: &[Row]) {
        self.texts.extend(rows.iter().map(|row| labelled(&row.label, &row.value)));
    }

    fn table(&mut self, table: &Table) {
        self.texts.insert(heads(table));
        self.texts.extend(table.rows.iter().map(|row| cells(row)));
        table.below.iter().for_each(|words| self.words(words));
    }

    fn figure(&mut self, figure: &Figure) {
        self.drawings.push(figure.drawing.clone());
    }
}

/// A row with a label.
pub(super) fn labelled(label: &Words, value: &Value) -> String {
    format!("{}\t{}", label.plain(), value.plain())
}

/// What stands over the columns of a table.
pub(super) fn heads(table: &Table) -> String {
    table.heads.iter().map(Words::plain).collect::<Vec<_>>().join("\t")
}

/// A row of a table.
pub(super) fn cells(row: &[Value]) -> String {
    row.iter().map(Value::plain).collect::<Vec<_>>().join("\t")
}
