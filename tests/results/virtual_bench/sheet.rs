//! What the technician writes down, as text.

use super::part::Part;
use super::stand::{Shown, Stand, Way};

/// How a plane is corrected.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Fixing {
    Add,
    Remove,
    /// So many numbered places round the plane, each with no more than so many grams.
    Places(u32, Option<f64>),
    /// Radial holes to a depth, and degrees from one angle to another where there may be none.
    Holes(Drill, Option<[f64; 2]>),
}

/// A drill and how deep it may go, in metres.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Drill {
    pub diameter: f64,
    pub depth: f64,
}

/// A mass put on for a trial, or for good: in grams, below zero where one that was put on comes off, at an angle of the
/// rotor in degrees; or a hole by its depth in mm.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Put {
    pub plane: usize,
    pub grams: f64,
    pub degrees: f64,
    pub depth: Option<f64>,
}

/// A trial run: the mass that was put on for it, whether that stays on, the speed in rad/s, what was shown.
#[derive(Clone, Debug)]
pub struct Trial {
    pub put: Option<Put>,
    pub stays: bool,
    pub speed: f64,
    pub shown: Vec<Shown>,
}

/// A run of the record, with the rotor turned on its arbor by so many degrees.
#[derive(Clone, Debug)]
pub struct Run {
    pub turned: Option<u32>,
    pub speed: f64,
    pub shown: Vec<Shown>,
}

pub const PLANES: [&str; 2] = ["inner", "outer"];
pub const CHANNELS: [&str; 4] = ["one", "two", "three", "four"];

fn sense(with_rotation: bool) -> &'static str {
    if with_rotation { "with rotation" } else { "against rotation" }
}

fn unit(way: Way) -> &'static str {
    match way {
        Way::ByDimensions => "g·mm",
        Way::Calibrated | Way::Indexed => "div",
        _ => "µm",
    }
}

fn rpm(speed: f64) -> f64 {
    speed * 60.0 / std::f64::consts::TAU
}

pub fn machine(stand: &Stand) -> String {
    let supports = if stand.way == Way::ByDimensions { "hard" } else { "soft" };
    let shows = match stand.way {
        Way::ByDimensions => "unbalance\n    unit: g·mm",
        Way::Calibrated | Way::Indexed => "div",
        _ => "displacement\n    unit: µm",
    };
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
        "machine bench {{\n  supports: {supports}\n  channels: {channels}\n  readout {{\n    shows: {shows}\n    {angles}\n  }}\n}}\narbor spindle {{\n  mass: 3 kg\n}}\n"
    )
}

pub fn rotor(body: &Part, stand: &Stand, fixing: Fixing) -> String {
    let mut text = format!(
        "rotor part {{\n  mass: {:.6} kg\n  mass centre: {:.6} mm\n  bearings: 0 mm, {:.6} mm\n  highest service speed: {:.6} rpm\n  angles count: {}\n",
        body.mass,
        body.mass_centre * 1e3,
        body.bearing_span * 1e3,
        body.service_speed * 60.0 / std::f64::consts::TAU,
        sense(stand.rotor_counts_with_rotation),
    );
    if body.is_overhung() {
        text += "  bearing arrangement: overhung\n";
    }
    for (name, at) in PLANES.iter().zip(&body.planes) {
        let correct = match fixing {
            Fixing::Add => "correct: add".to_owned(),
            Fixing::Remove => "correct: remove".to_owned(),
            Fixing::Places(count, most) => format!(
                "correct: add\n    places: {count} from 0 deg\n    places numbered: {}{}",
                sense(stand.rotor_counts_with_rotation),
                most.map_or_else(String::new, |most| format!("\n    most per place: {most} g"))
            ),
            Fixing::Holes(drill, barred) => format!(
                "correct: remove\n    method: drilling\n    direction: radial\n    surface radius: {:.6} mm\n    hole diameter: {:.1} mm\n    point angle: 118 deg\n    depth: up to {:.2} mm\n    material: \"carbon steel\"{}",
                body.radius * 1e3,
                drill.diameter * 1e3,
                drill.depth * 1e3,
                barred.map_or_else(String::new, |[from, to]| format!("\n    barred: {from} deg to {to} deg"))
            ),
        };
        let radius = match fixing {
            Fixing::Holes(..) => String::new(),
            _ => format!("    radius: {:.6} mm\n", body.radius * 1e3),
        };
        text += &format!("  plane {name} {{\n    at: {:.6} mm\n{radius}    {correct}\n  }}\n", at * 1e3,);
    }
    text + &format!("  tolerance {{\n    grade: G {}\n  }}\n}}\n", body.grade)
}

