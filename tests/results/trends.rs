//! A year of a machine whose dials truly drift, or do not: what the records tell is held against what was planted.

use std::fmt::Write;

use num_complex::Complex64;
use rotorbook::book::Computing;
use rotorbook::motion::Chance;
use rotorbook::syntax::Kind;
use rotorbook::trend::{self, Course, MachineTrend};

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
    /// What the left one hears more of it, from the first day to the last.
    hears_more: f64,
    /// The same at 90 deg to it.
    hears_across: f64,
    /// What the right one hears less of the other plane, from the first day to the last.
    right_hears_less: f64,
    /// Whether the inner plane alone is corrected.
    alone: bool,
    /// Of the left channel over the year so far, besides.
    gain: Option<fn(f64) -> f64>,
    /// Whether the records of the second half name another proof.
    proven_again: bool,
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
        let gain = gain * year.gain.map_or(1.0, |gain| gain(at));
        let mut own = [0; 2].map(|_| Complex64::from_polar(chance.between(300.0, 900.0), chance.angle()));
        own[1] += Complex64::from_polar(year.common.0, year.common.1);
        let shown = |own: [Complex64; 2]| {
            let heard = Complex64::new(year.heard + year.hears_more * at, year.hears_across * at);
            let left = gain * (own[0] + own[1] * heard);
            [left, own[1] + own[0].scale(year.heard - year.right_hears_less * at)]
        };
        let name = format!("number {n}");
        let found = shown(own);
        writeln!(text, "record \"{name}\" {{\n  setup: sheet\n  date: {}\n  run found {{\n    speed: 900 rpm", day(at))
            .unwrap();
        if year.proven_again {
            let proof = if at < 0.5 { "first" } else { "second" };
            text = text.replacen(
                &format!("  date: {}\n  run", day(at)),
                &format!("  date: {}\n  proof: \"{proof}\"\n  run", day(at)),
                1,
            );
        }
        text += &reading("left", found[0]);
        text += &reading("right", found[1]);
        text += "  }\n";
        for (plane, found) in ["inner", "outer"].iter().zip(found).take(if year.alone { 1 } else { 2 }) {
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

const FIFTY: Year = Year {
    records: 50,
    drift: 0.0,
    turn: 0.0,
    scatter: 0.003,
    common: (0.0, 0.0),
    heard: 0.02,
    hears_more: 0.0,
    hears_across: 0.0,
    right_hears_less: 0.0,
    alone: false,
    gain: None,
    proven_again: false,
};

fn of_left(found: &MachineTrend) -> trend::Fitted {
    found.channels.iter().find(|one| one.channel == "left").unwrap().fitted.clone().unwrap()
}

/// What is true of the left channel alone is said of it alone, and of nothing else.
#[test]
fn a_separation_that_drifts_and_an_error_from_the_first_day_are_said() {
    let gain_off = |_: f64| 1.08;
    let (mut separation, mut steady, mut false_ones) = (0, 0, Vec::new());
    for seed in 40..52 {
        let hears_more = told(&book(Year { hears_more: 0.05, ..FIFTY }, seed, "")).sentences().join("\n");
        separation += usize::from(hears_more.contains("what left reads of the other plane has drifted +"));
        let off = told(&book(Year { gain: Some(gain_off), ..FIFTY }, seed, "")).sentences().join("\n");
        let by_eight =
            ["7.9", "8.0", "8.1"].map(|by| format!("left reads {by} % more than \"sheet\" says, in all 50 records"));
        assert!(by_eight.iter().any(|by| off.contains(by)), "seed {seed}: {off}");
        steady += 1;
        let false_one = told(&book(FIFTY, seed, "")).sentences();
        false_ones.extend(false_one);
        assert!(!hears_more.contains("right") && !off.contains("right"), "{hears_more}\n{off}");
    }
    assert_eq!((separation, steady), (12, 12));
    // Of 24 gains, angles and separations each, by chance.
    // By chance: of twelve years one in 370 of about eight lines each, and one in 100 of two planes each.
    let spots = false_ones.iter().filter(|sentence| sentence.contains("heavy about")).count();
    assert!(spots <= 1 && false_ones.len() - spots <= 1, "{false_ones:?}");
}

#[test]
fn a_drift_of_two_per_cent_is_found_and_a_scatter_of_two_per_cent_is_not() {
    let (mut alarms, seeds) = (0, 12);
    for seed in 0..seeds {
        let drifting = told(&book(Year { drift: 0.02, ..FIFTY }, seed, ""));
        let left = drifting.channels.iter().find(|one| one.channel == "left").unwrap();
        let gain = left.fitted.as_ref().unwrap().gain;
        assert_eq!(left.points.len(), 50);
        assert!(gain.is_drift() && (gain.by - 0.02).abs() < 1.5 * gain.known_to, "seed {seed}: {gain:?}");
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
            alarms += usize::from(fitted.gain.is_drift()) + usize::from(fitted.angle.is_drift());
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
    assert!(fitted.angle.is_drift() && !fitted.gain.is_drift(), "{fitted:?}");
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
        assert!(
            says.contains("part (TQ-W-7)") && says.contains("look at the fixture, at the casting, and at"),
            "{says}"
        );
        // No record names a serial number.
        assert!(says.contains("by 50 records") && says.contains("one rotor may be in several"), "{says}");
    }
}

/// A heavy spot in one place is told with what all have in common, over the tolerance of 20 g·mm in each plane, and is not
/// told where that is below a tenth of it.
#[test]
fn what_all_have_in_common_is_told_over_the_tolerance() {
    let found = |amount: f64| {
        let mut text = format!("{SHEETS}}}\n");
        for n in 0..9 {
            let degrees = 40.0 + f64::from(n % 3) * 6.0;
            writeln!(
                text,
                "record \"number {n}\" {{\n  setup: sheet\n  serial: \"W-{n}\"\n  date: {}",
                day(f64::from(n) / 8.0)
            )
            .unwrap();
            writeln!(text, "  run found {{\n    speed: 900 rpm\n    reading left: {amount} g·mm @ {degrees} deg")
                .unwrap();
            writeln!(text, "    reading right: 200 g·mm @ {} deg\n  }}\n}}", n * 40).unwrap();
        }
        told(&text)
    };
    // By hand: the middle of 40, 46 and 52 deg; R̄₂ and R̄ of ± 6 deg are 0.9854 and 0.9963, arcsin(2·√(0.0146/(18·0.9927))) = 3.3 deg.
    let says = found(10.0).sentences().join("\n");
    let words = "plane inner: heavy about 46 ± 3 deg as found, by 9 rotors (by chance less than one in a million);";
    assert!(says.contains(words) && says.contains("9.96 g·mm, 50 % of the tolerance: look at"), "{says}");
    assert_eq!(found(1.9).sentences(), Vec::<String>::new());
}

/// Of two proofs the one is named whose gain is off, with its records.
#[test]
fn an_error_from_the_first_day_names_its_proof() {
    let first_off: fn(f64) -> f64 = |at| if at < 0.5 { 1.2 } else { 1.0 };
    let year = Year { proven_again: true, gain: Some(first_off), ..FIFTY };
    let says = told(&book(year, 5, PROVEN_TWICE)).sentences();
    let [only] = &says[..] else { panic!("{says:?}") };
    let words = " % more than the proof \"first\" of \"sheet\" says, in all 25 records since January 2026 (± ";
    assert!(only.contains(words) && only.ends_with("prove it again"), "{only}");
    let by: f64 = only.trim_start_matches("left reads ").split_once(' ').unwrap().0.parse().unwrap();
    assert!((by - 20.0).abs() < 0.5, "{only}");
}

/// A separation is followed whatever its direction, and through zero.
#[test]
fn a_separation_that_drifts_is_found_in_any_direction() {
    for seed in 70..76 {
        let says = told(&book(Year { hears_across: 0.08, ..FIFTY }, seed, "")).sentences().join("\n");
        let across = "what left reads of the other plane has drifted +";
        assert!(says.contains(across) && says.contains(" % of it, at 90 deg to it, since January 2026"), "{says}");
        let year = Year { heard: 0.06, right_hears_less: 0.12, alone: true, records: 14, ..FIFTY };
        let says = told(&book(year, seed, "")).sentences().join("\n");
        let words = ["−11.9", "−12.0", "−12.1"].map(|by| {
            format!("what the other channel reads of the plane of left has drifted {by} % of it since January 2026")
        });
        assert!(words.iter().any(|words| says.contains(words)) && !says.contains("other plane"), "{says}");
    }
}

/// Where both planes were always corrected alike, a gain is not told apart from what is heard of the other plane: none is
/// invented. What is put on follows the reading before with its scatter.
#[test]
fn planes_that_are_corrected_alike_bring_no_steady_error() {
    let mut chance = Chance::new(33);
    let mut alarms = 0;
    for _ in 0..500 {
        let mut seen = |n: usize| {
            let direction = Complex64::from_polar(1.0, chance.angle());
            let mut apart = |by: f64| Complex64::new(chance.scatter(by), chance.scatter(by));
            let (before, after) = (apart(0.004), apart(0.004));
            let own = -direction - before;
            let other = -direction - direction * apart(0.02);
            trend::Seen {
                at: 30.0 * n as f64,
                group: 0,
                own,
                other,
                change: own + other.scale(0.01) + after - before,
                standard: 0.0057,
            }
        };
        let seen: Vec<trend::Seen> = (0..10).map(&mut seen).collect();
        let [group] = trend::fit(&seen).unwrap().groups[..] else { panic!("one group") };
        alarms += usize::from(group.gain_off.is_some()) + usize::from(group.angle_off.is_some());
    }
    assert_eq!(alarms, 0);
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
    assert!(check.line.unwrap().change.is_drift(), "{check:?}");
    let leaves = check.leaves.unwrap();
    assert!(leaves.year == 2027 && (3..=5).contains(&leaves.month), "{leaves}");
    let says = check.drift().unwrap();
    assert!(says.starts_with("has drifted +4.0 % since January 2026 (± 0.2 %); it leaves its band about "), "{says}");
}

/// A large drift is told over what the channel read at first, not over what it reads in the middle of the year.
#[test]
fn a_large_drift_is_told_over_the_first_day() {
    for drift in [0.3, 0.15, -0.3] {
        let gain = of_left(&told(&book(Year { drift, ..FIFTY }, 2, ""))).gain;
        assert!(gain.is_drift() && (gain.by - drift).abs() < 0.01, "{drift}: {gain:?}");
    }
}

const PROVEN_TWICE: &str = "  proof first {
    date: 2026-01-01
    proven with {
      balancing speed: 900 rpm
    }
  }
  proof second {
    date: 2026-07-02
    proven with {
      balancing speed: 900 rpm
    }
  }
