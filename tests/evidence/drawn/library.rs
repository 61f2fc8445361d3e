//! Twenty results against a general-purpose library of uncertainties: `tests/data/by_library.py` says which, and from what.

use super::numbers;
use crate::shelf;
use rotorbook::units::Unit;

#[test]
fn a_library_that_knows_nothing_of_rotors_says_the_same() {
    let (_, book) = shelf::books().swap_remove(0);
    let found = numbers(&book);
    let mut reader = csv::Reader::from_reader(include_str!("../../data/by_library.csv").as_bytes());
    let mut wrong = Vec::new();
    let mut count = 0;
    for row in reader.records() {
        let row = row.unwrap();
        // A sensitivity is no unit that a sheet can write.
        let factor = match &row[1] {
            "div/g/mm" => 1e6,
            unit => Unit::parse(unit).unwrap_or_else(|_| panic!("{unit}")).factor(),
        };
        let path = &row[0];
        let [value, expanded] = [2, 3].map(|n| row[n].parse::<f64>().unwrap());
        let one = found.get(path).unwrap_or_else(|| panic!("no {path}"));
        let turn = if one.is_angle { 360.0 } else { f64::INFINITY };
        let off = (one.value / factor - value).abs();
        let off = if one.is_angle { (off % turn).min(turn - off % turn) } else { off };
        let own = 2.0 * one.standard / factor;
        // The library knows the first order alone: what a vector turns farther for being short is no more than a tenth here.
        let most = if one.is_angle { 1.1 } else { 1.02 };
        if off > 1e-6 * value || !(0.98..=most).contains(&(own / expanded)) {
            wrong.push(format!("{path}: {value} ± {expanded}, not {} ± {own}", one.value / factor));
        }
        count += 1;
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert_eq!(count, 20);
}
