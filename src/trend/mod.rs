//! What becomes of a machine over the year, by the records that were made on it.
//!
//! A correction foretells the next run; what was read instead tells gain and angle of the channel, and what it hears of the other
//! plane. Of many records a line tells a drift, where it is more than the scatter; as-found unbalances that keep coming in one
//! place tell of fixture or casting.

mod days;
mod directions;
mod line;
mod otherwise;
mod samples;
mod straight;
mod words;

use std::collections::{BTreeMap, HashSet};

use num_complex::Complex64;

use crate::book::{Book, Checked, Computing, Day, EffectiveBlock, ItemId, SetupResults, effective};
use crate::syntax::Kind;
use crate::units::{Ratio, Typed, Unit};
use crate::vocabulary::machine;
use straight::{Directed, directed};

pub use days::{day as day_of, month, number as number_of};
pub use directions::{Crowd, rayleigh};
pub use line::{Change, FEWEST, Fitted, GroupFit, Off, Seen, fit};
pub use otherwise::{Course, Jump, Otherwise, Value};
pub use straight::{Component, Straight, straight};

/// What one correction showed of a channel.
#[derive(Clone, Debug)]
pub struct Point {
    pub day: Day,
    pub record: String,
    pub plane: String,
    /// What was read of what was put on, what was heard of the other plane taken out: a share and rad.
    pub gain: f64,
    pub angle: f64,
    /// Of gain, and in rad of the angle; one standard deviation.
    pub standard: f64,
    /// What the other channel read of it, where this plane alone was corrected.
    pub in_other: Option<Complex64>,
}

/// What the records of a setup by one proof show of a channel.
#[derive(Clone, Debug)]
pub struct OfProof {
    pub setup: String,
    /// `None` where they are judged without one.
    pub proof: Option<String>,
    pub plane: String,
    pub records: usize,
    /// Of the first record.
    pub since: Day,
    /// How far it is off what was proven, in all of them.
    pub gain_off: Option<Off>,
    pub angle_off: Option<Off>,
}

/// One channel over the days.
#[derive(Clone, Debug)]
pub struct ChannelTrend {
    pub channel: String,
    /// By day.
    pub points: Vec<Point>,
    /// `None` where too few records tell.
    pub fitted: Option<Fitted>,
    pub proofs: Vec<OfProof>,
    /// What it hears of the other plane by the fit, the largest of its setups.
    pub separation: Option<f64>,
    /// What it reads of the other plane, as a share, over the days; `None` where too few records tell.
    pub heard: Option<Component>,
    /// The same of what the other channel reads of its plane.
    pub in_other: Option<Component>,
}

/// The check mass of one setup over the days.
#[derive(Clone, Debug)]
pub struct CheckTrend {
    pub setup: String,
    pub plane: String,
    /// Day, how far off it read as a share, one standard deviation.
    pub points: Vec<(Day, f64, f64)>,
    pub line: Option<Straight>,
    /// As a share.
    pub band: Option<f64>,
    /// Where its line leaves the band, where it drifts.
    pub leaves: Option<Day>,
}

/// How the rotors of one part came in one plane.
#[derive(Clone, Debug)]
pub struct PartTrend {
    pub part: String,
    pub drawing: Option<String>,
    pub plane: String,
    pub rotors: usize,
    /// Whether each record names a serial number; else one rotor may be counted more than once.
    pub are_told_apart: bool,
    pub crowd: Option<Crowd>,
    /// What all have in common, in kg·m, and in rad.
    pub common: (f64, f64),
    /// Of the plane, in kg·m.
    pub tolerance: Option<f64>,
    /// In which the book states unbalances.
    pub unit: Unit,
    /// Each as it came.
    pub angles: Vec<f64>,
}

impl PartTrend {
    /// Less likely than this by chance, a direction counts.
    pub const COUNTS: f64 = 0.01;

    /// Less of the tolerance does nobody look for. Source: common practice, no source.
    const WORTH: f64 = 0.1;

    /// Whether a heavy spot keeps coming back in one place, and is worth a look.
    pub fn comes_back(&self) -> Option<Crowd> {
        let is_worth = self.share_of_tolerance().is_none_or(|share| share >= Self::WORTH);
        self.crowd.filter(|crowd| crowd.by_chance < Self::COUNTS && is_worth)
    }

    /// What all have in common, over the tolerance of the plane.
    pub fn share_of_tolerance(&self) -> Option<f64> {
        self.tolerance.map(|tolerance| self.common.0 / tolerance)
    }
}

