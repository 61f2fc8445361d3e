//! The budget behind a verdict: what a technician may stop at, what a shop needs, what is stated.

use crate::support::books;
use proptest::prelude::*;
use rotorbook::book::text_of;

/// A proven sheet on which every line of the budget is known, with what is to be tried. Bearings at 0 and 500 mm, planes at
/// 100 and 400 mm, `limits` of the tolerance; masses of 1000 g·mm read with the errors of the proof.
struct Sheet {
    shop: &'static str,
    rotor: &'static str,
    readout: &'static str,
    limits: &'static str,
    proof: String,
    runs: String,
}

impl Default for Sheet {
    fn default() -> Self {
        Self {
            shop: "",
            rotor: "",
            readout: "",
            limits: "total: 400 g·mm",
            proof: proof([0.01, 0.02], 1.0),
            runs: String::new(),
        }
    }
}

/// With an own reading and an interference so far off, and mountings so many g·mm about their mean.
fn proof([own, other]: [f64; 2], mountings: f64) -> String {
    let (own, other) = (1000.0 * (1.0 + own), 1000.0 * other);
    format!(
        "  proof \"2026-03-02\" {{
    date: 2026-03-02
    start reading left: 0.00 g·mm @ 0 deg
    start reading right: 0.00 g·mm @ 0 deg
    separation one {{
      mass: 10.000 g
      radius: 100.00 mm
      angle: 0 deg
      reading left: {own:.2} g·mm @ 0 deg
      reading right: {other:.2} g·mm @ 0 deg
    }}
    separation two {{
      mass: 10.000 g
      radius: 100.00 mm
      angle: 0 deg
      reading left: {other:.2} g·mm @ 0 deg
      reading right: {own:.2} g·mm @ 0 deg
    }}
    linearity one {{
      mass: 20.000 g
      radius: 100.00 mm
      angle: 0 deg
      reading left: {:.2} g·mm @ 0 deg
    }}
    back at start left: 0.00 g·mm @ 0 deg
    back at start right: 0.00 g·mm @ 0 deg
    remounted left: {mountings:.2} g·mm @ 0 deg, {mountings:.2} g·mm @ 120 deg, {mountings:.2} g·mm @ 240 deg
    remounted right: {mountings:.2} g·mm @ 90 deg, {mountings:.2} g·mm @ 330 deg, {mountings:.2} g·mm @ 210 deg
  }}
",
        2.0 * own
    )
}

fn run(name: &str, [left, right]: [f64; 2], [at, other_at]: [f64; 2]) -> String {
    format!(
        "  run {name} {{
    speed: 900 rpm
    calibration masses: off
    reading left: {left:.2} g·mm @ {at:.2} deg
    reading right: {right:.2} g·mm @ {other_at:.2} deg
  }}\n"
    )
}

impl Sheet {
    fn said(&self, path: &str) -> String {
        self.result(path).unwrap_or_else(|| panic!("no {path}"))
    }

    /// Nothing where it is not computed.
    fn result(&self, path: &str) -> Option<String> {
        let Self { shop, rotor, readout, limits, proof, runs } = self;
        let text = format!(
            "shop s {{
  format: 1
{shop}}}
machine bench {{
  supports: hard
  works: below resonance
  drive: belt
  minimum achievable residual unbalance: 0.5 g·mm
  channels: left, right
  readout {{
    shows: unbalance
    unit: g·mm
    angles: measured
    angles count: with rotation
    smallest step: 0.01 g·mm
    angle step: 0.01 deg
{readout}  }}
}}
rotor part {{
  mass: 20.0 kg
  mass centre: 250 mm
  bearings: 0 mm, 500 mm
{rotor}  angles count: with rotation
  plane one {{
    at: 100 mm
    radius: 100 mm
  }}
  plane two {{
    at: 400 mm
    radius: 100 mm
  }}
  tolerance {{
    {limits}
    source: \"drawing\"
  }}
}}
setup sheet {{
  rotor: part
  machine: bench
  balancing speed: 900 rpm
  channel left: one
  channel right: two
  indicates: heavy spot
{proof}}}
record job {{
  setup: sheet
{runs}}}
"
        );
        let book = books::readable(&text);
        let results = books::results(&book);
        results.iter().find(|(found, _)| *found == path).map(|(_, entry)| text_of(&book, entry))
    }

    fn most(&self) -> [f64; 2] {
        ["one", "two"].map(|plane| {
            let said = self.said(&format!("setup sheet / limit to read {plane}"));
            said.split(' ').next().unwrap().parse().unwrap_or_else(|_| panic!("{said}"))
        })
    }

    fn verdict(&self) -> String {
        self.said("record job / verdict")
    }
}