";

/// A new proof brings a gain of its own: that is no drift, and hides none.
#[test]
fn a_new_proof_is_no_drift_and_hides_none() {
    let proven_again = Year { proven_again: true, ..FIFTY };
    let jumps: fn(f64) -> f64 = |at| if at < 0.5 { 1.05 } else { 1.0 };
    let gain = of_left(&told(&book(Year { gain: Some(jumps), ..proven_again }, 5, PROVEN_TWICE))).gain;
    assert!(!gain.is_drift(), "{gain:?}");
    // Six per cent in half a year, twice: twelve in the year.
    let ramps: fn(f64) -> f64 = |at| 1.0 + 0.12 * if at < 0.5 { at } else { at - 0.5 };
    let gain = of_left(&told(&book(Year { gain: Some(ramps), ..proven_again }, 5, PROVEN_TWICE))).gain;
    assert!(gain.is_drift() && (gain.by - 0.12).abs() < 0.02, "{gain:?}");
}

/// A jump makes the next run contradict each correction; that these are set aside is said, and nothing is called steady.
#[test]
fn corrections_that_are_set_aside_are_counted() {
    let jumps: fn(f64) -> f64 = |at| if at < 0.7 { 1.0 } else { 1.6 };
    let found = told(&book(Year { gain: Some(jumps), ..FIFTY }, 4, ""));
    let set_aside = found.set_aside.unwrap();
    // From day 35 of 49 on; those of the sound channel count.
    assert_eq!(set_aside.corrections, 15);
    let told_by = |channel: &str| found.channels.iter().find(|one| one.channel == channel).unwrap().points.len();
    assert_eq!((told_by("left"), told_by("right")), (35, 50));
    let (first, last) = (set_aside.first.to_string(), set_aside.last.to_string());
    assert!(first == day(35.0 / 49.0) && last == day(1.0), "{first} {last}");
    let says = found.says().join("\n");
    let sentence = format!(
        "{} corrections are set aside because the run after them contradicts them, all since {first}, the last on {last};",
        set_aside.corrections
    );
    assert!(says.contains(&sentence) && !says.to_lowercase().contains("nothing drifts"), "{says}");
    assert!(told(&book(FIFTY, 4, "")).set_aside.is_none());
}

