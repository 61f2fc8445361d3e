//! What must hold of many jobs.

use std::collections::BTreeMap;

use rotorbook::mechanics::verdict::Verdict;

use super::job::{Class, Job};
use crate::shelf::{RowSaid, Said};
use crate::support::books;

/// One limit of one job: as the program judged it, and as it truly is.
pub struct Row {
    said: RowSaid,
    /// In the base unit of the limit.
    limit: f64,
    acting: f64,
    /// What the errors do here that the lines name of which nothing is known.
    named: f64,
}

impl Row {
    /// How far the distance to the limit is off.
    fn error(&self) -> f64 {
        (self.said.limit - self.said.measured) - (self.limit - self.acting)
    }

    /// Over what it is said to be known to. A plane at one bearing does nothing at the other, and is known to do nothing;
    /// what is left of the error is that limits of a proof are written to a millionth.
    fn over_uncertainty(&self) -> f64 {
        if self.error().abs() < 1e-6 * self.limit { 0.0 } else { self.error() / self.said.uncertainty }
    }

    fn is_clean(&self) -> bool {
        self.said.not_known.is_empty() && self.said.uncertainty.is_finite()
    }

    fn is_exceeded(&self) -> bool {
        self.acting > self.limit
    }
}

pub struct Ending {
    pub seed: u64,
    pub class: Class,
    pub share: f64,
    pub said: Said,
    pub rows: Vec<Row>,
}

impl Ending {
    fn is_clean(&self) -> bool {
        !self.said.nothing_counts && self.rows.iter().all(Row::is_clean)
    }
}

/// Does one job, and holds what was said of it against what is true.
fn work(seed: u64, class: Class, share: f64) -> Ending {
    let job = Job::by_chance(seed, class, share);
    let said = Said::of(&books::readable(&job.text), "job").unwrap_or_else(|| panic!("no verdict\n{}", job.text));
    let by_proof = said.reasons.iter().any(|why| why.contains("the proof fails"));
    assert!(!said.nothing_counts || by_proof, "{:?}\n{}", said.reasons, job.text);
    let row = |(on, limit): &(super::rotor::On, f64)| {
        let row = said.row(&on.name()).unwrap_or_else(|| panic!("{on:?} is not judged: {said:?}\n{}", job.text));
        Row {
            limit: *limit,
            acting: job.rotor.acting(*on, &job.rotor.body.unbalances),
            named: job.errors_of(*on, &row.not_known),
            said: row.clone(),
        }
    };
    let rows: Vec<Row> = job.rotor.limits.iter().map(row).collect();
    assert_eq!(rows.len(), said.rows.len(), "limits that nobody set: {said:?}\n{}", job.text);
    Ending { seed, class, share, said, rows }
}

/// Of ten rotors four are just over their limit, three at half of it, three anywhere.
pub fn share(seed: u64) -> f64 {
    let part = (seed as f64 * 0.618_034).fract();
    match seed / Class::ALL.len() as u64 % 10 {
        0..=3 => 1.0 + 0.05 * part,
        4..=6 => 0.5,
        _ => 0.1 + 1.6 * part,
    }
}

pub fn jobs(numbers: std::ops::Range<u64>) -> Vec<Ending> {
    let threads = std::thread::available_parallelism().map_or(1, usize::from) as u64;
    let class = |seed: u64| Class::ALL[(seed % Class::ALL.len() as u64) as usize];
    let numbers = &numbers;
    let work = |thread: u64| {
        let own = numbers.clone().filter(|seed| seed / Class::ALL.len() as u64 % threads == thread);
        own.map(|seed| work(seed, class(seed), share(seed))).collect::<Vec<Ending>>()
    };
    std::thread::scope(|scope| {
        let handles: Vec<_> = (0..threads).map(|thread| scope.spawn(move || work(thread))).collect();
        handles.into_iter().flat_map(|handle| handle.join().unwrap()).collect()
    })
}

fn percent(part: usize, all: usize) -> f64 {
    100.0 * part as f64 / all.max(1) as f64
}

/// The value that such a part of all lies below.
fn quantile(values: &mut [f64], part: f64) -> f64 {
    values.sort_by(f64::total_cmp);
    values.get((values.len() as f64 * part) as usize).copied().unwrap_or(f64::NAN)
}

/// What was found of many jobs, and what of it must not be.
pub struct Report {
    pub text: String,
    pub wrong: Vec<String>,
}

/// A rate, and the most or least that it may be. Chance moves small numbers, so a rate counts three standard deviations of it
/// beyond.
fn beyond(part: usize, all: usize, most: f64) -> bool {
    let most = most / 100.0;
    let (part, all) = (part as f64, all as f64);
    part > most * all + 3.0 * (most * (1.0 - most) * all).sqrt()
}

