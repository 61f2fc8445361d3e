//! A card as text for a terminal.

use crate::card::document::{Card, Column, Figure, Number, Part, Row, Section, Side, Step, Table, Value};
use crate::card::readable::{harmless, readable};
use crate::card::words::{Piece, Words};
use crate::text::layout::{columns, hanging, padded, width};

/// Lines are not made longer than this.
const WIDTH: usize = 88;
/// What is to be filled in.
const LINE: &str = "____________";

/// The card in lines of at most 88 columns.
pub fn text(card: &Card) -> String {
    let mut lines = Lines(Vec::new());
    for (n, side) in card.sides.iter().enumerate() {
        if n > 0 {
            lines.blank();
            lines.push(&"=".repeat(WIDTH), 0);
        }
        lines.side(side, card.preview);
    }
    lines.0.join("\n") + "\n"
}

/// Some sections of a card, in lines of at most 88 columns.
pub fn lines(sections: &[Section]) -> Vec<String> {
    let mut lines = Lines(Vec::new());
    sections.iter().for_each(|section| lines.section(section));
    lines.0.into_iter().skip_while(String::is_empty).collect()
}

struct Lines(Vec<String>);

impl Lines {
    fn blank(&mut self) {
        self.0.push(String::new());
    }

    /// Broken where it is too long, even within a word.
    fn push(&mut self, text: &str, indent: usize) {
        self.under(&" ".repeat(indent), text);
    }

    /// The text after a head, its further lines below its first.
    fn under(&mut self, head: &str, text: &str) {
        let room = WIDTH.saturating_sub(width(head)).max(20);
        let text: String = text.replace('\n', " ");
        let broken: Vec<String> = text.split(' ').flat_map(|word| chunks(word, room)).collect();
        self.0.extend(hanging(head, &broken.join(" "), WIDTH).lines().map(|line| line.trim_end().to_owned()));
    }

    fn side(&mut self, side: &Side, is_preview: bool) {
        self.push(&format!("{}: {}", side.what, said(&side.name)), 0);
        if let Some(stamp) = &side.stamp {
            self.push(&format!("*** {} *** {}", stamp.at_foot(is_preview), stamp.meaning), 0);
        }
        for alarm in &side.alarms {
            self.push(&format!("!!! {}", said(alarm)), 0);
        }
        side.under.iter().for_each(|words| self.push(&said(words), 0));
        side.sections.iter().for_each(|section| self.section(section));
        self.blank();
        self.push(&"-".repeat(WIDTH), 0);
        self.push(&said(&side.every), 0);
        side.foot.iter().for_each(|line| self.push(&said(line), 0));
    }

    fn section(&mut self, section: &Section) {
        self.blank();
        if !section.title.is_empty() {
            let mark = if section.boxed { "==== " } else { "" };
            self.push(&format!("{mark}{}", said(&section.title)), 0);
        }
        for part in &section.parts {
            self.part(part);
        }
    }

    fn part(&mut self, part: &Part) {
        match part {
            Part::Text(text) => self.push(&said(text), 2),
            Part::Far(text) => {
                self.blank();
                self.push(&said(text), 2);
            }
            Part::Rows(rows) | Part::Fields(rows) => self.rows(rows, 2),
            Part::Numbers(numbers) => self.numbers(numbers),
            Part::Table(table) => self.table(table),
            Part::Columns(columns) => columns.iter().for_each(|column| self.column(column)),
            Part::Steps(steps) => {
                for (n, step) in steps.iter().enumerate() {
                    self.step(n + 1, step);
                }
            }
            Part::Beside(table, figure) => {
                self.table(table);
                self.figure(figure);
            }
            Part::Figures(figures) => figures.iter().for_each(|figure| self.figure(figure)),
            Part::Cautions(cautions) => {
                for caution in cautions {
                    self.under("  CAUTION ", &said(caution));
                }
            }
        }
    }

    fn column(&mut self, column: &Column) {
        column.sections.iter().for_each(|section| self.section(section));
    }

    fn numbers(&mut self, numbers: &[Number]) {
        let rows = numbers.iter().map(|number| Row::new(number.head(), number.value.clone()));
        self.rows(&rows.collect::<Vec<_>>(), 2);
    }

