//! A card as the lines that can be compared one by one.

use super::names::{At as On, Names};
use super::{CardChangeKind, FOOT, STAMP};
use crate::card::document::{Card, Figure, Number, Part, Row, Section, Side, Step, Table, Value};
use crate::card::drawing::{Drawing, Form};
use crate::card::words::{Piece, Rank, Words, graver};
use crate::text::with_names;
use crate::units::same_amounts;
use crate::vocabulary::setup;

/// What follows the name of a limit that is open.
const OR_BELOW: &str = " or below";

/// The line that names the columns of a table.
pub(super) const COLUMNS: &str = "columns";

/// One line of a card.
#[derive(Clone, Debug)]
pub(super) struct Line<'c> {
    pub side: &'static str,
    /// The title of the section that it is in, without its number.
    pub section: String,
    /// What it is said of: the control, the number, the step.
    pub label: String,
    /// What its label begins with, without what it is said of this time: `Good at` of `Good at, each` and `Good at: left`.
    root: String,
    /// What its row is of, where that is in the first cell: the control, without the remark on it.
    pub of: String,
    pub value: String,
    /// The cells of a row with several, each under its head.
    pub cells: Vec<(String, String)>,
    pub what: What,
    pub about: Option<Rank>,
    pub drawing: Option<&'c Drawing>,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum What {
    /// Whether it may be used, and of what it is.
    Head,
    Text,
    Row,
    /// A row of a table, by what it begins with.
    Cell,
    /// A control of the panel and what it is set to.
    Set,
    /// A row of a table of numbers, by the first of them.
    Numbers,
    Figure,
}

/// Drawings are compared apart.
impl PartialEq for Line<'_> {
    fn eq(&self, other: &Self) -> bool {
        let all = |line: &Self| (line.side, line.what);
        all(self) == all(other)
            && self.section == other.section
            && self.label == other.label
            && self.value == other.value
    }
}

impl Line<'_> {
    /// What kind of change it is, from what it says to what it says.
    pub fn kind(&self, old: Option<&str>, new: Option<&str>) -> CardChangeKind {
        let letters = |text: &str| -> String { text.chars().filter(|c| c.is_alphabetic()).collect() };
        let is_number_alone = old.zip(new).is_some_and(|(old, new)| letters(old) == letters(new));
        match self.what {
            What::Text | What::Figure if is_number_alone => CardChangeKind::Value,
            What::Head => CardChangeKind::Document,
            // What is written in a drawing says where and which way.
            What::Text | What::Figure => CardChangeKind::Sentence,
            What::Row | What::Cell | What::Set => CardChangeKind::Value,
            What::Numbers => CardChangeKind::Rows,
        }
    }

    pub fn root(&self) -> &str {
        &self.root
    }

    /// The name that a change of this line is reported under. A control goes without its remark, which only one side of the
    /// card has.
    pub fn told_of(&self) -> &str {
        if self.what == What::Set { &self.root } else { &self.label }
    }

    /// The same with other names in place of those that it has, wherever they are words of it.
    pub fn with_names(&self, names: &[(&str, &str)]) -> Self {
        let now = |text: &str| with_names(text, names);
        let cells = self.cells.iter().map(|(head, cell)| (now(head), now(cell))).collect();
        Self {
            section: now(&self.section),
            label: now(&self.label),
            root: now(&self.root),
            of: now(&self.of),
            value: now(&self.value),
            cells,
            ..self.clone()
        }
    }

    /// Whether both are one line, however names are quoted in it.
    pub fn is_but_for_quotes(&self, other: &Line<'_>) -> bool {
        let texts = |line: &Line<'_>| [&line.section, &line.label, &line.value].map(|text| text.replace('"', ""));
        (self.side, self.what) == (other.side, other.what) && texts(self) == texts(other)
    }

    /// What it says, said by another line.
    pub fn said_by<'o>(&self, other: &Line<'o>) -> Line<'o> {
        Line {
            section: self.section.clone(),
            label: self.label.clone(),
            root: self.root.clone(),
            of: self.of.clone(),
            value: self.value.clone(),
            cells: self.cells.clone(),
            ..other.clone()
        }
    }

    /// What a figure is called.
    pub fn titled(&self) -> String {
        let title = if self.label.is_empty() { &self.section } else { &self.label };
        format!("drawing {title}")
    }

    /// What it says beside another line that is in the same place: its value; where it has several cells, those that
    /// are others; where its label goes on otherwise, that as well.
    pub fn beside(&self, other: &Self) -> String {
        let rest = self.label.strip_prefix(&self.root).unwrap_or_default().trim_start_matches([',', ':', ' ']);
        let rest = if rest == OR_BELOW.trim_start() { "" } else { rest };
        match self.label == other.label {
            false if !rest.is_empty() => format!("{rest} {}", self.value),
            true if self.cells.len() > 1 || other.cells.len() > 1 => {
                let differs = |(head, cell): &&(String, String)| {
                    let is_it = |(own, said): &&(String, String)| own == head && same_amounts(said, cell);
                    !other.cells.iter().any(|one| is_it(&one))
                };
                let cells = self.cells.iter().filter(differs);
                cells.map(|(head, cell)| format!("{head} {cell}")).collect::<Vec<_>>().join(", ")
            }
            _ => self.value.clone(),
        }
    }
}

