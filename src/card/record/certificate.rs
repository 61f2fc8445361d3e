//! A certificate for who gets the rotor: what it is, what was agreed, what was found, done and left, and the verdict.

use super::runs::{found, work};
use super::{Sheet, stamp};
use crate::book::{self, Book, Judged, RecordResults, RotorResults, RunResults};
use crate::card::checked::Checked;
use crate::card::document::{Card, Number, Part, Row, Section, Side, Standing, Table, Value};
use crate::card::words::Words;
use crate::card::{Printed, foot, values};
use crate::mechanics::verdict::Verdict;
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::units::{Amount, Typed, Unbalance};
use crate::vocabulary::{AnyFact, Bearing, Of, machine, record, rotor, run, setup, tolerance};

const WHAT: &str = "Balancing certificate";

/// Of one record.
pub(in crate::card) fn of_one(
    book: &Book,
    record: &RecordResults<'_>,
    checked: &Checked<'_>,
    printed: &Printed,
) -> Card {
    let sheet = Sheet { book, record, printed };
    let sections = vec![
        Some(identity(&sheet)),
        limits(&sheet),
        runs(&sheet),
        corrections(&sheet),
        Some(verdict(&sheet, checked)),
        Some(super::signed()),
    ];
    let name = book.item(record.id).name_text();
    card(&sheet, checked, Words::stated(name), sections.into_iter().flatten().collect())
}

fn card(sheet: &Sheet<'_, '_>, checked: &Checked<'_>, name: Words, sections: Vec<Section>) -> Card {
    let record = sheet.record;
    let rotor = record.setup.as_deref().and_then(|setup| setup.rotor.as_deref());
    let side = Side {
        what: WHAT,
        under: shop(sheet.book).into_iter().collect(),
        stamp: stamp(sheet, checked),
        alarms: super::alarms(sheet, checked),
        sections,
        foot: foot::of(rotor),
        every: name.clone().say(", ").with(&foot::printed(sheet.printed)),
        name: name.clone(),
    };
    Card { kind: Kind::Record, name: name.plain(), sides: vec![side], preview: false }
}

fn shop(book: &Book) -> Option<Words> {
    book.shop().map(|shop| Words::stated(shop.name_text()))
}

fn setup_row(sheet: &Sheet<'_, '_>, fact: AnyFact, label: &'static str) -> Option<Row> {
    let setup = sheet.record.setup.as_deref()?;
    values::row(sheet.book, &setup.block, fact, label)
}

fn identity(sheet: &Sheet<'_, '_>) -> Section {
    let setup = sheet.record.setup.as_deref();
    let rotor = setup.and_then(|setup| setup.rotor.as_deref());
    let name = |item| Value::text(Words::stated(sheet.book.item(item).name_text()));
    let own = |fact: AnyFact, label: &'static str| values::row(sheet.book, &sheet.record.block, fact, label);
    let rows = [
        rotor.map(|rotor| Row::new("Rotor", name(rotor.id))),
        rotor.and_then(|rotor| values::row(sheet.book, &rotor.block, rotor::DRAWING, "Drawing")),
        Some(Row::new("Serial number", sheet.text(record::SERIAL.any()).map_or(Value::Blank(""), Value::strong))),
        Some(Row::new("Customer", sheet.text(record::CUSTOMER.any()).map_or(Value::Blank(""), Value::text))),
        Some(Row::new("Order", sheet.text(record::ORDER.any()).map_or(Value::Blank(""), Value::text))),
        own(record::DATE.any(), "Balanced on"),
        own(record::BY.any(), "By"),
        rotor.and_then(|rotor| {
            values::row(sheet.book, &rotor.block, rotor::HIGHEST_SERVICE_SPEED, "Highest service speed")
        }),
    ];
    Section::new("").rows(rows.into_iter().flatten().chain(run_by(sheet)).collect())
}

/// The machine and the sheet that it was run by.
fn run_by(sheet: &Sheet<'_, '_>) -> Vec<Row> {
    let setup = sheet.record.setup.as_deref();
    let machine = setup.and_then(|setup| setup.machine.as_ref());
    let name = |item| Value::text(Words::stated(sheet.book.item(item).name_text()));
    let rows = [
        machine.map(|machine| Row::new("Machine", name(machine.id))),
        machine.and_then(|machine| values::row(sheet.book, &machine.block, machine::TESTED, "Machine tested on")),
        setup_row(sheet, setup::BALANCING_SPEED.any(), "Balancing speed"),
        setup.map(|setup| Row::new("Setup sheet", name(setup.id))),
        super::revision(sheet).map(|revision| Row::new("Revision", revision)),
    ];
    rows.into_iter().flatten().collect()
}

