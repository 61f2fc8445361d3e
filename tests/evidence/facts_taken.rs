//! A fact of a rotor, a machine, an arbor or a setup, taken away, never makes a better word: it leaves a hole, or a line
//! of the budget of which nothing is known.

use rotorbook::book::Book;
use rotorbook::mechanics::verdict::Verdict;

use crate::scaling::{Taken, facts, scaled};
use crate::shelf::{Said, books, records};

/// Facts without which another thing is asked, and why.
const BY_NATURE: &[(&str, &str)] = &[
    ("rotor / rotor: bearings", "without bearings the planes are where the tolerance is set: another limit"),
    ("machine / readout: scatter", "the step replaces it; how far mountings lie apart is not known then"),
    ("machine / readout: smallest step", "the last digit that was written replaces it"),
    ("machine / scale: smallest step", "the last digit that was written replaces it"),
    ("machine / scale: one mark is", "marks are no divisions then, and the scale is none"),
    ("machine / scale: marks", "the scale is none then"),
    ("arbor / arbor: centring repeatability", "the clearance says how far the rotor may sit from the axis"),
    ("setup / setup: arbor", "a rotor with bearings may run in them: nothing says that it did not"),
    ("setup / balance error: plane", "each plane has it then, and another vector is taken out of what was read"),
    ("setup / balance error: at", "each plane has it then, and less acts at one bearing"),
    ("setup / setup: vibration limit", "a channel without a limit is not judged"),
    ("arbor / arbor: fit clearance", "the centring says how far the rotor may sit from the axis"),
];

fn is_good(word: Option<Verdict>) -> bool {
    matches!(word, Some(Verdict::Within | Verdict::WithinAsRead))
}

/// A row that was over or not shown, and is within or as read with no more said to be unknown than before.
fn better(taken: &Taken<'_>, before: &Said, after: &Said) -> Option<String> {
    if after.verdict == Verdict::Within && before.verdict > Verdict::WithinAsRead {
        return Some(format!("{:?} became within\n  {:?}\n  {:?}", before.verdict, before.rows, after.rows));
    }
    if after.verdict != Verdict::WithinAsRead || before.verdict < Verdict::NotShown {
        return None;
    }
    // Where the whole is within as read it must say of something new that it is not known.
    let known = |said: &Said| said.rows.iter().flat_map(|row| row.not_known.clone()).collect::<Vec<_>>();
    let (mut was, is) = (known(before), known(after));
    // Of a calibration that one plane lacks already the other one may lack it too.
    was.retain(|name| name != "dial setting" || !taken.name().starts_with("setup / calibrate"));
    let row = |name: &str| before.row(name).is_some_and(|row| !is_good(row.word));
    let improved =
        after.rows.iter().any(|one| is_good(one.word) && row(&one.name)) || before.rows.len() > after.rows.len();
    (improved && is.iter().all(|name| was.contains(name)))
        .then(|| format!("{:?} became within as read\n  {:?}\n  {:?}", before.verdict, before.rows, after.rows))
}

fn by_nature(taken: &Taken<'_>) -> bool {
    BY_NATURE.iter().any(|(name, _)| taken.name().starts_with(name))
}

/// With the governing limit so many uncertainties above what was measured, and one fact in so many.
pub fn of_record(
    what: &str,
    (book, record): (&Book, &str),
    above: f64,
    one_in: usize,
    wrong: &mut Vec<String>,
) -> usize {
    let Some(base) = Said::of(book, record) else { return 0 };
    let Some(row) = base.governing() else { return 0 };
    let limit = row.measured + above * row.uncertainty;
    if limit <= 0.0 {
        return 0;
    }
    let Some(book) = scaled(book, limit / row.limit) else { return 0 };
    let Some(before) = Said::of(&book, record).filter(|said| said.verdict > Verdict::WithinAsRead) else { return 0 };
    let mut count = 0;
    for taken in facts(&book).iter().filter(|taken| !by_nature(taken)).step_by(one_in) {
        let Some(after) = Said::of(&taken.away(&book), record) else { continue };
        count += 1;
        if let Some(why) = better(taken, &before, &after) {
            wrong.push(format!("{what}, limit {above} U above, without {}: {why}", taken.name()));
        }
    }
    count
}

fn take_facts(one_in: usize) -> usize {
    let (mut wrong, mut count) = (Vec::new(), 0);
    for (name, book) in books() {
        for id in records(&book) {
            let record = book.item(id).name_text();
            for above in [0.5, -1.5] {
                count += of_record(&format!("{name} / {record}"), (&book, record), above, one_in, &mut wrong);
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    count
}

#[test]
fn a_fact_taken_away_makes_no_word_better() {
    let count = take_facts(5);
    assert!(count > 240, "only {count} facts were taken away");
}

#[test]
#[ignore = "every fact: most of a minute without optimisation"]
fn no_fact_taken_away_makes_a_word_better() {
    let count = take_facts(1);
    assert!(count > 1200, "only {count} facts were taken away");
}
