//! A year of a machine whose dials truly drift, or do not: what the records tell is held against what was planted.

use std::fmt::Write;

use num_complex::Complex64;
use rotorbook::book::Computing;
use rotorbook::motion::Chance;
use rotorbook::syntax::Kind;
use rotorbook::trend::{self, MachineTrend};

use crate::support::books;

const SHEETS: &str = "machine bench {
  supports: hard
  works: below resonance
  channels: left, right
  readout {
    shows: unbalance
    unit: g·mm
    smallest step: 0.01 g·mm
    angles: measured
    angles count: with rotation
    angle step: 0.1 deg
  }
}
rotor part {
  drawing: \"TQ-W-7\"
  mass: 12 kg
  mass centre: 100 mm
  bearings: 0 mm, 200 mm
  highest service speed: 3000 rpm
  angles count: with rotation
  plane inner {
    at: 20 mm
    radius: 100 mm
    correct: either
  }
  plane outer {
    at: 180 mm
    radius: 100 mm
    correct: either
  }
  tolerance {
    total: 40 g·mm
  }
}
setup sheet {
  rotor: part
  machine: bench
  balancing speed: 900 rpm
  channel left: inner
  channel right: outer
  indicates: heavy spot
";

/// What is true of the year.
#[derive(Clone, Copy, Default)]
struct Year {
    records: usize,
    /// Of the left channel, from the first day to the last, as shares; rad.
    drift: f64,
    turn: f64,
    /// Standard deviation of its gain from record to record.
    scatter: f64,
    /// What every rotor has besides its own, in the outer plane: g·mm and rad.
    common: (f64, f64),
    /// What each channel hears of the other plane.
    heard: f64,
}

/// The day so far into 2026.
fn day(share: f64) -> String {
    trend::day_of(20_454.0 + (share * 364.0).round()).to_string()
}

fn reading(channel: &str, vector: Complex64) -> String {
    let degrees = vector.arg().to_degrees().rem_euclid(360.0);
    format!("    reading {channel}: {:.2} g·mm @ {degrees:.1} deg\n", vector.norm())
}

fn book(year: Year, seed: u64, more: &str) -> String {
    let mut chance = Chance::new(seed);
    let mut text = format!("{SHEETS}{more}}}\n");
    for n in 0..year.records {
        let at = n as f64 / (year.records - 1) as f64;
        let gain = Complex64::from_polar(1.0 + year.drift * at + chance.scatter(year.scatter), year.turn * at);
        let mut own = [0; 2].map(|_| Complex64::from_polar(chance.between(300.0, 900.0), chance.angle()));
        own[1] += Complex64::from_polar(year.common.0, year.common.1);
        let shown = |own: [Complex64; 2]| {
            let left = gain * (own[0] + own[1].scale(year.heard));
            [left, own[1] + own[0].scale(year.heard)]
        };
        let name = format!("number {n}");
        let found = shown(own);
        writeln!(text, "record \"{name}\" {{\n  setup: sheet\n  date: {}\n  run found {{\n    speed: 900 rpm", day(at))
            .unwrap();
        text += &reading("left", found[0]);
        text += &reading("right", found[1]);
        text += "  }\n";
        for (plane, found) in ["inner", "outer"].iter().zip(found) {
            let (grams, degrees) = (found.norm() / 100.0, (found.arg().to_degrees().rem_euclid(360.0)).round());
            writeln!(
                text,
                "  correction {plane} {{\n    after: found\n    remove: {grams:.3} g\n    radius: 100.0 mm\n    angle: {degrees} deg\n  }}"
            )
            .unwrap();
            let n = usize::from(*plane == "outer");
            let grams: f64 = format!("{grams:.3}").parse().unwrap();
            own[n] -= Complex64::from_polar(grams * 100.0, degrees.to_radians());
        }
        let left = shown(own);
        text += "  run left {\n    speed: 900 rpm\n";
        text += &reading("left", left[0]);
        text += &reading("right", left[1]);
        text += "  }\n}\n";
    }
    text
}

fn told(text: &str) -> MachineTrend {
    let book = books::readable(text);
    let machine = book.find(Kind::Machine, "bench").unwrap();
    trend::of_machine(&Computing::without_explanations(&book), machine)
}

const FIFTY: Year = Year { records: 50, drift: 0.0, turn: 0.0, scatter: 0.003, common: (0.0, 0.0), heard: 0.02 };

#[test]
fn a_drift_of_two_per_cent_is_found_and_a_scatter_of_two_per_cent_is_not() {
    let (mut alarms, seeds) = (0, 12);
    for seed in 0..seeds {
        let drifting = told(&book(Year { drift: 0.02, ..FIFTY }, seed, ""));
        let left = drifting.channels.iter().find(|one| one.channel == "left").unwrap();
        let gain = left.fitted.as_ref().unwrap().gain;
        assert_eq!(left.points.len(), 50);
        assert!(gain.is_drift && (gain.by - 0.02).abs() < 1.5 * gain.known_to, "seed {seed}: {gain:?}");
        let says = drifting.sentences();
        assert!(
            says.iter().any(|says| says.starts_with("left has drifted +") && says.contains("since January 2026")),
            "{says:?}"
        );
        // What one hears of the other was planted too.
        assert!((left.separation.unwrap() - 0.02).abs() < 0.005, "seed {seed}: {:?}", left.separation);
        let scattered = told(&book(Year { scatter: 0.02, ..FIFTY }, seed, ""));
        for channel in &scattered.channels {
            let fitted = channel.fitted.as_ref().unwrap();
            alarms += usize::from(fitted.gain.is_drift) + usize::from(fitted.angle.is_drift);
        }
    }
    // One in 370 each, by chance.
    assert!(alarms <= 1, "{alarms} of {} are called drifts by chance", 4 * seeds);
}

#[test]
fn a_turning_angle_is_found() {
    let turning = told(&book(Year { turn: 0.05, ..FIFTY }, 3, ""));
    let left = turning.channels.iter().find(|one| one.channel == "left").unwrap();
    let fitted = left.fitted.as_ref().unwrap();
    assert!(fitted.angle.is_drift && !fitted.gain.is_drift, "{fitted:?}");
    assert!((fitted.angle.by - 0.05).abs() < 1.5 * fitted.angle.known_to, "{fitted:?}");
}

#[test]
fn a_fixture_that_errs_is_found_by_the_angles_as_found() {
    for seed in 0..6 {
        let year = Year { common: (500.0, 40_f64.to_radians()), ..FIFTY };
        let found = told(&book(year, seed, ""));
        let part = |plane: &str| found.parts.iter().find(|part| part.plane == plane).unwrap();
        let crowd = part("outer").comes_back().unwrap_or_else(|| panic!("seed {seed}: {:?}", part("outer").crowd));
        assert!((crowd.direction.to_degrees() - 40.0).abs() < 25.0, "seed {seed}: {crowd:?}");
        assert_eq!(part("inner").comes_back(), None, "seed {seed}");
        let says = found.sentences().into_iter().find(|says| says.contains("plane outer")).unwrap();
        assert!(says.contains("part (TQ-W-7)") && says.contains("the fixture or the casting"), "{says}");
    }
}

/// A check mass that reads 4 % more in a year leaves ± 5 % after a year and a quarter, in April.
#[test]
fn a_check_mass_is_told_when_it_leaves_its_band() {
    let mut more = "  proof \"2026-01-01\" {\n    date: 2026-01-01\n  }\n  check mass {\n    plane: inner\n    mass: 5.00 g\n    radius: 100.0 mm\n    angle: 0 deg\n    within: 5 %\n".to_owned();
    for n in 0..=12 {
        let share = f64::from(n) / 12.0;
        // A step of the hand up and down.
        let read = 500.0 * (1.0 + 0.04 * share) + if n % 2 == 0 { 0.4 } else { -0.4 };
        writeln!(more, "    checked: {}, {read:.2} g·mm", day(share)).unwrap();
    }
    let found = told(&book(Year { records: 2, ..FIFTY }, 1, &(more + "  }\n")));
    let check = &found.checks[0];
    assert!(check.line.unwrap().change.is_drift, "{check:?}");
    let leaves = check.leaves.unwrap();
    assert!(leaves.year == 2027 && (3..=5).contains(&leaves.month), "{leaves}");
    let says = check.drift().unwrap();
    assert!(says.starts_with("has drifted +4.0 % since January 2026; it leaves its band about "), "{says}");
}
