//! What a run card says to put on or take off for a reading, done as it is printed.

use std::sync::Arc;

use crate::support::books;
use crate::support::cards::{example_book, printed, sections};
use rotorbook::book::{Book, Computing, ItemId, Outcome, SetupResults};
use rotorbook::card::{self, Part, Sides, Table};
use rotorbook::sheet::FieldValue;
use rotorbook::syntax::Kind;
use rotorbook::units::{Amount, Angle, Typed, Unbalance, Unit, Vector};
use rotorbook::vocabulary::{Of, plane, result};

/// The tables of the planes of a run card, each with the name of its plane.
fn tables(book: &Book, id: ItemId) -> Vec<(String, Table)> {
    let card = card::card(&Computing::new(book), id, &[], &printed(), Sides::Run).unwrap();
    let all: Vec<_> = card.sides.iter().flat_map(sections).collect();
    let of_plane = all.into_iter().filter_map(|section| {
        let title = section.title.plain();
        let name = title.strip_prefix("Plane ")?.split(", read on").next()?.to_owned();
        let table = section.parts.iter().find_map(|part| match part {
            Part::Table(table) | Part::Beside(table, _) => Some(table.clone()),
            _ => None,
        });
        Some((name, table?))
    });
    of_plane.collect()
}

fn cells(table: &Table, column: &str) -> Vec<String> {
    let at = table.heads.iter().position(|head| head.plain().split(' ').next() == Some(column)).unwrap();
    table.rows.iter().map(|row| row[at].plain()).collect()
}

fn notes(table: &Table) -> String {
    table.below.iter().map(|words| words.plain()).collect::<Vec<_>>().join(" ")
}

fn limit(setup: &SetupResults<'_>, name: &str) -> f64 {
    let is_it = |of: Option<&str>| of.is_none_or(|of| of == name);
    let entry = setup
        .entries
        .iter()
        .find(|entry| entry.is(&result::LIMIT_TO_READ) && is_it(entry.of.as_ref().and_then(Of::plane)));
    match entry.unwrap().outcome {
        Outcome::Amount { base, .. } => base,
        ref other => panic!("{other:?}"),
    }
}

/// Pieces from the middle outwards, both sides alike, where a place takes so many: how many at which angle.
fn filled(pieces: u32, most: u32, places: usize, half_way: bool) -> Vec<(u32, Angle)> {
    let apart = 360.0 / places as f64;
    let first = if half_way { 0.5 } else { 0.0 };
    let (mut rest, mut n, mut done) = (pieces, 0, Vec::new());
    while rest > 0 {
        let off = Angle::degrees((first + f64::from(n)) * apart);
        if off == Angle::ZERO {
            done.push((rest.min(most), off));
            rest -= rest.min(most);
        } else {
            let both = rest.min(2 * most);
            done.extend([(both.div_ceil(2), off), (both / 2, Angle::ZERO - off)]);
            rest -= both;
        }
        n += 1;
        assert!(n <= 2 * places as u32, "no room for {pieces}");
    }
    done
}

// Plain geometry, of the pieces as they are put on.
#[test]
fn no_row_of_pieces_leaves_more_than_is_good() {
    let book = example_book();
    let computing = Computing::new(&book);
    let mut rows = 0;
    for (name, id) in book.names_of(Kind::Setup) {
        let setup = computing.setup(id).unwrap();
        let rotor = setup.rotor.as_deref().unwrap();
        for (plane_name, table) in tables(&book, id) {
            let plane = rotor.plane(&plane_name).unwrap();
            let (Some(places), Some(each)) = (&plane.places, plane.geometry.mass_each.get()) else { continue };
            let Some(FieldValue::Quantity(most)) =
                plane.block.field(plane::MOST_PER_PLACE).map(|most| &most.field.value)
            else {
                continue;
            };
            let most = (most.base / each.raw() + 1e-9).floor() as u32;
            let path = setup.block.path.then(rotorbook::book::Step::named(Kind::Calibrate, &plane_name));
            let entry = setup.entries.iter().find(|one| one.is(&result::DIVISION_TABLE) && one.path == path).unwrap();
            let Outcome::Table { columns, rows: worked_out, .. } = &entry.outcome else { panic!() };
            let one = worked_out[0][1].unwrap() / worked_out[0][0].unwrap();
            let good = limit(&setup, &plane_name);
            for (read, [at, half_way]) in cells(&table, "read")
                .iter()
                .zip(cells(&table, "pieces").into_iter().zip(cells(&table, "half-way")).map(|(a, b)| [a, b]))
            {
                let read = columns[0].unit.to_base(read.parse::<f64>().unwrap());
                assert!(read > good, "{name}, {plane_name}: {read} is good");
                let wanted = Vector::from_polar(Unbalance::from_raw(read * one), Angle::ZERO);
                for (pieces, is_half_way) in [(at, false), (half_way, true)] {
                    let pieces: u32 = pieces.parse().unwrap();
                    let put = filled(pieces, most, places.angles.len(), is_half_way).into_iter();
                    let put: Vector<Unbalance> = put
                        .map(|(pieces, angle)| {
                            Vector::from_polar(each * plane.radius.get().unwrap() * f64::from(pieces), angle)
                        })
                        .sum();
                    let left = (wanted - put).amount().base() / one;
                    assert!(left <= good, "{name}, {plane_name}: {read} by {pieces} leaves {left} of {good}");
                    rows += 1;
                }
            }
        }
    }
    assert!(rows > 20, "only {rows} rows");
}

