//! The card of a rotor: what it is, its sketch, its tolerance and planes, and the sheets that set it up.

use super::checked::Checked;
use super::document::{BARRED, Card, Part, Row, Section, Side, Stamp, Table, Value};
use super::values::{self, Results};
use super::words::Words;
use super::{Printed, foot, sketch};
use crate::book::{Book, EffectiveBlock, PlaneResults, RotorResults};
use crate::syntax::Kind;
use crate::vocabulary::{AnyFact, Choice, extra_mass, made_of, plane, result, rotor, tolerance};

pub(super) fn card(book: &Book, rotor: &RotorResults<'_>, checked: &Checked<'_>, printed: &Printed) -> Card {
    let sections = vec![
        Some(Section::new("").rows(head(book, rotor))),
        sketch::section(book, rotor),
        parts(book, rotor),
        tolerance(book, rotor),
        planes(book, rotor),
        extra_masses(book, rotor),
        sheets(book, rotor),
    ];
    let name = Words::stated(book.item(rotor.id).name_text());
    let side = Side {
        what: "Rotor",
        under: vec![checked.summary()],
        stamp: stamp(checked, printed),
        alarms: checked.alarms(book),
        sections: sections.into_iter().flatten().collect(),
        foot: foot::of(Some(rotor)),
        every: name.clone().say(", ").with(&foot::printed(printed)),
        name,
    };
    Card {
        kind: Kind::Rotor,
        name: book.item(rotor.id).name_text().to_owned(),
        sides: vec![side],
        preview: printed.preview,
    }
}

pub(super) fn stamp(checked: &Checked<'_>, printed: &Printed) -> Option<Stamp> {
    match (checked.has_errors(), printed.preview, printed.committed) {
        (true, ..) => Some(Stamp::loose(BARRED, "the sheet has errors")),
        (_, true, _) => Some(Stamp::loose("PREVIEW", "may hold unsaved changes: do not work from it")),
        (.., false) => Some(Stamp::loose("DRAFT", "uncommitted changes: do not work from this card")),
        _ => None,
    }
}

fn head(book: &Book, rotor: &RotorResults<'_>) -> Vec<Row> {
    let fact = |fact: AnyFact, label: &'static str| values::row(book, &rotor.block, fact, label);
    let rows = vec![
        fact(rotor::DRAWING.any(), "Drawing"),
        Some(Row::new("Mass", values::amount(book, Some(&rotor.block), rotor::MASS, &rotor.mass))),
        fact(rotor::HIGHEST_SERVICE_SPEED.any(), "Highest service speed"),
        fact(rotor::HIGHEST_SAFE_SPEED.any(), "Never above"),
        fact(rotor::FIRST_BENDING_CRITICAL.any(), "First bending critical"),
        fact(rotor::LARGEST_DIAMETER.any(), "Largest diameter"),
        fact(rotor::JOURNAL_DIAMETER.any(), "Journals"),
        fact(rotor::ZERO_ANGLE.any(), "Zero mark"),
        fact(rotor::DATUM.any(), "Places count from"),
        fact(rotor::NOTE.any(), "Note"),
    ];
    rows.into_iter().flatten().collect()
}

pub(super) fn tolerance(book: &Book, rotor: &RotorResults<'_>) -> Option<Section> {
    let block = rotor.tolerance_block()?;
    let results = Results { book, entries: &rotor.entries };
    let facts = [
        (tolerance::GRADE.any(), "Grade"),
        (tolerance::EDITION.any(), "Edition"),
        (tolerance::SOURCE.any(), "Source"),
        (tolerance::RULE.any(), "Rule"),
    ];
    let mut rows: Vec<Row> =
        facts.into_iter().filter_map(|(fact, label)| values::row(book, block, fact, label)).collect();
    for (spec, label) in [
        (&result::PERMISSIBLE, "Permissible unbalance"),
        (&result::PERMISSIBLE_SPECIFIC, "Permissible specific unbalance"),
        (&result::GOVERNING_RULE, "Governing rule"),
        (&result::TOLERANCE_AT_A, "At bearing A"),
        (&result::TOLERANCE_AT_B, "At bearing B"),
        (&result::STATIC_LIMIT, "Static"),
        (&result::COUPLE_LIMIT, "Couple"),
    ] {
        rows.extend(results.row(&block.path, spec, label));
    }
    for spec in [&result::LEFT_FOR_ASSEMBLY, &result::LEFT_AT_WORST, &result::ORDER_OF_BALANCING] {
        rows.extend(results.row(&rotor.block.path, spec, spec.name));
    }
    Some(Section::new("Tolerance").rows(rows))
}

