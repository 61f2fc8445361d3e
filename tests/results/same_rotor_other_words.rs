//! The same rotor, trial runs and record said in other words call for the same masses at the corresponding places.

use std::collections::BTreeMap;

use crate::support::books;
use rotorbook::book::Outcome;

/// In what words the sheet is written.
#[derive(Clone, Copy, Default)]
struct Words {
    /// The zero mark of the rotor stands so many degrees farther on.
    turned: f64,
    /// The rotor's angles count the other way.
    rotor_mirrored: bool,
    /// The readout's angles count the other way.
    readout_mirrored: bool,
    /// Planes, channels and trials are written the other way round.
    swapped: bool,
    /// In ounces and inches, with every uncertainty written out.
    inches: bool,
}

impl Words {
    /// An angle of the rotor.
    fn angle(self, degrees: f64) -> f64 {
        let turned = degrees - self.turned;
        (if self.rotor_mirrored { -turned } else { turned }).rem_euclid(360.0)
    }

    fn written_angle(self, degrees: f64) -> String {
        format!("{:.9} deg ± 0.5 deg", self.angle(degrees))
    }

    /// The same back, for comparison.
    fn back(self, degrees: f64) -> f64 {
        (if self.rotor_mirrored { -degrees } else { degrees }) + self.turned
    }

    fn reading(self, amount: f64, degrees: f64) -> String {
        let turned = degrees - self.turned;
        let shown = (if self.readout_mirrored { -turned } else { turned }).rem_euclid(360.0);
        let (amount, half, unit) = match self.inches {
            true => (amount / 25.4, 0.0005 / 25.4, "mil"),
            false => (amount, 0.0005, "µm"),
        };
        format!("{amount:.12} {unit} ± {half:.12} {unit} @ {shown:.9} deg ± 0.05 deg")
    }

    fn length(self, millimetres: f64) -> String {
        match self.inches {
            true => format!("{:.12} in", millimetres / 25.4),
            false => format!("{millimetres:.9} mm"),
        }
    }

    fn measured_length(self, millimetres: f64) -> String {
        match self.inches {
            true => format!("{:.12} in ± {:.12} in", millimetres / 25.4, 0.05 / 25.4),
            false => format!("{millimetres:.9} mm ± 0.05 mm"),
        }
    }

    fn mass(self, grams: f64) -> String {
        let ounce = 28.349_523_125;
        match self.inches {
            true => format!("{:.12} oz ± {:.12} oz", grams / ounce, 0.005 / ounce),
            false => format!("{grams:.9} g ± 0.005 g"),
        }
    }

    fn sense(mirrored: bool) -> &'static str {
        if mirrored { "against rotation" } else { "with rotation" }
    }

    fn in_order<T>(self, mut parts: Vec<T>) -> Vec<T> {
        if self.swapped {
            parts.reverse();
        }
        parts
    }

    fn machine(self) -> String {
        let channels = self.in_order(vec!["left", "right"]).join(", ");
        let unit = if self.inches { "mil" } else { "µm" };
        format!(
            "machine bench {{\n  supports: soft\n  channels: {channels}\n  readout {{\n    shows: displacement\n    unit: {unit}\n    angles: measured\n    angles count: {}\n  }}\n}}\n",
            Self::sense(self.readout_mirrored)
        )
    }

    fn rotor(self) -> String {
        let plane = |name: &str, at: f64, more: String| {
            format!("  plane {name} {{\n    at: {}\n    radius: {}\n{more}  }}\n", self.length(at), self.length(100.0))
        };
        let from = self.angle(20.0);
        let planes = vec![
            plane("hub", 60.0, "    correct: remove\n".to_owned()),
            plane(
                "rim",
                310.0,
                format!(
                    "    correct: add\n    places: 12 from {from:.9} deg\n    places numbered: {}\n",
                    Self::sense(self.rotor_mirrored)
                ),
            ),
        ];
        format!(
            "rotor part {{\n  mass: 12 kg\n  mass centre: {}\n  bearings: {}, {}\n  highest service speed: 3000 rpm\n  angles count: {}\n{}  tolerance {{\n    total: 100 g·mm\n  }}\n}}\n",
            self.length(200.0),
            self.length(0.0),
            self.length(400.0),
            Self::sense(self.rotor_mirrored),
            self.in_order(planes).concat()
        )
    }

    fn run(self, left: (f64, f64), right: (f64, f64)) -> String {
        let readings = vec![
            format!("    reading left: {}\n", self.reading(left.0, left.1)),
            format!("    reading right: {}\n", self.reading(right.0, right.1)),
        ];
        self.in_order(readings).concat()
    }

    fn trial(self, plane: &str, degrees: f64, read: String) -> String {
        format!(
            "  trial {plane} {{\n    mass in: {plane}\n    mass: {}\n    radius: {}\n    angle: {}\n    trial mass: taken off\n{read}  }}\n",
            self.mass(1.2),
            self.measured_length(100.0),
            self.written_angle(degrees)
        )
    }

    fn setup(self) -> String {
        // The readings of the worked example `two-plane-roundtrip`, with the masses at 0 degrees.
        let trials = vec![
            self.trial("hub", 0.0, self.run((14.519_72, 91.474_9), (12.315_20, 226.764_5))),
            self.trial("rim", 0.0, self.run((13.809_51, 111.933_4), (6.031_13, 235.828_7))),
        ];
        let found = format!("  trial \"as found\" {{\n{}  }}\n", self.run((11.76, 115.0), (13.223_81, 233.745_2)));
        format!(
            "setup sheet {{\n  rotor: part\n  machine: bench\n  balancing speed: 900 rpm\n  channel left: hub\n  channel right: rim\n{found}{}}}\n",
            self.in_order(trials).concat()
        )
    }

    fn record(self) -> String {
        let run = |name: &str, left, right| {
            let read = self.run(left, right);
            format!("  run {name} {{\n    speed: 900 rpm\n    calibration masses: off\n{read}  }}\n")
        };
        format!(
            "record job {{\n  setup: sheet\n{}  correction hub {{\n    after: first\n    remove: {}\n    radius: {}\n    angle: {}\n  }}\n  correction rim {{\n    after: first\n  }}\n{}}}\n",
            run("first", (11.76, 115.0), (13.223_81, 233.745_2)),
            self.mass(2.9),
            self.measured_length(100.0),
            self.written_angle(77.0),
            run("second", (3.1, 40.0), (10.9, 250.0)),
        )
    }

    fn text(self) -> String {
        [self.machine(), self.rotor(), self.setup(), self.record()].concat()
    }
}