fn limits(sheet: &Sheet<'_, '_>) -> Option<Section> {
    let rotor = sheet.record.setup.as_deref()?.rotor.as_deref()?;
    let mut section = match of_the_day(sheet, rotor) {
        Some(section) => section,
        None => crate::card::rotor::tolerance(sheet.book, rotor)?,
    };
    section.title = "Limits and their sources".into();
    Some(section)
}

/// The limits by which a record keeps its verdict, where those of today's sheet are others: whoever gets the rotor reads no
/// limit by which it was not judged.
fn of_the_day(sheet: &Sheet<'_, '_>, rotor: &RotorResults<'_>) -> Option<Section> {
    let by = sheet.record.bound_to()?;
    let judged = || {
        let judged = sheet.record.verdict.iter().flat_map(|verdict| &verdict.judged);
        judged.filter(|one| !matches!(one.of, Of::Channel(_)))
    };
    let is_other = |one: &Judged| match (one.limit.get(), today(rotor, &one.of)) {
        (Some(limit), Today::Is(today)) => (limit.raw() / today.base() - 1.0).abs() > SAME_LIMIT,
        (_, today) => matches!(today, Today::HasNone),
    };
    if !judged().any(is_other) {
        return None;
    }
    let rows = judged().map(|one| Row::new(Words::stated(one.name()), values::printed(sheet.book, &one.limit)));
    let section = Section::new("").rows(rows.collect());
    Some(section.text(Words::said("As kept by ").state(by.words()).say("; the sheet of today sets other limits.")))
}

/// Limits are kept with six digits.
const SAME_LIMIT: f64 = 1e-4;

/// What a rotor is allowed by the sheet of today.
enum Today {
    Is(Unbalance),
    HasNone,
    /// Not worked out for a card.
    NotAsked,
}

fn today(rotor: &RotorResults<'_>, of: &Of) -> Today {
    let block = rotor.tolerance_block();
    let stated = |fact: AnyFact| match block?.field(fact).map(|field| &field.field.value) {
        Some(FieldValue::Quantity(stated)) => Some(Unbalance::from_base(stated.base)),
        _ => None,
    };
    let known = match of {
        Of::Bearing(bearing) => {
            let (n, fact) = match bearing {
                Bearing::A => (0, tolerance::AT_BEARING_A),
                Bearing::B => (1, tolerance::AT_BEARING_B),
            };
            let shared = rotor.shared_at_bearings[n].get();
            stated(fact.any()).into_iter().chain(shared).reduce(Unbalance::min)
        }
        Of::Static => stated(tolerance::STATIC.any()),
        _ => return Today::NotAsked,
    };
    known.map_or(Today::HasNone, Today::Is)
}

/// As found and as left: the first run of the whole job, and the judged run.
fn runs(sheet: &Sheet<'_, '_>) -> Option<Section> {
    let record = sheet.record;
    let chain = record.chain();
    let (first, found_in) = chain.iter().find_map(|one| Some((one.runs.first()?, *one)))?;
    let judged = judged_run(record);
    let planes = judged.unwrap_or(first).planes.iter().map(|plane| plane.name).collect::<Vec<_>>();
    let mut heads = vec![Words::said("Run"), Words::said("Speed")];
    heads.extend(planes.iter().map(|plane| Words::said("Unbalance in ").state(*plane)));
    let row = |label: &'static str, of: &RecordResults<'_>, run: &RunResults<'_>| {
        let words = Words::said(label);
        let words = if run.name == label { words } else { words.say(", ").state(run.name) };
        let mut row = vec![Value::Text(if of.id == record.id { words } else { words.say(", ").with(&on(sheet, of)) })];
        row.push(values::fact(sheet.book, &run.block, run::SPEED).unwrap_or_else(|| Value::text("–")));
        let of_plane = |plane: &&str| run.plane(plane).map(|plane| found(sheet, &plane.own()));
        row.extend(planes.iter().map(|plane| of_plane(plane).unwrap_or_else(|| Value::text("–"))));
        row
    };
    let mut rows = vec![row("as found", found_in, first)];
    let is_other = |run: &&RunResults<'_>| !std::ptr::eq(*run, first);
    rows.extend(judged.filter(is_other).map(|run| row("as left", record, run)));
    let before_the_last = record.runs.last().filter(|_| judged.is_none());
    rows.extend(before_the_last.filter(is_other).map(|run| row("before the last correction", record, run)));
    let section = Section::new("As found and as left").part(Part::Table(Table::new(heads, rows)));
    Some(match before_the_last {
        Some(_) => section.text("No run follows the last correction: as left is not known."),
        None => section,
    })
}