// By hand: at each bearing 200 g·mm, levers 0.8 and 0.2, so shares of 200 each. Mountings of 1 g·mm at three corners: the row
// at A has corners of |0.8 + 0.2·e^(i90°)| = 0.8246 g·mm, √(3 · 0.68 ÷ 4) = 0.714 and t = 2.87 of four comparisons, 2.05. At
// readings of 200 λ: own reading 1 % of √(0.64 + 0.04) = 0.82 of them, ÷ √3, linearity 0, the other plane 2 % of them by
// levers of 0.2 and 0.8, as much again ÷ √3. At λ = 0.97: 194 · 0.8246 ÷ √3 · √(0.01² + 0.02²) = 2.065 and 0.714 make
// 2.185 and, doubled, 4.4 to 4.5: so about 0.978 of 200 g·mm.
#[test]
fn the_limit_to_read_is_what_the_budget_leaves() {
    let [one, two] = Sheet::default().most();
    assert!((one - 195.6).abs() < 0.6 && (two - 195.6).abs() < 0.6, "{one} and {two}");
    // The machine's smallest residual of 0.5 g·mm in each plane, √2 · 0.5 · √2 at k = 2, leaves nothing of 1 g·mm to read.
    let poor = Sheet { proof: proof([0.01, 0.02], 0.1), limits: "static: 1 g·mm", ..Sheet::default() };
    let said = poor.said("setup sheet / limit to read one");
    assert!(said.starts_with("cannot be shown: ± "), "{said}");
}

// The other plane at nothing: its interference, well known, is gone, and Student's t of the few mountings is larger.
#[test]
fn less_in_the_other_plane_may_be_known_worse() {
    let limits = "total: 400 g·mm\n    one: 40 g·mm";
    let mut sheet = Sheet { limits, proof: proof([0.0, 0.0401], 8.1738), ..Sheet::default() };
    let read = [sheet.most()[0] * 0.98, 0.0];
    sheet.runs = run("last", read, [0.0, 0.0]);
    assert_eq!(sheet.verdict(), "within", "{}", sheet.said("record job / reasons"));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    // Planes that read no more than the limit to read, at any phase, are within.
    #[test]
    fn planes_that_read_no_more_than_the_limit_are_within(
        errors in [-0.05..0.05, 0.0..0.05],
        mountings in 0.0..20.0,
        parts in [0.0..=1.0, 0.0..=1.0],
        angles in [0.0..360.0, 0.0..360.0],
        limits in prop::sample::select(vec![
            "total: 400 g·mm", "total: 400 g·mm\n    static: 250 g·mm", "total: 400 g·mm\n    one: 40 g·mm",
            "total: 400 g·mm\n    couple: 9000 g·mm²", "one: 120 g·mm\n    two: 80 g·mm",
        ]),
    ) {
        let mut sheet = Sheet { limits, proof: proof(errors, mountings), ..Sheet::default() };
        let said = sheet.result("setup sheet / limit to read one");
        prop_assume!(said.is_some_and(|said| !said.starts_with("cannot")));
        let most = sheet.most();
        // Three digits are printed: a hair below.
        let read = [0, 1].map(|n| most[n] * 0.994 * parts[n]);
        sheet.runs = run("last", read, angles);
        prop_assert_eq!(sheet.verdict(), "within", "{} of {:?}: {}", limits, most, sheet.said("record job / reasons"));
    }
}

#[test]
fn what_the_shop_needs_and_nobody_knows_leaves_it_not_shown() {
    let unproven = |shop: &'static str| Sheet {
        shop,
        proof: String::new(),
        runs: run("last", [20.0, 20.0], [0.0, 90.0]),
        ..Sheet::default()
    };
    assert_eq!(unproven("").verdict(), "within as read");
    assert_eq!(unproven("").said("record job / not assessed"), "calibration, interference, mounting");
    assert_eq!(unproven("  verdict needs: arbor, dial setting\n").verdict(), "within as read");
    assert_eq!(unproven("  verdict needs: arbor, mounting\n").verdict(), "not shown");
}