/// A result in base units: amount, uncertainty, and the angle as the plain words count it.
#[derive(Debug)]
struct Plain {
    amount: f64,
    standard: f64,
    degrees: Option<f64>,
}

fn plain(words: Words) -> BTreeMap<String, Vec<Plain>> {
    let text = words.text();
    let book = books::book(&text);
    for (_, file) in book.files() {
        assert!(
            file.errors.is_empty() && file.sheet.problems.is_empty(),
            "{:?} {:?}\n{text}",
            file.errors,
            file.sheet.problems
        );
    }
    let mut found = BTreeMap::new();
    for (path, entry) in books::results(&book) {
        let values = match entry.outcome {
            // What an amount is known to has no more digits than any other uncertainty.
            Outcome::Amount { base, .. } if path.contains("/ uncertainty") => {
                vec![Plain { amount: 0.0, standard: base, degrees: None }]
            }
            Outcome::Amount { base, standard, .. } => vec![Plain { amount: base, standard, degrees: None }],
            // How far a reading stands ahead of its mass is no place on the rotor.
            Outcome::Vector { base, standard, .. } if path.contains("influence") => {
                vec![Plain { amount: base, standard, degrees: None }]
            }
            Outcome::Vector { base, angle, standard, .. } => {
                vec![Plain { amount: base, standard, degrees: Some(words.back(angle.to_degrees())) }]
            }
            Outcome::Direction { angle, standard, .. } => {
                vec![Plain { amount: 1.0, standard, degrees: Some(words.back(angle.to_degrees())) }]
            }
            Outcome::Table { rows, .. } if path.ends_with("places") => {
                let place = |row: &Vec<Option<f64>>| Plain {
                    amount: row[1].unwrap(),
                    standard: 0.0,
                    degrees: Some(words.back(row[0].unwrap().to_degrees()).rem_euclid(360.0)),
                };
                let mut places: Vec<Plain> = rows.iter().map(place).collect();
                places.sort_by(|a, b| a.amount.total_cmp(&b.amount));
                places
            }
            _ => continue,
        };
        found.insert(path, values);
    }
    found
}

fn assert_same(words: Words) {
    let (one, other) = (plain(Words::default()), plain(words));
    assert!(one.len() > 40, "only {} results", one.len());
    assert_eq!(one.keys().collect::<Vec<_>>(), other.keys().collect::<Vec<_>>());
    for (path, values) in &one {
        let others = &other[path];
        assert_eq!(values.len(), others.len(), "{path}");
        for (a, b) in values.iter().zip(others) {
            // What cancels to nothing has no digits to agree in.
            let size = a.amount.abs().max(1e-9);
            assert!((a.amount - b.amount).abs() <= 1e-6 * size, "{path}: {a:?} and {b:?}");
            assert!((a.standard - b.standard).abs() <= 1e-3 * a.standard.max(1e-6 * size), "{path}: {a:?} and {b:?}");
            if let (Some(x), Some(y)) = (a.degrees, b.degrees) {
                let apart = (x - y).rem_euclid(360.0);
                assert!(apart.min(360.0 - apart) < 1e-4, "{path}: {a:?} and {b:?}");
            }
        }
    }
}

#[test]
fn the_zero_mark_turned() {
    assert_same(Words { turned: 73.0, ..Words::default() });
}

#[test]
fn the_rotors_angles_counted_the_other_way() {
    assert_same(Words { rotor_mirrored: true, ..Words::default() });
}

#[test]
fn the_readouts_angles_counted_the_other_way() {
    assert_same(Words { readout_mirrored: true, ..Words::default() });
}

#[test]
fn planes_channels_and_trials_the_other_way_round() {
    assert_same(Words { swapped: true, ..Words::default() });
}

#[test]
fn ounces_and_inches_with_the_uncertainty_written_out() {
    assert_same(Words { inches: true, ..Words::default() });
}

#[test]
fn all_of_it_at_once() {
    let all = Words { turned: 211.0, rotor_mirrored: true, readout_mirrored: true, swapped: true, inches: true };
    assert_same(all);
}