/// The run that the verdict is on.
fn judged_run<'r, 'b>(record: &'r RecordResults<'b>) -> Option<&'r RunResults<'b>> {
    record.verdict.as_ref().and_then(|verdict| verdict.run).and_then(|n| record.runs.get(n))
}

/// When an earlier record was made, else its name.
fn on(sheet: &Sheet<'_, '_>, of: &RecordResults<'_>) -> Words {
    match values::fact(sheet.book, &of.block, record::DATE) {
        Some(Value::Text(date)) => Words::said("on ").with(&date),
        _ => Words::said("in ").state(sheet.book.item(of.id).name_text()),
    }
}

/// All that was done to the rotor, in the records that this one goes on with too.
fn corrections(sheet: &Sheet<'_, '_>) -> Option<Section> {
    let mut rows: Vec<Vec<Value>> = Vec::new();
    for record in sheet.record.chain() {
        let own = Sheet { book: sheet.book, record, printed: sheet.printed };
        let row = |one: &book::CorrectionResults<'_>| {
            vec![Value::text(Words::stated(one.plane)), Value::Text(work(&own, one))]
        };
        rows.extend(record.corrections.iter().map(row));
    }
    rows.extend(super::runs::weights_now(sheet).into_iter().map(|(plane, at)| {
        vec![
            Value::text(Words::stated(plane)),
            Value::Text(Words::said("sliding weights at ").stress(at).say(", weight 1 first")),
        ]
    }));
    let heads = ["Plane", "Correction"].map(Words::from).to_vec();
    (!rows.is_empty()).then(|| Section::new("Corrections").part(Part::Table(Table::new(heads, rows))))
}

fn verdict(sheet: &Sheet<'_, '_>, checked: &Checked<'_>) -> Section {
    let standing = super::standing(sheet.book, sheet.record, checked, sheet.printed);
    let word = standing.as_ref().map_or("not computed", Standing::word).to_owned();
    let mut section = super::verdict::section(sheet);
    section.parts.insert(0, Part::Numbers(vec![Number::new("Verdict", Value::text(word))]));
    section.text("± is expanded uncertainty, k = 2.")
}

