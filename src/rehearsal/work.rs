//! A technician who works virtual rotors as the card says: run, correct as called for, lay in again, until the record is
//! good or nothing helps.

use std::sync::Arc;

use num_complex::Complex64;

use super::ending::{Cause, Ending, Short};
use super::given::{Arbor, Cannot, Plan};
use super::machine::Machine;
use super::rotor::{Put, Rotor};
use crate::book::{Book, Computing, RecordResults, SourceFile};
use crate::card;
use crate::check::{self, Severity, name_as_written, quoted};
use crate::mechanics::verdict::Verdict;
use crate::motion::Chance;
use crate::syntax::Kind;
use crate::units::{Typed, Unit};
use crate::vocabulary::run::{AnglesFrom, CalibrationMasses};
use crate::vocabulary::{Choice, YesNo, correction, record, run};

/// Corrections after which nobody goes on.
pub const MOST_CORRECTIONS: usize = 5;

/// Where a record is written that nobody keeps.
const FILE: &str = "rehearsal of rotors.rotor";

/// What was read of a rotor since its last correction.
#[derive(Default)]
struct State {
    mountings: usize,
    runs: usize,
    /// Of all its runs, in each plane: what mountings added, what scatter and steps of the readout did, and what lay beyond the
    /// end of its scales.
    mounted: Vec<Complex64>,
    scattered: Vec<Complex64>,
    beyond: Vec<Complex64>,
}

/// One rotor with its record.
pub struct Job {
    number: u64,
    rotor: Rotor,
    machine: Machine,
    chance: Chance,
    text: String,
    runs: usize,
    corrections: usize,
    state: State,
    short: Vec<Short>,
    pub ending: Option<Ending>,
}

impl Job {
    pub fn new(plan: &Plan, seed: u64, number: u64) -> Self {
        let mut chance = Chance::new(seed ^ number.wrapping_mul(0x9E37_79B9_7F4A_7C15));
        let rotor = Rotor::drawn(plan, &mut chance);
        let machine = Machine::drawn(plan, &mut chance);
        let mut text = format!("{} {} {{\n", Kind::Record, quoted(&name(number)));
        text += &format!("  {}: {}\n  {}: {}\n", record::SETUP, quoted(&plan.setup), record::DATE, plan.day);
        if let Some(proof) = &plan.proof {
            text += &format!("  {}: {}\n", record::PROOF, quoted(proof));
        }
        let mut job = Self {
            number,
            rotor,
            machine,
            chance,
            text,
            runs: 0,
            corrections: 0,
            state: State::default(),
            short: Vec::new(),
            ending: None,
        };
        job.mount(plan);
        job
    }

    /// Lays the rotor in and runs it; on an arbor twice, half a turn apart. In its own bearings it is run again.
    fn mount(&mut self, plan: &Plan) {
        let indexed = !matches!(plan.arbor, Arbor::None);
        let positions: &[f64] = if indexed { &[0.0, 180.0] } else { &[0.0] };
        let before = self.state.mountings;
        if before == 0 {
            self.state = State {
                mounted: vec![Complex64::ZERO; plan.planes.len()],
                scattered: vec![Complex64::ZERO; plan.planes.len()],
                beyond: vec![Complex64::ZERO; plan.planes.len()],
                mountings: 0,
                runs: 0,
            };
        }
        for (n, degrees) in positions.iter().enumerate() {
            let mut lines = Vec::new();
            if plan.is_calibrated {
                lines.push(format!("{}: {}", run::CALIBRATION_MASSES, CalibrationMasses::Off.words()));
            }
            if indexed {
                lines.push(format!("{}: {degrees:.0} {}", run::TURNED_ON_ARBOR_BY, Unit::DEGREE));
                lines.push(format!("{}: {}", run::ANGLES_FROM, AnglesFrom::Rotor.words()));
            }
            if (before > 0 || n > 0) && !plan.in_place {
                lines.push(format!("{}: {}", run::REMOUNTED, YesNo::Yes.words()));
            }
            self.run(plan, degrees.to_radians(), lines);
        }
        self.state.mountings += 1;
    }

