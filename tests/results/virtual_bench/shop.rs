//! The shop at work: it reads, writes a sheet, asks the program, does what it says, and reads again.

use std::sync::Arc;

use rotorbook::book::{Book, Computing, Entry, Outcome, SourceFile};
use rotorbook::check::{self, Severity};

use super::part::Part;
use super::sheet::{self, Drill, Fixing, PLANES, Put, Run, Trial};
use super::stand::{Floor, Stand, Way};
use num_complex::Complex64;
use rotorbook::motion::Chance;

/// No rotor is corrected more often.
const MOST_STEPS: usize = 6;

/// How far a mass may be off in size and angle, and an effect by the speed at which it was read, as a share of it.
const MASS_AND_ANGLE: f64 = 0.03;

/// How far the angle of a reading may be off, in radians.
const READ_ANGLE: f64 = 0.02;

/// How far the speed of a run lies off the balancing speed, as a share of it.
const SPEED: f64 = 0.01;

/// A trial at this share of the balancing speed says nothing of the readings at that speed.
const ANOTHER_SPEED: f64 = 0.8;

/// g/cm³, of the material "carbon steel" that the program knows.
const CARBON_STEEL: f64 = 7.85;

/// How a job ended.
#[derive(Clone, PartialEq, Debug)]
pub struct Ending {
    pub seed: u64,
    pub way: Way,
    pub fixing: Fixing,
    /// What the program said last.
    pub verdict: Verdict,
    pub steps: usize,
    /// The true unbalance at the worse bearing over its limit, at the start and at the end.
    pub before: f64,
    pub after: f64,
    /// The same at each run that the program called over although it was within: the least of them.
    pub wrongly_over: Option<f64>,
    /// The true reduction of the first step.
    pub first_step: f64,
    /// What the readings cannot tell from nothing, over the lower of the limits at the bearings.
    pub floor: f64,
    /// How wrong a whole correction may be, as a share of it, from errors of the trial runs.
    pub trial_error: f64,
    /// A trial was run at another speed, which the sheet says: nothing may be shown by it.
    pub another_speed: bool,
    /// Errors that a check of the last sheet finds.
    pub errors: Vec<String>,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Verdict {
    Within,
    /// Something that may count was not assessed, and the record names it.
    AsRead,
    NotShown,
    OverAsRead,
    Over,
}

impl Verdict {
    /// Nobody corrects a rotor any more that reads within its limits.
    pub fn ends_the_job(self) -> bool {
        matches!(self, Verdict::Within | Verdict::AsRead)
    }
}

/// What a check of a book calls an error. How hard a trial mass pulls is none here: it is drawn by what it changes, and nothing
/// on this bench lifts off.
fn errors(text: &str) -> Vec<String> {
    let book = Book::new(vec![Arc::new(SourceFile::read("book.rotor", text))]);
    let found = check::check(&book);
    let is_of_force = |found: &check::Diagnostic| found.rule.code == "force-too-high";
    let errors = found.iter().filter(|found| found.severity == Severity::Error && !is_of_force(found));
    errors.map(|found| format!("{}: {}", found.rule.code, found.message)).collect()
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

    /// An amount in base units; nothing when it is not computed.
    pub fn amount(&self, path: &str) -> Option<f64> {
        match self.all(path).next()? {
            Outcome::Amount { base, .. } => Some(*base),
            _ => None,
        }
    }

    pub fn words(&self, path: &str) -> Option<String> {
        match self.all(path).next()? {
            Outcome::Words(words) | Outcome::Void(words) => Some(words.to_string()),
            _ => None,
        }
    }

    /// Angle in radians, mass in kg and depth in m of each place.
    pub fn places(&self, path: &str) -> Vec<(f64, f64, Option<f64>)> {
        let place = |row: &Vec<Option<f64>>| Some((row[0]?, row[1]?, row.get(2).copied().flatten()));
        match self.all(path).next() {
            Some(Outcome::Table { rows, .. }) => rows.iter().filter_map(place).collect(),
            _ => Vec::new(),
        }
    }

    pub fn verdict(&self) -> Verdict {
        match self.words("record / verdict").as_deref() {
            Some("within") => Verdict::Within,
            Some("within as read") => Verdict::AsRead,
            Some("over as read") => Verdict::OverAsRead,
            Some("over") => Verdict::Over,
            Some("not shown") => Verdict::NotShown,
            other => panic!("the record has no verdict but {other:?}"),
        }
    }
}

/// One rotor in the shop.
pub struct Job {
    seed: u64,
    body: Part,
    stand: Stand,
    fixing: Fixing,
    /// The holes that are in the body: plane, degrees, and what each took off.
    drilled: Vec<(usize, f64, f64)>,
    /// What an arbor puts in each plane, in its own angles; and in which positions the rotor is run on it.
    arbor: Vec<Complex64>,
    positions: Vec<u32>,
    another_speed: bool,
    chance: Chance,
}

impl Job {
    pub fn by_chance(seed: u64, way: Way) -> Self {
        let mut chance = Chance::new(seed);
        let mut body = Part::by_chance(&mut chance, way.planes());
        let stand = Stand::by_chance(&mut chance, &body, way);
        // Unbalances here and there along the rotor; all of it in the plane where there is but one.
        let times = chance.spread(2.0, 150.0);
        for _ in 0..3 + chance.below(4) {
            let at = match way.planes() {
                1 => body.planes[0],
                _ => body.bearing_span * chance.between(-0.1, 1.1),
            };
            let amount = body.permissible() * times * chance.between(0.1, 0.6);
            let angle = chance.angle();
            body.put_on(Complex64::from_polar(amount, angle), at);
        }
        let fixing = fixing(&mut chance, &body);
        let mut job = Self {
            seed,
            arbor: Vec::new(),
            positions: Vec::new(),
            another_speed: way.by_trials() && way != Way::WithoutAngles && chance.below(20) == 0,
            body,
            stand,
            fixing,
            drilled: Vec::new(),
            chance,
        };
        if way == Way::Indexed {
            let share = job.chance.spread(0.1, 5.0);
            let own = |job: &mut Self| Complex64::from_polar(job.body.permissible() * share, job.chance.angle());
            job.arbor = vec![own(&mut job), own(&mut job)];
            job.positions = [vec![0, 180], vec![0, 120, 240], vec![0, 90, 180, 270]][job.chance.below(3)].clone();
        }
        job
    }

