//! Blocks onto pages, each whole where a page has room for it.

use super::fonts::{Fonts, POINT};
use super::lines::Setter;
use super::parts::{Parts, below_each_other};
use super::{Page, Paper, SMALL};
use crate::card::document::{Card, Part, Section, Side, Stamp};
use crate::card::drawing::{Anchor, Drawing, Form, Pen};
use crate::card::words::Words;

/// Paper left free on every side, in millimetres: what office printers leave too.
const MARGIN: f64 = 9.0;
/// What a row that is written into takes, and what lies between two blocks: the first with which a side is one page, else
/// the first.
const ROOMS: [[f64; 2]; 6] = [[7.4, 2.4], [6.8, 1.9], [6.2, 1.5], [5.7, 1.1], [5.3, 0.8], [5.0, 0.5]];
/// What the foot of a page takes.
const FOOT: f64 = 5.2;
/// The most that the stamp takes of the width.
const STAMP: f64 = 74.0;
/// Lines that stay together where a text is longer than a page.
const LINES: usize = 40;

/// Rows of a table that stay together.
const ROWS: usize = 24;

/// A block on its way to a page.
struct Block {
    drawing: Drawing,
    /// Never first on a page after another.
    follows: bool,
}

/// The pages of a card.
pub fn pages(card: &Card, paper: Paper, fonts: &Fonts) -> Vec<Page> {
    let flow = |side: &Side| {
        let set =
            |[room, gap]: [f64; 2]| Flow { card, side, paper, parts: Parts::new(fonts, room), gap, fonts }.pages();
        let sets = ROOMS.iter().map(|room| set(*room));
        sets.into_iter().find(|pages| pages.len() == 1).unwrap_or_else(|| set(ROOMS[0]))
    };
    let sides = card.sides.iter().map(flow).enumerate();
    sides
        .flat_map(|(side, pages)| {
            pages.into_iter().enumerate().map(move |(n, drawing)| Page { drawing, side, number: n + 1 })
        })
        .collect()
}

struct Flow<'a> {
    card: &'a Card,
    side: &'a Side,
    paper: Paper,
    parts: Parts<'a>,
    gap: f64,
    fonts: &'a Fonts,
}

