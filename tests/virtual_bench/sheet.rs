//! What the technician writes down, as text.

use super::body::Body;
use super::stand::{Shown, Stand, Way};

/// How a plane is corrected.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Fixing {
    Add,
    Remove,
    /// So many numbered places round the plane.
    Places(u32),
}

/// A mass put on for a trial, or for good: in grams, at an angle of the rotor in degrees.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Put {
    pub plane: usize,
    pub grams: f64,
    pub degrees: f64,
}

pub const PLANES: [&str; 2] = ["inner", "outer"];
pub const CHANNELS: [&str; 4] = ["one", "two", "three", "four"];

fn sense(with_rotation: bool) -> &'static str {
    if with_rotation { "with rotation" } else { "against rotation" }
}

fn unit(way: Way) -> &'static str {
    if way == Way::ByDimensions { "g·mm" } else { "µm" }
}

pub fn machine(stand: &Stand) -> String {
    let hard = stand.way == Way::ByDimensions;
    let (supports, shows) = if hard { ("hard", "unbalance") } else { ("soft", "displacement") };
    let angles = match stand.way {
        Way::WithoutAngles => "angles: none".to_owned(),
        _ => format!(
            "angles: measured\n    angle step: {} deg\n    angles count: {}",
            stand.angle_step,
            sense(stand.shows_with_rotation)
        ),
    };
    let channels = CHANNELS[..stand.way.channels()].join(", ");
    format!(
        "machine bench {{\n  supports: {supports}\n  channels: {channels}\n  readout {{\n    shows: {shows}\n    unit: {}\n    {angles}\n  }}\n}}\n",
        unit(stand.way)
    )
}

pub fn rotor(body: &Body, stand: &Stand, fixing: Fixing) -> String {
    let mut text = format!(
        "rotor part {{\n  mass: {:.6} kg\n  mass centre: {:.6} mm\n  bearings: 0 mm, {:.6} mm\n  highest service speed: {:.6} rpm\n  angles count: {}\n",
        body.mass,
        body.mass_centre * 1e3,
        body.bearing_span * 1e3,
        body.service_speed * 60.0 / std::f64::consts::TAU,
        sense(stand.rotor_counts_with_rotation),
    );
    for (name, at) in PLANES.iter().zip(&body.planes) {
        let correct = match fixing {
            Fixing::Add => "correct: add".to_owned(),
            Fixing::Remove => "correct: remove".to_owned(),
            Fixing::Places(count) => format!(
                "correct: add\n    places: {count} from 0 deg\n    places numbered: {}",
                sense(stand.rotor_counts_with_rotation)
            ),
        };
        text += &format!(
            "  plane {name} {{\n    at: {:.6} mm\n    radius: {:.6} mm\n    {correct}\n  }}\n",
            at * 1e3,
            body.radius * 1e3
        );
    }
    text + &format!("  tolerance {{\n    grade: G {}\n  }}\n}}\n", body.grade)
}

fn reading(stand: &Stand, channel: usize, shown: Shown) -> String {
    let unit = unit(stand.way);
    let limits = stand.reading_limits();
    let angle = match stand.way {
        Way::WithoutAngles => String::new(),
        _ => format!(" @ {:.1} deg ± 1.1 deg", shown.angle),
    };
    format!("    reading {}: {:.9} {unit} ± {limits:.9} {unit}{angle}\n", CHANNELS[channel], shown.amount)
}

fn readings(stand: &Stand, shown: &[Shown]) -> String {
    shown.iter().enumerate().map(|(channel, shown)| reading(stand, channel, *shown)).collect()
}

/// The setup with its trial runs: the run as found first, then one for each mass, all taken off again.
pub fn setup(body: &Body, stand: &Stand, trials: &[(Option<Put>, Vec<Shown>)]) -> String {
    let mut text = format!(
        "setup sheet {{\n  rotor: part\n  machine: bench\n  balancing speed: {:.3} rpm\n",
        stand.speed * 60.0 / std::f64::consts::TAU
    );
    if stand.way == Way::ByDimensions {
        text += &format!("  indicates: heavy spot\n  supports at: 0 mm, {:.6} mm\n", body.bearing_span * 1e3);
    }
    for (n, (put, shown)) in trials.iter().enumerate() {
        let speed = stand.speed * 60.0 / std::f64::consts::TAU;
        text += &format!("  trial number{n} {{\n    speed: {speed:.3} rpm\n");
        if let Some(put) = put {
            text += &format!(
                "    mass in: {}\n    mass: {} g ± 0.5 %\n    radius: {:.6} mm ± 0.01 mm\n    angle: {} deg ± 0.5 deg\n    trial mass: taken off\n",
                PLANES[put.plane],
                put.grams,
                body.radius * 1e3,
                put.degrees
            );
        }
        text += &readings(stand, shown);
        text += "  }\n";
    }
    text + "}\n"
}

/// The record: a run, the corrections after it, the next run, and so on.
pub fn record(body: &Body, stand: &Stand, fixing: Fixing, runs: &[Vec<Shown>], corrections: &[Vec<Put>]) -> String {
    let mut text = "record job {\n  setup: sheet\n".to_owned();
    for (n, shown) in runs.iter().enumerate() {
        text += &format!(
            "  run number{n} {{\n    speed: {:.3} rpm\n    calibration masses: off\n",
            stand.speed * 60.0 / std::f64::consts::TAU
        );
        text += &readings(stand, shown);
        text += "  }\n";
        for put in corrections.get(n).into_iter().flatten() {
            text += &correction(body, n, fixing, *put);
        }
    }
    text + "}\n"
}

fn correction(body: &Body, after: usize, fixing: Fixing, put: Put) -> String {
    let key = if fixing == Fixing::Remove { "remove" } else { "add" };
    format!(
        "  correction {} {{\n    after: number{after}\n    {key}: {} g ± 0.5 %\n    radius: {:.6} mm\n    angle: {} deg ± 0.5 deg\n  }}\n",
        PLANES[put.plane],
        put.grams,
        body.radius * 1e3,
        put.degrees
    )
}

/// A correction that is still to be made, for the program to say how.
pub fn question(plane: usize, after: usize) -> String {
    format!("  correction {} {{\n    after: number{after}\n  }}\n", PLANES[plane])
}
