//! The same job in other words: nothing that is said of its limits is another.

use rotorbook::book::{Book, Outcome};
use rotorbook::mechanics::verdict::Verdict;

use super::first;
use super::gates::share;
use super::job::{Class, Job};
use super::machine::CHANNELS;
use super::rotor::PLANES;
use crate::facts_taken;
use crate::limits_moved;
use crate::shelf::Said;
use crate::support::books;
use crate::support::other_units::in_other_units;
use rotorbook::motion::Chance;

fn job(seed: u64) -> (Class, String) {
    let class = Class::ALL[(seed % Class::ALL.len() as u64) as usize];
    (class, Job::by_chance(seed, class, share(seed)).text)
}

/// Every angle of the rotor so many degrees on: where its zero mark is is nobody's business.
fn turned(text: &str, by: f64) -> String {
    let line = |line: &str| {
        let (head, rest) = match line.split_once(": ") {
            Some((head, rest)) if head.trim() == "angle" => (head, on(rest, by)),
            // Readings, one or several.
            Some((head, rest)) if rest.contains(" @ ") => {
                let each = rest.split(", ").map(|one| {
                    let (amount, angle) = one.split_once(" @ ").unwrap();
                    format!("{amount} @ {}", on(angle, by))
                });
                (head, each.collect::<Vec<_>>().join(", "))
            }
            _ => return line.to_owned(),
        };
        format!("{head}: {rest}")
    };
    text.lines().map(|one| line(one) + "\n").collect()
}

/// `14.0 deg` so many degrees on, with the same decimals.
fn on(angle: &str, by: f64) -> String {
    let number = angle.trim_end_matches(" deg");
    let decimals = number.split_once('.').map_or(0, |(_, decimals)| decimals.len());
    format!("{:.decimals$} deg", (number.parse::<f64>().unwrap() + by).rem_euclid(360.0))
}

/// The blocks of the two planes, and of what is said of them, the other way round; and the bearings.
fn reversed(text: &str) -> String {
    let mut lines: Vec<String> = text.lines().map(other_bearing).collect();
    for kind in ["plane", "calibrate", "separation", "linearity"] {
        let begins = |name: &str| {
            let head = format!("{kind} {name} {{");
            lines.iter().position(|line| line.trim_start() == head)
        };
        let (Some(first), Some(second)) = (begins(PLANES[0]), begins(PLANES[1])) else { continue };
        let end = second + lines[second..].iter().position(|line| line.trim() == "}").unwrap() + 1;
        lines[first..end].rotate_left(second - first);
    }
    lines.join("\n") + "\n"
}

fn other_bearing(line: &str) -> String {
    if let Some(places) = line.strip_prefix("  bearings: ") {
        let (a, b) = places.split_once(", ").unwrap();
        return format!("  bearings: {b}, {a}");
    }
    let swapped = line.replace("at bearing a:", "at bearing ?:").replace("at bearing b:", "at bearing a:");
    swapped.replace("at bearing ?:", "at bearing b:")
}

fn assert_same(what: &str, text: &str, one: &Said, other: &Said, rename: impl Fn(&str) -> String) {
    assert_eq!(one.verdict, other.verdict, "{what}\n{:?}\n{:?}\n{text}", one.rows, other.rows);
    assert_eq!(one.rows.len(), other.rows.len(), "{what}");
    for row in &one.rows {
        let found = other.row(&rename(&row.name)).unwrap_or_else(|| panic!("{what}: no {}\n{text}", row.name));
        let same = |a: f64, b: f64| (a - b).abs() <= 2e-4 * row.limit.max(b.abs()) || a.is_nan() && b.is_nan();
        let all = same(row.measured, found.measured)
            && same(row.uncertainty, found.uncertainty)
            && same(row.limit, found.limit);
        assert!(all && row.word == found.word, "{what}: {row:?}\n{found:?}\n{text}");
        let (mut a, mut b) = (row.not_known.clone(), found.not_known.clone());
        a.sort();
        b.sort();
        assert_eq!(a, b, "{what}\n{text}");
    }
}

