//! Words broken into lines.

use super::fonts::{Fonts, POINT};
use super::{FAR, HAND};
use crate::card::drawing::{Anchor, Drawing, Form, Pen};
use crate::card::readable::{harmless, readable};
use crate::card::words::{Piece, Words};

/// From one line to the next, as a share of the size of its largest letters.
const LEADING: f64 = 1.22;
/// From the top of a line to the foot of its letters.
const RISE: f64 = 0.94;
/// A box to tick, as a share of the size of the letters beside it.
const TICK: f64 = 0.8;
/// The unit of a number that is read from afar, in points.
const UNIT: f64 = 10.0;
/// What one `_` of a line to fill in takes, in millimetres.
const STROKE: f64 = 1.9;

#[derive(Clone, Copy, PartialEq, Debug)]
pub(super) struct Style {
    /// In points.
    pub size: f64,
    pub strong: bool,
    /// Words of the card itself: a `☐` in them is drawn as a box and `_` as a line.
    own: bool,
}

impl Style {
    pub fn plain(size: f64) -> Self {
        Self { size, strong: false, own: false }
    }

    fn of(piece: &Piece, size: f64) -> Self {
        match piece {
            Piece::Said(_) => Self { own: true, ..Self::plain(size) },
            Piece::Stated(_) => Self::plain(size),
            Piece::Strong(_) | Piece::Whole(_) => Self { strong: true, ..Self::plain(size) },
            Piece::Hand(_) => Self { strong: true, ..Self::plain(size.max(HAND)) },
        }
    }
}

/// Letters of one style, without a space among them.
#[derive(Clone, Debug)]
struct Fragment {
    text: String,
    style: Style,
    wide: f64,
}

/// What no line breaks, with the space before it.
#[derive(Clone, Debug, Default)]
struct Word {
    space: f64,
    fragments: Vec<Fragment>,
}

impl Word {
    fn wide(&self) -> f64 {
        self.fragments.iter().map(|fragment| fragment.wide).sum()
    }
}

/// A line of words with the places at which they begin.
#[derive(Default)]
struct Line {
    words: Vec<(f64, Word)>,
    wide: f64,
}

impl Line {
    fn size(&self) -> f64 {
        let sizes = self.words.iter().flat_map(|(_, word)| &word.fragments).map(|fragment| fragment.style.size);
        sizes.fold(0.0, f64::max) * POINT
    }
}

/// Sets words.
#[derive(Clone, Copy)]
pub(super) struct Setter<'a> {
    pub fonts: &'a Fonts,
}