// A scatter of 30 g·mm in each plane at angles that nobody knows: √2 · 30 · √(0.64 + 0.04) at k = 2, 35.0, no more than
// 30 · (0.8 + 0.2).
#[test]
fn a_stated_scatter_of_the_readout_counts() {
    let with = |readout: &'static str| Sheet {
        readout,
        proof: String::new(),
        runs: run("last", [20.0, 20.0], [0.0, 90.0]),
        ..Sheet::default()
    };
    let budget = with("    scatter: 30 g·mm\n").said("record job / budget bearing a");
    assert!(budget.starts_with("reading, as stated: 30.0 g·mm"), "{budget}");
    let budget = with("").said("record job / budget bearing a");
    assert!(budget.contains("reading, by default: 0"), "{budget}");
}

// Mountings of 45 g·mm: 0.8246 · 45 = 37.1 at A, √(3 · 37.1² ÷ 4) = 32.1, with t = 2.87, 92.2; with two more, 32.1 ÷ √3 and
// t = 2.37 of eight comparisons, 43.9. 120 g·mm of 200 leave 80.
#[test]
fn the_cheapest_way_to_a_clean_word_is_named() {
    let open =
        Sheet { proof: proof([0.0, 0.0], 45.0), runs: run("last", [120.0, 120.0], [0.0, 0.0]), ..Sheet::default() };
    assert_eq!(open.verdict(), "not shown");
    let way = open.said("record job / cheapest way");
    assert!(
        way.starts_with("two more mountings: within at bearing ") && way.ends_with("(± 92.2 g·mm becomes ± 43.9 g·mm)"),
        "{way}"
    );
    let over = Sheet { runs: run("last", [300.0, 300.0], [0.0, 0.0]), ..Sheet::default() };
    assert_eq!(over.verdict(), "over");
    let draft = Sheet { proof: String::new(), runs: run("last", [20.0, 20.0], [0.0, 90.0]), ..Sheet::default() };
    assert!(draft.said("record job / cheapest way").contains("remount the rotor and run it again"));
}

// Seven tenths of 1290 rpm are 903 rpm, of 1280 rpm 896 rpm; of 5000 rpm 3500 rpm. The balancing speed is 900 rpm.
#[test]
fn a_rotor_that_bends_is_no_rigid_rotor() {
    let with = |rotor: &'static str| Sheet { rotor, runs: run("last", [20.0, 20.0], [0.0, 90.0]), ..Sheet::default() };
    for rigid in [
        "",
        "  first bending critical: 1290 rpm\n",
        "  first bending critical: 5000 rpm\n  highest service speed: 3500 rpm\n",
    ] {
        assert_eq!(with(rigid).verdict(), "within", "{rigid}");
    }
    for bends in [
        "  first bending critical: 1280 rpm\n",
        "  first bending critical: 450 rpm\n",
        "  first bending critical: 5000 rpm\n  highest service speed: 3510 rpm\n",
    ] {
        assert_eq!(with(bends).verdict(), "within as read", "{bends}");
        assert_eq!(with(bends).said("record job / not assessed"), "bending");
        assert!(with(bends).said("record job / cheapest way").starts_with("balance it as a flexible rotor"));
    }
    let needed = Sheet { shop: "  verdict needs: bending\n", ..with("  first bending critical: 1280 rpm\n") };
    assert_eq!(needed.verdict(), "not shown");
}

/// A sheet whose check mass was put on, and a record of a day.
fn checked(day: &str, checks: &str) -> Sheet {
    let check = format!(
        "  check mass {{
    plane: one
    mass: 10.000 g
    radius: 100.00 mm
    angle: 0 deg
    within: 3 %
    checked every: 30 d
{checks}  }}\n"
    );
    let runs = format!("  date: {day}\n{}", run("last", [100.0, 100.0], [0.0, 0.0]));
    Sheet { proof: proof([0.0, 0.0], 1.0) + &check, runs, ..Sheet::default() }
}

