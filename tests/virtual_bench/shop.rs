//! The shop at work: it reads, writes a sheet, asks the program, does what it says, and reads again.

use std::sync::Arc;

use rotorbook::book::{Book, Computing, Entry, Outcome, SourceFile};

use super::body::Body;
use super::chance::Chance;
use super::complex::Complex;
use super::sheet::{self, Fixing, PLANES, Put};
use super::stand::{Shown, Stand, Way};

/// No rotor is corrected more often.
const MOST_STEPS: usize = 6;

/// How far a mass may be off in size and angle, as a share of it.
const MASS_AND_ANGLE: f64 = 0.02;

/// How far the angle of a reading may be off, in radians.
const READ_ANGLE: f64 = 0.02;

/// How a job ended.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Ending {
    pub way: Way,
    /// What the program said last.
    pub verdict: Verdict,
    pub steps: usize,
    /// The true unbalance at the worse bearing over its limit, at the start and at the end.
    pub before: f64,
    pub after: f64,
    /// The true reduction of the first step.
    pub first_step: f64,
    /// What the readings cannot tell from nothing, over the tolerance.
    pub floor: f64,
    /// How wrong a whole correction may be, as a share of it, from errors of the trial runs.
    pub trial_error: f64,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Verdict {
    Within,
    NotShown,
    Over,
}

/// All results of a book, by path.
pub struct Results(Vec<(String, Entry)>);

impl Results {
    pub fn of(text: &str) -> Self {
        let book = Book::new(vec![Arc::new(SourceFile::read("book.rotor", text))]);
        for (_, file) in book.files() {
            assert!(file.errors.is_empty(), "{:?}\n{text}", file.errors);
            assert!(file.sheet.problems.is_empty(), "{:?}\n{text}", file.sheet.problems);
        }
        let computing = Computing::new(&book);
        let mut results = Vec::new();
        for id in book.items() {
            for entry in computing.item(id).entries() {
                let blocks: String = entry.path.blocks().map(|block| format!("{block} / ")).collect();
                results.push((format!("{} / {blocks}{}", book.item(id).kind, entry.name()), entry.clone()));
            }
        }
        Self(results)
    }

    pub fn all(&self, path: &str) -> impl Iterator<Item = &Outcome> {
        self.0.iter().filter(move |(found, _)| found == path).map(|(_, entry)| &entry.outcome)
    }

    /// An amount in base units at an angle in radians; nothing when it is not computed.
    pub fn vector(&self, path: &str) -> Option<(f64, f64)> {
        match self.all(path).next()? {
            Outcome::Vector { base, angle, .. } => Some((*base, *angle)),
            _ => None,
        }
    }

    pub fn words(&self, path: &str) -> Option<String> {
        match self.all(path).next()? {
            Outcome::Words(words) => Some(words.to_string()),
            _ => None,
        }
    }

    /// Angle in radians and mass in kg of each place.
    pub fn places(&self, path: &str) -> Vec<(f64, f64)> {
        match self.all(path).next() {
            Some(Outcome::Table { rows, .. }) => rows.iter().filter_map(|row| Some((row[0]?, row[1]?))).collect(),
            _ => Vec::new(),
        }
    }

    pub fn verdict(&self) -> Verdict {
        match self.words("record / verdict").as_deref() {
            Some("within") => Verdict::Within,
            Some("over") => Verdict::Over,
            Some("not shown") => Verdict::NotShown,
            other => panic!("the record has no verdict but {other:?}"),
        }
    }
}

/// One rotor in the shop.
pub struct Job {
    pub body: Body,
    pub stand: Stand,
    pub fixing: Fixing,
    chance: Chance,
}

