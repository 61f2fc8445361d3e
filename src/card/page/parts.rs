//! Sections and their parts, each as a drawing of the width that it is given.

use super::fonts::{Fonts, POINT};
use super::lines::Setter;
use super::{FAR, SMALL, table};
use crate::card::document::{Column, Figure, Number, Part, Row, Section, Step, Table, Value};
use crate::card::drawing::{Drawing, Form, Pen};
use crate::card::words::Words;

/// Between two parts, in millimetres.
const GAP: f64 = 1.4;
/// Between two columns.
pub(super) const GUTTER: f64 = 4.0;
/// Within a heavy frame.
const PADDING: f64 = 2.0;
/// Size of the title of a section, in points.
const TITLE: f64 = 11.5;
/// Between two rows of facts.
const LEADING: f64 = 0.5;
/// What a line to fill in takes at least.
pub(super) const LINE: f64 = 14.0;

/// Sets parts with these fonts.
#[derive(Clone, Copy)]
pub(super) struct Parts<'a> {
    pub setter: Setter<'a>,
    /// What a row that is written into takes, in millimetres.
    pub room: f64,
}

impl<'a> Parts<'a> {
    pub fn new(fonts: &'a Fonts, room: f64) -> Self {
        Self { setter: Setter { fonts }, room }
    }

    /// A section as a whole.
    pub fn section(self, section: &Section, width: f64) -> Drawing {
        let inner = if section.boxed { width - 2.0 * PADDING } else { width };
        let mut drawings = vec![self.title(section, inner)];
        drawings.extend(section.parts.iter().map(|part| self.part(part, inner)));
        let inside = below_each_other(width, &drawings, GAP);
        if section.boxed { framed(&inside, width) } else { inside }
    }

    /// The title with a heavy line above; nothing where a section has none.
    pub fn title(self, section: &Section, width: f64) -> Drawing {
        let mut drawing = Drawing::new(width, 0.0, "");
        if section.title.is_empty() {
            return drawing;
        }
        if !section.boxed {
            drawing.line("", [0.0, 0.4], [width, 0.4], Pen::Heavy);
            drawing.height = 1.2;
        }
        drawing.put([0.0, drawing.height], self.setter.words(&section.title, TITLE, width));
        drawing
    }

    pub fn part(self, part: &Part, width: f64) -> Drawing {
        match part {
            Part::Text(words) => self.setter.words(words, SMALL, width),
            Part::Far(words) => self.setter.words(words, FAR, width),
            Part::Numbers(numbers) => self.numbers(numbers, width),
            Part::Rows(rows) => self.rows(rows, width),
            Part::Fields(rows) => self.fields(rows, width),
            Part::Table(table) => table::set(self.setter, table, width, self.room),
            Part::Columns(columns) => self.columns(columns, width),
            Part::Steps(steps) => {
                let steps: Vec<Drawing> =
                    steps.iter().enumerate().map(|(n, step)| self.step(n + 1, step, width)).collect();
                below_each_other(width, &steps, GAP)
            }
            Part::Figures(figures) => self.figures(figures, width),
            Part::Beside(table, figure) => self.beside(table, figure, width),
            Part::Cautions(cautions) => self.cautions(cautions, width),
        }
    }

    /// Beside each other, a rule between them; as many rows as it takes.
    fn numbers(self, numbers: &[Number], width: f64) -> Drawing {
        let set: Vec<Drawing> = numbers.iter().map(|number| self.number(number, width - 2.0)).collect();
        let mut drawing = Drawing::new(width, 0.0, "");
        for row in rows_of(&set, width - 3.0, 1.8) {
            let tall = row.iter().map(|set| set.height).fold(0.0, f64::max);
            let free = width - 3.0 - row.iter().map(|set| set.width).sum::<f64>();
            let apart = (free / row.len() as f64).max(0.0);
            let (mut x, top) = (1.5, drawing.height);
            for (n, set) in row.iter().enumerate() {
                if n > 0 {
                    drawing.line("", [x - apart / 2.0, top + 0.6], [x - apart / 2.0, top + tall - 0.6], Pen::Thin);
                }
                drawing.put([x, top], (*set).clone());
                x += set.width + apart;
            }
            drawing.height = top + tall;
        }
        let (tall, corner) = (drawing.height + 0.6, [0.0, 0.0]);
        drawing.frame(corner, width, tall, Pen::Normal);
        drawing.height = tall;
        drawing
    }

