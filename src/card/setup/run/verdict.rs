//! What came of it.

use super::super::Sheet;
use crate::book;
use crate::card::document::{Column, Number, Part, Row, Section, Value};
use crate::mechanics::verdict::Verdict;

pub(super) fn section(_: &Sheet<'_, '_>) -> Section {
    let words = [Verdict::Within, Verdict::Over, Verdict::NotShown].map(book::word_of).to_vec();
    let verdict = Number::new("Verdict of the final run", Value::Choice(words));
    let signed = vec![
        Row::new("Masses", Value::Choice(vec!["calibration and trial masses counted, all off"])),
        Row::new("Date", Value::Blank("")),
        Row::new("Signature", Value::Blank("")),
    ];
    let column = |share: f64, part: Part| Column { share, sections: vec![Section::new("").part(part)] };
    Section::new("")
        .part(Part::Columns(vec![column(2.2, Part::Numbers(vec![verdict])), column(1.0, Part::Fields(signed))]))
        .following()
}