/// Of several: one line a rotor, with a summary.
pub(in crate::card) fn of_batch(
    book: &Book,
    records: &[&RecordResults<'_>],
    checked: &[Checked<'_>],
    printed: &Printed,
) -> Option<Card> {
    let first = records.first()?;
    let sheet = Sheet { book, record: first, printed };
    let standing =
        |(record, checked): (&&RecordResults<'_>, &Checked<'_>)| super::standing(book, record, checked, printed);
    let standings: Vec<Option<Standing>> = records.iter().zip(checked).map(standing).collect();
    let count = |is_it: &dyn Fn(&Standing) -> bool| standings.iter().flatten().filter(|one| is_it(one)).count();
    let number = |label: &'static str, count: usize| Number::new(label, Value::text(count.to_string()));
    let words = [Verdict::Within, Verdict::WithinAsRead, Verdict::NotShown, Verdict::OverAsRead, Verdict::Over];
    let mut numbers = vec![number("Rotors", records.len())];
    numbers.extend(words.map(|word| number(book::word_of(word), count(&|one| *one == Standing::Judged(word)))));
    let others = count(&|one| matches!(one, Standing::Stamped(_)));
    numbers.extend((others > 0).then(|| number("without a verdict", others)));
    let summary = Section::new("").part(Part::Numbers(numbers));
    let errors = checked.iter().any(Checked::has_errors);
    let mut sections = vec![summary];
    let rotor_of = |record: &RecordResults<'_>| {
        record.setup.as_deref().and_then(|setup| setup.rotor.as_ref().map(|rotor| rotor.id))
    };
    let of_one_rotor = records.iter().all(|record| rotor_of(record) == rotor_of(first));
    if of_one_rotor {
        sections.extend(limits(&sheet));
    }
    let setup_of = |record: &RecordResults<'_>| record.setup.as_deref().map(|setup| setup.id);
    if records.iter().all(|record| setup_of(record) == setup_of(first)) {
        sections.push(Section::new("Run by").rows(run_by(&sheet)));
    }
    let rotor: Option<&RotorResults<'_>> = first.setup.as_deref().and_then(|setup| setup.rotor.as_deref());
    let rotor = rotor.filter(|_| of_one_rotor);
    sections.push(table(book, records, rotor, &standings, printed));
    sections.push(super::signed());
    let name = Words::said(format!("{} record{}", records.len(), if records.len() == 1 { "" } else { "s" }));
    let side = Side {
        what: WHAT,
        under: shop(book).into_iter().collect(),
        stamp: None,
        alarms: if errors {
            vec![Words::strong("SOME OF THESE SHEETS HAVE ERRORS.").say(" Not to be used.")]
        } else {
            alarms(book, records, checked, printed)
        },
        sections,
        foot: foot::of(rotor),
        every: name.clone().say(", ").with(&foot::printed(printed)),
        name: name.clone(),
    };
    Some(Card { kind: Kind::Record, name: name.plain(), sides: vec![side], preview: false })
}

/// What is said against all of them, or against some, which are named.
fn alarms(book: &Book, records: &[&RecordResults<'_>], checked: &[Checked<'_>], printed: &Printed) -> Vec<Words> {
    let mut all: Vec<(Words, Vec<&str>)> = Vec::new();
    for (record, checked) in records.iter().zip(checked) {
        let name = book.item(record.id).name_text();
        for alarm in super::alarms(&Sheet { book, record, printed }, checked) {
            match all.iter_mut().find(|(said, _)| *said == alarm) {
                Some((_, names)) => names.push(name),
                None => all.push((alarm, vec![name])),
            }
        }
    }
    let told = |(alarm, names): (Words, Vec<&str>)| match names.len() == records.len() {
        true => alarm,
        false => alarm.say(" This applies to ").state(names.join("; ")).say("."),
    };
    all.into_iter().map(told).collect()
}

/// With the limits of what is listed, where all are of one rotor.
fn table(
    book: &Book,
    records: &[&RecordResults<'_>],
    rotor: Option<&RotorResults<'_>>,
    standings: &[Option<Standing>],
    printed: &Printed,
) -> Section {
    let planes: Vec<&str> = records
        .iter()
        .find_map(|record| record.runs.first())
        .map(|run| run.planes.iter().map(|plane| plane.name).collect())
        .unwrap_or_default();
    let mut heads: Vec<Words> = ["Rotor", "Serial number", "Date"].map(Words::from).to_vec();
    for plane in &planes {
        heads.push(Words::said("Found, ").state(*plane));
        let left = Words::said("Left, ").state(*plane);
        let limit = rotor.and_then(|rotor| rotor.plane(plane)).map(|plane| &plane.tolerance);
        heads.push(match limit.filter(|limit| limit.is_known()).map(|limit| values::at_the_machine(book, limit)) {
            Some(Value::Text(limit)) => left.say(", of ").with(&limit),
            _ => left,
        });
    }
    heads.push("Verdict".into());
    let row = |(record, standing): (&&RecordResults<'_>, &Option<Standing>)| {
        let sheet = Sheet { book, record, printed };
        let name = book.item(record.id).name_text().to_owned();
        let rotor = record.setup.as_deref().and_then(|setup| setup.rotor.as_deref());
        let mut row = vec![
            Value::text(rotor.map_or("–", |rotor| book.item(rotor.id).name_text()).to_owned()),
            Value::text(sheet.text(record::SERIAL.any()).unwrap_or(name)),
            Value::text(sheet.text(record::DATE.any()).unwrap_or_else(|| "–".to_owned())),
        ];
        let (first, judged) = (record.chain().iter().find_map(|one| one.runs.first()), judged_run(record));
        for plane in &planes {
            for run in [first, judged] {
                let found = run.and_then(|run| run.plane(plane)).map(|plane| plane.own().amount());
                row.push(found.map_or_else(|| Value::text("–"), |amount| values::at_the_machine(book, &amount)));
            }
        }
        row.push(Value::text(standing.as_ref().map_or("–", Standing::word).to_owned()));
        row
    };
    Section::new("One line per rotor")
        .part(Part::Table(Table::new(heads, records.iter().zip(standings).map(row).collect())))
        .text("What each amount is known to is in the certificate of its record.")
}
