//! A rotor to practise on: it answers what is done to it, as the record says; what it truly is follows from the record alone,
//! so that an answer that is taken out is undone.

use num_complex::Complex64;

use super::given::Plan;
use super::machine::Machine;
use super::rotor::Rotor;
use crate::mechanics::verdict::Verdict;
use crate::motion::Chance;
use crate::sheet::{Block, FieldValue};
use crate::syntax::Kind;
use crate::units::Unit;
use crate::vocabulary::run::{AnglesFrom, CalibrationMasses};
use crate::vocabulary::{AnyFact, Choice, YesNo, run};

/// Something that goes wrong and that nobody writes down.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Mistake {
    /// The first correction is counted off the wrong way round.
    WrongSense,
    /// The cables of the first two channels are exchanged.
    SwappedChannels,
    /// A calibration mass is still on in the first run, and comes off with the first correction.
    MassLeftOn,
}

pub struct Practice {
    plan: Plan,
    seed: u64,
    mistake: Option<Mistake>,
    machine: Machine,
}

/// What the machine shows in one run.
#[derive(Clone, Debug)]
pub struct Shows {
    pub channel: String,
    /// As it is answered: `8.8 mark on fine @ 310 deg`
    pub answer: String,
}

/// The rotor at one run of its record.
struct At {
    rotor: Rotor,
    /// How often it was laid in.
    mounted: u64,
    /// How often it was corrected before.
    corrected: usize,
}

/// What is drawn for different ends is drawn apart.
const OF_ROTOR: u64 = 0;
const OF_CORRECTIONS: u64 = 1_000_000;
const OF_MOUNTINGS: u64 = 2_000_000;
const OF_RUNS: u64 = 3_000_000;

impl Practice {
    pub fn new(plan: Plan, seed: u64, mistake: Option<Mistake>) -> Self {
        let mut chance = chance(seed, OF_ROTOR + 1);
        let machine = Machine::drawn(&plan, &mut chance);
        Self { plan, seed, mistake, machine }
    }

    pub fn seed(&self) -> u64 {
        self.seed
    }

    /// The rotor as it was in a run, by number.
    fn at(&self, record: &Block, run: usize) -> At {
        let mut rotor = Rotor::drawn(&self.plan, &mut chance(self.seed, OF_ROTOR));
        let (mut runs, mut mounted, mut corrections, mut corrected) = (0, 0, 0, 0);
        let mut is_after_run = false;
        for block in &record.blocks {
            match block.kind {
                Kind::Run => {
                    mounted += u64::from(says(block, run::REMOUNTED.any(), YesNo::Yes.words()));
                    let mut chance = chance(self.seed, OF_CORRECTIONS + 500_000 + runs as u64);
                    corrected += usize::from(self.turn_weights(&mut rotor, block, runs, &mut chance));
                    if runs == run {
                        break;
                    }
                    runs += 1;
                    is_after_run = true;
                }
                Kind::Correction => {
                    corrected += usize::from(std::mem::take(&mut is_after_run));
                    let put = rotor.correct(&self.plan, block, &mut chance(self.seed, OF_CORRECTIONS + corrections));
                    if let (Some((plane, put)), Some(Mistake::WrongSense), 1) = (put, self.mistake, corrected) {
                        rotor.planes[plane] += put.done.conj() - put.done;
                    }
                    corrections += 1;
                }
                _ => {}
            }
        }
        At { rotor, mounted, corrected }
    }

    /// Sliding weights stand where the run says; whether any was turned since the run before.
    fn turn_weights(&self, rotor: &mut Rotor, block: &Block, runs: usize, chance: &mut Chance) -> bool {
        let mut turned = false;
        for field in block.fields.iter().filter(|field| field.key.name == run::WEIGHTS_AT.words()) {
            let plane = field.name.as_ref().and_then(|name| self.plan.plane(&name.text));
            let (Some(plane), FieldValue::Quantities(angles)) = (plane, &field.value) else { continue };
            let to: Vec<f64> = angles.iter().map(|angle| Unit::DEGREE.from_base(angle.base)).collect();
            if runs > 0 && to != rotor.weights(plane) {
                rotor.turn_weights(&self.plan, plane, &to, chance);
                turned = true;
            }
        }
        turned
    }