    fn rows(&mut self, rows: &[Row], indent: usize) {
        let labels: Vec<String> = rows.iter().map(|row| said(&row.label)).collect();
        let widest = labels.iter().map(|label| width(label)).max().unwrap_or(0).min(34);
        for (row, label) in rows.iter().zip(labels) {
            let colon = if label.is_empty() { "  " } else { ": " };
            let head = format!("{}{}{colon}", " ".repeat(indent), padded(&label, widest));
            self.under(&head, &value(&row.value));
        }
    }

    fn step(&mut self, number: usize, step: &Step) {
        self.blank();
        let mark = if step.boxed { "!!" } else { "  " };
        self.under(&format!("{mark}[ ] {number}. "), &said(&step.does));
        self.rows(&step.rows, 9);
    }

    fn table(&mut self, table: &Table) {
        self.blank();
        if !table.caption.is_empty() {
            self.push(&said(&table.caption), 2);
        }
        let cell = |value: &Value| match value {
            Value::Blank(_) => "________".to_owned(),
            other => self::value(other),
        };
        let heads = table.heads.iter().map(said).collect();
        let rows: Vec<Vec<String>> =
            std::iter::once(heads).chain(table.rows.iter().map(|row| row.iter().map(cell).collect())).collect();
        let fits = columns(&rows).iter().all(|line| width(line) + 2 <= WIDTH);
        match fits {
            true => columns(&rows).iter().for_each(|line| self.0.push(format!("  {line}"))),
            // A row a paragraph, each cell under its head.
            false => rows.iter().skip(1).for_each(|row| {
                let widest = rows[0].iter().skip(1).map(|head| width(head)).max().unwrap_or(0).min(34);
                for (n, (head, cell)) in rows[0].iter().zip(row).enumerate() {
                    match n {
                        0 => self.under(&format!("  {head} "), cell),
                        _ => self.under(&format!("    {}: ", padded(head, widest)), cell),
                    }
                }
            }),
        }
        for line in &table.below {
            self.push(&said(line), 2);
        }
    }

    fn figure(&mut self, figure: &Figure) {
        let title = if figure.title.is_empty() { String::new() } else { format!("{}. ", said(&figure.title)) };
        self.push(&format!("{title}[{}: see the card as a page or picture]", readable(&figure.drawing.told)), 2);
        for line in &figure.below {
            self.push(&said(line), 4);
        }
    }
}

/// A word in pieces of at most `most` characters.
fn chunks(word: &str, most: usize) -> Vec<String> {
    let characters: Vec<char> = word.chars().collect();
    if characters.is_empty() {
        return vec![String::new()];
    }
    characters.chunks(most).map(|chunk| chunk.iter().collect()).collect()
}

fn value(value: &Value) -> String {
    match value {
        Value::Text(text) => said(text),
        Value::Item { name, .. } => isolated(name),
        Value::Hole(why) => format!("{LINE} not computed, because {}", said(why)),
        Value::Blank(unit) => format!("{LINE} {unit}").trim_end().to_owned(),
        Value::Choice(choices) => choices.iter().map(|choice| format!("[ ] {choice}")).collect::<Vec<_>>().join("   "),
    }
}

fn said(words: &Words) -> String {
    let piece = |piece: &Piece| match piece {
        Piece::Said(text) => readable(text).replace('☐', "[ ]"),
        Piece::Stated(text) | Piece::Strong(text) | Piece::Hand(text) => isolated(text),
        Piece::Whole(text) => isolated_whole(harmless(text)),
    };
    words.pieces.iter().map(piece).collect()
}

/// A text of a sheet that may run from right to left is kept from turning what stands beside it.
fn isolated(text: &str) -> String {
    isolated_whole(readable(text))
}

fn isolated_whole(text: String) -> String {
    let turns = |c: char| matches!(u32::from(c), 0x590..=0x8ff | 0xfb1d..=0xfdff | 0xfe70..=0xfeff | 0x10800..=0x10fff | 0x1e800..=0x1efff);
    if text.chars().any(turns) { format!("\u{2068}{text}\u{2069}") } else { text }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn long_words_are_broken() {
        assert_eq!(chunks("abcde", 2), ["ab", "cd", "e"]);
    }

    #[test]
    fn right_to_left_is_kept_to_itself() {
        assert_eq!(isolated("שלום"), "\u{2068}שלום\u{2069}");
        assert_eq!(isolated("fan"), "fan");
    }
}