impl Job {
    pub fn by_chance(seed: u64, way: Way) -> Self {
        let mut chance = Chance::new(seed);
        let mut body = Body::by_chance(&mut chance, way.planes());
        let stand = Stand::by_chance(&mut chance, &body, way);
        let fixing = [Fixing::Add, Fixing::Remove, Fixing::Places(8 + chance.below(9) as u32)][chance.below(3)];
        // Unbalances here and there along the rotor; all of it in the plane where there is but one.
        let times = chance.spread(2.0, 150.0);
        for _ in 0..3 + chance.below(4) {
            let at = match way.planes() {
                1 => body.planes[0],
                _ => body.bearing_span * chance.between(-0.1, 1.1),
            };
            let amount = body.permissible() * times * chance.between(0.1, 0.6);
            let angle = chance.angle();
            body.put_on(Complex::polar(amount, angle), at);
        }
        Self { body, stand, fixing, chance }
    }

    fn over_limit(&self) -> f64 {
        let (acting, limits) = (self.body.at_bearings(), self.body.limits_at_bearings());
        (acting[0] / limits[0]).max(acting[1] / limits[1])
    }

    fn read(&mut self) -> Vec<Shown> {
        self.stand.run(&self.body, &mut self.chance)
    }

    /// A mass as it really is, on the body: a little off in mass and angle.
    fn really(&mut self, put: Put, sign: f64) -> Complex {
        let grams = put.grams * (1.0 + self.chance.scatter(0.002)) * sign;
        let degrees = put.degrees + self.chance.scatter(0.2);
        Complex::polar(grams * 1e-3 * self.body.radius, self.stand.on_body(degrees.to_radians()))
    }

    /// The run as found and one with a mass in each plane; three in the one plane without angles.
    fn trials(&mut self) -> Vec<(Option<Put>, Vec<Shown>)> {
        if self.stand.way == Way::ByDimensions {
            return Vec::new();
        }
        let mut trials = vec![(None, self.read())];
        let total: f64 = self.body.unbalances.iter().map(|(unbalance, _)| *unbalance).sum::<Complex>().amount();
        let usual = total.max(5.0 * self.body.permissible());
        let angles: Vec<f64> = match self.stand.way {
            Way::WithoutAngles => vec![0.0, 120.0, 240.0],
            _ => (0..self.body.planes.len()).map(|_| 15.0 * self.chance.below(24) as f64).collect(),
        };
        let share = self.chance.between(0.4, 1.5);
        for (n, degrees) in angles.into_iter().enumerate() {
            let plane = if self.stand.way == Way::WithoutAngles { 0 } else { n };
            let grams = three_digits(usual * share / self.body.planes.len() as f64 / self.body.radius * 1e3);
            let put = Put { plane, grams, degrees };
            let really = self.really(put, 1.0);
            self.body.put_on(really, self.body.planes[plane]);
            trials.push((Some(put), self.read()));
            self.body.unbalances.pop();
        }
        trials
    }

    /// What the program calls for after a run, as masses at angles.
    fn asked(&self, sheets: &str, runs: &[Vec<Shown>], corrections: &[Vec<Put>]) -> Vec<Put> {
        let after = runs.len() - 1;
        let mut record = sheet::record(&self.body, &self.stand, self.fixing, runs, corrections);
        if matches!(self.fixing, Fixing::Places(_)) {
            let questions: String = (0..self.body.planes.len()).map(|plane| sheet::question(plane, after)).collect();
            record.insert_str(record.len() - 2, &questions);
        }
        let results = Results::of(&(sheets.to_owned() + &record));
        let asked = |plane: usize| -> Vec<Put> {
            let put = |(angle, mass): (f64, f64)| Put { plane, grams: three_digits(mass * 1e3), degrees: whole(angle) };
            match self.fixing {
                Fixing::Places(_) => {
                    let path = format!("record / correction {} / places", PLANES[plane]);
                    results.places(&path).into_iter().map(put).collect()
                }
                _ => {
                    let path = format!("record / run number{after} / correction {}", PLANES[plane]);
                    results.vector(&path).map(|(mass, angle)| put((angle, mass))).into_iter().collect()
                }
            }
        };
        (0..self.body.planes.len()).flat_map(asked).filter(|put| put.grams > 0.0).collect()
    }

