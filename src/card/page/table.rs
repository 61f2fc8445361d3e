//! Tables: columns as wide as what they hold, and rows with room to write where a hand fills them in.

use super::SMALL;
use super::lines::Setter;
use super::parts::{below_each_other, value_in};
use crate::card::document::{Table, Value};
use crate::card::drawing::{Drawing, Form, Pen};
use crate::card::words::Words;

/// Between the border of a cell and its words.
const PADDING: f64 = 1.1;
/// A cell that is written into.
const BLANK: f64 = 13.0;

/// `room` is what a row that is written into takes.
pub(super) fn set(setter: Setter<'_>, table: &Table, width: f64, room: f64) -> Drawing {
    let mut drawings = Vec::new();
    if !table.caption.is_empty() {
        drawings.push(setter.words(&table.caption, SMALL, width));
    }
    if !table.heads.is_empty() {
        drawings.push(grid(setter, table, width, room));
    }
    drawings.extend(table.below.iter().map(|words| setter.words(words, SMALL, width)));
    below_each_other(width, &drawings, 0.8)
}

/// The width below which words are broken.
pub(super) fn least(setter: Setter<'_>, table: &Table) -> f64 {
    (0..table.heads.len()).map(|n| asked(setter, table, n).1).sum()
}

fn grid(setter: Setter<'_>, table: &Table, width: f64, room: f64) -> Drawing {
    let wide = columns(setter, table, width);
    let heads: Vec<Value> = table.heads.iter().cloned().map(Value::Text).collect();
    let has_heads = table.heads.iter().any(|head| !head.is_empty());
    let mut drawing = Drawing::new(wide.iter().sum(), 0.0, "");
    drawing.line("", [0.0, 0.0], [drawing.width, 0.0], Pen::Thin);
    if has_heads {
        row(setter, &mut drawing, &heads, &wide, 0.0);
        drawing.line("", [0.0, drawing.height], [drawing.width, drawing.height], Pen::Normal);
    }
    let room = if table.roomy { room } else { 0.0 };
    for cells in &table.rows {
        row(setter, &mut drawing, cells, &wide, room);
        drawing.line("", [0.0, drawing.height], [drawing.width, drawing.height], Pen::Thin);
    }
    let tall = drawing.height;
    let mut x = 0.0;
    for column in std::iter::once(0.0).chain(wide) {
        x += column;
        drawing.line("", [x, 0.0], [x, tall], Pen::Thin);
    }
    drawing
}

/// A row of cells below what is drawn.
fn row(setter: Setter<'_>, drawing: &mut Drawing, cells: &[Value], wide: &[f64], room: f64) {
    let set: Vec<Drawing> =
        cells.iter().zip(wide).map(|(cell, wide)| self::cell(setter, cell, wide - 2.0 * PADDING)).collect();
    let tall = set.iter().map(|cell| cell.height + air(cell)).fold(room.max(4.2), f64::max);
    let top = drawing.height;
    let mut x = 0.0;
    for (cell, wide) in set.into_iter().zip(wide) {
        let down = (tall - cell.height) / 2.0;
        drawing.put([x + PADDING, top + down], cell);
        x += wide;
    }
    drawing.height = top + tall;
}

/// Large letters keep more free above them than a row needs.
fn air(cell: &Drawing) -> f64 {
    let is_large = |form: &Form| matches!(form, Form::Text { size, .. } if *size > 5.0);
    if cell.shapes.iter().any(|shape| is_large(&shape.form)) { -0.9 } else { 0.4 }
}

/// What is to be filled in stays empty.
fn cell(setter: Setter<'_>, value: &Value, width: f64) -> Drawing {
    match value {
        Value::Blank(_) => Drawing::new(width, 0.0, ""),
        other => value_in(setter, other, SMALL, width),
    }
}

/// The widths of the columns: all that they ask for where there is room, and what is left to those that are written into.
fn columns(setter: Setter<'_>, table: &Table, width: f64) -> Vec<f64> {
    let count = table.heads.len();
    let asked: Vec<(f64, f64, bool)> = (0..count).map(|n| asked(setter, table, n)).collect();
    let most: f64 = asked.iter().map(|(most, ..)| most).sum();
    let least: f64 = asked.iter().map(|(_, least, _)| least).sum();
    let written = asked.iter().filter(|(.., blank)| *blank).count();
    if most <= width {
        let left = width - most;
        return match written {
            0 => asked.iter().map(|(most, ..)| most + left * most / most_of(&asked)).collect(),
            _ => asked.iter().map(|(most, _, blank)| most + if *blank { left / written as f64 } else { 0.0 }).collect(),
        };
    }
    if least >= width {
        return asked.iter().map(|(_, least, _)| width * least / least_of(&asked)).collect();
    }
    let share = (width - least) / (most - least);
    asked.iter().map(|(most, least, _)| least + (most - least) * share).collect()
}

fn most_of(asked: &[(f64, f64, bool)]) -> f64 {
    asked.iter().map(|(most, ..)| most).sum::<f64>().max(1e-9)
}

fn least_of(asked: &[(f64, f64, bool)]) -> f64 {
    asked.iter().map(|(_, least, _)| least).sum::<f64>().max(1e-9)
}

/// The width on one line, the width of the widest word, and whether it is written into.
fn asked(setter: Setter<'_>, table: &Table, n: usize) -> (f64, f64, bool) {
    let (mut most, mut least) = setter.widths(&table.heads[n], SMALL);
    let mut blank = false;
    for cell in table.rows.iter().filter_map(|row| row.get(n)) {
        let (wide, word) = match cell {
            Value::Text(words) => setter.widths(words, SMALL),
            Value::Item { name, .. } => setter.widths(&Words::strong(name.clone()), SMALL),
            Value::Hole(why) => (20.0 + setter.widths(why, SMALL).0, 20.0),
            Value::Choice(choices) => (choices.iter().map(|choice| choice.len() as f64 * 2.2 + 6.0).sum(), 16.0),
            Value::Blank(_) => {
                blank = true;
                (BLANK, BLANK)
            }
        };
        (most, least) = (most.max(wide), least.max(word));
    }
    (most + 2.0 * PADDING + 0.1, least.min(40.0) + 2.0 * PADDING + 0.1, blank)
}
