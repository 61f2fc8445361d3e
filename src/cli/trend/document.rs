//! A trend for programs.

use serde::Serialize;

use crate::trend::{
    Change, ChannelTrend, CheckTrend, Course, Jump, MachineTrend, OfProof, Off, PartTrend, SetAside, day_of,
};

/// Rises whenever a program that reads the document would have to be changed.
const VERSION: u32 = 1;

#[derive(Serialize)]
pub(super) struct Document {
    version: u32,
    machine: String,
    records: usize,
    says: Vec<String>,
    /// When the machine was serviced last, where what is older is left out.
    serviced: Option<String>,
    set_aside: Option<SetAsideOf>,
    channels: Vec<Channel>,
    check_masses: Vec<Check>,
    parts: Vec<Part>,
}

/// Corrections that the run after them contradicts.
#[derive(Serialize)]
struct SetAsideOf {
    corrections: usize,
    first: String,
    last: String,
}

#[derive(Serialize)]
struct Channel {
    channel: String,
    /// From the first day to the last; shares and degrees. `null` where there are too few corrections.
    gain: Option<ChangeOf>,
    angle: Option<ChangeOf>,
    /// By which proof of which setup it is off in all records, by more than scatter; shares and degrees.
    gain_off: Vec<OffOf>,
    angle_off: Vec<OffOf>,
    /// What it hears of the other plane, as a share.
    separation: Option<f64>,
    /// How that changes, and how what the other channel reads of its plane does, as shares; `null` where there are too few
    /// corrections.
    separation_change: Option<ChangeOf>,
    in_the_other: Option<ChangeOf>,
    corrections: Vec<Point>,
}

#[derive(Serialize)]
struct OffOf {
    setup: String,
    proof: Option<String>,
    plane: String,
    records: usize,
    by: f64,
    /// At 95.45 %.
    known_to: f64,
}

#[derive(Serialize)]
struct ChangeOf {
    by: f64,
    /// At 95.45 %.
    known_to: f64,
    is_drift: bool,
    /// Where it may be a jump; shares and degrees.
    jump: Option<JumpOf>,
    /// Where it changes neither along a line nor by a jump; shares and degrees.
    otherwise: Option<OtherwiseOf>,
}

#[derive(Serialize)]
struct JumpOf {
    by: f64,
    /// At 95.45 %.
    known_to: f64,
    last_before: String,
    first_after: String,
    /// Whether the values do not tell it from a drift.
    or_drift: bool,
}

#[derive(Serialize)]
struct OtherwiseOf {
    first: f64,
    last: f64,
    largest_step: f64,
    on: String,
}

#[derive(Serialize)]
struct Point {
    date: String,
    record: String,
    plane: String,
    gain: f64,
    angle_deg: f64,
    /// Of the gain, k = 2.
    known_to: f64,
    in_the_other: Option<f64>,
}

#[derive(Serialize)]
struct Check {
    setup: String,
    plane: String,
    change: Option<ChangeOf>,
    band: Option<f64>,
    /// The day on which its line leaves the band, where it drifts.
    leaves: Option<String>,
    checks: Vec<CheckPoint>,
}

#[derive(Serialize)]
struct CheckPoint {
    date: String,
    off: f64,
}

#[derive(Serialize)]
struct Part {
    part: String,
    drawing: Option<String>,
    plane: String,
    rotors: usize,
    /// Whether each record names a serial number.
    told_apart: bool,
    heavy_about_deg: Option<f64>,
    /// At 95.45 %.
    known_to_deg: Option<f64>,
    /// How likely angles at random would come so close (Rayleigh).
    by_chance: Option<f64>,
    comes_back: bool,
    /// What all have in common.
    common: f64,
    of_tolerance: Option<f64>,
    unit: String,
    angles_deg: Vec<f64>,
}

pub(super) fn of(trend: &MachineTrend) -> Document {
    Document {
        version: VERSION,
        machine: trend.machine.clone(),
        records: trend.records,
        says: trend.sentences(),
        serviced: trend.serviced.map(|day| day.to_string()),
        set_aside: trend.set_aside.map(set_aside),
        channels: trend.channels.iter().map(channel).collect(),
        check_masses: trend.checks.iter().map(check).collect(),
        parts: trend.parts.iter().map(part).collect(),
    }
}