    /// What the machine shows in the last run of a record, for each channel.
    pub fn shows(&self, record: &Block) -> Vec<Shows> {
        let Some((number, block)) = record.inner(Kind::Run).enumerate().last() else { return Vec::new() };
        let at = self.at(record, number);
        let turned = quantity(block, run::TURNED_ON_ARBOR_BY.any()).unwrap_or(0.0);
        let mounted = self.machine.mount(turned, &mut chance(self.seed, OF_MOUNTINGS + at.mounted));
        let mut planes: Vec<Complex64> = at.rotor.planes.iter().zip(&mounted).map(|(own, more)| own + more).collect();
        let is_left_on = self.mistake == Some(Mistake::MassLeftOn) && at.corrected == 0;
        if is_left_on || says(block, run::CALIBRATION_MASSES.any(), CalibrationMasses::On.words()) {
            let (plane, mass) = self.plan.calibration_mass;
            planes[plane] += mass;
        }
        let mut chance = chance(self.seed, OF_RUNS + number as u64);
        let mut read = self.machine.run(&self.plan, &planes, &mut chance).exact;
        if says(block, run::ANGLES_FROM.any(), AnglesFrom::Arbor.words()) {
            let on = Complex64::from_polar(1.0, turned);
            read.iter_mut().for_each(|one| *one *= on);
        }
        if self.mistake == Some(Mistake::SwappedChannels) && read.len() > 1 {
            read.swap(0, 1);
        }
        let channels = self.plan.channels.iter().zip(read);
        channels
            .map(|(channel, exact)| {
                let seen = self.machine.scattered(exact, &mut chance);
                let written = self.plan.readout.written(&channel.name, seen, &mut chance);
                let values: Vec<&str> =
                    written.lines.iter().filter_map(|line| Some(line.split_once(": ")?.1)).collect();
                Shows { channel: channel.name.clone(), answer: values.join(" @ ") }
            })
            .collect()
    }

    /// Where the sliding weights of a plane come before anything is done, as it is answered.
    pub fn weights(&self, plane: &str) -> Option<String> {
        let rotor = Rotor::drawn(&self.plan, &mut chance(self.seed, OF_ROTOR));
        let angles = rotor.weights(self.plan.plane(plane)?);
        (!angles.is_empty()).then(|| angles.iter().map(|angle| format!("{angle:.0}")).collect::<Vec<_>>().join(", "))
    }

    /// Whether the rotor truly is within as the record leaves it.
    pub fn is_within(&self, record: &Block) -> bool {
        self.plan.over_limit(&self.at(record, usize::MAX).rotor.planes).0 <= 1.0
    }

    /// What happened, a line each.
    pub fn told(&self, record: &Block, word: Option<Verdict>) -> Vec<String> {
        let over = |at: &At| self.plan.over_limit(&at.rotor.planes);
        let of_limit = |at: &At| {
            let (over, limit) = over(at);
            format!("{over:.2} times the limit of {}", self.plan.limits[limit].name)
        };
        let mut lines = Vec::new();
        let (mut before, mut corrected) = (None::<f64>, 0);
        for (n, block) in record.inner(Kind::Run).enumerate() {
            let at = self.at(record, n);
            if before.is_some() && at.corrected == corrected {
                continue;
            }
            corrected = at.corrected;
            let now = over(&at).0;
            let worse = if before.is_some_and(|before| now > before) { ": MORE than before" } else { "" };
            lines.push(format!("run {}: truly {}{worse}", block.name_text(), of_limit(&at)));
            before = Some(now);
        }
        let last = self.at(record, usize::MAX);
        let is_within = over(&last).0 <= 1.0;
        lines.push(format!("as it was left: truly {}, {}", of_limit(&last), if is_within { "WITHIN" } else { "OVER" }));
        let said = word.map_or("has no verdict", crate::book::word_of);
        let is_good = word.is_some_and(Verdict::is_good);
        lines.push(match (is_within, is_good) {
            (true, true) | (false, false) => format!("the record says: {said}"),
            (false, true) => format!("the record says: {said}, AND IT IS NOT"),
            (true, false) => format!("the record says: {said}, though it is within"),
        });
        lines.extend(self.slips(record));
        if let Some(mistake) = self.mistake {
            lines.push(self.words(mistake));
        }
        lines
    }