/// Corrections that the run after them contradicts: no line counts them.
#[derive(Clone, Copy, Debug)]
pub struct SetAside {
    pub corrections: usize,
    pub first: Day,
    pub last: Day,
}

impl SetAside {
    /// By day.
    fn of(days: &[Day]) -> Option<Self> {
        Some(Self { corrections: days.len(), first: *days.first()?, last: *days.last()? })
    }
}

/// A machine over the days.
#[derive(Clone, Debug)]
pub struct MachineTrend {
    pub machine: String,
    pub records: usize,
    /// The latest service, where results from before it were not counted.
    pub serviced: Option<Day>,
    pub set_aside: Option<SetAside>,
    pub channels: Vec<ChannelTrend>,
    pub checks: Vec<CheckTrend>,
    pub parts: Vec<PartTrend>,
}

/// The latest service of a machine, if there was one.
struct Service(Option<Day>);

impl Service {
    fn of(machine: &EffectiveBlock<'_>) -> Self {
        Self(machine.latest(machine::SERVICED, None).map(|(day, _)| day))
    }

    /// Whether a day is that of the service, or later.
    fn is_before(&self, day: Day) -> bool {
        self.0.is_none_or(|serviced| day >= serviced)
    }
}

/// What all records made on a machine tell of it.
pub fn of_machine(computing: &Computing<'_>, machine: ItemId) -> MachineTrend {
    let book = computing.book();
    let mut found = samples::of_machine(computing, machine);
    let service = Service::of(&effective(book, machine).0);
    let all = found.samples.len() + found.set_aside.len();
    found.samples.retain(|(_, sample)| service.is_before(sample.day));
    found.set_aside.retain(|day| service.is_before(*day));
    let serviced = service.0.filter(|_| found.samples.len() + found.set_aside.len() < all);
    let mut by_channel: BTreeMap<String, Vec<samples::Sample>> = BTreeMap::new();
    for (channel, sample) in found.samples {
        by_channel.entry(channel).or_default().push(sample);
    }
    let setups: Vec<ItemId> = book.items().filter(|id| book.item(*id).kind == Kind::Setup).collect();
    let checks = setups.iter().filter_map(|id| {
        let setup = computing.setup(*id)?;
        (setup.machine.as_ref()?.id == machine).then(|| of_check_mass(book.item(*id).name_text(), &setup))?
    });
    MachineTrend {
        machine: book.item(machine).name_text().to_owned(),
        records: found.records,
        serviced,
        set_aside: SetAside::of(&found.set_aside),
        channels: by_channel.into_iter().map(|(channel, samples)| of_channel(book, channel, samples)).collect(),
        checks: checks.collect(),
        parts: of_parts(computing, found.as_found),
    }
}

/// What is put on in the other plane tells what is heard of it where it is more than this share of what is put on in the own.
const TELLS_OF_OTHER: f64 = 0.2;

fn of_channel(book: &Book, channel: String, mut samples: Vec<samples::Sample>) -> ChannelTrend {
    samples.sort_by_key(|sample| sample.day);
    // A setup, as it was proven, has a calibration of its own for each plane, from which gains are counted.
    let mut groups: Vec<(ItemId, Option<String>, String)> = Vec::new();
    for sample in &mut samples {
        let own = (sample.setup, sample.proof.clone(), sample.plane.clone());
        sample.seen.group = groups.iter().position(|group| *group == own).unwrap_or_else(|| {
            groups.push(own);
            groups.len() - 1
        });
    }
    let seen: Vec<Seen> = samples.iter().map(|sample| sample.seen).collect();
    let fitted = fit(&seen);
    let of_group = |group: usize| fitted.as_ref().map(|fitted| fitted.groups[group]);
    let in_other = samples.iter().filter_map(|sample| {
        let Seen { at, group, standard, .. } = sample.seen;
        Some(Directed { at, group, value: sample.in_other?, standard })
    });
    let in_other = directed(&in_other.collect::<Vec<_>>());
    let heard = seen.iter().filter_map(|seen| {
        let group = of_group(seen.group).filter(|group| group.is_heard_told)?;
        let size = seen.other.norm();
        let value = (seen.change - group.unit * seen.own) / seen.other;
        (size > TELLS_OF_OTHER).then(|| Directed {
            at: seen.at,
            group: seen.group,
            value,
            standard: seen.standard / size,
        })
    });
    let heard = directed(&heard.collect::<Vec<_>>());
    let points = samples.iter().map(|sample| {
        let heard = of_group(sample.seen.group).map_or(Complex64::ZERO, |group| group.heard);
        let own = (sample.seen.change - heard * sample.seen.other) / sample.seen.own;
        Point {
            day: sample.day,
            record: sample.record.clone(),
            plane: sample.plane.clone(),
            gain: own.norm(),
            angle: own.arg(),
            standard: sample.seen.standard,
            in_other: sample.in_other,
        }
    });
    let proofs = groups.iter().enumerate().filter_map(|(n, (setup, proof, plane))| {
        let own = || samples.iter().filter(|sample| sample.seen.group == n);
        let records: HashSet<&str> = own().map(|sample| sample.record.as_str()).collect();
        Some(OfProof {
            setup: book.item(*setup).name_text().to_owned(),
            proof: proof.clone(),
            plane: plane.clone(),
            records: records.len(),
            since: own().next()?.day,
            gain_off: of_group(n)?.gain_off,
            angle_off: of_group(n)?.angle_off,
        })
    });
    let told = fitted.iter().flat_map(|fitted| &fitted.groups).filter(|group| group.is_heard_told);
    let separation = told.map(|group| group.heard.norm()).fold(0.0, f64::max);
    ChannelTrend {
        channel,
        points: points.collect(),
        proofs: proofs.collect(),
        separation: Some(separation).filter(|found| *found > 0.0),
        heard,
        in_other,
        fitted,
    }
}

