//! Balance quality grades and the rotors they are usual for.

use crate::book::Book;
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::vocabulary::tolerance;

/// ISO 21940-11:2016, table of grades: paraphrased, from memory. Each grade is 2.5 times the next.
const TYPICAL: [(f64, &str); 11] = [
    (4000.0, "crankshaft drives of large slow marine diesel engines, inherently unbalanced"),
    (1600.0, "crankshaft drives of large slow marine diesel engines, inherently balanced"),
    (630.0, "crankshaft drives, inherently unbalanced, elastically mounted"),
    (250.0, "crankshaft drives, inherently unbalanced, rigidly mounted"),
    (100.0, "complete reciprocating engines"),
    (40.0, "wheels and rims, drive shafts, crankshaft drives, inherently balanced, elastically mounted"),
    (
        16.0,
        "agricultural and crushing machinery, cardan shafts, crankshaft drives, inherently balanced, rigidly mounted",
    ),
    (
        6.3,
        "fans, pumps, gears, machine tools, general and process machinery, centrifuges, small or slow electric motors",
    ),
    (2.5, "gas and steam turbines, compressors, machine-tool drives, textile machines, fast electric motors"),
    (1.0, "drives of grinding machines"),
    (0.4, "gyroscopes, spindles and drives of high-precision systems"),
];

pub(super) const SOURCE: &str = "ISO 21940-11:2016, table of grades, paraphrased (from memory)";

/// Every grade of the standard's series with its typical rotors, the coarsest first.
pub(super) fn all() -> impl Iterator<Item = (f64, &'static str)> {
    TYPICAL.into_iter()
}

/// The rotors that a grade is usual for; `None` for a grade between those of the series.
pub(super) fn typical(grade: f64) -> Option<&'static str> {
    TYPICAL.iter().find(|(step, _)| (step / grade).ln().abs() < 1e-9).map(|(_, rotors)| *rotors)
}

/// Every grade that a rotor of the book states.
pub(super) fn used(book: &Book) -> Vec<f64> {
    let rotors = book.items().map(|id| book.item(id)).filter(|item| item.kind == Kind::Rotor);
    let stated =
        rotors.flat_map(|rotor| rotor.inner(Kind::Tolerance)).filter_map(|block| block.field(tolerance::GRADE));
    stated
        .filter_map(|field| match field.value {
            FieldValue::Grade(grade) => Some(grade),
            _ => None,
        })
        .collect()
}

/// How early a grade is offered: those of general machinery first (common practice, no source), then from fine to coarse.
pub(super) fn commonness(grade: f64) -> usize {
    const FIRST: [f64; 5] = [6.3, 2.5, 16.0, 1.0, 40.0];
    let first = FIRST.iter().position(|one| (one / grade).ln().abs() < 1e-9);
    first.unwrap_or_else(|| FIRST.len() + TYPICAL.iter().filter(|(step, _)| *step < grade).count())
}
