//! What is told of a row leaves nothing out of what its numbers are known to.

use rotorbook::book::Computing;
use rotorbook::units::Amount;

use crate::shelf::{books, records};

// A budget may know more than the readings and facts that a row is worked out from, never less: twice the standard
// uncertainty that they make together (JCGM 100, 5.1.2, from memory) is at most what the row is known to.
#[test]
fn no_row_is_known_better_than_what_it_is_worked_out_from() {
    let (mut rows, mut wrong) = (0, Vec::new());
    for (name, book) in books() {
        let computing = Computing::without_explanations(&book);
        for id in records(&book) {
            let Some(verdict) = computing.record(id).and_then(|record| record.verdict) else { continue };
            for row in &verdict.judged {
                let Some(known_to) = row.uncertainty.map(Amount::raw) else { continue };
                let standard = row.measured.standard_uncertainty();
                rows += 1;
                if 2.0 * standard > known_to * (1.0 + 1e-6) {
                    let record = book.item(id).name_text();
                    wrong.push(format!("{name} / {record} / {}: 2 · {standard:.4e}, and {known_to:.4e}", row.name()));
                }
            }
        }
    }
    assert!(rows > 50, "only {rows} rows");
    assert!(wrong.is_empty(), "{} of {rows}\n{}", wrong.len(), wrong.join("\n"));
}