    fn correct(&mut self, puts: &[Put]) {
        let sign = if self.fixing == Fixing::Remove { -1.0 } else { 1.0 };
        for put in puts {
            let really = self.really(*put, sign);
            self.body.put_on(really, self.body.planes[put.plane]);
        }
    }

    /// Does the job; stops when the program says that the rotor is within its tolerance, or after six steps.
    pub fn work(mut self) -> Ending {
        let before = self.over_limit();
        let mut first_step = 0.0;
        let mut steps = 0;
        let floor = self.stand.floor(&self.body);
        let mut trial_error: f64 = 0.0;
        let mut verdict = Verdict::NotShown;
        // Without angles a run says nothing of where to correct: every step has its own four runs.
        let fresh_sheets = self.stand.way == Way::WithoutAngles;
        'sheets: for _ in 0..if fresh_sheets { MOST_STEPS } else { 1 } {
            let trials = self.trials();
            let largest = trials.iter().flat_map(|(_, shown)| shown).map(|shown| shown.amount).fold(0.0, f64::max);
            for put in trials.iter().filter_map(|(put, _)| *put) {
                // A degree of a large reading is much beside the small change that a trial mass makes.
                let off = self.stand.reading_limits() + READ_ANGLE * largest;
                let of_readings = 1.5 * off / (floor.effect * put.grams * 1e-3 * self.body.radius);
                trial_error = trial_error.max(floor.enlarged * (of_readings + MASS_AND_ANGLE));
            }
            let sheets = sheet::machine(&self.stand)
                + &sheet::rotor(&self.body, &self.stand, self.fixing)
                + &sheet::setup(&self.body, &self.stand, &trials);
            let start = trials.first().map_or_else(|| self.read(), |(_, shown)| shown.clone());
            let (mut runs, mut corrections) = (vec![start], Vec::<Vec<Put>>::new());
            loop {
                let record = sheet::record(&self.body, &self.stand, self.fixing, &runs, &corrections);
                verdict = Results::of(&(sheets.clone() + &record)).verdict();
                if verdict == Verdict::Within || steps == MOST_STEPS {
                    break 'sheets;
                }
                let asked = match fresh_sheets {
                    true => self.asked_without_angles(&sheets),
                    false => self.asked(&sheets, &runs, &corrections),
                };
                if asked.is_empty() {
                    break 'sheets;
                }
                self.correct(&asked);
                steps += 1;
                if steps == 1 {
                    first_step = 1.0 - self.over_limit() / before;
                }
                corrections.push(asked);
                runs.push(self.read());
                if fresh_sheets {
                    let record = sheet::record(&self.body, &self.stand, self.fixing, &runs, &corrections);
                    verdict = Results::of(&(sheets.clone() + &record)).verdict();
                    if verdict == Verdict::Within {
                        break 'sheets;
                    }
                    break;
                }
            }
        }
        let after = self.over_limit();
        let floor = floor.unbalance / self.body.permissible();
        Ending { way: self.stand.way, verdict, steps, before, after, first_step, floor, trial_error }
    }

    /// The four runs of the setup call for the correction.
    fn asked_without_angles(&self, sheets: &str) -> Vec<Put> {
        let results = Results::of(sheets);
        let found = results.vector(&format!("setup / correction {}", PLANES[0]));
        let put = |(mass, angle): (f64, f64)| Put { plane: 0, grams: three_digits(mass * 1e3), degrees: whole(angle) };
        found.map(put).into_iter().collect()
    }
}

/// As it is weighed.
fn three_digits(value: f64) -> f64 {
    let scale = 10f64.powf(2.0 - value.abs().log10().floor());
    let rounded = (value * scale).round() / scale;
    if rounded.is_finite() { rounded } else { 0.0 }
}

/// As it is set off.
fn whole(angle: f64) -> f64 {
    angle.to_degrees().rem_euclid(360.0).round()
}
