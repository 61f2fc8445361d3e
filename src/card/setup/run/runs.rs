//! The runs, as a table that becomes the record.

use super::super::Sheet;
use super::{limits, reading};
use crate::card::document::{Part, Row, Section, Table, Value};
use crate::card::words::{Rank, Words};

const RUNS: [&str; 5] = ["as found", "2", "3", FINAL, "mounted again"];
const FINAL: &str = "final";
/// On an arbor: turning the rotor on it separates the arbor's unbalance from the rotor's. Only their half sum is the rotor's own, so one run
/// after the rotor was taken off and put back tells nothing.
const INDEXED: [&str; 6] = [
    "as found",
    "rotor turned 180 deg on the arbor",
    HALF_SUM,
    "final, turned back",
    "final, turned 180 deg",
    HALF_SUM_OF_FINAL,
];
const HALF_SUM: &str = "half the vector sum of the two";
const HALF_SUM_OF_FINAL: &str = "half the vector sum of the final two";
const BY_TRIALS: [&str; 4] = ["as found", "2", "3", FINAL];
/// What tells on a stand, where nothing is read.
const ON_A_STAND: [&str; 3] = ["heavy spot below, deg", "held by, g opposite", "starts with, g"];

pub(super) fn section(sheet: &Sheet<'_, '_>, title: Words) -> Section {
    let title = title.say(", serial number ____________________");
    let mut section = Section::new(title).part(Part::Table(table(sheet)));
    if let Some(words) = reading::how(sheet) {
        section = section.text(words);
    }
    if sheet.setup.is_told_by_half_sums() {
        let marks = vec!["the rotor", "the arbor: take 180 deg from the angle of each turned run first"];
        section = section.part(Part::Fields(vec![
            Row::new("Angles count from the zero mark of", Value::Choice(marks)).about(Rank::Places),
        ]));
        section = section.text(
            "Half the vector sum, both in the rotor's angles, is the rotor's own unbalance: correct and judge by that alone.",
        );
    }
    if sheet.is_by_trials() {
        let words = "The trial runs tell what a reading calls for: enter it with `rotorbook balance`.";
        section.parts.push(Part::Text(match limits::residuals(sheet) {
            Some(most) => Words::said(words).say(" May be left, at most: ").with(&most).say("."),
            None => Words::said(words),
        }));
    }
    section
}

fn table(sheet: &Sheet<'_, '_>) -> Table {
    let mut heads = vec![Words::said("Run")];
    match sheet.setup.is_on_stand() {
        true => heads.extend(ON_A_STAND.map(Words::from)),
        false => heads.push("rpm".into()),
    }
    let channels = sheet.channels();
    let at = reading::head(sheet);
    for channel in &channels {
        heads.push(head(sheet, channel));
        heads.extend(at.clone());
    }
    heads.push("Then done".into());
    let is_indexed = sheet.setup.is_told_by_half_sums();
    let runs: &[&str] = match is_indexed {
        true => &INDEXED,
        false if sheet.setup.is_on_stand() => &BY_TRIALS,
        false if sheet.is_by_trials() => &BY_TRIALS,
        false => &RUNS,
    };
    let rows = runs.iter().map(|run| {
        let mut row = vec![Value::text(*run)];
        row.extend(std::iter::repeat_n(Value::Blank(""), heads.len() - 2));
        let is_judged = [FINAL, HALF_SUM_OF_FINAL].contains(run);
        row.push(if is_judged { Value::Text(good_at(sheet)) } else { Value::Blank("") });
        row
    });
    Table::new(heads.clone(), rows.collect()).roomy()
}

/// `left: hub [div]`
fn head(sheet: &Sheet<'_, '_>, channel: &str) -> Words {
    let plane = sheet.setup.channels.iter().find(|(own, _)| *own == channel).map(|(_, plane)| *plane);
    let words = Words::stated(channel);
    let words = match plane {
        Some(plane) => words.say(": ").state(plane),
        None => words,
    };
    match sheet.setup.machine.as_ref().and_then(|machine| machine.readout.as_ref()) {
        Some(readout) => words.say(format!(" [{}]", readout.unit)),
        None => words,
    }
}

/// `good at: hub 1 div, 2 marks on fine`
fn good_at(sheet: &Sheet<'_, '_>) -> Words {
    let of = |(plane, _): &(&str, Option<&str>)| limits::as_read(sheet, plane).map(|text| ((*plane).to_owned(), text));
    let good = || Words::said("good: ").about(Rank::Limits);
    let limits: Vec<(String, String)> = sheet.planes().iter().filter_map(of).collect();
    if let Some(most) = limits::starts_with_at_most(sheet).filter(|_| sheet.setup.is_on_stand()) {
        return good().say("rests anywhere, starts with ").state(most).say(", or less");
    }
    match limits.as_slice() {
        [] => limits::never_above(sheet),
        [(_, first), rest @ ..] if rest.iter().all(|(_, other)| other == first) => {
            good().state(first.clone()).say(", or less")
        }
        all => all.iter().enumerate().fold(good(), |words, (n, (plane, text))| {
            let words = if n > 0 { words.say("; ") } else { words };
            words.state(plane.clone()).say(" ").state(text.clone())
        }),
    }
}