/// What the check mass of a setup tells; `None` where it was never checked since the proof and the latest service.
pub fn of_check_mass(setup: &str, results: &SetupResults<'_>) -> Option<CheckTrend> {
    let check = results.check_mass.as_ref()?;
    let point = |one: &Checked<'_>| {
        let read = one.reading.get()?.value();
        Some((one.day, one.drift.get()?.value(), one.reading.standard_uncertainty() / read))
    };
    let service = results.machine.as_ref().map_or(Service(None), |machine| Service::of(&machine.block));
    let points = check.checked.iter().filter_map(point).filter(|(day, ..)| service.is_before(*day));
    let points: Vec<(Day, f64, f64)> = points.collect();
    if points.is_empty() {
        return None;
    }
    let value = |(day, off, standard): &(Day, f64, f64)| Value {
        at: number_of(*day),
        group: 0,
        value: *off,
        standard: *standard,
    };
    let line = straight(&points.iter().map(value).collect::<Vec<_>>());
    let band =
        check.band().zip(check.reading.get()).map(|(band, reading)| Ratio::new(band.value() / reading.value()).base());
    let leaves = line.zip(band).filter(|(line, _)| line.change.is_drift()).and_then(|(line, band)| {
        let edge = if line.slope > 0.0 { band } else { -band };
        let at = line.middle + (edge - line.value) / line.slope;
        // Far away it says nothing.
        (at < number_of(points.last()?.0) + 3.0 * 365.0).then(|| day_of(at))
    });
    Some(CheckTrend { setup: setup.to_owned(), plane: check.plane.to_owned(), points, line, band, leaves })
}

fn of_parts(computing: &Computing<'_>, as_found: Vec<samples::AsFound>) -> Vec<PartTrend> {
    let book = computing.book();
    let mut parts: BTreeMap<(ItemId, String), Vec<samples::AsFound>> = BTreeMap::new();
    for one in as_found {
        parts.entry((one.part, one.plane.clone())).or_default().push(one);
    }
    let part = |((part, plane), all): ((ItemId, String), Vec<samples::AsFound>)| {
        let vector = |one: &samples::AsFound| Complex64::new(one.vector.x.base(), one.vector.y.base());
        let vectors: Vec<Complex64> = all.iter().map(vector).collect();
        let angles: Vec<f64> = vectors.iter().map(|vector| vector.arg()).collect();
        let mean = vectors.iter().sum::<Complex64>() / vectors.len() as f64;
        let block = computing.rotor(part)?;
        let drawing = match block.block.field(crate::vocabulary::rotor::DRAWING).map(|field| &field.field.value) {
            Some(crate::sheet::FieldValue::Text(text)) => Some(text.to_string()),
            _ => None,
        };
        let tolerance = block.planes.iter().find(|own| own.name == plane).and_then(|own| own.tolerance.get());
        Some(PartTrend {
            part: book.item(part).name_text().to_owned(),
            drawing,
            plane,
            rotors: vectors.len(),
            are_told_apart: all.iter().all(|one| one.serial.is_some()),
            tolerance: tolerance.map(Typed::base),
            unit: book.rules().unbalance_unit,
            crowd: rayleigh(&angles),
            common: (mean.norm(), mean.arg()),
            angles,
        })
    };
    parts.into_iter().filter_map(part).collect()
}