    fn over_limit(&self) -> f64 {
        let (acting, limits) = (self.body.at_bearings(), self.body.limits_at_bearings());
        (acting[0] / limits[0]).max(acting[1] / limits[1])
    }

    /// The speed of a run, about the balancing speed.
    fn speed(&mut self) -> f64 {
        self.stand.speed * (1.0 + self.chance.between(-SPEED, SPEED))
    }

    /// All runs of the rotor in the state it is in: one, or one in each position on its arbor.
    fn read(&mut self) -> Vec<Run> {
        if self.positions.is_empty() {
            let speed = self.speed();
            return vec![Run { turned: None, speed, shown: self.stand.run(&self.body, speed, &mut self.chance) }];
        }
        self.positions.clone().into_iter().map(|turned| self.read_turned(turned)).collect()
    }

    /// The rotor sits turned on the arbor, so the arbor's unbalance stands as far back in the rotor's angles.
    fn read_turned(&mut self, turned: u32) -> Run {
        let speed = self.speed();
        let mut together = self.body.clone();
        for (unbalance, at) in self.arbor.iter().zip(&self.body.planes) {
            let back = self.stand.on_body(unbalance.arg() - f64::from(turned).to_radians());
            together.put_on(Complex64::from_polar(unbalance.norm(), back), *at);
        }
        Run { turned: Some(turned), speed, shown: self.stand.run(&together, speed, &mut self.chance) }
    }