    /// Where the record does not say what was shown, or says that a calibration mass was on.
    fn slips(&self, record: &Block) -> Vec<String> {
        let mut lines = Vec::new();
        let runs: Vec<&Block> = record.inner(Kind::Run).collect();
        for (n, block) in runs.iter().enumerate() {
            if says(block, run::CALIBRATION_MASSES.any(), CalibrationMasses::On.words()) {
                lines.push(format!("run {}: the calibration masses were on", block.name_text()));
            }
            let until = Block { blocks: up_to_run(record, n), ..record.clone() };
            let shown = self.shows(&until);
            let written: Vec<Option<f64>> = shown.iter().map(|one| amount_of(block, &one.channel)).collect();
            let showed: Vec<Option<f64>> = shown.iter().map(|one| number(&one.answer)).collect();
            if let ([Some(a), Some(b)], [Some(x), Some(y)]) = (&written[..], &showed[..])
                && near(*a, *y)
                && near(*b, *x)
                && !near(*a, *x)
            {
                let names: Vec<&str> = shown.iter().map(|one| one.channel.as_str()).collect();
                lines.push(format!(
                    "run {}: {} were written the wrong way round",
                    block.name_text(),
                    names.join(" and ")
                ));
                continue;
            }
            for (one, (written, showed)) in shown.iter().zip(written.iter().zip(&showed)) {
                if let (Some(written), Some(showed)) = (written, showed)
                    && !near(*written, *showed)
                {
                    let said = format!("{} showed {}, written was {written}", one.channel, one.answer);
                    lines.push(format!("run {}: {said}", block.name_text()));
                }
            }
        }
        lines
    }

    fn words(&self, mistake: Mistake) -> String {
        match mistake {
            Mistake::WrongSense => {
                "what went wrong: the first correction was counted off against the angles".to_owned()
            }
            Mistake::SwappedChannels => {
                let names: Vec<&str> = self.plan.channels.iter().take(2).map(|channel| channel.name.as_str()).collect();
                format!("what went wrong: the cables of {} were exchanged", names.join(" and "))
            }
            Mistake::MassLeftOn => {
                let plane = &self.plan.planes[self.plan.calibration_mass.0].name;
                format!("what went wrong: a calibration mass in {plane} was still on until the first correction")
            }
        }
    }
}

fn chance(seed: u64, what: u64) -> Chance {
    Chance::new(seed ^ what.wrapping_mul(0x9E37_79B9_7F4A_7C15))
}

/// The blocks of a record up to a run, by number.
fn up_to_run(record: &Block, run: usize) -> Vec<Block> {
    let mut runs = 0;
    let before = record.blocks.iter().take_while(|block| {
        runs += usize::from(block.kind == Kind::Run);
        runs <= run + 1
    });
    before.cloned().collect()
}

fn says(block: &Block, fact: AnyFact, words: &str) -> bool {
    let is = |value: &FieldValue| matches!(value, FieldValue::Choice(own) if *own == words);
    block.fields.iter().any(|field| field.key.name == fact.words() && is(&field.value))
}

fn quantity(block: &Block, fact: AnyFact) -> Option<f64> {
    let field = block.fields.iter().find(|field| field.key.name == fact.words())?;
    match &field.value {
        FieldValue::Quantity(stated) => Some(stated.base),
        _ => None,
    }
}

/// The number that the record has for a channel, in the unit that it is written in.
fn amount_of(block: &Block, channel: &str) -> Option<f64> {
    let is = |field: &&crate::sheet::Field| {
        field.key.name == run::READING.words() && field.name.as_ref().is_some_and(|name| *name.text == *channel)
    };
    match &block.fields.iter().find(is)?.value {
        FieldValue::Reading(reading) => Some(reading.amount.quantity().value),
        _ => None,
    }
}

fn number(answer: &str) -> Option<f64> {
    answer.split_whitespace().next()?.parse().ok()
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-6 * a.abs().max(b.abs()).max(1e-12)
}