fn reading(stand: &Stand, channel: usize, shown: Shown) -> String {
    let unit = unit(stand.way);
    let limits = stand.reading_limits();
    let written = if stand.way.is_calibrated() { 6 } else { 9 };
    let angle = match stand.way {
        Way::WithoutAngles => String::new(),
        _ => format!(" @ {:.1} deg ± 1.1 deg", shown.angle),
    };
    format!("    reading {}: {:.written$} {unit} ± {limits:.9} {unit}{angle}\n", CHANNELS[channel], shown.amount)
}

fn readings(stand: &Stand, shown: &[Shown]) -> String {
    shown.iter().enumerate().map(|(channel, shown)| reading(stand, channel, *shown)).collect()
}

/// The setup with its trial runs: the run as found first, then one for each mass; or with its calibration masses.
pub fn setup(body: &Part, stand: &Stand, trials: &[Trial], calibration: &[Put]) -> String {
    let mut text =
        format!("setup sheet {{\n  rotor: part\n  machine: bench\n  balancing speed: {:.3} rpm\n", rpm(stand.speed));
    let indicates = if stand.indicates_light { "light spot" } else { "heavy spot" };
    if stand.way == Way::ByDimensions {
        text += &format!(
            "  indicates: {indicates}\n  supports at: 0 mm, {:.6} mm\n  held down by: \"yoke\"\n",
            body.bearing_span * 1e3
        );
    }
    if stand.way == Way::Indexed {
        text += "  arbor: spindle\n";
    }
    if stand.way.is_calibrated() {
        text += &format!("  indicates: {indicates}\n  tolerance reads: {} div\n", stand.tolerance_reads);
        for (channel, plane) in CHANNELS.iter().zip(PLANES).take(body.planes.len()) {
            text += &format!("  channel {channel}: {plane}\n");
        }
    }
    for put in calibration {
        text += &format!(
            "  calibrate {} {{\n    mass: {} g ± 0.5 %\n    radius: {:.6} mm ± 0.01 mm\n    taken as: vector difference\n  }}\n",
            PLANES[put.plane],
            put.grams,
            body.radius * 1e3
        );
    }
    for (n, trial) in trials.iter().enumerate() {
        text += &format!("  trial number{n} {{\n    speed: {:.3} rpm\n", rpm(trial.speed));
        if let Some(put) = trial.put {
            text += &format!(
                "    mass in: {}\n    mass: {} g ± 0.5 %\n    radius: {:.6} mm ± 0.01 mm\n    angle: {} deg ± 0.5 deg\n    trial mass: {}\n",
                PLANES[put.plane],
                put.grams,
                body.radius * 1e3,
                put.degrees,
                if trial.stays { "left on" } else { "taken off" }
            );
        }
        text += &readings(stand, &trial.shown);
        text += "  }\n";
    }
    text + "}\n"
}

/// The record: the runs of the rotor as found, the corrections after them, the runs that follow, and so on.
pub fn record(body: &Part, stand: &Stand, fixing: Fixing, states: &[Vec<Run>], corrections: &[Vec<Put>]) -> String {
    let mut text = "record job {\n  setup: sheet\n".to_owned();
    let mut number = 0;
    for (n, runs) in states.iter().enumerate() {
        for run in runs {
            text += &format!(
                "  run number{number} {{\n    speed: {:.3} rpm\n    calibration masses: off\n",
                rpm(run.speed)
            );
            if let Some(turned) = run.turned {
                text += &format!("    turned on arbor by: {turned} deg\n    angles from: rotor\n");
            }
            text += &readings(stand, &run.shown);
            text += "  }\n";
            number += 1;
        }
        for put in corrections.get(n).into_iter().flatten() {
            text += &correction(body, number - 1, fixing, *put);
        }
    }
    text + "}\n"
}

fn correction(body: &Part, after: usize, fixing: Fixing, put: Put) -> String {
    let head = format!("  correction {} {{\n    after: number{after}\n", PLANES[put.plane]);
    let angle = format!("    angle: {} deg ± 0.5 deg\n  }}\n", put.degrees);
    if let Some(depth) = put.depth {
        return format!("{head}    depth: {depth:.2} mm ± 0.05 mm\n{angle}");
    }
    let removes = matches!(fixing, Fixing::Remove | Fixing::Holes(..));
    let key = if removes == (put.grams > 0.0) { "remove" } else { "add" };
    format!("{head}    {key}: {} g ± 0.5 %\n    radius: {:.6} mm\n{angle}", put.grams.abs(), body.radius * 1e3)
}

/// A correction that is still to be made, for the program to say how.
pub fn question(plane: usize, after: usize) -> String {
    format!("  correction {} {{\n    after: number{after}\n  }}\n", PLANES[plane])
}