// 2 g by screws of 0.14 g, five a place, 30 deg apart. At a place: 5, 5 and 5 make 0.70 + 2 × 0.70 × cos 30° = 1.912 g, and
// one more at 60° to either side 0.14 g: 17 leave 0.052 g. Half-way: 5 and 5 make 2 × 0.70 × cos 15° = 1.352 g, 3 and 3 more
// 2 × 0.42 × cos 45° = 0.594 g: 16 leave 0.054 g.
#[test]
fn pieces_share_places_as_they_act() {
    let book = example_book();
    let id = book.find(Kind::Setup, "grinding spindle 30 on the stiff bench").unwrap();
    let (_, table) = tables(&book, id).into_iter().find(|(name, _)| name == "pulley flange").unwrap();
    let last = |column: &str| cells(&table, column).last().unwrap().clone();
    assert_eq!([last("read"), last("pieces"), last("half-way")], ["2", "17", "16"].map(str::to_owned));
    // Good at 0.11 g: the row of 0.1 g is left away.
    assert_eq!(cells(&table, "read")[0], "0.2");
}

const SHEAVE: &str = r#"
machine "stiff bench" {
  supports: hard
  channels: "left", "right"

  readout {
    shows: mass at set radius
    unit: g
    smallest step: 0.01 g
    angles: measured
    angles count: with rotation
  }
}

rotor "sheave 300" {
  weighed: 4.2 kg at 0 mm, 4.0 kg at 228 mm
  bearings: 0 mm, 228 mm
  bearing arrangement: inboard
  highest service speed: 1750 rpm
  angles count: with rotation
  rotation: clockwise seen from drive end

  plane left {
    at: 76 mm
    correct: remove
    method: drilling
    direction: axial
    pitch diameter: 254 mm
    hole diameter: 9.525 mm
    depth: up to 10 mm
    material: iron
  }

  plane right {
    at: 152 mm
    correct: remove
    method: drilling
    direction: axial
    pitch diameter: 254 mm
    hole diameter: 9.525 mm
    depth: up to 10 mm
    material: iron
  }

  tolerance {
    total: TOLERANCE
    source: "drawing note"
  }
}

material iron {
  density: 7.20 g/cm3
}

setup "sheave 300 on the stiff bench" {
  rotor: "sheave 300"
  machine: "stiff bench"
  balancing speed: 700 rpm
  channel left: left
  channel right: right
  indicates: heavy spot
}
"#;

// The cone of a drill of 9.525 mm with 118° at its point is 9.525 ÷ 2 ÷ tan 59° = 2.861 mm high and has
// π ÷ 12 × 9.525² × 2.861 = 67.97 mm³, of iron 0.489 g, at 127 mm as it is read.
#[test]
fn what_the_point_of_a_drill_takes_alone_is_said() {
    let of = |tolerance: &str| {
        let book: Arc<Book> = Arc::new(books::book(&SHEAVE.replace("TOLERANCE", tolerance)));
        let id = book.find(Kind::Setup, "sheave 300 on the stiff bench").unwrap();
        let tables = tables(&book, id);
        let good = limit(&Computing::new(&book).setup(id).unwrap(), "left");
        (tables.into_iter().find(|(name, _)| name == "left").unwrap().1, Unit::GRAM.from_base(good))
    };
    let (table, good) = of("92 g·mm");
    assert!((0.25..0.489).contains(&good), "{good}");
    // The point alone leaves 0.489 − 0.489 ÷ 2 at most.
    assert!(notes(&table).contains("takes 0.489 g: for less, drill the point only"), "{}", notes(&table));
    assert!(cells(&table, "deep").iter().all(|deep| deep != "–"), "{table:?}");
    let (table, good) = of("30 g·mm");
    assert!(good < 0.2, "{good}");
    assert!(notes(&table).contains("takes 0.489 g: readings below it need a smaller drill"), "{}", notes(&table));
    let rows: Vec<(String, String)> = cells(&table, "read").into_iter().zip(cells(&table, "deep")).collect();
    let row = |read: &str, deep: &str| (read.to_owned(), deep.to_owned());
    assert!(rows.contains(&row("0.2", "–")) && rows.iter().any(|(read, _)| read == "0.5"), "{rows:?}");
}