    /// A mass or a hole as it really is, on the body: a little off in size and angle.
    fn really(&mut self, put: Put, sign: f64) -> Complex64 {
        let degrees = put.degrees + self.chance.scatter(0.2);
        let angle = self.stand.on_body(degrees.to_radians());
        let amount = match (put.depth, self.fixing) {
            (Some(depth), Fixing::Holes(drill, _)) => {
                let depth = depth * 1e-3 + self.chance.scatter(1e-5);
                let all = hole(drill, depth, self.body.radius);
                // A hole that is there already is drilled deeper, and gives what it had not given before.
                let is_it = |(plane, at, _): &&mut (usize, f64, f64)| {
                    *plane == put.plane && ((at - put.degrees + 540.0).rem_euclid(360.0) - 180.0).abs() <= 1.0
                };
                match self.drilled.iter_mut().find(is_it) {
                    Some((_, _, taken)) => all - std::mem::replace(taken, all),
                    None => {
                        self.drilled.push((put.plane, put.degrees, all));
                        all
                    }
                }
            }
            _ => put.grams * 1e-3 * (1.0 + self.chance.scatter(0.002)) * self.body.radius,
        };
        Complex64::from_polar(amount * sign, angle)
    }

    /// The run as found and one with a mass in each plane; three in the one plane without angles.
    fn trials(&mut self) -> Vec<Trial> {
        if !self.stand.way.by_trials() {
            return Vec::new();
        }
        let speed = self.speed();
        let shown = self.stand.run(&self.body, speed, &mut self.chance);
        let mut trials = vec![Trial { put: None, stays: false, speed, shown }];
        let total: f64 = self.body.unbalances.iter().map(|(unbalance, _)| *unbalance).sum::<Complex64>().norm();
        let usual = total.max(5.0 * self.body.permissible());
        let angles: Vec<f64> = match self.stand.way {
            Way::WithoutAngles => vec![0.0, 120.0, 240.0],
            _ => (0..self.body.planes.len()).map(|_| 15.0 * self.chance.below(24) as f64).collect(),
        };
        let share = self.chance.between(0.4, 1.5);
        let leaves_on = self.stand.way != Way::WithoutAngles && self.chance.coin();
        let (last, before) = (angles.len() - 1, self.body.unbalances.len());
        for (n, degrees) in angles.into_iter().enumerate() {
            let plane = if self.stand.way == Way::WithoutAngles { 0 } else { n };
            let grams = three_digits(usual * share / self.body.planes.len() as f64 / self.body.radius * 1e3);
            let put = Put { plane, grams, degrees, depth: None };
            let really = self.really(put, 1.0);
            let at = self.body.planes[plane];
            self.body.put_on(really, at);
            let another = self.another_speed && n == last;
            let speed = if another { self.stand.speed * ANOTHER_SPEED } else { self.speed() };
            let shown = self.stand.run(&self.body, speed, &mut self.chance);
            let stays = leaves_on && n < last;
            trials.push(Trial { put: Some(put), stays, speed, shown });
            if !stays {
                self.body.unbalances.pop();
            }
        }
        self.body.unbalances.truncate(before);
        trials
    }

    /// The calibration masses, about ten times the tolerance of a plane, and no more than pulls with half the rotor's
    /// weight; the dials are then set to read what the sheet says that they read for them.
    fn calibrate(&mut self) -> Vec<Put> {
        if !self.stand.way.is_calibrated() {
            return Vec::new();
        }
        let half_the_weight = 0.5 * self.body.mass * 9.81 / self.stand.speed.powi(2);
        let unbalance = (self.body.permissible() * 5.0).min(half_the_weight);
        let grams = three_digits(unbalance / self.body.radius * 1e3);
        let masses: Vec<Put> = (0..2).map(|plane| Put { plane, grams, degrees: 0.0, depth: None }).collect();
        let results = Results::of(&(self.sheets(&[], &masses)));
        for put in &masses {
            let reading = results.amount(&format!("setup / calibrate {} / reading", PLANES[put.plane]));
            let reading = reading.expect("the sheet says what is to be read");
            // As near as the dial can be set.
            let set = reading + self.stand.step * self.chance.between(-0.5, 0.5);
            let really = self.really(*put, 1.0).norm();
            self.stand.one_division.push(really / set);
        }
        masses
    }

    fn sheets(&self, trials: &[Trial], calibration: &[Put]) -> String {
        sheet::machine(&self.stand)
            + &sheet::rotor(&self.body, &self.stand, self.fixing)
            + &sheet::setup(&self.body, &self.stand, trials, calibration)
    }

    fn record(&self, states: &[Vec<Run>], corrections: &[Vec<Put>]) -> String {
        sheet::record(&self.body, &self.stand, self.fixing, states, corrections)
    }