    fn run(&mut self, plan: &Plan, turned: f64, mut lines: Vec<String>) {
        let mounted = self.machine.mount(turned, &mut self.chance);
        let together: Vec<Complex64> = self.rotor.planes.iter().zip(&mounted).map(|(own, more)| own + more).collect();
        let read = self.machine.run(plan, &together, &mut self.chance);
        let rpm = Unit::RPM.from_base(read.speed);
        lines.insert(0, format!("{}: {rpm:.0} {}", run::SPEED, Unit::RPM));
        for (n, plane) in plan.planes.iter().enumerate().filter(|(_, plane)| plane.weights.is_some()) {
            let angles: Vec<String> =
                self.rotor.weights(n).iter().map(|angle| format!("{angle:.0} {}", Unit::DEGREE)).collect();
            lines.push(format!("{} {}: {}", run::WEIGHTS_AT, name_as_written(&plane.name), angles.join(", ")));
        }
        for (n, channel) in plan.channels.iter().enumerate() {
            let seen = self.machine.scattered(read.exact[n], &mut self.chance);
            let written = plan.readout.written(&channel.name, seen, &mut self.chance);
            lines.extend(written.lines);
            // What the readout is off by looks like an unbalance in the plane that the channel hears most.
            let loudest =
                channel.answers.iter().enumerate().max_by(|a, b| a.1.middle.norm().total_cmp(&b.1.middle.norm()));
            if let Some((plane, answer)) = loudest {
                self.state.scattered[plane] += (written.says - read.exact[n] - written.beyond) / answer.middle;
                self.state.beyond[plane] += written.beyond / answer.middle;
            }
        }
        let arbor = self.machine.of_arbor(turned);
        for (sum, (all, arbor)) in self.state.mounted.iter_mut().zip(mounted.iter().zip(&arbor)) {
            *sum += all - arbor;
        }
        self.text += &format!("\n  {} r{} {{\n", Kind::Run, self.runs);
        self.text.extend(lines.iter().map(|line| format!("    {line}\n")));
        self.text += "  }\n";
        self.runs += 1;
        self.state.runs += 1;
    }

    /// What the technician does by what the record says.
    fn go_on(&mut self, plan: &Plan, results: &RecordResults<'_>, mountings: usize) {
        let word = results.verdict.as_ref().map(|verdict| verdict.verdict);
        let is_good = word.is_some_and(Verdict::is_good);
        let called_for = card::called_for(results);
        let is_over = called_for.iter().any(|one| one.is_over);
        if self.state.mountings < mountings && (is_good || !is_over) {
            return self.mount(plan);
        }
        if is_good || self.corrections == MOST_CORRECTIONS {
            return self.end(plan, Some(results));
        }
        let read = read(plan, results);
        let before = self.rotor.planes.clone();
        let mut put = vec![Put::default(); plan.planes.len()];
        let not_reached = not_reached(plan, results);
        let after = format!("r{}", self.runs - 1);
        let mut did = false;
        for work in &called_for {
            let Some(plane) = plan.plane(&work.plane) else { continue };
            if let Some(to) = &work.weights_to {
                let to: Vec<f64> =
                    to.split(',').filter_map(|angle| angle.split_whitespace().next()?.parse().ok()).collect();
                put[plane] = self.rotor.turn_weights(plan, plane, &to, &mut self.chance);
                did = true;
            }
            for lines in work.blocks.iter().filter(|lines| !lines.is_empty()) {
                let head = format!("{} {}", Kind::Correction, name_as_written(&work.plane));
                let lines: String = lines.iter().map(|line| format!("    {line}\n")).collect();
                let block = format!("  {head} {{\n    {}: {after}\n{lines}  }}\n", correction::AFTER);
                if let Some((plane, one)) = self.make(plan, &block) {
                    put[plane].meant += one.meant;
                    put[plane].done += one.done;
                    self.text += &format!("\n{block}");
                    did = true;
                }
            }
        }
        // A plane that takes no more stands in the way just as much.
        if let Some(read) = read {
            self.short.extend(self.why_short(plan, &before, &read, &put, &not_reached));
        }
        if !did {
            return self.end(plan, Some(results));
        }
        self.corrections += 1;
        self.state = State::default();
        self.mount(plan);
    }

    /// Makes a correction as it is written.
    fn make(&mut self, plan: &Plan, block: &str) -> Option<(usize, Put)> {
        let text = format!("{} x {{\n{block}}}\n", Kind::Record);
        let file = SourceFile::read(FILE, text);
        let block = file.sheet.items.first()?.inner(Kind::Correction).next()?;
        self.rotor.correct(plan, block, &mut self.chance)
    }

