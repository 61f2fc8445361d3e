//! How the rotors of a rehearsal ended, and what of it can be said in few words.

use std::collections::BTreeMap;

use super::given::{Drawn, Plan, Plane};
use super::work::MOST_CORRECTIONS;
use crate::mechanics::verdict::Verdict;

/// What a correction fell short by.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Cause {
    /// Scatter and step of the readout.
    Reading,
    /// The end of its widest scale: what lies beyond is not read.
    EndOfScale,
    Mounting,
    /// Gain, angle and interference of the channels.
    Machine,
    /// The most that can be corrected in this plane at a time.
    Capacity(usize),
    /// The steps in which it is corrected in this plane: pieces, places, what a depth is rounded to.
    Steps(usize),
    /// Mass, depth and angle as they are made.
    Making,
}

/// A correction that did not bring its rotor within.
#[derive(Clone, Copy, Debug)]
pub struct Short {
    /// Which one it was, from 1.
    pub correction: usize,
    pub cause: Cause,
}

/// What most corrections fell short by.
#[derive(Clone, Copy, Debug)]
pub struct Limiting {
    pub cause: Cause,
    pub corrections: usize,
    /// Of so many that fell short.
    pub of: usize,
    /// Whether the first correction of each rotor is left out of both.
    pub after_the_first: bool,
}

/// How one rotor ended.
#[derive(Clone, Debug)]
pub struct Ending {
    pub number: u64,
    pub corrections: usize,
    /// What truly acts at the worst limit, over it; and the number of that limit.
    pub over: f64,
    pub limit: usize,
    /// What the record says.
    pub word: Option<Verdict>,
    /// Why it says no more, in its own words.
    pub reason: Option<String>,
    pub short: Vec<Short>,
}

impl Ending {
    pub fn is_within(&self) -> bool {
        self.over <= 1.0
    }

    pub fn is_said_within(&self) -> bool {
        self.word.is_some_and(Verdict::is_good)
    }
}

/// The rotors that were done after so many corrections.
#[derive(Clone, Copy, Default, Debug)]
pub struct Row {
    pub corrections: usize,
    pub rotors: usize,
    pub truly_within: usize,
    pub said_within: usize,
    pub said_as_read: usize,
    pub not_shown: usize,
    pub over: usize,
    /// Said to be within, or within as read, and is not.
    pub wrongly: usize,
}

/// A plane, and what of its sheet limits a correction in it.
#[derive(Clone, Debug)]
pub struct Named {
    pub name: String,
    /// The lines that say how much it takes: `most per place: 12 g`.
    pub takes: Vec<String>,
    /// The lines that say in which steps: `mass each: 2.5 g`.
    pub steps: Vec<String>,
}

impl Named {
    fn of(plane: &Plane) -> Self {
        Self { name: plane.name.clone(), takes: plane.takes.clone(), steps: plane.steps.clone() }
    }
}

/// What a rehearsal showed.
#[derive(Clone, Debug)]
pub struct Rehearsal {
    pub seed: u64,
    /// How often each rotor is laid in before it is judged.
    pub mountings: usize,
    /// Whether it stays in its own bearings, and is only run so often.
    pub in_place: bool,
    pub endings: Vec<Ending>,
    pub drawn: Vec<Drawn>,
    pub planes: Vec<Named>,
    pub limits: Vec<String>,
}

impl Rehearsal {
    pub(super) fn of(plan: &Plan, seed: u64, mountings: usize, mut endings: Vec<Ending>) -> Self {
        endings.sort_by_key(|ending| ending.number);
        Self {
            seed,
            mountings,
            in_place: plan.in_place,
            endings,
            drawn: plan.drawn.clone(),
            planes: plan.planes.iter().map(Named::of).collect(),
            limits: plan.limits.iter().map(|limit| limit.name.clone()).collect(),
        }
    }

    /// A row for each number of corrections.
    pub fn rows(&self) -> Vec<Row> {
        let row = |corrections| {
            let mut row = Row { corrections, ..Row::default() };
            for one in self.endings.iter().filter(|one| one.corrections == corrections) {
                row.rotors += 1;
                row.truly_within += usize::from(one.is_within());
                match one.word {
                    Some(Verdict::Within) => row.said_within += 1,
                    Some(Verdict::WithinAsRead) => row.said_as_read += 1,
                    Some(Verdict::OverAsRead | Verdict::Over) => row.over += 1,
                    Some(Verdict::NotShown) | None => row.not_shown += 1,
                }
                row.wrongly += usize::from(one.is_said_within() && !one.is_within());
            }
            row
        };
        (0..=MOST_CORRECTIONS).map(row).filter(|row| row.rotors > 0).collect()
    }

