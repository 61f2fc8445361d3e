//! A rehearsal for programs.

use serde::Serialize;

use super::{Way, text};
use crate::rehearsal::{Drawn, MOST_CORRECTIONS};

/// Rises whenever a program that reads the document would have to be changed.
const VERSION: u32 = 1;

#[derive(Serialize)]
pub(super) struct Document {
    version: u32,
    setup: String,
    seed: u64,
    rotors: usize,
    /// Why its calibration is void; empty where it holds, or was never proven.
    void: Vec<String>,
    /// As the setup is, then with each change.
    rehearsals: Vec<One>,
}

#[derive(Serialize)]
struct One {
    change: Option<String>,
    /// Whether each rotor ended as in the first rehearsal.
    same: bool,
    mountings: usize,
    /// The share of rotors that are truly within in the end, whatever their records say.
    truly_within: f64,
    /// Half the width of its 95 % interval.
    truly_within_error: f64,
    /// Rotors that are truly over in the end, and those of them that had all the corrections that a rotor gets.
    truly_over: usize,
    truly_over_after_the_most: usize,
    /// The share of rotors that are truly within after no, one, two corrections and so on, and whose records show it.
    within_after: Vec<f64>,
    /// Half the width of the 95 % interval of the last of them.
    sampling_error: f64,
    rows: Vec<RowOf>,
    called_within_and_are_not: usize,
    within_and_not_shown: usize,
    mean_corrections: f64,
    limiting: Option<Limiting>,
    /// How many rotors ended in each tenth of the limit that governs; the last holds all from 1.5 on.
    histogram: Vec<usize>,
    drawn: Vec<DrawnOf>,
}

#[derive(Serialize)]
struct RowOf {
    corrections: usize,
    rotors: usize,
    truly_within: usize,
    said_within: usize,
    said_within_as_read: usize,
    not_shown: usize,
    over: usize,
    wrongly_within: usize,
}

#[derive(Serialize)]
struct Limiting {
    cause: &'static str,
    words: String,
    corrections: usize,
    of: usize,
    after_the_first: bool,
}

#[derive(Serialize)]
struct DrawnOf {
    what: &'static str,
    from: String,
    stated: bool,
}

pub(super) fn of(setup: &str, void: &[String], rehearsed: &[Way]) -> Document {
    let first = rehearsed.first().map(|one| &one.rehearsal);
    Document {
        version: VERSION,
        setup: setup.to_owned(),
        seed: first.map_or(0, |one| one.seed),
        rotors: first.map_or(0, |one| one.endings.len()),
        void: void.to_vec(),
        rehearsals: rehearsed
            .iter()
            .map(|one| of_one(one, first.is_some_and(|first| one.rehearsal.is_same_as(first))))
            .collect(),
    }
}

fn of_one(Way { change, rehearsal: one }: &Way, same: bool) -> One {
    let rows = one.rows().into_iter().map(|row| RowOf {
        corrections: row.corrections,
        rotors: row.rotors,
        truly_within: row.truly_within,
        said_within: row.said_within,
        said_within_as_read: row.said_as_read,
        not_shown: row.not_shown,
        over: row.over,
        wrongly_within: row.wrongly,
    });
    let limiting = one.limiting().map(|limiting| Limiting {
        cause: text::short(limiting.cause),
        words: text::of_cause(one, limiting.cause),
        corrections: limiting.corrections,
        of: limiting.of,
        after_the_first: limiting.after_the_first,
    });
    let drawn = |drawn: &Drawn| DrawnOf { what: drawn.what, from: drawn.from.clone(), stated: drawn.is_stated };
    let [truly_over, truly_over_after_the_most] = one.truly_over();
    One {
        change: change.clone(),
        same,
        mountings: one.mountings,
        truly_within: one.truly_within(),
        truly_within_error: one.sampling_error(one.truly_within()),
        truly_over,
        truly_over_after_the_most,
        within_after: (0..=MOST_CORRECTIONS).map(|n| one.shown_within_after(n)).collect(),
        sampling_error: one.sampling_error(one.shown_within_after(MOST_CORRECTIONS)),
        rows: rows.collect(),
        called_within_and_are_not: one.wrongly(),
        within_and_not_shown: one.not_recognized(),
        mean_corrections: text::mean_corrections(one),
        limiting,
        histogram: one.histogram().to_vec(),
        drawn: one.drawn.iter().map(drawn).collect(),
    }
}