    /// Where a correction leaves the rotor over a limit: what of it is to blame most.
    fn why_short(
        &self,
        plan: &Plan,
        before: &[Complex64],
        read: &[Complex64],
        put: &[Put],
        not_reached: &[Complex64],
    ) -> Option<Short> {
        let (over, limit) = plan.over_limit(&self.rotor.planes);
        if over <= 1.0 {
            return None;
        }
        let mean = 1.0 / self.state.runs.max(1) as f64;
        let mut parts: Vec<(Cause, Complex64)> = Vec::new();
        for (n, lever) in plan.limits[limit].levers.iter().enumerate() {
            let mounted = -self.state.mounted[n].scale(mean);
            let scattered = -self.state.scattered[n].scale(mean);
            let beyond = -self.state.beyond[n].scale(mean);
            // What was taken for the rotor's own and was not, and the other way round.
            let misread = before[n] - read[n] - mounted - scattered - beyond;
            let all = [
                (Cause::Mounting, mounted),
                (Cause::Reading, scattered),
                (Cause::EndOfScale, beyond),
                (Cause::Machine, misread),
                (Cause::Capacity(n), not_reached[n]),
                (Cause::Steps(n), read[n] + put[n].meant - not_reached[n]),
                (Cause::Making, put[n].done - put[n].meant),
            ];
            for (cause, part) in all {
                match parts.iter_mut().find(|(own, _)| *own == cause) {
                    Some((_, sum)) => *sum += part.scale(*lever),
                    None => parts.push((cause, part.scale(*lever))),
                }
            }
        }
        let worst = parts.into_iter().max_by(|a, b| a.1.norm().total_cmp(&b.1.norm()))?;
        Some(Short { correction: self.corrections + 1, cause: worst.0 })
    }

    fn end(&mut self, plan: &Plan, results: Option<&RecordResults<'_>>) {
        let verdict = results.and_then(|results| results.verdict.as_ref());
        let (over, limit) = plan.over_limit(&self.rotor.planes);
        let short = std::mem::take(&mut self.short);
        self.ending = Some(Ending {
            number: self.number,
            corrections: self.corrections,
            over,
            limit,
            word: verdict.map(|verdict| verdict.verdict),
            reason: verdict.and_then(|verdict| verdict.withheld_by().map(str::to_owned)),
            short,
        });
    }
}

fn name(number: u64) -> String {
    format!("rehearsed rotor {number}")
}

/// What the program takes for the unbalance of each plane.
fn read(plan: &Plan, results: &RecordResults<'_>) -> Option<Vec<Complex64>> {
    let run = results.runs.last()?;
    let of = |name: &str| {
        let own = run.plane(name)?.own_vector()?.get()?;
        Some(Complex64::new(own.x.base(), own.y.base()))
    };
    plan.planes.iter().map(|plane| of(&plane.name)).collect()
}

/// What the plane cannot take of what is called for, of each plane.
fn not_reached(plan: &Plan, results: &RecordResults<'_>) -> Vec<Complex64> {
    let of = |name: &str| {
        let work = results.work.iter().find(|work| work.plane == name)?;
        let left = work.not_reached.as_ref()?.get()?;
        Some(Complex64::new(left.x.base(), left.y.base()))
    };
    plan.planes.iter().map(|plane| of(&plane.name).unwrap_or_default()).collect()
}

/// Works jobs to their end, all of a round in one book. `mountings` is how often a rotor is laid in before it is judged.
pub fn work(plan: &Plan, book: &Book, mut jobs: Vec<Job>, mountings: usize) -> Result<Vec<Ending>, Cannot> {
    while jobs.iter().any(|job| job.ending.is_none()) {
        let open = jobs.iter().filter(|job| job.ending.is_none());
        let text: String = open.map(|job| format!("{}}}\n\n", job.text)).collect();
        let book = book.with_file(Arc::new(SourceFile::read(FILE, text)));
        if let Some(why) = misread(&book) {
            return Err(Cannot(format!("the record of a simulated rotor cannot be read: {why}")));
        }
        let computing = Computing::without_explanations(&book);
        for job in jobs.iter_mut().filter(|job| job.ending.is_none()) {
            let id = book.find(Kind::Record, &name(job.number)).ok();
            match id.and_then(|id| computing.record(id)) {
                Some(results) => job.go_on(plan, &results, mountings),
                None => job.end(plan, None),
            }
        }
    }
    Ok(jobs.into_iter().filter_map(|job| job.ending).collect())
}

/// What the sheets do not take of the records: no rotor would ever be called within by them.
fn misread(book: &Book) -> Option<String> {
    let file = book.file_at(FILE)?;
    let source = book.file(file);
    if source.errors.is_empty() && source.sheet.problems.is_empty() {
        return None;
    }
    let wrong = check::check_facts(book, file).into_iter().find(|said| said.severity == Severity::Error)?;
    let line = source.text[..wrong.place.span.start as usize].lines().last().unwrap_or_default();
    let rest = source.text[wrong.place.span.start as usize..].lines().next().unwrap_or_default();
    Some(format!("`{}`: {}", format!("{line}{rest}").trim(), wrong.message))
}
