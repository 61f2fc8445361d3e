//! Trial runs that a setup leaves open: a job by trial runs begins with them, and they belong to the sheet.

use super::forms::{Form, Readout};
use super::question::{Into, Line, Question, Wanted};
use super::runs;
use crate::book::{Book, SetupResults};
use crate::sheet::Block;
use crate::syntax::Kind;
use crate::units::Unit;
use crate::vocabulary::trial;

/// The first value that is a `?`, and the first reading that is not there.
pub(super) fn open<'b>(book: &'b Book, setup: &SetupResults<'b>) -> Option<Question<'b>> {
    let item = book.item(setup.id);
    item.inner(Kind::Trial).find_map(|block| of_trial(setup, block))
}

fn of_trial<'b>(setup: &SetupResults<'b>, block: &'b Block) -> Option<Question<'b>> {
    let readout = Readout::of(setup);
    let mut asked = Vec::new();
    let mut ask = |head: String, asks: String, example: String, form: Form| asked.push((head, asks, example, form));
    if block.field(trial::MASS_IN).is_some() {
        let grams = Form::Amount(Unit::GRAM);
        ask(trial::MASS.to_string(), "Trial mass, weighed".to_owned(), format!("5 {}", Unit::GRAM), grams);
        let degrees = Form::Amount(Unit::DEGREE);
        ask(trial::ANGLE.to_string(), "It sits at".to_owned(), format!("0 {}", Unit::DEGREE), degrees);
    }
    ask(
        trial::SPEED.to_string(),
        "Speed of the run".to_owned(),
        format!("1150 {}", Unit::RPM),
        Form::Amount(Unit::RPM),
    );
    let mut open = asked.into_iter().find_map(|(head, asks, example, form)| {
        let hole = runs::hole(block, &head)?;
        Some((head, asks, example, form, Into::Hole(setup.id, hole.value_span)))
    });
    if open.is_none() {
        open = runs::channels(setup).into_iter().find_map(|channel| {
            let asked = runs::reading(setup, &readout, channel);
            let into = match runs::hole(block, &asked.head) {
                Some(hole) => Into::Hole(setup.id, hole.value_span),
                None if runs::is_written(block, &asked.head) => return None,
                None => Into::Block(setup.id, block),
            };
            Some((asked.head, asked.asks, asked.example, asked.form, into))
        });
    }
    let (head, asks, example, form, into) = open?;
    let about = format!("Trial run {}", block.name_text());
    Some(Question { about, asks, example, usual: None, head, wanted: Wanted::Line(Box::new(Line { into, form })) })
}
