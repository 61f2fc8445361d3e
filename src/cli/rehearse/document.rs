//! A rehearsal for programs.

use serde::Serialize;

use super::{Way, text};
use crate::rehearsal::{Drawn, MOST_CORRECTIONS, Rehearsal};

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
    mountings: usize,
    /// The share of rotors that are done and truly within after no, one, two corrections and so on.
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
        rehearsals: rehearsed.iter().map(|one| of_one(one.change.clone(), &one.rehearsal)).collect(),
    }
}

fn of_one(change: Option<String>, one: &Rehearsal) -> One {
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
    let limiting = one.limiting().map(|(cause, corrections, of)| Limiting {
        cause: text::short(cause),
        words: text::of_cause(one, cause),
        corrections,
        of,
    });
    let drawn = |drawn: &Drawn| DrawnOf { what: drawn.what, from: drawn.from.clone(), stated: drawn.is_stated };
    One {
        change,
        mountings: one.mountings,
        within_after: (0..=MOST_CORRECTIONS).map(|n| one.within_after(n)).collect(),
        sampling_error: one.sampling_error(one.within_after(MOST_CORRECTIONS)),
        rows: rows.collect(),
        called_within_and_are_not: one.wrongly(),
        within_and_not_shown: one.not_recognized(),
        mean_corrections: text::mean_corrections(one),
        limiting,
        histogram: one.histogram().to_vec(),
        drawn: one.drawn.iter().map(drawn).collect(),
    }
}