    fn number(self, number: &Number, width: f64) -> Drawing {
        let value = match &number.value {
            Value::Text(words) => self.setter.far(words, width),
            Value::Hole(why) => {
                let line = Words::said("______ ").with(why);
                let mut drawing = self.setter.words(&line, SMALL, 34.0_f64.min(width));
                drawing.height = drawing.height.max(FAR * POINT);
                drawing
            }
            other => self.value(other, FAR, width),
        };
        let label = self.setter.words(&number.head(), SMALL, width);
        let wide = label.width.max(value.width);
        let mut drawing = below_each_other(wide, &[label, value], -0.6);
        drawing.width = wide;
        drawing
    }

    /// Label and value, each row on lines of its own; in two columns where the rows are short.
    fn rows(self, rows: &[Row], width: f64) -> Drawing {
        let natural = |row: &Row| self.natural(row);
        let widest = rows.iter().map(natural).fold(0.0, f64::max);
        let beside = if rows.len() > 2 { ((width + GUTTER) / (widest + GUTTER)).floor().clamp(1.0, 3.0) } else { 1.0 };
        let column = (width - GUTTER * (beside - 1.0)) / beside;
        let in_each = rows.len().div_ceil(beside as usize).max(1);
        let mut drawing = Drawing::new(width, 0.0, "");
        for (n, rows) in rows.chunks(in_each).enumerate() {
            let set: Vec<Drawing> = rows.iter().map(|row| self.row(row, column)).collect();
            drawing.put([n as f64 * (column + GUTTER), 0.0], below_each_other(column, &set, LEADING));
        }
        drawing
    }

    fn natural(self, row: &Row) -> f64 {
        let value = match &row.value {
            Value::Text(words) => self.setter.widths(words, SMALL).0 + 0.2,
            Value::Item { name, .. } => self.setter.widths(&Words::strong(name.clone()), SMALL).0,
            Value::Hole(why) => LINE + self.setter.widths(why, SMALL).0,
            Value::Blank(_) => LINE,
            Value::Choice(choices) => choices.iter().map(|choice| choice.len() as f64 * 2.0 + 8.0).sum(),
        };
        self.setter.widths(&label(row), SMALL).0 + 1.5 + value
    }

    fn row(self, row: &Row, width: f64) -> Drawing {
        let value = self.natural(row) - self.setter.widths(&label(row), SMALL).0;
        let label = self.setter.words(&label(row), SMALL, (width - value).max(width * 0.6));
        let at = label.width + 1.5;
        let value = self.value(&row.value, SMALL, width - at);
        let mut drawing = Drawing::new(width, label.height.max(value.height), "");
        // The feet of the first lines on one level.
        let down = (first_line(&value) - first_line(&label)).max(0.0);
        drawing.put([0.0, down], label);
        drawing.put([at, 0.0], value);
        drawing
    }

    /// As many on a line as fit.
    fn fields(self, rows: &[Row], width: f64) -> Drawing {
        let set: Vec<Drawing> = rows
            .iter()
            .map(|row| {
                let wide = (self.natural(row) + 0.1).max(if matches!(row.value, Value::Blank(_)) { 40.0 } else { 0.0 });
                self.row(row, wide.min(width))
            })
            .collect();
        // Room for a hand above the lines.
        let above = if rows.iter().any(|row| matches!(row.value, Value::Blank(_))) { self.room - 5.0 } else { 0.0 };
        let mut drawing = Drawing::new(width, 0.0, "");
        for row in rows_of(&set, width, GUTTER) {
            let tall = row.iter().map(|set| set.height).fold(0.0, f64::max);
            let mut x = 0.0;
            let top = drawing.height + above;
            for set in row {
                drawing.put([x, top], set.clone());
                x += set.width + GUTTER;
            }
            drawing.height = top + tall + LEADING;
        }
        drawing
    }