/// The parts of an assembly: where each sits, how it is turned, and which marks meet.
fn parts(book: &Book, rotor: &RotorResults<'_>) -> Option<Section> {
    let results = Results { book, entries: &rotor.entries };
    let clocking = |part: &EffectiveBlock<'_>| results.entry(&part.path, &result::CLOCKING);
    let row = |part: &EffectiveBlock<'_>| {
        let fact = |fact: AnyFact| values::fact(book, part, fact).unwrap_or_else(|| Value::text("–"));
        let turned = clocking(part).map(|entry| results.bare_of(entry));
        vec![
            Value::Item { kind: Kind::Rotor, name: part.name_text().to_owned() },
            fact(made_of::AT.any()),
            turned.unwrap_or_else(|| fact(made_of::FITTED_AT.any())),
            fact(made_of::MATCH_MARK.any()),
            fact(made_of::BALANCED.any()),
        ]
    };
    let made_of: Vec<&EffectiveBlock<'_>> = rotor.block.inner(Kind::MadeOf).collect();
    let heads = ["Part", "At", "Zero mark at", "Match mark", "Balanced"].map(Words::from).to_vec();
    let table = Table::new(heads, made_of.iter().map(|part| row(part)).collect());
    let section = Section::new("Parts").part(Part::Table(table));
    let section = match made_of.iter().any(|part| clocking(part).is_some()) {
        true => section.text(
            "Parts that can be indexed are turned so that the squares of what is left in the correction planes add up to \
             least.",
        ),
        false => section,
    };
    (!made_of.is_empty()).then_some(section)
}

fn planes(book: &Book, rotor: &RotorResults<'_>) -> Option<Section> {
    if rotor.planes.is_empty() {
        return None;
    }
    let heads = ["Plane", "At", "Radius", "Correct", "By", "Tolerance", "Most it gives"].map(Words::from).to_vec();
    let table = Table::new(heads, rotor.planes.iter().map(|plane| row(book, plane)).collect());
    Some(Section::new("Planes").part(Part::Table(table)))
}

fn row(book: &Book, plane: &PlaneResults<'_>) -> Vec<Value> {
    let fact = |fact: AnyFact| values::fact(book, &plane.block, fact).unwrap_or_else(|| Value::text("not said"));
    vec![
        Value::strong(plane.name),
        fact(plane::AT.any()),
        values::amount(book, Some(&plane.block), plane::RADIUS, &plane.radius),
        fact(plane::CORRECT.any()),
        fact(plane::METHOD.any()),
        values::printed(book, &plane.tolerance),
        plane.greatest.as_ref().map_or_else(|| Value::text("–"), |most| values::printed(book, most)),
    ]
}

/// Masses out of centre that are not corrections, and when each is on.
fn extra_masses(book: &Book, rotor: &RotorResults<'_>) -> Option<Section> {
    let row = |mass: &EffectiveBlock<'_>| {
        let on = mass.choice(extra_mass::ON).map_or("not said", |on| on.words());
        Row::new(
            Words::stated(mass.name_text()),
            Value::Text(Words::strong(on).say(": ").with(&values::extra_mass(book, mass))),
        )
    };
    let rows: Vec<Row> = rotor.block.inner(Kind::ExtraMass).map(row).collect();
    (!rows.is_empty()).then(|| Section::new("Extra masses").rows(rows))
}

/// The setups of the rotor and the records made by them, to turn to.
fn sheets(book: &Book, rotor: &RotorResults<'_>) -> Option<Section> {
    let name = |id: crate::book::ItemId| book.item(id).name_text().to_owned();
    let mut rows = Vec::new();
    for setup in book.users().setups(rotor.id) {
        rows.push(Row::new("Setup", Value::Item { kind: Kind::Setup, name: name(setup) }));
        let records = book.naming(Kind::Setup, book.item(setup).name_text()).iter();
        for record in records.filter(|id| book.item(**id).kind == Kind::Record) {
            rows.push(Row::new("Record", Value::Item { kind: Kind::Record, name: name(*record) }));
        }
    }
    (!rows.is_empty()).then(|| Section::new("Sheets of this rotor").rows(rows))
}