pub(super) fn lines<'c>(card: &'c Card, names: Names<'_>) -> Vec<Line<'c>> {
    let mut all = Lines { all: Vec::new(), names };
    card.sides.iter().for_each(|side| all.side(side));
    all.all
}

struct Lines<'c, 'n> {
    all: Vec<Line<'c>>,
    names: Names<'n>,
}

/// Where a line stands.
#[derive(Clone)]
struct At {
    side: &'static str,
    section: String,
}

impl<'c> Lines<'c, '_> {
    fn add(&mut self, at: &At, what: What, label: impl Into<String>, value: impl Into<String>) {
        let (label, value) = (label.into(), value.into());
        self.all.push(Line {
            side: at.side,
            section: at.section.clone(),
            root: label.clone(),
            of: label.clone(),
            label,
            value,
            cells: Vec::new(),
            what,
            about: None,
            drawing: None,
        });
    }

    /// What the last line is about.
    fn about(&mut self, about: Option<Rank>) {
        if let Some(line) = self.all.last_mut() {
            line.about = graver(line.about, about);
        }
    }

    fn side(&mut self, side: &'c Side) {
        let at = At { side: side.what, section: String::new() };
        if let Some(stamp) = &side.stamp {
            self.add(&at, What::Head, STAMP, stamp.word.clone());
        }
        side.under.iter().for_each(|words| self.add(&at, What::Head, "", self.plain(words)));
        for words in &side.alarms {
            self.text(&at, "", words);
            self.about(Some(Rank::Stamp));
        }
        side.sections.iter().for_each(|section| self.section(&at, section));
        let at = At { section: FOOT.to_owned(), ..at };
        side.foot.iter().for_each(|words| self.add(&at, What::Head, "", self.plain(words)));
    }

    fn section(&mut self, within: &At, section: &'c Section) {
        let title = self.names.title(section);
        let section_at = if title.is_empty() { within.section.clone() } else { title };
        let at = At { section: section_at, ..within.clone() };
        section.parts.iter().for_each(|part| self.part(&at, part));
    }

    fn part(&mut self, at: &At, part: &'c Part) {
        match part {
            Part::Text(words) | Part::Far(words) => self.text(at, "", words),
            Part::Cautions(all) => {
                for words in all {
                    self.text(at, setup::CAUTION.words(), words);
                    self.about(Some(Rank::Speed));
                }
            }
            Part::Numbers(numbers) => numbers.iter().for_each(|number| self.number(at, number)),
            Part::Rows(rows) | Part::Fields(rows) => self.rows(at, rows),
            Part::Table(table) => self.table(at, table),
            Part::Columns(columns) => {
                columns.iter().flat_map(|column| &column.sections).for_each(|section| self.section(at, section));
            }
            Part::Steps(steps) => steps.iter().for_each(|step| self.step(at, step)),
            Part::Figures(figures) => figures.iter().for_each(|figure| self.figure(at, figure)),
            Part::Beside(table, figure) => {
                self.table(at, table);
                self.figure(at, figure);
            }
        }
    }

    fn plain(&self, words: &Words) -> String {
        self.names.words(words, On::Elsewhere)
    }

    fn text(&mut self, at: &At, label: &str, words: &Words) {
        self.add(at, What::Text, label, self.plain(words));
        self.about(words.about);
    }

    fn rows(&mut self, at: &At, rows: &[Row]) {
        for row in rows {
            self.row(at, &row.label, self.names.value(&row.value, On::Elsewhere));
            self.about(about_of(&row.value));
        }
    }

    fn row(&mut self, at: &At, label: &Words, value: String) {
        self.add(at, What::Row, self.plain(label), value);
        self.about(label.about);
        // Only the card's own words end at a comma: a name may hold one.
        if let (Some(line), Some(Piece::Said(words))) = (self.all.last_mut(), label.pieces.first())
            && let Some(root) = words.split([',', ':']).next().map(|root| root.strip_suffix(OR_BELOW).unwrap_or(root))
            && root.len() < words.len()
        {
            line.root = root.to_owned();
        }
    }

    /// The band is part of what is said.
    fn number(&mut self, at: &At, number: &Number) {
        let value = self.names.value(&number.value, On::Elsewhere);
        let value = number.band.as_ref().map_or_else(|| value.clone(), |band| format!("{value} ({band})"));
        self.row(at, &number.label, value);
    }

    fn step(&mut self, at: &At, step: &Step) {
        let does = self.plain(&step.does);
        self.text(at, "", &step.does);
        let at = At { section: does, ..at.clone() };
        self.rows(&at, &step.rows);
    }

    fn table(&mut self, at: &At, table: &Table) {
        if !table.caption.is_empty() {
            self.text(at, "", &table.caption);
        }
        let heads: Vec<String> = table.heads.iter().map(|head| self.plain(head)).collect();
        let on = |cell: usize| match (table.controls.is_empty(), cell) {
            (true, _) => On::Elsewhere,
            (false, 0) => On::Panel,
            (false, _) => On::Setting,
        };
        let head = |n: usize| heads.get(n).map(String::as_str).unwrap_or_default();
        for (n, row) in table.rows.iter().enumerate() {
            let cells: Vec<String> = row.iter().enumerate().map(|(n, cell)| self.names.value(cell, on(n))).collect();
            let Some((first, rest)) = cells.split_first() else { continue };
            let is_named = first.chars().any(char::is_alphabetic);
            let label = if is_named { first.clone() } else { format!("{} {first}", head(0)).trim().to_owned() };
            let filled: Vec<(usize, String)> =
                rest.iter().cloned().enumerate().filter(|(_, cell)| !cell.is_empty()).collect();
            let cells: Vec<(String, String)> =
                filled.into_iter().map(|(n, cell)| (head(n + 1).to_owned(), cell)).collect();
            let value = match cells.as_slice() {
                [(_, one)] => one.clone(),
                all => all.iter().map(|(head, cell)| format!("{head} {cell}")).collect::<Vec<_>>().join(", "),
            };
            let control = table.controls.get(n).map(|control| self.names.text(control, On::Panel));
            // A setting is named with its verb: `set left strength`.
            let (what, label) = match &control {
                Some(_) => (What::Set, format!("set {label}")),
                None if is_named => (What::Cell, label),
                None => (What::Numbers, label),
            };
            self.add(at, what, label, value);
            self.about(row.iter().filter_map(about_of).min());
            if let Some(line) = self.all.last_mut() {
                line.cells = cells;
                if let Some(control) = control {
                    line.root = format!("set {control}");
                    line.of = control;
                }
            }
        }
        // Which columns there are to fill in.
        self.add(at, What::Row, COLUMNS, heads.join(", "));
        table.below.iter().for_each(|words| self.text(at, "", words));
    }

    /// With the words and numbers that are in it, as they stand there.
    fn figure(&mut self, at: &At, figure: &'c Figure) {
        let words = figure.drawing.shapes.iter().filter_map(|shape| match &shape.form {
            Form::Text { text, .. } => Some(self.names.label(text)),
            _ => None,
        });
        let value = words.collect::<Vec<_>>().join("; ");
        self.add(at, What::Figure, self.plain(&figure.title), value);
        if let Some(line) = self.all.last_mut() {
            line.drawing = Some(&figure.drawing);
        }
        figure.below.iter().for_each(|words| self.text(at, "", words));
    }
}

fn about_of(value: &Value) -> Option<Rank> {
    match value {
        Value::Text(words) | Value::Hole(words) => words.about,
        _ => None,
    }
}