    /// What the program calls for after the last run, as masses and holes at angles.
    fn asked(&self, sheets: &str, states: &[Vec<Run>], corrections: &[Vec<Put>]) -> Vec<Put> {
        let after = states.iter().map(Vec::len).sum::<usize>() - 1;
        let mut record = self.record(states, corrections);
        if matches!(self.fixing, Fixing::Places(..) | Fixing::Holes(..)) {
            let questions: String = (0..self.body.planes.len()).map(|plane| sheet::question(plane, after)).collect();
            record.insert_str(record.len() - 2, &questions);
        }
        let results = Results::of(&(sheets.to_owned() + &record));
        let planes = 0..self.body.planes.len();
        planes.flat_map(|plane| self.asked_in(&results, plane, after)).filter(|put| put.grams != 0.0).collect()
    }

    fn asked_in(&self, results: &Results, plane: usize, after: usize) -> Vec<Put> {
        let put = |(angle, mass, depth): (f64, f64, Option<f64>)| Put {
            plane,
            grams: three_digits(mass * 1e3),
            degrees: whole(angle),
            // Less than can be set off is scraped off and weighed.
            depth: depth.map(|depth| (depth * 1e5).round() / 1e2).filter(|depth| *depth > 0.0),
        };
        let correction = format!("record / correction {}", PLANES[plane]);
        let places = results.places(&format!("{correction} / places"));
        if !places.is_empty() {
            return places.into_iter().map(put).collect();
        }
        let called_for = results.vector(&format!("record / run number{after} / correction {}", PLANES[plane]));
        let Some((mass, angle)) = called_for else { return Vec::new() };
        let depth = results.amount(&format!("{correction} / depth"));
        let is_full = results.vector(&format!("{correction} / not reached")).is_some();
        match self.fixing {
            Fixing::Places(..) => Vec::new(),
            Fixing::Holes(..) if is_full => Vec::new(),
            _ => vec![put((angle, mass, depth))],
        }
    }

    fn correct(&mut self, puts: &[Put]) {
        let sign = if matches!(self.fixing, Fixing::Remove | Fixing::Holes(..)) { -1.0 } else { 1.0 };
        for put in puts {
            let really = self.really(*put, sign);
            let at = self.body.planes[put.plane];
            self.body.put_on(really, at);
        }
    }

    /// How wrong a whole correction may be, as a share of it, from errors of trial runs or calibration.
    fn error_of(&self, trials: &[Trial], calibration: &[Put], floor: &Floor) -> f64 {
        let largest = trials.iter().flat_map(|trial| &trial.shown).map(|shown| shown.amount).fold(0.0, f64::max);
        let of = |put: Put| {
            // A degree of a large reading is much beside the small change that a trial mass makes.
            let off = self.stand.reading_limits() + READ_ANGLE * largest;
            let of_readings = 1.5 * off / (floor.effect * put.grams * 1e-3 * self.body.radius);
            floor.enlarged * (of_readings + MASS_AND_ANGLE)
        };
        let masses = trials.iter().filter_map(|trial| trial.put).chain(calibration.iter().copied());
        masses.map(of).fold(0.0, f64::max)
    }