impl Setter<'_> {
    /// Words in letters of this size, in points, no wider than this.
    pub fn words(self, words: &Words, size: f64, width: f64) -> Drawing {
        self.lines(&self.split(words, size), width)
    }

    /// The same with all of them strong.
    pub fn strong(self, text: &str, size: f64, width: f64) -> Drawing {
        let style = Style { strong: true, ..Style::plain(size) };
        let mut words = Vec::new();
        self.take_in(&readable(text), style, &mut words, &mut true);
        self.lines(&words, width)
    }

    /// A number that is read from afar: its unit smaller, unless it is a word.
    pub fn far(self, words: &Words, width: f64) -> Drawing {
        let mut set = Vec::new();
        let mut begins = true;
        let text = readable(&words.plain());
        let parts: Vec<&str> = text.split(' ').collect();
        for (n, part) in parts.iter().enumerate() {
            let is_unit = n > 0 && part.starts_with(|letter: char| letter.is_alphabetic() || letter == '°');
            let size = if is_unit || *part == "|" { UNIT } else { FAR };
            let style = Style { strong: true, ..Style::plain(size) };
            self.take_in(part, style, &mut set, &mut begins);
            begins = true;
            if n > 0
                && parts[n - 1] == "|"
                && let Some(last) = set.last_mut()
            {
                last.space = self.fonts.width(" ", UNIT * POINT, true);
            }
        }
        self.lines(&set, width)
    }

    /// How wide words are on one line, and how wide their widest word is.
    pub fn widths(self, words: &Words, size: f64) -> (f64, f64) {
        let split = self.split(words, size);
        let most = split.iter().map(|word| word.space + word.wide()).sum();
        (most, split.iter().map(Word::wide).fold(0.0, f64::max))
    }

    fn split(self, words: &Words, size: f64) -> Vec<Word> {
        let mut split = Vec::new();
        let mut begins = true;
        for piece in &words.pieces {
            let text = match piece {
                Piece::Whole(text) => harmless(text),
                other => readable(other.text()),
            };
            self.take_in(&text, Style::of(piece, size), &mut split, &mut begins);
        }
        split
    }

    /// `begins` says whether a space was last.
    fn take_in(self, text: &str, style: Style, words: &mut Vec<Word>, begins: &mut bool) {
        for (n, part) in text.split([' ', '\n']).enumerate() {
            *begins |= n > 0;
            if part.is_empty() {
                continue;
            }
            let fragment = Fragment { text: part.to_owned(), style, wide: self.wide(part, style) };
            match words.last_mut().filter(|_| !*begins) {
                Some(word) => word.fragments.push(fragment),
                None => {
                    let space = self.fonts.width(" ", style.size * POINT, style.strong);
                    words.push(Word { space, fragments: vec![fragment] });
                }
            }
            *begins = false;
        }
    }

    fn wide(self, text: &str, style: Style) -> f64 {
        let size = style.size * POINT;
        match (style.own, text) {
            (true, "☐") => size * TICK,
            (true, text) if is_line(text) => text.len() as f64 * STROKE,
            _ => self.fonts.width(text, size, style.strong),
        }
    }

    fn lines(self, words: &[Word], width: f64) -> Drawing {
        let mut lines = vec![Line::default()];
        for word in words {
            for word in self.fitting(word, width) {
                self.append(&mut lines, word, width);
            }
        }
        let mut drawing = Drawing::new(lines.iter().map(|line| line.wide).fold(0.0, f64::max), 0.0, "");
        for line in lines.iter().filter(|line| !line.words.is_empty()) {
            let size = line.size();
            let foot = drawing.height + size * RISE;
            line.draw(&mut drawing, foot, size);
            drawing.height += size * LEADING;
        }
        drawing
    }

    fn append(self, lines: &mut Vec<Line>, word: Word, width: f64) {
        let wide = word.wide();
        let full = lines.last().is_some_and(|line| !line.words.is_empty() && line.wide + word.space + wide > width);
        if full {
            lines.push(Line::default());
        }
        let Some(line) = lines.last_mut() else { return };
        let at = if line.words.is_empty() { 0.0 } else { line.wide + word.space };
        line.wide = at + wide;
        line.words.push((at, word));
    }

    /// A word in pieces that fit, broken after a mark where it has one.
    fn fitting(self, word: &Word, width: f64) -> Vec<Word> {
        if word.wide() <= width {
            return vec![word.clone()];
        }
        let mut pieces = vec![Word { space: word.space, fragments: Vec::new() }];
        for fragment in &word.fragments {
            for part in parts_of(&fragment.text, |text| self.wide(text, fragment.style) <= width) {
                let part = Fragment { wide: self.wide(&part, fragment.style), text: part, style: fragment.style };
                match pieces.last_mut() {
                    Some(piece) if piece.fragments.is_empty() || piece.wide() + part.wide <= width => {
                        piece.fragments.push(part);
                    }
                    _ => pieces.push(Word { space: 0.0, fragments: vec![part] }),
                }
            }
        }
        pieces
    }
}

fn is_line(text: &str) -> bool {
    text.len() > 1 && text.bytes().all(|byte| byte == b'_')
}

