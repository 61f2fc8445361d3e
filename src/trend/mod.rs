//! What becomes of a machine over the year, by the records that were made on it.
//!
//! A correction foretells the next run; what was read instead tells gain and angle of the channel, and what it hears of the other
//! plane. Of many records a line tells a drift, where it is more than the scatter; as-found unbalances that keep coming in one
//! place tell of fixture or casting.

mod days;
mod directions;
mod line;
mod samples;

use std::collections::BTreeMap;

use num_complex::Complex64;

use crate::book::{Checked, Computing, Day, ItemId, SetupResults};
use crate::syntax::Kind;
use crate::units::{Ratio, Typed};

pub use days::{day as day_of, month, number as number_of};
pub use directions::{Crowd, rayleigh};
pub use line::{Change, FEWEST, Fitted, Seen, Straight, fit, straight};

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
    pub in_other: Option<f64>,
}

/// One channel over the days.
#[derive(Clone, Debug)]
pub struct ChannelTrend {
    pub channel: String,
    /// By day.
    pub points: Vec<Point>,
    /// `None` where too few records tell.
    pub fitted: Option<Fitted>,
    /// What it hears of the other plane by the fit, the largest of its setups.
    pub separation: Option<f64>,
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
    pub crowd: Option<Crowd>,
    /// What all have in common, in kg·m, and in rad.
    pub common: (f64, f64),
    /// Each as it came.
    pub angles: Vec<f64>,
}

impl PartTrend {
    /// Less likely than this by chance, a direction counts.
    pub const COUNTS: f64 = 0.01;

    /// Whether a heavy spot keeps coming back in one place.
    pub fn comes_back(&self) -> Option<Crowd> {
        self.crowd.filter(|crowd| crowd.by_chance < Self::COUNTS)
    }
}

/// A machine over the days.
#[derive(Clone, Debug)]
pub struct MachineTrend {
    pub machine: String,
    pub records: usize,
    pub channels: Vec<ChannelTrend>,
    pub checks: Vec<CheckTrend>,
    pub parts: Vec<PartTrend>,
}

/// What all records made on a machine tell of it.
pub fn of_machine(computing: &Computing<'_>, machine: ItemId) -> MachineTrend {
    let book = computing.book();
    let found = samples::of_machine(computing, machine);
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
        channels: by_channel.into_iter().map(|(channel, samples)| of_channel(channel, samples)).collect(),
        checks: checks.collect(),
        parts: of_parts(computing, found.as_found),
    }
}