// 100 g·mm in both planes at one angle are 100 at A. A drift of 1.5 % of it is 1.5 g·mm at most; where nobody has looked, the 3 %
// that the mass is allowed. What counts is what was found until the day of the record.
#[test]
fn dials_are_known_as_well_as_the_check_mass_showed_until_that_day() {
    let line = |day: &str, checks: &str| {
        let budget = checked(day, checks).said("record job / budget bearing a");
        let line = budget.split("; ").find(|line| line.starts_with("calibration")).unwrap().to_owned();
        let amount = line.split(": ").nth(1).unwrap().split(' ').next().unwrap();
        amount.parse::<f64>().unwrap_or_else(|_| panic!("{line}"))
    };
    let near = |found: f64, expected: f64| assert!((found - expected).abs() < 0.02, "{found}, not {expected}");
    let drifted = "    checked: 2026-03-10, 1015.00 g·mm\n";
    near(line("2026-03-20", ""), 3.0);
    near(line("2026-03-20", drifted), 1.5);
    near(line("2026-03-05", drifted), 3.0);
}

/// The standard uncertainties as printed make by root of squares what is printed for all lines, and that times the factor is the
/// uncertainty.
#[test]
fn the_lines_of_a_budget_add_up_to_its_uncertainty() {
    for limit in ["bearing a", "bearing b"] {
        let sheet = checked("2026-03-20", "    checked: 2026-03-10, 1015.00 g·mm\n");
        let budget = sheet.said(&format!("record job / budget {limit}"));
        let number = |text: &str| text.trim().split(' ').next().unwrap().parse::<f64>().unwrap();
        let standard = |line: &str| line.split(" | ").nth(1).filter(|amount| *amount != "–").map_or(0.0, number);
        let (lines, together): (Vec<&str>, Vec<&str>) =
            budget.split("; ").partition(|line| !line.starts_with("together, "));
        assert_eq!(together.len(), 1, "{budget}");
        let whole = standard(together[0]);
        let squares: f64 = lines.iter().map(|line| standard(line).powi(2)).sum();
        assert!((squares.sqrt() / whole - 1.0).abs() < 0.01, "{budget}");
        let factor = number(together[0].split("× ").nth(1).unwrap().split(':').next().unwrap());
        let known_to = number(&sheet.said(&format!("record job / uncertainty {limit}")));
        assert!((factor * whole / known_to - 1.0).abs() < 0.01, "{budget}: {known_to}");
    }
}

/// A proof says nothing of what was read before it.
#[test]
fn a_record_from_before_every_proof_is_known_as_if_there_were_none() {
    assert_eq!(checked("2026-03-20", "").verdict(), "within");
    let before = checked("2026-03-01", "");
    assert_eq!(before.verdict(), "within as read");
    assert_eq!(before.said("record job / not assessed"), "calibration, interference, mounting");
}

/// Two planes corrected at once, twice, on a bench that nobody has proven and whose second channel reads 4 % too much.
fn corrected_twice(second: [&str; 2], last: [f64; 2]) -> Sheet {
    let corrections = |[one, two]: [&str; 2]| {
        let put_on = |plane: &str, mass: &str, at: u32| {
            format!("  correction {plane} {{\n    add: {mass} g\n    angle: {at}.00 deg\n    radius: 100.00 mm\n  }}\n")
        };
        put_on("one", one, 180) + &put_on("two", two, 270)
    };
    let runs = [
        run("found", [400.0, 416.0], [0.0, 90.0]),
        corrections(["3.000", "3.000"]),
        run("first", [100.0, 104.0], [0.0, 90.0]),
        corrections(second),
        run("last", last, [0.0, 90.0]),
    ];
    Sheet { proof: String::new(), runs: runs.concat(), ..Sheet::default() }
}

// 300 and 300 g·mm, then 50 and 100: the first leaves 100 and 104 where 100 and 116 are expected, the second 50 and 0 where 50
// and 4 are. That is 4 % of the second plane, and nothing of the first. 50 and 50 g·mm are the first correction again.
#[test]
fn two_corrections_of_two_planes_at_once_tell_them_apart_unless_they_are_alike() {
    let apart = corrected_twice(["0.500", "1.000"], [50.0, 0.0]);
    assert_eq!(apart.said("record job / not assessed"), "mounting");
    assert!(apart.said("record job / budget bearing a").contains("calibration, by measurement"));
    let alike = corrected_twice(["0.500", "0.500"], [50.0, 52.0]);
    assert_eq!(alike.said("record job / not assessed"), "calibration, interference, mounting");
}
