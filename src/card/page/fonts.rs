//! Letters and how wide they are. Two faces come with the program; what they lack is looked for in faces that are handed
//! in, and is else taken to be as wide as it can be.

use std::collections::BTreeSet;
use std::sync::LazyLock;

use rustc_hash::FxHashMap;
use ttf_parser::{Face, GlyphId};
use unicode_bidi::BidiInfo;

/// Points of paper in millimetres.
pub(in crate::card) const POINT: f64 = 25.4 / 72.0;

const REGULAR: &[u8] = include_bytes!("../fonts/regular.ttf");
const STRONG: &[u8] = include_bytes!("../fonts/bold.ttf");

/// The same for browsers, smaller.
pub(in crate::card) const FOR_BROWSERS: [(&[u8], &str); 2] =
    [(include_bytes!("../fonts/regular.woff2"), "normal"), (include_bytes!("../fonts/bold.woff2"), "bold")];

/// What a letter that no face has is taken to be wide, as a share of its size.
const UNKNOWN: f64 = 1.0;

/// A face out of a file of the system.
#[derive(Clone, Debug)]
pub struct FontFile {
    pub data: Vec<u8>,
    /// Which face of a collection.
    pub index: u32,
}

impl FontFile {
    /// Whether it has this letter.
    pub fn has(&self, letter: char) -> bool {
        Face::parse(&self.data, self.index).is_ok_and(|face| face.glyph_index(letter).is_some())
    }
}

/// The faces that a card is set in.
#[derive(Clone, Debug, Default)]
pub struct Fonts(Vec<FontFile>);

/// Letters of one face beside each other, as they are on paper from left to right.
pub(in crate::card) struct Run {
    /// 0 and 1 are the faces that come with the program.
    pub face: usize,
    pub letters: Vec<Letter>,
}

#[derive(Clone, Copy)]
pub(in crate::card) struct Letter {
    pub letter: char,
    pub glyph: u16,
    /// As a share of the size.
    pub wide: f64,
}

impl Fonts {
    /// The two that come with the program, and these for letters that they lack.
    pub fn with(others: Vec<FontFile>) -> Self {
        Self(others)
    }

    /// Letters of a text that no face has.
    pub fn lacks(&self, text: &str) -> BTreeSet<char> {
        text.chars().filter(|letter| !letter.is_control() && self.of(*letter, false).is_none()).collect()
    }

    /// The bytes of a face, and which of a collection it is.
    pub(in crate::card) fn bytes(&self, face: usize) -> (&[u8], u32) {
        match face {
            0 => (REGULAR, 0),
            1 => (STRONG, 0),
            _ => self.0.get(face - 2).map_or((REGULAR, 0), |file| (&file.data, file.index)),
        }
    }

    fn of(&self, letter: char, strong: bool) -> Option<(usize, Letter)> {
        let own = usize::from(strong);
        let other = |(n, file): (usize, &FontFile)| {
            Some((n + 2, letter_of(&Face::parse(&file.data, file.index).ok()?, letter)?))
        };
        let found = OWN[own].get(&letter).map(|letter| (own, *letter));
        found.or_else(|| self.0.iter().enumerate().find_map(other))
    }

    /// In millimetres, of letters of this size in millimetres.
    pub fn width(&self, text: &str, size: f64, strong: bool) -> f64 {
        let wide = |letter: char| self.of(letter, strong).map_or(UNKNOWN, |(_, letter)| letter.wide);
        text.chars().map(wide).sum::<f64>() * size
    }

    /// A text from left to right, in runs of one face each. Letters that no face has are left out.
    pub(in crate::card) fn runs(&self, text: &str, strong: bool) -> Vec<Run> {
        let mut runs: Vec<Run> = Vec::new();
        for letter in as_seen(text).chars() {
            let Some((face, letter)) = self.of(letter, strong) else { continue };
            match runs.last_mut() {
                Some(run) if run.face == face => run.letters.push(letter),
                _ => runs.push(Run { face, letters: vec![letter] }),
            }
        }
        runs
    }
}

/// The letters of the two faces that come with the program.
static OWN: LazyLock<[FxHashMap<char, Letter>; 2]> = LazyLock::new(|| [REGULAR, STRONG].map(letters));

fn letters(data: &[u8]) -> FxHashMap<char, Letter> {
    let mut letters = FxHashMap::default();
    let Ok(face) = Face::parse(data, 0) else { return letters };
    for table in face.tables().cmap.iter().flat_map(|cmap| cmap.subtables).filter(|table| table.is_unicode()) {
        table.codepoints(|code| {
            let letter = char::from_u32(code).and_then(|letter| letter_of(&face, letter));
            letters.extend(letter.map(|letter| (letter.letter, letter)));
        });
    }
    letters
}

fn letter_of(face: &Face<'_>, letter: char) -> Option<Letter> {
    let glyph: GlyphId = face.glyph_index(letter)?;
    let wide = f64::from(face.glyph_hor_advance(glyph)?) / f64::from(face.units_per_em());
    Some(Letter { letter, glyph: glyph.0, wide })
}

/// In the order in which it is on paper: some scripts run from right to left.
fn as_seen(text: &str) -> String {
    if text.is_ascii() {
        return text.to_owned();
    }
    let info = BidiInfo::new(text, None);
    let seen = info.paragraphs.iter().map(|paragraph| info.reorder_line(paragraph, paragraph.range.clone()));
    seen.collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    // The advance widths of the face's own table of horizontal metrics, read with fontTools 4: a 508, i 246, of 1000.
    #[test]
    fn widths_are_those_of_the_face() {
        let fonts = Fonts::default();
        assert!((fonts.width("a", 10.0, false) - 5.08).abs() < 1e-9);
        assert!(fonts.width("aa", 10.0, true) > 10.16);
        assert_eq!(fonts.lacks("g·mm ≤ ± 12° → Ω я").len(), 0);
        assert_eq!(fonts.lacks("風").len(), 1);
    }

    #[test]
    fn what_runs_from_right_to_left_is_turned() {
        assert_eq!(as_seen("abc"), "abc");
        assert_eq!(as_seen("שלום"), "םולש");
    }
}