#[test]
fn other_words_say_the_same() {
    for seed in first()..first() + 48 {
        let (_, text) = job(seed);
        let said = |text: &str| Said::of(&books::readable(text), "job").unwrap();
        let one = said(&text);
        let same = |name: &str| name.to_owned();
        assert_same("another zero mark", &text, &one, &said(&turned(&text, 77.0)), same);
        let swap = |name: &str| match name {
            "bearing a" => "bearing b".to_owned(),
            "bearing b" => "bearing a".to_owned(),
            other => other.to_owned(),
        };
        assert_same("the other way round", &text, &one, &said(&reversed(&text)), swap);
        let other = in_other_units(&books::readable(&text));
        assert_same("other units", &text, &one, &Said::of(&other, "job").unwrap(), same);
    }
}

#[test]
fn limits_of_jobs_moved_through_what_was_measured() {
    let mut wrong = Vec::new();
    let mut exact = 0;
    for seed in first()..first() + 36 {
        exact += limits_moved::moved(&format!("seed {seed}"), &books::readable(&job(seed).1), "job", &mut wrong);
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(exact > 48, "only {exact} limits were moved alone");
}

#[test]
fn facts_of_jobs_taken_away() {
    let mut wrong = Vec::new();
    let mut count = 0;
    for seed in first()..first() + 12 {
        let book: Book = books::readable(&job(seed).1);
        for above in [0.5, -1.5] {
            count += facts_taken::of_record(&format!("seed {seed}"), (&book, "job"), above, 2, &mut wrong);
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(count > 120, "only {count} facts were taken away");
}

/// Planes that read no more than their limit to read, at any phase, are within by the setup's own budget. On an arbor half
/// the vector sum of two runs is what is read: here both read the same in the rotor's own angles.
#[test]
fn planes_that_read_no_more_than_the_limit_to_read_are_within() {
    let mut count = 0;
    for seed in first()..first() + 120 {
        let (class, text) = job(seed);
        if class.by_trials() {
            continue;
        }
        let setup = &text[..text.find("record job").unwrap()];
        let book = books::readable(setup);
        let results = books::results(&book);
        let planes = if text.contains("plane outer") { 2 } else { 1 };
        let most: Option<Vec<f64>> = (0..planes)
            .map(|n| {
                let path = format!("setup sheet / limit to read {}", PLANES[n]);
                results.iter().find(|(found, _)| *found == path).and_then(|(_, entry)| match entry.outcome {
                    Outcome::Amount { base, unit, .. } => Some(unit.from_base(base)),
                    _ => None,
                })
            })
            .collect();
        let Some(most) = most else { continue };
        let unit = if text.contains("shows: div") {
            "div"
        } else if text.contains("unit: g\n") {
            "g"
        } else {
            "g·mm"
        };
        let rpm = setup.lines().find_map(|line| line.strip_prefix("  balancing speed: ")).unwrap();
        let mut chance = Chance::new(seed);
        // All in phase, opposite, and anyhow.
        for phase in [0.0, 180.0, chance.below(360) as f64] {
            let read = |(n, most): (usize, &f64)| {
                format!("    reading {}: {:.9} {unit} @ {:.2} deg\n", CHANNELS[n], most * 0.9995, phase * n as f64)
            };
            let read: String = most.iter().enumerate().map(read).collect();
            let run = |name: &str, seat: &str| {
                format!("  run {name} {{\n    speed: {rpm}\n    calibration masses: off\n{seat}{read}  }}\n")
            };
            let turned = |by: u32| format!("    turned on arbor by: {by} deg\n    angles from: rotor\n");
            let runs = match setup.contains("  arbor: ") {
                true => run("last", &turned(0)) + &run("turned", &turned(180)),
                false => run("last", ""),
            };
            let record = format!("record job {{\n  setup: sheet\n{runs}}}\n");
            let said = Said::of(&books::readable(&(setup.to_owned() + &record)), "job").unwrap();
            if said.rows.iter().all(|row| row.not_known.iter().all(|line| line == "arbor")) {
                let is_within = said.verdict <= Verdict::WithinAsRead;
                assert!(is_within || said.nothing_counts, "seed {seed}: {said:?}\n{text}{record}");
                count += 1;
            }
        }
    }
    assert!(count > 100, "only {count} were read");
}