    /// The share of rotors that are truly within in the end, whatever their records say.
    pub fn truly_within(&self) -> f64 {
        let within = self.endings.iter().filter(|one| one.is_within());
        within.count() as f64 / self.endings.len().max(1) as f64
    }

    /// Rotors that are truly over in the end, and those of them that had all the corrections that a rotor gets.
    pub fn truly_over(&self) -> [usize; 2] {
        let over = self.endings.iter().filter(|one| !one.is_within());
        [over.clone().count(), over.filter(|one| one.corrections >= MOST_CORRECTIONS).count()]
    }

    /// The share of rotors that are truly within after at most so many corrections, and whose records show it.
    pub fn shown_within_after(&self, corrections: usize) -> f64 {
        let done =
            self.endings.iter().filter(|one| one.corrections <= corrections && one.is_within() && one.is_said_within());
        done.count() as f64 / self.endings.len().max(1) as f64
    }

    /// The share of rotors that are said to be good and are not.
    pub fn wrongly(&self) -> usize {
        self.endings.iter().filter(|one| one.is_said_within() && !one.is_within()).count()
    }

    /// Rotors that are truly within, and are not said to be.
    pub fn not_recognized(&self) -> usize {
        self.endings.iter().filter(|one| !one.is_said_within() && one.is_within()).count()
    }

    /// What most records that are not good give as the reason.
    pub fn reason(&self) -> Option<&str> {
        let reasons = self.endings.iter().filter(|one| !one.is_said_within()).filter_map(|one| one.reason.as_deref());
        most_often(reasons).map(|(reason, _)| reason)
    }

    /// The limit that rotors exceed in the end, where some do: of several the one that most exceed.
    pub fn exceeded(&self) -> Option<(&str, usize)> {
        let over = self.endings.iter().filter(|one| !one.is_within());
        let (limit, count) = most_often(over.map(|one| one.limit))?;
        Some((self.limits.get(limit)?, count))
    }

    /// The fewest corrections after which nearly all that will be done are done.
    pub fn usual_corrections(&self) -> usize {
        let all = self.shown_within_after(MOST_CORRECTIONS);
        (1..MOST_CORRECTIONS).find(|n| self.shown_within_after(*n) >= all - 0.05).unwrap_or(MOST_CORRECTIONS)
    }

    /// What most corrections fell short by, the first of a rotor aside, or all where hardly a later one did.
    pub fn limiting(&self) -> Option<Limiting> {
        let all: Vec<Short> = self.endings.iter().flat_map(|one| one.short.iter().copied()).collect();
        let later: Vec<Short> = all.iter().copied().filter(|short| short.correction > 1).collect();
        let after_the_first = !later.is_empty() && later.len() * 20 >= self.endings.len();
        let counted = if after_the_first { later } else { all };
        let (cause, corrections) = most_often(counted.iter().map(|short| short.cause))?;
        Some(Limiting { cause, corrections, of: counted.len(), after_the_first })
    }

    /// How many rotors ended in each tenth of their governing limit; the last one holds all from one and a half on.
    pub fn histogram(&self) -> [usize; 16] {
        let mut bars = [0; 16];
        for one in &self.endings {
            // A rotor at its limit to the last bit is within.
            let bar = if one.over <= 1.0 {
                (one.over * 10.0).floor().min(9.0)
            } else {
                (one.over * 10.0).floor().clamp(10.0, 15.0)
            };
            bars[bar as usize] += 1;
        }
        bars
    }

    /// Whether each rotor ended as it did in another rehearsal.
    pub fn is_same_as(&self, other: &Self) -> bool {
        let same = |(own, other): (&Ending, &Ending)| {
            own.corrections == other.corrections && own.over == other.over && own.word == other.word
        };
        self.endings.len() == other.endings.len() && self.endings.iter().zip(&other.endings).all(same)
    }

    /// Half the width of the 95 % interval of a share, by how many rotors were drawn. Source: normal approximation of the
    /// binomial distribution, with Agresti and Coull's two successes and two failures (from memory).
    pub fn sampling_error(&self, share: f64) -> f64 {
        let count = self.endings.len() as f64 + 4.0;
        let share = (share * self.endings.len() as f64 + 2.0) / count;
        2.0 * (share * (1.0 - share) / count).sqrt()
    }
}

/// What is there most often, the first of several, and how often.
fn most_often<T: Copy + Ord>(all: impl Iterator<Item = T>) -> Option<(T, usize)> {
    let mut counts: BTreeMap<T, usize> = BTreeMap::new();
    all.for_each(|one| *counts.entry(one).or_default() += 1);
    counts.into_iter().max_by_key(|(one, count)| (*count, std::cmp::Reverse(*one)))
}
