//! A trend for programs.

use serde::Serialize;

use crate::trend::{Change, ChannelTrend, CheckTrend, MachineTrend, PartTrend};
use crate::units::Unit;

/// Rises whenever a program that reads the document would have to be changed.
const VERSION: u32 = 1;

#[derive(Serialize)]
pub(super) struct Document {
    version: u32,
    machine: String,
    records: usize,
    says: Vec<String>,
    channels: Vec<Channel>,
    check_masses: Vec<Check>,
    parts: Vec<Part>,
}

#[derive(Serialize)]
struct Channel {
    channel: String,
    /// From the first day to the last; shares and degrees. `null` where there are too few corrections.
    gain: Option<ChangeOf>,
    angle: Option<ChangeOf>,
    /// What it hears of the other plane, as a share.
    separation: Option<f64>,
    corrections: Vec<Point>,
}

#[derive(Serialize)]
struct ChangeOf {
    by: f64,
    /// At 95.45 %.
    known_to: f64,
    is_drift: bool,
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
    heavy_about_deg: Option<f64>,
    /// How likely angles at random would come so close (Rayleigh).
    by_chance: Option<f64>,
    comes_back: bool,
    /// What all have in common.
    common: f64,
    unit: String,
    angles_deg: Vec<f64>,
}

pub(super) fn of(trend: &MachineTrend, unit: Unit) -> Document {
    Document {
        version: VERSION,
        machine: trend.machine.clone(),
        records: trend.records,
        says: trend.sentences(),
        channels: trend.channels.iter().map(channel).collect(),
        check_masses: trend.checks.iter().map(check).collect(),
        parts: trend.parts.iter().map(|one| part(one, unit)).collect(),
    }
}

fn change(change: Change, times: f64) -> ChangeOf {
    ChangeOf { by: change.by * times, known_to: change.known_to * times, is_drift: change.is_drift }
}

fn channel(one: &ChannelTrend) -> Channel {
    let point = |point: &crate::trend::Point| Point {
        date: point.day.to_string(),
        record: point.record.clone(),
        plane: point.plane.clone(),
        gain: point.gain,
        angle_deg: point.angle.to_degrees(),
        known_to: 2.0 * point.standard,
        in_the_other: point.in_other,
    };
    Channel {
        channel: one.channel.clone(),
        gain: one.fitted.as_ref().map(|fitted| change(fitted.gain, 1.0)),
        angle: one.fitted.as_ref().map(|fitted| change(fitted.angle, 1f64.to_degrees())),
        separation: one.separation,
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

fn part(one: &PartTrend, unit: Unit) -> Part {
    Part {
        part: one.part.clone(),
        drawing: one.drawing.clone(),
        plane: one.plane.clone(),
        rotors: one.rotors,
        heavy_about_deg: one.crowd.map(|crowd| crowd.direction.to_degrees().rem_euclid(360.0)),
        by_chance: one.crowd.map(|crowd| crowd.by_chance),
        comes_back: one.comes_back().is_some(),
        common: unit.from_base(one.common.0),
        unit: unit.to_string(),
        angles_deg: one.angles.iter().map(|angle| angle.to_degrees().rem_euclid(360.0)).collect(),
    }
}