fn set_aside(one: SetAside) -> SetAsideOf {
    SetAsideOf { corrections: one.corrections, first: one.first.to_string(), last: one.last.to_string() }
}

fn change(change: Change, times: f64) -> ChangeOf {
    let jump = |jump: Jump, or_drift: bool| {
        let [before, after] = jump.between.map(|day| day_of(day).to_string());
        JumpOf {
            by: jump.by * times,
            known_to: jump.known_to * times,
            last_before: before,
            first_after: after,
            or_drift,
        }
    };
    let (jump, otherwise) = match change.course {
        Course::Steady | Course::Drifts => (None, None),
        Course::Jumps(one) => (Some(jump(one, false)), None),
        Course::DriftsOrJumps(one) => (Some(jump(one, true)), None),
        Course::Otherwise(one) => (None, Some(one)),
    };
    let otherwise = otherwise.map(|one| OtherwiseOf {
        first: one.first * times,
        last: one.last * times,
        largest_step: one.step * times,
        on: day_of(one.on).to_string(),
    });
    let (by, known_to) = (change.by * times, change.known_to * times);
    ChangeOf { by, known_to, is_drift: change.is_drift(), jump, otherwise }
}

fn off(channel: &ChannelTrend, off: fn(&OfProof) -> Option<Off>, times: f64) -> Vec<OffOf> {
    let one = |proof: &OfProof| {
        let off = off(proof)?;
        Some(OffOf {
            setup: proof.setup.clone(),
            proof: proof.proof.clone(),
            plane: proof.plane.clone(),
            records: proof.records,
            by: off.by * times,
            known_to: off.known_to * times,
        })
    };
    channel.proofs.iter().filter_map(one).collect()
}

fn channel(one: &ChannelTrend) -> Channel {
    let point = |point: &crate::trend::Point| Point {
        date: point.day.to_string(),
        record: point.record.clone(),
        plane: point.plane.clone(),
        gain: point.gain,
        angle_deg: point.angle.to_degrees(),
        known_to: 2.0 * point.standard,
        in_the_other: point.in_other.map(|read| read.norm()),
    };
    Channel {
        channel: one.channel.clone(),
        gain: one.fitted.as_ref().map(|fitted| change(fitted.gain, 1.0)),
        angle: one.fitted.as_ref().map(|fitted| change(fitted.angle, 1f64.to_degrees())),
        gain_off: off(one, |proof| proof.gain_off, 1.0),
        angle_off: off(one, |proof| proof.angle_off, 1f64.to_degrees()),
        separation: one.separation,
        separation_change: one.heard.map(|one| change(one.line.change, 1.0)),
        in_the_other: one.in_other.map(|one| change(one.line.change, 1.0)),
        corrections: one.points.iter().map(point).collect(),
    }
}

fn check(one: &CheckTrend) -> Check {
    Check {
        setup: one.setup.clone(),
        plane: one.plane.clone(),
        change: one.line.map(|line| change(line.change, 1.0)),
        band: one.band,
        leaves: one.leaves.map(|day| day.to_string()),
        checks: one.points.iter().map(|(day, off, _)| CheckPoint { date: day.to_string(), off: *off }).collect(),
    }
}

fn part(one: &PartTrend) -> Part {
    Part {
        part: one.part.clone(),
        drawing: one.drawing.clone(),
        plane: one.plane.clone(),
        rotors: one.rotors,
        told_apart: one.are_told_apart,
        known_to_deg: one.crowd.map(|crowd| crowd.known_to.to_degrees()),
        heavy_about_deg: one.crowd.map(|crowd| crowd.direction.to_degrees().rem_euclid(360.0)),
        by_chance: one.crowd.map(|crowd| crowd.by_chance),
        comes_back: one.comes_back().is_some(),
        common: one.unit.from_base(one.common.0),
        of_tolerance: one.share_of_tolerance(),
        unit: one.unit.to_string(),
        angles_deg: one.angles.iter().map(|angle| angle.to_degrees().rem_euclid(360.0)).collect(),
    }
}