/// Records of one serial number are of one rotor: it came once, as its first record says.
#[test]
fn a_rotor_comes_once() {
    let text = book(Year { records: 9, ..FIFTY }, 6, "");
    let (first, rest) = text.split_once("  run found").unwrap();
    let rest = rest.replace("  run found", "  serial: \"W-1\"\n  run found");
    let found = told(&format!("{first}  run found{rest}"));
    assert!(found.parts.iter().all(|part| part.rotors == 2), "{:?}", found.parts);
}

/// What falls by a tenth in the middle of the year is told as that jump, with its days, and a season that comes back as no
/// drift.
#[test]
fn what_follows_no_line_is_not_called_a_drift() {
    let falls: fn(f64) -> f64 = |at| if at < 0.5 { 1.0 } else { 0.9 };
    let season: fn(f64) -> f64 = |at| 1.0 + 0.03 * (std::f64::consts::TAU * at).sin();
    for seed in 0..4 {
        let found = told(&book(Year { gain: Some(falls), ..FIFTY }, seed, ""));
        let Course::Jumps(jump) = of_left(&found).gain.course else {
            panic!("seed {seed}: {:?}", of_left(&found).gain)
        };
        assert!((jump.by + 0.1).abs() < 1.5 * jump.known_to && jump.known_to < 0.01, "seed {seed}: {jump:?}");
        let says = found.sentences().join("\n");
        // Of fifty records the 25th comes before the middle of the year.
        let days = format!(" between {} and {} (± ", day(24.0 / 49.0), day(25.0 / 49.0));
        assert!(says.contains("left has jumped −") && says.contains(&days), "{says}");
        let gain = of_left(&told(&book(Year { gain: Some(season), ..FIFTY }, seed, ""))).gain;
        assert!(matches!(gain.course, Course::Otherwise(_)), "seed {seed}: {gain:?}");
    }
}