    /// A value in letters of this size.
    pub fn value(self, value: &Value, size: f64, width: f64) -> Drawing {
        value_in(self.setter, value, size, width)
    }

    /// Beside each other as tall as the tallest.
    fn columns(self, columns: &[Column], width: f64) -> Drawing {
        let all: f64 = columns.iter().map(|column| column.share).sum();
        let room = width - GUTTER * (columns.len().max(1) - 1) as f64;
        let mut drawing = Drawing::new(width, 0.0, "");
        let mut x = 0.0;
        for column in columns {
            let wide = room * column.share / all;
            let set: Vec<Drawing> = column.sections.iter().map(|section| self.section(section, wide)).collect();
            let set = below_each_other(wide, &set, 2.0);
            drawing.put([x, 0.0], set);
            x += wide + GUTTER;
        }
        drawing
    }

    pub fn step(self, number: usize, step: &Step, width: f64) -> Drawing {
        const INDENT: f64 = 11.0;
        let mark = self.setter.words(&Words::said(format!("☐ {number}")), SMALL + 2.0, INDENT);
        let pad = if step.boxed { PADDING } else { 0.0 };
        let inner = width - INDENT - 2.0 * pad;
        let does = self.setter.words(&step.does, SMALL + 1.0, inner);
        let mut drawings = vec![does];
        if !step.rows.is_empty() {
            drawings.push(self.rows(&step.rows, inner));
        }
        let inside = below_each_other(inner, &drawings, LEADING);
        let mut drawing = Drawing::new(width - 2.0 * pad, inside.height, "");
        drawing.put([0.0, 0.0], mark);
        drawing.put([INDENT, 0.0], inside);
        if step.boxed { framed(&drawing, width) } else { drawing }
    }

    fn figures(self, figures: &[Figure], width: f64) -> Drawing {
        let set: Vec<Drawing> = figures.iter().map(|figure| self.figure(figure, width)).collect();
        let mut drawing = Drawing::new(width, 0.0, "");
        for row in rows_of(&set, width, 2.0) {
            let tall = row.iter().map(|set| set.height).fold(0.0, f64::max);
            let (mut x, top) = (0.0, drawing.height);
            for set in row {
                drawing.put([x, top], set.clone());
                x += set.width + 2.0;
            }
            drawing.height = top + tall + GAP;
        }
        drawing
    }

    fn beside(self, table: &Table, figure: &Figure, width: f64) -> Drawing {
        let set = self.figure(figure, width);
        let left = width - set.width - 1.0;
        if table::least(self.setter, table) > left {
            let table = table::set(self.setter, table, width, self.room);
            return below_each_other(width, &[table, set], GAP);
        }
        let mut drawing = Drawing::new(width, 0.0, "");
        drawing.put([0.0, 0.0], table::set(self.setter, table, left, self.room));
        drawing.put([width - set.width, 0.0], set);
        drawing
    }

    /// Smaller where there is no room for it.
    fn figure(self, figure: &Figure, width: f64) -> Drawing {
        let scale = (width / figure.drawing.width).min(1.0);
        let wide = figure.drawing.width * scale;
        let mut drawings = Vec::new();
        if !figure.title.is_empty() {
            drawings.push(self.setter.words(&figure.title, SMALL + 1.0, wide));
        }
        drawings.push(figure.drawing.scaled(scale));
        drawings.extend(figure.below.iter().map(|words| self.setter.words(words, SMALL, wide)));
        below_each_other(wide, &drawings, LEADING)
    }