fn of_channel(channel: String, mut samples: Vec<samples::Sample>) -> ChannelTrend {
    samples.sort_by_key(|sample| sample.day);
    // A setup and its plane have a calibration of their own, from which gains are counted.
    let mut groups: Vec<(ItemId, String)> = Vec::new();
    for sample in &mut samples {
        let own = (sample.setup, sample.plane.clone());
        sample.seen.group = groups.iter().position(|group| *group == own).unwrap_or_else(|| {
            groups.push(own);
            groups.len() - 1
        });
    }
    let seen: Vec<Seen> = samples.iter().map(|sample| sample.seen).collect();
    let fitted = fit(&seen);
    let heard = |group: usize| fitted.as_ref().map_or(Complex64::ZERO, |fitted| fitted.groups[group][1]);
    let points = samples.iter().map(|sample| {
        let own = (sample.seen.change - heard(sample.seen.group) * sample.seen.other) / sample.seen.own;
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
    let separation =
        fitted.as_ref().map(|fitted| fitted.groups.iter().map(|[_, other]| other.norm()).fold(0.0, f64::max));
    ChannelTrend { channel, points: points.collect(), separation: separation.filter(|found| *found > 0.0), fitted }
}

/// What the check mass of a setup tells; `None` where it was never checked since the proof.
pub fn of_check_mass(setup: &str, results: &SetupResults<'_>) -> Option<CheckTrend> {
    let check = results.check_mass.as_ref()?;
    let point = |one: &Checked<'_>| {
        let read = one.reading.get()?.value();
        Some((one.day, one.drift.get()?.value(), one.reading.standard_uncertainty() / read))
    };
    let points: Vec<(Day, f64, f64)> = check.checked.iter().filter_map(point).collect();
    if points.is_empty() {
        return None;
    }
    let line =
        straight(&points.iter().map(|(day, off, standard)| (number_of(*day), *off, *standard)).collect::<Vec<_>>());
    let band =
        check.band().zip(check.reading.get()).map(|(band, reading)| Ratio::new(band.value() / reading.value()).base());
    let leaves = line.zip(band).filter(|(line, _)| line.change.is_drift).and_then(|(line, band)| {
        let edge = if line.slope > 0.0 { band } else { -band };
        let at = line.middle + (edge - line.value) / line.slope;
        // Far away it says nothing.
        (at < number_of(points.last()?.0) + 3.0 * 365.0).then(|| day_of(at))
    });
    Some(CheckTrend { setup: setup.to_owned(), plane: check.plane.to_owned(), points, line, band, leaves })
}

fn of_parts(computing: &Computing<'_>, as_found: Vec<samples::AsFound>) -> Vec<PartTrend> {
    let book = computing.book();
    let mut parts: BTreeMap<(ItemId, String), Vec<Complex64>> = BTreeMap::new();
    for one in as_found {
        let vector = Complex64::new(one.vector.x.base(), one.vector.y.base());
        parts.entry((one.part, one.plane)).or_default().push(vector);
    }
    let part = |((part, plane), vectors): ((ItemId, String), Vec<Complex64>)| {
        let angles: Vec<f64> = vectors.iter().map(|vector| vector.arg()).collect();
        let mean = vectors.iter().sum::<Complex64>() / vectors.len() as f64;
        let block = computing.rotor(part)?;
        let drawing = match block.block.field(crate::vocabulary::rotor::DRAWING).map(|field| &field.field.value) {
            Some(crate::sheet::FieldValue::Text(text)) => Some(text.to_string()),
            _ => None,
        };
        Some(PartTrend {
            part: book.item(part).name_text().to_owned(),
            drawing,
            plane,
            rotors: vectors.len(),
            crowd: rayleigh(&angles),
            common: (mean.norm(), mean.arg()),
            angles,
        })
    };
    parts.into_iter().filter_map(part).collect()
}

impl MachineTrend {
    /// What is to be said of it, in sentences; empty where nothing drifts and nothing comes back.
    pub fn sentences(&self) -> Vec<String> {
        let drifts = self.channels.iter().flat_map(ChannelTrend::sentences);
        let checks = self.checks.iter().filter_map(CheckTrend::sentence);
        let parts = self.parts.iter().filter_map(PartTrend::sentence);
        drifts.chain(checks).chain(parts).collect()
    }
}

fn signed(share: f64) -> String {
    format!("{:+.1} %", share * 100.0).replace('-', "−")
}

impl ChannelTrend {
    fn sentences(&self) -> Vec<String> {
        let (Some(fitted), Some(first)) = (&self.fitted, self.points.first()) else { return Vec::new() };
        let since = month(first.day);
        let mut said = Vec::new();
        if fitted.gain.is_drift {
            let known_to = fitted.gain.known_to * 100.0;
            said.push(format!(
                "{} has drifted {} since {since} (± {known_to:.1} %)",
                self.channel,
                signed(fitted.gain.by)
            ));
        }
        if fitted.angle.is_drift {
            let [by, known_to] = [fitted.angle.by, fitted.angle.known_to].map(f64::to_degrees);
            let by = format!("{by:+.1} deg").replace('-', "−");
            said.push(format!("the angle of {} has drifted {by} since {since} (± {known_to:.1} deg)", self.channel));
        }
        said
    }
}

impl CheckTrend {
    fn sentence(&self) -> Option<String> {
        Some(format!("the check mass of \"{}\" in {} {}", self.setup, self.plane, self.drift()?))
    }

    /// `has drifted +2.1 % since April 2026; it leaves its band about March 2027`, where it has drifted.
    pub fn drift(&self) -> Option<String> {
        let line = self.line.filter(|line| line.change.is_drift)?;
        let since = month(self.points.first()?.0);
        let by = signed(line.change.by);
        let leaves = self.leaves.map_or_else(String::new, |day| {
            match number_of(day) <= self.points.last().map_or(0.0, |(day, ..)| number_of(*day)) {
                true => "; it has left its band".to_owned(),
                false => format!("; it leaves its band about {}", month(day)),
            }
        });
        Some(format!("has drifted {by} since {since}{leaves}"))
    }
}

impl PartTrend {
    fn sentence(&self) -> Option<String> {
        let crowd = self.comes_back()?;
        let drawing = self.drawing.as_ref().map_or_else(String::new, |drawing| format!(" ({drawing})"));
        Some(format!(
            "{}{drawing}, plane {}: {} rotors came heavy about {:.0} deg (by chance {}): look at the fixture or the casting",
            self.part,
            self.plane,
            self.rotors,
            crowd.direction.to_degrees().rem_euclid(360.0),
            one_in(crowd.by_chance),
        ))
    }
}

/// `one in 500`
fn one_in(share: f64) -> String {
    if share < 1e-6 { "less than one in a million".to_owned() } else { format!("one in {:.0}", 1.0 / share) }
}
