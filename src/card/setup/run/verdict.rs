//! What came of it.

use super::super::Sheet;
use crate::book::{self, EffectiveBlock};
use crate::card::document::{Column, Number, Part, Row, Section, Value};
use crate::mechanics::verdict::Verdict;
use crate::vocabulary::extra_mass;
use crate::vocabulary::extra_mass::On;

pub(super) fn section(sheet: &Sheet<'_, '_>) -> Section {
    let words = [Verdict::Within, Verdict::Over, Verdict::NotShown].map(book::word_of).to_vec();
    let verdict = Number::new("Verdict of the final run", Value::Choice(words));
    let comes_off = |mass: &EffectiveBlock<'_>| mass.choice(extra_mass::ON) == Some(On::OnlyWhileBalancing);
    let mut extra = Vec::new();
    if sheet.setup.extra_masses_to_put_on().next().is_some() {
        extra.push("counted, all on in each run");
    }
    if sheet.setup.extra_masses_to_put_on().any(comes_off) {
        extra.push("counted, off before service");
    }
    let mut signed = vec![Row::new("Masses", Value::Choice(vec!["calibration and trial masses counted, all off"]))];
    if !extra.is_empty() {
        signed.push(Row::new("Extra masses", Value::Choice(extra)));
    }
    signed.extend(["Date", "Signature"].map(|label| Row::new(label, Value::Blank(""))));
    let column = |share: f64, part: Part| Column { share, sections: vec![Section::new("").part(part)] };
    Section::new("")
        .part(Part::Columns(vec![column(2.2, Part::Numbers(vec![verdict])), column(1.0, Part::Fields(signed))]))
        .following()
}