pub fn report(endings: &[Ending]) -> Report {
    let (mut text, mut wrong) = (String::new(), Vec::new());
    let mut classes: BTreeMap<Class, Vec<&Ending>> = BTreeMap::new();
    for ending in endings {
        classes.entry(ending.class).or_default().push(ending);
    }
    let mut all_clean: Vec<(&Ending, &Row)> = Vec::new();
    for (class, own) in &classes {
        let count = |is: &dyn Fn(&Ending) -> bool| own.iter().filter(|ending| is(ending)).count();
        let word = |verdict| count(&|ending| ending.said.verdict == verdict);
        let counted = own.iter().filter(|ending| !ending.said.nothing_counts);
        let rows: Vec<(&Ending, &Row)> = counted.flat_map(|e| e.rows.iter().map(move |row| (*e, row))).collect();
        let clean: Vec<(&Ending, &Row)> = rows.iter().copied().filter(|(_, row)| row.is_clean()).collect();
        let mut errors: Vec<f64> = clean.iter().map(|(_, row)| 2.0 * row.over_uncertainty()).collect();
        let spread = 0.5 * (quantile(&mut errors, 0.84) - quantile(&mut errors, 0.16));
        let mut shares: Vec<f64> = clean.iter().map(|(_, row)| row.said.uncertainty / row.said.limit).collect();
        text += &format!(
            "{class:?}: {} within, {} as read, {} not shown, {} over, {} not proven; {} clean rows, U {:.3} of the limit, spread {spread:.2} about {:.2}\n",
            word(Verdict::Within),
            word(Verdict::WithinAsRead),
            word(Verdict::NotShown),
            word(Verdict::Over) + word(Verdict::OverAsRead),
            count(&|ending| ending.said.nothing_counts),
            clean.len(),
            quantile(&mut shares, 0.5),
            quantile(&mut errors, 0.5),
        );
        // Chance moves a quantile there by some 1.5 standard deviations over the root of how many there are, and half the
        // distance of two such by 0.97.
        let by_chance = 3.0 * 0.97 / (clean.len() as f64).sqrt();
        if !clean.is_empty() && !(0.6 - by_chance..=1.1 + by_chance).contains(&spread) {
            wrong.push(format!("{class:?}: errors spread {spread:.2} times what is said of them"));
        }
        all_clean.extend(clean);
    }
    let off = |times: f64| all_clean.iter().filter(|(_, row)| row.over_uncertainty().abs() > times).count();
    let (once, far) = (off(1.0), off(2.25));
    text += &format!(
        "of {} clean rows {:.1} % are off by more than U, {:.2} % by more than 2.25 U\n",
        all_clean.len(),
        percent(once, all_clean.len()),
        percent(far, all_clean.len())
    );
    for (ending, row) in all_clean.iter().filter(|(_, row)| row.over_uncertainty().abs() > 2.25) {
        text += &format!(
            "  seed {}, {:?}: {:.2} U at {}\n",
            ending.seed,
            ending.class,
            row.over_uncertainty(),
            row.said.name
        );
    }
    if beyond(once, all_clean.len(), 6.0) || beyond(far, all_clean.len(), 0.5) {
        wrong.push("distances to limits are off by more than is said".to_owned());
    }
    wrong.extend(just_over(endings, &mut text));
    wrong.extend(at_half(endings, &mut text));
    wrong.extend(as_read(endings, &mut text));
    Report { text, wrong }
}

/// Of rotors just over their governing limit at most 3 % are within.
fn just_over(endings: &[Ending], text: &mut String) -> Option<String> {
    let near = endings.iter().filter(|ending| (1.0..1.05).contains(&ending.share) && ending.is_clean());
    let (all, within) = near
        .fold((0, 0), |(all, within), ending| (all + 1, within + usize::from(ending.said.verdict == Verdict::Within)));
    *text += &format!("just over: {all} with a clean budget, {:.1} % within\n", percent(within, all));
    beyond(within, all, 3.0).then(|| format!("{within} of {all} that are just over are within"))
}

/// Where all is known to a quarter of the limit, and half of it is used, at least 95 % are within.
fn at_half(endings: &[Ending], text: &mut String) -> Option<String> {
    let known = |row: &Row| row.said.uncertainty <= 0.25 * row.said.limit;
    let half = endings.iter().filter(|e| e.share == 0.5 && e.is_clean() && e.rows.iter().all(known));
    let (all, not) =
        half.fold((0, 0), |(all, not), ending| (all + 1, not + usize::from(ending.said.verdict != Verdict::Within)));
    *text += &format!("at half: {all} are well known, {:.1} % of them not within\n", percent(not, all));
    beyond(not, all, 5.0).then(|| format!("{not} of {all} at half of their limits are not within"))
}

/// What is within as read, and is not, is so by an error that a line names of which nothing is known.
fn as_read(endings: &[Ending], text: &mut String) -> Option<String> {
    let read = endings.iter().filter(|ending| ending.said.verdict == Verdict::WithinAsRead);
    let (mut all, mut exceeded, mut unnamed) = (0, 0, Vec::new());
    for ending in read {
        all += 1;
        let wrong: Vec<&Row> = ending.rows.iter().filter(|row| row.is_exceeded()).collect();
        exceeded += usize::from(!wrong.is_empty());
        // What is left of the error without those that are named.
        let left = |row: &&&Row| (row.error() - row.named) / row.said.uncertainty;
        if let Some(row) = wrong.iter().find(|row| left(row) > 2.25) {
            let found = format!("seed {}, {:?}: {:.2} U at {}", ending.seed, ending.class, left(&row), row.said.name);
            unnamed.push(format!("{found}, of which {:?} are not known", row.said.not_known));
        }
    }
    *text += &format!("as read: {all}, {exceeded} of them exceed a limit\n");
    (!unnamed.is_empty()).then(|| format!("within as read, and no line names why not: {unnamed:#?}"))
}