    /// Does the job; stops when the program says that the rotor is within its tolerance, or after six steps.
    pub fn work(mut self) -> Ending {
        let before = self.over_limit();
        let calibration = self.calibrate();
        let floor = self.stand.floor(&self.body);
        let limits = self.body.limits_at_bearings();
        let mut ending = Ending {
            seed: self.seed,
            way: self.stand.way,
            fixing: self.fixing,
            verdict: Verdict::NotShown,
            steps: 0,
            before,
            after: before,
            wrongly_over: None,
            first_step: 0.0,
            floor: floor.unbalance / limits[0].min(limits[1]),
            trial_error: 0.0,
            another_speed: self.another_speed,
            errors: Vec::new(),
        };
        // Without angles a run says nothing of where to correct: every step has its own four runs.
        let fresh_sheets = self.stand.way == Way::WithoutAngles;
        let mut text = String::new();
        'sheets: for _ in 0..if fresh_sheets { MOST_STEPS } else { 1 } {
            let trials = self.trials();
            ending.trial_error = ending.trial_error.max(self.error_of(&trials, &calibration, &floor));
            let sheets = self.sheets(&trials, &calibration);
            let start = match trials.first() {
                Some(trial) => vec![Run { turned: None, speed: trial.speed, shown: trial.shown.clone() }],
                None => self.read(),
            };
            let (mut states, mut corrections) = (vec![start], Vec::<Vec<Put>>::new());
            loop {
                text = sheets.clone() + &self.record(&states, &corrections);
                self.look(&mut ending, &text);
                if ending.verdict.ends_the_job() || ending.steps == MOST_STEPS {
                    break 'sheets;
                }
                let asked = match fresh_sheets {
                    true => self.asked_without_angles(&sheets),
                    false => self.asked(&sheets, &states, &corrections),
                };
                if asked.is_empty() {
                    break 'sheets;
                }
                self.correct(&asked);
                ending.steps += 1;
                if ending.steps == 1 {
                    ending.first_step = 1.0 - self.over_limit() / before;
                }
                corrections.push(asked);
                states.push(self.read());
                if fresh_sheets {
                    text = sheets.clone() + &self.record(&states, &corrections);
                    self.look(&mut ending, &text);
                    if ending.verdict.ends_the_job() {
                        break 'sheets;
                    }
                    break;
                }
            }
        }
        ending.after = self.over_limit();
        ending.errors = errors(&text);
        ending
    }

    /// What the program says of the rotor as it is.
    fn look(&self, ending: &mut Ending, text: &str) {
        ending.verdict = Results::of(text).verdict();
        let truly = self.over_limit();
        if matches!(ending.verdict, Verdict::OverAsRead | Verdict::Over) && truly <= 1.0 {
            ending.wrongly_over = Some(ending.wrongly_over.unwrap_or(1.0).min(truly));
        }
    }

    /// The four runs of the setup call for the correction.
    fn asked_without_angles(&self, sheets: &str) -> Vec<Put> {
        let results = Results::of(sheets);
        let found = results.vector(&format!("setup / correction {}", PLANES[0]));
        let put = |(mass, angle): (f64, f64)| Put {
            plane: 0,
            grams: three_digits(mass * 1e3),
            degrees: whole(angle),
            depth: None,
        };
        found.map(put).into_iter().collect()
    }
}

/// How the planes are corrected: masses on, masses off, at places, at places that take little, by holes, by holes that
/// keep off a range.
fn fixing(chance: &mut Chance, body: &Part) -> Fixing {
    let most = body.in_planes().into_iter().map(Complex64::norm).fold(0.0, f64::max);
    let count = 8 + chance.below(9) as u32;
    match chance.below(6) {
        0 => Fixing::Add,
        1 => Fixing::Remove,
        2 => Fixing::Places(count, None),
        3 => Fixing::Places(count, Some(three_digits(most / body.radius * 1e3 * chance.between(0.3, 1.0)))),
        kind => {
            // A hole as deep as it may go takes off more than the worst plane needs, if it can be had.
            let depth = (0.15 * body.radius * 1e3).round().max(2.0) * 1e-3;
            let volume = 1.6 * most / body.radius / (CARBON_STEEL * 1e3);
            let diameter = ((volume / depth * 4.0 / std::f64::consts::PI).sqrt() * 1e3).ceil() * 1e-3;
            if diameter > 0.3 * body.radius {
                return Fixing::Remove;
            }
            let from = chance.below(360) as f64;
            let barred = (kind == 5).then(|| [from, (from + chance.between(30.0, 90.0).round()).rem_euclid(360.0)]);
            Fixing::Holes(Drill { diameter, depth }, barred)
        }
    }
}

/// What a radial hole takes off, in kg·m: its cylinder about the middle of its depth, the cone of its point a quarter of
/// its height below its base. Plain geometry.
fn hole(drill: Drill, depth: f64, surface: f64) -> f64 {
    let section = std::f64::consts::PI * drill.diameter * drill.diameter / 4.0;
    let point = drill.diameter / 2.0 / 59f64.to_radians().tan();
    let cylinder = section * depth * (surface - depth / 2.0);
    let cone = section * point / 3.0 * (surface - depth - point / 4.0);
    (cylinder + cone) * CARBON_STEEL * 1e3
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