impl Flow<'_> {
    fn width(&self) -> f64 {
        self.paper.size()[0] - 2.0 * MARGIN
    }

    fn bottom(&self) -> f64 {
        self.paper.size()[1] - MARGIN - FOOT - self.wraps()
    }

    /// What name and state take below their first line: beside them is the number of the page.
    fn wraps(&self) -> f64 {
        let right = self.fonts.width(&format!("{}, page 10 of 10", self.stamp_word()), SMALL * POINT, false);
        let whole = self.setter().words(&self.side.every, SMALL, self.width() - right - 4.0);
        let one = self.setter().words(&"x".into(), SMALL, self.width());
        (whole.height - one.height).max(0.0)
    }

    /// What a page holds below its head.
    fn room(&self) -> f64 {
        self.bottom() - MARGIN - 12.0
    }

    fn setter(&self) -> Setter<'_> {
        Setter { fonts: self.fonts }
    }

    fn pages(&self) -> Vec<Drawing> {
        let mut pages: Vec<Drawing> = vec![self.blank()];
        let mut y = MARGIN;
        let blocks = self.blocks();
        for (n, block) in blocks.iter().enumerate() {
            // With what must not stand alone after it.
            let after = blocks[n + 1..].iter().take_while(|block| block.follows);
            let whole = after.fold(block.drawing.height, |tall, block| tall + self.gap + block.drawing.height);
            let needed = if whole <= self.room() { whole } else { block.drawing.height };
            let first = y <= MARGIN + 1e-9;
            if !first && !block.follows && y + needed > self.bottom() {
                pages.push(self.blank());
                y = self.head_of_next(&mut pages);
            }
            let mut drawing = block.drawing.clone();
            if y + drawing.height > self.bottom() {
                if !first && block.follows {
                    pages.push(self.blank());
                    y = self.head_of_next(&mut pages);
                }
                drawing = drawing.scaled(((self.bottom() - y) / drawing.height).min(1.0));
            }
            let tall = drawing.height;
            if let Some(page) = pages.last_mut() {
                page.put([MARGIN, y], drawing);
            }
            y += tall + self.gap;
        }
        let count = pages.len();
        pages.iter_mut().enumerate().for_each(|(n, page)| self.foot(page, n + 1, count));
        pages
    }

    fn blank(&self) -> Drawing {
        let [width, height] = self.paper.size();
        let mut page = Drawing::new(width, height, format!("{}: {}", self.side.what, self.side.name.plain()));
        page.height = height;
        page
    }

    fn head_of_next(&self, pages: &mut [Drawing]) -> f64 {
        let words = Words::said(self.side.what).say(", continued: ").with(&self.side.name);
        let set = self.setter().words(&words, SMALL, self.width() - STAMP);
        let word = self.stamp_word();
        let stamp = self.setter().strong(&word, 14.0, STAMP);
        let tall = set.height.max(stamp.height);
        if let Some(page) = pages.last_mut() {
            page.put([MARGIN, MARGIN], set);
            page.put([MARGIN + self.width() - stamp.width, MARGIN], stamp);
            page.height = self.paper.size()[1];
        }
        MARGIN + tall + 2.0
    }

    fn stamp_word(&self) -> String {
        self.side.stamp.as_ref().map(|stamp| stamp.at_foot(self.card.preview)).unwrap_or_default()
    }

    /// Name and state at the foot of every page.
    fn foot(&self, page: &mut Drawing, number: usize, count: usize) {
        let word = self.stamp_word();
        let right = format!("{word}{} page {number} of {count}", if word.is_empty() { "" } else { "," });
        let size = SMALL * POINT;
        let y = self.paper.size()[1] - MARGIN;
        let room = self.width() - self.fonts.width(&format!("{word}, page 10 of 10"), size, false) - 4.0;
        let left = self.setter().words(&self.side.every, SMALL, room);
        let top = y - size * 1.22 * 1.1 - self.wraps();
        page.line("", [MARGIN, top - 0.6], [MARGIN + self.width(), top - 0.6], Pen::Thin);
        page.put([MARGIN, top], left);
        let at = [MARGIN + self.width(), top + size * 0.94];
        page.add("", Form::Text { at, anchor: Anchor::End, size, text: right, strong: false, halo: false });
        page.height = self.paper.size()[1];
    }

    fn blocks(&self) -> Vec<Block> {
        let mut blocks = vec![Block { drawing: self.head(), follows: false }];
        if !self.side.alarms.is_empty() {
            let alarms =
                Section { parts: self.side.alarms.iter().cloned().map(Part::Text).collect(), ..Section::boxed("") };
            blocks.push(Block { drawing: self.parts.section(&alarms, self.width()), follows: true });
        }
        for section in &self.side.sections {
            blocks.extend(self.section(section, true));
        }
        if !self.side.foot.is_empty() {
            let lines: Vec<Drawing> =
                self.side.foot.iter().map(|words| self.setter().words(words, SMALL, self.width())).collect();
            blocks.push(Block { drawing: below_each_other(self.width(), &lines, 0.2), follows: true });
        }
        blocks
    }

    /// Whole where a page has room for it; else part by part, and steps each by itself.
    fn section(&self, section: &Section, may_be_whole: bool) -> Vec<Block> {
        let whole = self.parts.section(section, self.width());
        let is_long = |part: &Part| matches!(part, Part::Table(table) if table.rows.len() > ROWS);
        if may_be_whole && whole.height <= self.room() && !section.parts.iter().any(is_long) {
            return vec![Block { drawing: whole, follows: section.follows }];
        }
        let title = self.parts.title(section, self.width());
        let mut blocks = Vec::new();
        for part in &section.parts {
            blocks.extend(self.part(part));
        }
        if let Some(first) = blocks.first_mut() {
            first.drawing = below_each_other(self.width(), &[title, first.drawing.clone()], 1.0);
            first.follows = section.follows;
        }
        blocks
    }

    fn part(&self, part: &Part) -> Vec<Block> {
        let drawings: Vec<Drawing> = match part {
            Part::Steps(steps) => {
                steps.iter().enumerate().map(|(n, step)| self.parts.step(n + 1, step, self.width())).collect()
            }
            Part::Columns(columns) => {
                let sections = columns.iter().flat_map(|column| &column.sections);
                return sections.flat_map(|section| self.section(section, true)).collect();
            }
            Part::Table(table) => {
                let rows = table.rows.chunks(ROWS).map(|rows| {
                    let table = crate::card::document::Table { rows: rows.to_vec(), ..table.clone() };
                    self.parts.part(&Part::Table(table), self.width())
                });
                rows.collect()
            }
            Part::Cautions(cautions) => cautions.iter().flat_map(|caution| self.long(caution)).collect(),
            Part::Text(words) => self.long(words),
            other => vec![self.parts.part(other, self.width())],
        };
        drawings.into_iter().map(|drawing| Block { drawing, follows: false }).collect()
    }

    /// A text in pieces of so many lines.
    fn long(&self, words: &Words) -> Vec<Drawing> {
        let set = self.setter().words(words, SMALL, self.width());
        let line = SMALL * POINT * 1.22;
        let most = LINES as f64 * line;
        if set.height <= most {
            return vec![set];
        }
        let count = (set.height / most).ceil() as usize;
        let piece = |n: usize| {
            let (from, to) = (n as f64 * most, (n + 1) as f64 * most);
            let inside = |form: &Form| matches!(form, Form::Text { at, .. } if from < at[1] && at[1] <= to);
            let shapes: Vec<_> = set.shapes.iter().filter(|shape| inside(&shape.form)).cloned().collect();
            let mut drawing = Drawing::new(set.width, 0.0, "");
            drawing.put([0.0, -from], Drawing { shapes, ..Drawing::new(set.width, to.min(set.height), "") });
            drawing.height = to.min(set.height) - from;
            drawing
        };
        (0..count).map(piece).collect()
    }

    /// Name and small print to the left, the stamp to the right.
    fn head(&self) -> Drawing {
        let stamp = self.side.stamp.as_ref().map(|stamp| self.stamp(stamp));
        let wide = self.width() - stamp.as_ref().map_or(0.0, |stamp| stamp.width + 4.0);
        let mut lines = vec![self.name(wide)];
        let what = Words::said(self.side.what);
        let under = match self.side.under.split_first() {
            Some((first, rest)) => std::iter::once(what.say(". ").with(first)).chain(rest.iter().cloned()).collect(),
            None => vec![what],
        };
        lines.extend(under.iter().map(|words| self.setter().words(words, SMALL, wide)));
        let mut drawing = below_each_other(self.width(), &lines, 0.0);
        if let Some(stamp) = stamp {
            drawing.put([self.width() - stamp.width, 0.0], stamp);
        }
        drawing
    }

    /// As large as it goes on two lines.
    fn name(&self, width: f64) -> Drawing {
        let set = |size: f64| self.setter().strong(&self.side.name.plain(), size, width);
        let fits = |size: &f64| set(*size).height <= 2.1 * size * POINT * 1.22;
        set([20.0, 16.0, 13.0].into_iter().find(fits).unwrap_or(10.0))
    }

    /// A frame with the word as large as its length allows; broken where nobody may work by it.
    fn stamp(&self, stamp: &Stamp) -> Drawing {
        let room = STAMP - 6.0;
        let size =
            [26.0, 22.0, 18.0, 15.0].into_iter().find(|size| self.fonts.width(&stamp.word, size * POINT, true) <= room);
        let mut lines = Vec::new();
        if self.card.preview && stamp.word != "PREVIEW" {
            lines.push(self.setter().strong("PREVIEW", 12.0, room));
        }
        lines.push(self.setter().strong(&stamp.word, size.unwrap_or(15.0), room));
        lines.push(self.setter().words(&stamp.meaning.into(), SMALL, room));
        let wide = lines.iter().map(|line| line.width).fold(0.0, f64::max);
        let inside = below_each_other(wide, &lines, 0.0);
        let (wide, tall) = (wide + 6.0, inside.height + 3.0);
        let mut drawing = Drawing::new(wide, tall, "");
        drawing.put([3.0, 1.2], inside);
        let pen = if stamp.firm { Pen::Heavy } else { Pen::Broken };
        drawing.frame([0.5, 0.5], wide - 1.0, tall - 1.0, pen);
        drawing
    }
}