/// A season of ±3 % that scatter nearly hides is no jump with a date, for which somebody would look for a cause.
#[test]
fn a_season_is_no_jump() {
    let season: fn(f64) -> f64 = |at| 1.0 + 0.03 * (std::f64::consts::TAU * at).sin();
    let of_seed = |seed: u64| {
        let year = Year { gain: Some(season), scatter: 0.012, ..FIFTY };
        of_left(&told(&book(year, seed, ""))).gain.course
    };
    let jumps = (200..212).filter(|seed| matches!(of_seed(*seed), Course::Jumps(_))).count();
    assert!(jumps <= 1, "{jumps}");
}

/// Jumps of a tenth and drifts of a tenth, by few records: neither is told as the other, and where the records are too few
/// to tell, both are named.
#[test]
fn a_jump_is_not_told_as_a_drift_nor_a_drift_as_a_jump() {
    let rises: fn(f64) -> f64 = |at| if at < 0.5 { 1.0 } else { 1.1 };
    let (mut jumps, mut told_otherwise) = (0, 0);
    for records in [8, 10, 13, 24] {
        for seed in 60..66 {
            let year = Year { records, ..FIFTY };
            let gain = of_left(&told(&book(Year { gain: Some(rises), ..year }, seed, ""))).gain;
            match gain.course {
                Course::Jumps(jump) | Course::DriftsOrJumps(jump) => {
                    assert!((jump.by - 0.1).abs() < 1.5 * jump.known_to && jump.known_to < 0.03, "{records}: {jump:?}");
                    jumps += usize::from(matches!(gain.course, Course::Jumps(_)));
                }
                Course::Otherwise(otherwise) => {
                    assert!((otherwise.last - otherwise.first - 0.1).abs() < 0.03, "{records}: {otherwise:?}");
                    told_otherwise += 1;
                }
                _ => panic!("{records}, seed {seed}: {gain:?}"),
            }
            let gain = of_left(&told(&book(Year { drift: 0.1, ..year }, seed, ""))).gain;
            assert!(matches!(gain.course, Course::Drifts | Course::DriftsOrJumps(_)), "{records}: {gain:?}");
            assert!((gain.by - 0.1).abs() < 1.5 * gain.known_to, "{records}: {gain:?}");
            assert!(gain.is_drift() || records < 24, "{records}, seed {seed}: {gain:?}");
        }
    }
    assert!(jumps >= 16 && told_otherwise <= 2, "{jumps} jumps, {told_otherwise} otherwise");
}