    /// One after another, a heavy line at their side.
    fn cautions(self, cautions: &[Words], width: f64) -> Drawing {
        const SIDE: f64 = 3.0;
        let said = cautions.iter().fold(Words::default(), |all, caution| {
            if all.is_empty() { all.with(caution) } else { all.say(" ").with(caution) }
        });
        let set = self.setter.words(&said, SMALL, width - SIDE);
        let mut drawing = Drawing::new(width, set.height, "");
        let points = vec![[0.0, 0.3], [1.2, 0.3], [1.2, set.height - 0.3], [0.0, set.height - 0.3]];
        drawing.add("", Form::Outline { points, pen: Pen::Thin, filled: true });
        drawing.put([SIDE, 0.0], set);
        drawing
    }
}

fn label(row: &Row) -> Words {
    if row.label.is_empty() { Words::default() } else { row.label.clone().say(":") }
}

pub(super) fn value_in(setter: Setter<'_>, value: &Value, size: f64, width: f64) -> Drawing {
    match value {
        Value::Text(words) => setter.words(words, size, width),
        Value::Item { name, .. } => setter.strong(name, size, width),
        Value::Hole(why) => {
            let words = Words::said("________ not computed, because ").with(why);
            setter.words(&words, SMALL, width)
        }
        Value::Blank(unit) => blank(setter, unit, width),
        Value::Choice(choices) => {
            let words = choices.iter().fold(Words::default(), |words, choice| {
                let words = if words.is_empty() { words } else { words.say("  ") };
                words.say(format!("☐ {choice}"))
            });
            setter.words(&words, size, width)
        }
    }
}

/// A line over the width, its unit at the end.
fn blank(setter: Setter<'_>, unit: &'static str, width: f64) -> Drawing {
    let unit = setter.words(&unit.into(), SMALL, width);
    let line = (width - unit.width - 1.0).clamp(0.0, 70.0);
    let tall = SMALL * POINT * 1.22;
    let mut drawing = Drawing::new(line + unit.width, tall, "");
    drawing.line("", [0.0, tall - 0.2], [line, tall - 0.2], Pen::Thin);
    drawing.put([line + 1.0, 0.0], unit);
    drawing
}

fn first_line(drawing: &Drawing) -> f64 {
    let feet = drawing.shapes.iter().filter_map(|shape| match &shape.form {
        Form::Text { at, .. } => Some(at[1]),
        _ => None,
    });
    let foot = feet.fold(f64::INFINITY, f64::min);
    if foot.is_finite() { foot } else { SMALL * POINT * 0.94 }
}

/// Drawings in rows of as many as fit.
fn rows_of(drawings: &[Drawing], width: f64, gap: f64) -> Vec<Vec<&Drawing>> {
    let mut rows: Vec<Vec<&Drawing>> = Vec::new();
    let mut used = 0.0;
    for drawing in drawings {
        match rows.last_mut() {
            Some(row) if used + gap + drawing.width <= width + 1e-6 => {
                row.push(drawing);
                used += gap + drawing.width;
            }
            _ => {
                rows.push(vec![drawing]);
                used = drawing.width;
            }
        }
    }
    rows
}

pub(super) fn below_each_other(width: f64, drawings: &[Drawing], gap: f64) -> Drawing {
    let mut all = Drawing::new(width, 0.0, "");
    for drawing in drawings.iter().filter(|drawing| drawing.height > 0.0) {
        let top = if all.height > 0.0 { all.height + gap } else { 0.0 };
        all.put([0.0, top], drawing.clone());
    }
    all
}

fn framed(inside: &Drawing, width: f64) -> Drawing {
    let tall = inside.height + 2.0 * PADDING;
    let mut drawing = Drawing::new(width, tall, "");
    drawing.put([PADDING, PADDING], inside.clone());
    drawing.frame([0.4, 0.4], width - 0.8, tall - 0.8, Pen::Heavy);
    drawing
}
