//! Every row of `tests/data/mechanics.csv`, worked out by the formulas and compared with what its source gives.

mod corrections;
mod masses;
mod rotors;
mod row;
mod setups;
mod uncertainty;

use row::{Outcome, Row};

const TABLE: &str = include_str!("../../data/mechanics.csv");
const STANDINGS: [&str; 3] = ["seen", "from memory", "common practice"];

fn rows() -> Vec<Row> {
    let mut reader = csv::Reader::from_reader(TABLE.as_bytes());
    reader.deserialize().map(|row| row.expect("a row has eight columns")).collect()
}

fn outcome(row: &Row) -> Outcome {
    let topics = [rotors::outcome, masses::outcome, corrections::outcome, setups::outcome, uncertainty::outcome];
    let found = topics.iter().find_map(|topic| topic(row));
    found.unwrap_or_else(|| panic!("{}: nothing computes `{}`", row.id, row.what))
}

#[test]
fn every_row_agrees_with_its_source() {
    let wrong: Vec<String> = rows().iter().flat_map(|row| row.disagreements(&outcome(row))).collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_row_names_where_it_comes_from() {
    let rows = rows();
    for row in &rows {
        assert!(!row.source.is_empty(), "{}: no source", row.id);
        assert!(STANDINGS.contains(&row.standing.as_str()), "{}: standing {}", row.id, row.standing);
        let twice = rows.iter().filter(|other| other.id == row.id).count();
        assert_eq!(twice, 1, "{} appears twice", row.id);
        let common = row.standing == "common practice";
        assert!(!common || row.source.contains("ISO") || row.note.contains("no source"), "{}: say `no source`", row.id);
    }
}