/// A check mass that read alike since it jumped is not said to leave its band.
#[test]
fn a_check_mass_that_jumped_leaves_no_band() {
    let mut more = "  proof \"2026-01-01\" {\n    date: 2026-01-01\n  }\n  check mass {\n    plane: inner\n    mass: 5.00 g\n    radius: 100.0 mm\n    angle: 0 deg\n    within: 5 %\n".to_owned();
    for (n, off) in [0.0, 0.4, 0.0, -0.4, 0.0, 20.0, 20.4, 19.6, 20.0, 20.0].into_iter().enumerate() {
        writeln!(more, "    checked: {}, {:.2} g·mm", day(n as f64 / 9.0), 500.0 + off).unwrap();
    }
    let found = told(&book(Year { records: 2, ..FIFTY }, 1, &(more + "  }\n")));
    let says = found.checks[0].drift().unwrap();
    let days = format!("between {} and {}", day(4.0 / 9.0), day(5.0 / 9.0));
    assert!(says.starts_with(&format!("has jumped +4.0 % {days} (± 0.1 %)")) && !says.contains("band"), "{says}");
}

/// A machine that was serviced is another one: the step that its service brings is none of its own.
#[test]
fn nothing_older_than_the_latest_service_counts() {
    let falls: fn(f64) -> f64 = |at| if at < 0.5 { 1.0 } else { 0.9 };
    let text = book(Year { gain: Some(falls), ..FIFTY }, 8, "");
    let text = text.replacen("  channels: left", "  serviced: 2025-03-01\n  serviced: 2026-07-02\n  channels: left", 1);
    let found = told(&text);
    assert!(found.channels.iter().all(|one| one.points.len() == 25), "{:?}", found.channels);
    let gain = of_left(&found).gain;
    assert_eq!(gain.course, Course::Steady);
    let says = found.says().join("\n");
    assert!(says.starts_with("Results from before the service of 2026-07-02 are not counted.\n"), "{says}");
}

/// Few records of a machine that does not drift, whose gain alone scatters by 2 %: of a gain and an angle, one in 185 is more
/// than three standard deviations by chance.
#[test]
fn few_records_bring_no_more_alarms_than_many() {
    let mut chance = Chance::new(21);
    for records in [6, 8, 10, 30] {
        let (mut alarms, lines) = (0, 2_000);
        for _ in 0..lines {
            let mut seen = |n: usize| {
                let [own, other] = [chance.angle(), chance.angle()].map(|angle| Complex64::from_polar(1.0, angle));
                let change = own.scale(1.0 + chance.scatter(0.02)) + other.scale(0.02);
                trend::Seen { at: 30.0 * n as f64, group: 0, own, other, change, standard: 0.001 }
            };
            let seen: Vec<trend::Seen> = (0..records).map(&mut seen).collect();
            let found = trend::fit(&seen).unwrap();
            let alarm = |change: trend::Change| change.course != Course::Steady;
            alarms += usize::from(alarm(found.gain)) + usize::from(alarm(found.angle));
        }
        let share = alarms as f64 / lines as f64;
        assert!(share < 0.012, "{records} records: {share}");
    }
}
