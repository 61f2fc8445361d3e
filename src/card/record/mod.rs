//! The card of a record: its runs, what was corrected, and the verdict, with plots round the axis.

mod budget;
mod plots;
mod runs;

use super::checked::Checked;
use super::document::{Card, Part, Row, Section, Stamp, Table, Value};
use super::values::{self, Results};
use super::words::Words;
use super::{Printed, cautions, foot};
use crate::book::{self, Book, RecordResults, Val};
use crate::mechanics::verdict::Verdict;
use crate::syntax::Kind;
use crate::units::Amount;
use crate::vocabulary::{AnyFact, ResultSpec, record, result};

/// A record with what its card is made from.
struct Sheet<'a, 'b> {
    book: &'b Book,
    record: &'a RecordResults<'b>,
}

impl<'a> Sheet<'a, '_> {
    fn results(&self) -> Results<'a> {
        Results { book: self.book, entries: &self.record.entries }
    }
}

pub(super) fn card(book: &Book, record: &RecordResults<'_>, checked: &Checked<'_>, printed: &Printed) -> Card {
    let sheet = Sheet { book, record };
    let sections = vec![
        verdict(&sheet),
        budget::section(&sheet),
        runs::table(&sheet),
        plots::section(&sheet),
        runs::corrections(&sheet),
        others(&sheet),
        Some(
            Section::boxed("Signed")
                .rows(vec![Row::new("Date", Value::Blank("")), Row::new("Signature", Value::Blank(""))])
                .text(cautions::REPLACES_NOTHING),
        ),
    ];
    let rotor = record.setup.as_deref().and_then(|setup| setup.rotor.as_deref());
    Card {
        kind: Kind::Record,
        name: book.item(record.id).name_text().to_owned(),
        stamp: record.verdict.as_ref().map(|verdict| stamp(verdict.verdict)),
        alarms: checked.alarms(book),
        head: head(&sheet),
        sections: sections.into_iter().flatten().collect(),
        foot: foot::of(rotor, checked, printed),
        preview: false,
    }
}

fn stamp(verdict: Verdict) -> Stamp {
    match verdict {
        Verdict::Within => Stamp { word: "WITHIN", meaning: "its tolerance", firm: true },
        Verdict::WithinAsRead => {
            Stamp { word: "WITHIN AS READ", meaning: "its tolerance; not all was assessed", firm: false }
        }
        Verdict::NotShown => Stamp { word: "NOT SHOWN", meaning: "to be within its tolerance", firm: false },
        Verdict::Over => Stamp { word: "OVER", meaning: "its tolerance", firm: false },
    }
}

fn head(sheet: &Sheet<'_, '_>) -> Vec<Row> {
    let record = sheet.record;
    let item = |kind: Kind, name: &str| Value::Item { kind, name: name.to_owned() };
    let setup = record.setup.as_deref();
    let rotor = setup.and_then(|setup| setup.rotor.as_deref());
    let fact = |fact: AnyFact, label: &'static str| values::row(sheet.book, &record.block, fact, label);
    let mut rows: Vec<Option<Row>> = vec![
        rotor.map(|rotor| Row::new("Rotor", item(Kind::Rotor, sheet.book.item(rotor.id).name_text()))),
        fact(record::SERIAL.any(), "Serial number"),
        Some(Row::new(
            "By the sheet",
            match setup {
                Some(setup) => item(Kind::Setup, sheet.book.item(setup.id).name_text()),
                None => values::wanted(sheet.book, &record.block, record::SETUP),
            },
        )),
        fact(record::REVISION.any(), "Revision of the sheet"),
        fact(record::CUSTOMER.any(), "Customer"),
        fact(record::ORDER.any(), "Order"),
        fact(record::DATE.any(), "Date"),
        fact(record::BY.any(), "By"),
    ];
    rows.extend(notes(sheet).map(Some));
    rows.into_iter().flatten().collect()
}

fn notes<'s>(sheet: &'s Sheet<'_, '_>) -> impl Iterator<Item = Row> + 's {
    let notes = sheet.record.block.fields.iter().filter(|field| field.field.key.is(record::NOTE));
    notes.map(|field| Row::new("Note", values::stated(sheet.book, *field)))
}

fn verdict(sheet: &Sheet<'_, '_>) -> Option<Section> {
    let section = Section::boxed("Verdict");
    let Some(verdict) = &sheet.record.verdict else {
        return Some(section.text("Not computed, because the record has no run."));
    };
    let section = verdict.reasons.iter().fold(section, |section, reason| section.text(Words::stated(reason.clone())));
    if verdict.judged.is_empty() {
        return Some(section);
    }
    let rows = verdict.judged.iter().map(|judged| {
        let word = judged.verdict.map_or_else(
            || Value::Hole("something is missing".into()),
            |verdict| Value::strong(book::word_of(verdict)),
        );
        vec![
            Value::text(Words::stated(judged.name())),
            alone(sheet.book, &judged.measured),
            judged.uncertainty.map_or(Value::text("–"), |known_to| {
                Value::text(Words::stated(values::in_unit(known_to, judged.measured.unit)))
            }),
            alone(sheet.book, &judged.limit),
            word,
        ]
    });
    let heads = ["At", "Measured", "Known to ±", "Limit", "Verdict"];
    Some(section.part(Part::Table(Table {
        caption: Words::default(),
        heads: heads.map(Words::from).to_vec(),
        rows: rows.collect(),
        below: Vec::new(),
    })))
}

/// A value without what its own facts leave open: what it is known to stands beside it.
fn alone<T: Amount>(book: &Book, value: &Val<T>) -> Value {
    values::printed(book, &Val { contributions: Default::default(), ..value.clone() })
}

/// What arbor, traverse and checks say, as `show` has it.
fn others(sheet: &Sheet<'_, '_>) -> Option<Section> {
    const OTHERS: [&ResultSpec; 10] = [
        &result::ARBOR_UNBALANCE,
        &result::ROTOR_UNBALANCE,
        &result::RUN_ROTOR_UNBALANCE,
        &result::INDEX_SCATTER,
        &result::RESIDUAL,
        &result::RESIDUAL_OF_EXTREMES,
        &result::RESIDUAL_AT,
        &result::DEPARTURE,
        &result::REDUCTION,
        &result::EFFECT,
    ];
    let rows: Vec<Row> = sheet
        .record
        .entries
        .iter()
        .filter(|entry| OTHERS.contains(&entry.spec))
        .map(|entry| {
            let of = entry.path.innermost().map(|block| format!("{block}: ")).unwrap_or_default();
            Row::new(Words::stated(format!("{of}{}", entry.name())), sheet.results().value_of(entry))
        })
        .collect();
    (!rows.is_empty()).then(|| Section::new("What else the runs tell").rows(rows))
}