/// A text in parts that fit: as long as they can be, but ending after a mark where one is near.
fn parts_of(text: &str, fits: impl Fn(&str) -> bool) -> Vec<String> {
    let mut parts = Vec::new();
    let mut rest = text;
    while !rest.is_empty() {
        let ends = rest.char_indices().map(|(at, letter)| at + letter.len_utf8());
        let fitting: Vec<usize> = ends.take_while(|end| fits(&rest[..*end])).collect();
        let longest = fitting.last().copied().or_else(|| rest.chars().next().map(char::len_utf8)).unwrap_or(rest.len());
        let is_mark =
            |end: &&usize| longest < rest.len() && rest[..**end].ends_with(['-', '/', '_', '.', ',', '·', '@']);
        let marked = fitting.iter().rev().find(is_mark).copied().filter(|end| *end * 2 > longest);
        let (part, after) = rest.split_at(marked.unwrap_or(longest));
        parts.push(part.to_owned());
        rest = after;
    }
    parts
}

impl Line {
    /// Neighbours of one style are one text, so that they are found and copied as one.
    fn draw(&self, drawing: &mut Drawing, foot: f64, size: f64) {
        let mut last: Option<(f64, String, Style, f64)> = None;
        for (at, word) in &self.words {
            let mut x = *at;
            for (n, fragment) in word.fragments.iter().enumerate() {
                let end = x + fragment.wide;
                match &mut last {
                    Some((_, text, style, reached))
                        if *style == fragment.style && !is_drawn(fragment) && !text.is_empty() =>
                    {
                        text.push_str(if n == 0 { " " } else { "" });
                        text.push_str(&fragment.text);
                        *reached = end;
                    }
                    _ => {
                        flush(drawing, last.take(), foot);
                        last = (!is_drawn(fragment)).then(|| (x, fragment.text.clone(), fragment.style, end));
                    }
                }
                if is_drawn(fragment) {
                    draw_sign(drawing, fragment, x, foot, size);
                }
                x = end;
            }
        }
        flush(drawing, last, foot);
    }
}

fn is_drawn(fragment: &Fragment) -> bool {
    fragment.style.own && (fragment.text == "☐" || is_line(&fragment.text))
}

fn flush(drawing: &mut Drawing, text: Option<(f64, String, Style, f64)>, foot: f64) {
    if let Some((x, text, style, _)) = text {
        let size = style.size * POINT;
        let form = Form::Text { at: [x, foot], anchor: Anchor::Start, size, text, strong: style.strong, halo: false };
        drawing.add("", form);
    }
}

fn draw_sign(drawing: &mut Drawing, fragment: &Fragment, x: f64, foot: f64, size: f64) {
    if fragment.text == "☐" {
        let side = fragment.style.size * POINT * TICK * 0.92;
        let form = Form::Rectangle { at: [x, foot - side * 0.9], width: side, height: side, pen: Pen::Normal };
        drawing.add("", form);
    } else {
        let y = foot + size * 0.1;
        drawing.line("", [x, y], [x + fragment.wide, y], Pen::Thin);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn texts(drawing: &Drawing) -> Vec<String> {
        let text = |form: &Form| match form {
            Form::Text { text, .. } => Some(text.clone()),
            _ => None,
        };
        drawing.shapes.iter().filter_map(|shape| text(&shape.form)).collect()
    }

    #[test]
    fn words_are_broken_at_spaces_and_long_ones_anywhere() {
        let fonts = Fonts::default();
        let setter = Setter { fonts: &fonts };
        let set = setter.words(&Words::said("put on the mass"), 9.0, 14.0);
        assert_eq!(texts(&set), ["put on the", "mass"]);
        let set = setter.words(&Words::stated("TQ-315-04-77"), 9.0, 10.0);
        assert_eq!(texts(&set).concat(), "TQ-315-04-77");
        assert!(texts(&set).len() > 1 && set.width <= 10.0, "{:?}", texts(&set));
    }

    #[test]
    fn boxes_and_lines_are_drawn() {
        let fonts = Fonts::default();
        let set = Setter { fonts: &fonts }.words(&Words::said("☐ within ______"), 9.0, 80.0);
        assert_eq!(texts(&set), ["within"]);
        assert_eq!(set.shapes.len(), 3);
    }
}
