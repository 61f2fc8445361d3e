//! The example book: nothing in it is worth a warning, its numbers are right, and none moves unnoticed.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::support::books::{amount, amount_among, results};
use rotorbook::book::{Book, Computed, Computing, DoesNotCount, Outcome, SourceFile, text_of};
use rotorbook::check::{self, Severity};
use rotorbook::mechanics::verdict::Verdict;
use rotorbook::syntax::Kind;
use rotorbook::units::Unit;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/tern-quay")
}

/// Every `.rotor` file below a folder.
fn sheets_below(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).expect("the folder of the example") {
        let path = entry.expect("an entry of the folder").path();
        if path.is_dir() {
            sheets_below(&path, found);
        } else if path.extension().is_some_and(|extension| extension == "rotor") {
            found.push(path);
        }
    }
}

fn example_book() -> Book {
    let folder = folder();
    let mut paths = Vec::new();
    sheets_below(&folder, &mut paths);
    let read = |path: &PathBuf| {
        let name = path.strip_prefix(&folder).expect("a path below the folder").to_string_lossy().replace('\\', "/");
        Arc::new(SourceFile::read(name, fs::read_to_string(path).expect("a sheet that can be read")))
    };
    Book::new(paths.iter().map(read).collect())
}

#[test]
fn nothing_in_it_is_worth_a_warning() {
    let book = example_book();
    let mut shown = Vec::new();
    for found in check::check(&book).iter().filter(|found| found.severity != Severity::Note) {
        let file = book.file(found.place.file);
        let line = file.line_index().line_of(found.place.span.start) + 1;
        shown.push(format!("{}:{line}: {}: {}", file.path, found.rule.code, found.message));
    }
    assert!(shown.is_empty(), "{}", shown.join("\n"));
}

/// What the shop of the example does: enough of everything to learn the format from it.
#[test]
fn it_shows_every_way_of_correcting_and_of_stating_a_tolerance() {
    let book = example_book();
    let of_kind = |kind: Kind| book.items().map(|id| book.item(id)).filter(move |item| item.kind == kind);
    assert!(of_kind(Kind::Machine).count() >= 3);
    assert!(of_kind(Kind::Arbor).count() >= 2);
    assert!(of_kind(Kind::Rotor).count() >= 8);
    assert!(of_kind(Kind::Record).count() >= 1);
    let text: String = book.files().map(|(_, file)| &*file.text).collect();
    for fact in [
        "direction: radial",
        "direction: axial",
        "method: milling",
        "method: grinding",
        "method: welding",
        "method: clamping",
        "method: set screws",
        "method: washers",
        "method: sliding weights",
        "method: slot filler",
        "method: putty",
        "grade: G",
        "total: ",
        "at bearing a: ",
        "rule: W/N by journal load",
        "scaled from: ",
        "similar part {",
        "made of ",
        "like: ",
        "leave out: ",
        "status: released",
        "status: draft",
    ] {
        assert!(text.contains(fact), "no sheet has `{fact}`");
    }
    let mut tolerances = of_kind(Kind::Rotor).flat_map(|rotor| rotor.inner(Kind::Tolerance));
    assert!(tolerances.any(|block| block.named_fields().next().is_some()), "no tolerance is stated plane by plane");
}

/// A result of the book, worked out beforehand from the facts of its sheets with nothing but a pocket calculator's
/// functions; holes and arcs by adding up thin slices.
struct Checked {
    path: &'static str,
    unit: &'static str,
    value: f64,
}

const fn checked(path: &'static str, unit: &'static str, value: f64) -> Checked {
    Checked { path, unit, value }
}

const CHECKED: &[Checked] = &[
    // U_per = G·m/Ω with Ω = 2πn/60. ISO 21940-11:2016, clause 6 (from memory).
    // 6.3 mm/s · (2.73 + 2.09) kg / (2π · 3550 / 60 s⁻¹)
    checked("rotor fan wheel 315 / tolerance / permissible unbalance", "g·mm", 81.6828),
    // 6.3 · 6.85 at 2950 r/min
    checked("rotor pump impeller 125 / tolerance / permissible unbalance", "g·mm", 139.6949),
    // 1 · (4.83 + 3.52) at 4500 r/min
    checked("rotor grinding spindle 30 / tolerance / permissible unbalance", "g·mm", 17.71925),
    // U₂ = U₁ · m₂/m₁ · n₁/n₂, like parts; as above (from memory). 81.6828 · 7.95/4.82 · 3550/2900
    checked("rotor fan wheel 400 / tolerance / permissible unbalance", "g·mm", 164.9229),
    // 7.5 · 0.86/0.74 at the same speed
    checked("rotor blower coupling half 41 / tolerance / permissible unbalance", "g·mm", 8.716216),
    // 4W/N, W in lb, N in r/min; form seen in trade literature. 4 · (12.1 + 9.5) / 1750, and by journal load at A
    checked("rotor bilge pump rotor 4 in / tolerance / permissible unbalance", "oz·in", 0.04937143),
    checked("rotor bilge pump rotor 4 in / tolerance / tolerance at a", "oz·in", 0.02765714),
    // Mass centre and loads by moments. (12.4 · 60 + 29.2 · 700) / 41.6; 41.6 · (380 − 509.231) / 380: it lifts
    checked("rotor fan wheel 560 / mass centre", "mm", 509.2308),
    checked("rotor fan wheel 560 / journal load a", "kg", -14.14737),
    // U_A = U_per · L_B/L. ISO 21940-11:2016, clause 7 (from memory). 81.6828 · (164 − 71.112) / 164
    checked("rotor fan wheel 315 / tolerance / tolerance at a", "g·mm", 46.26432),
    // Worst phase at both bearings, |a₁|U₁ + |a₂|U₂ = U_A and |b₁|U₁ + |b₂|U₂ = U_B. Plain statics.
    // Levers 130/164, 43/164 and 34/164, 121/164
    checked("rotor fan wheel 315 / plane hub / tolerance", "g·mm", 46.83895),
    checked("rotor fan wheel 315 / plane rim / tolerance", "g·mm", 34.84385),
    // Planes outside the bearings: levers 346/300, 52/300 and 46/300, 352/300
    checked("rotor grinding spindle 30 / plane wheel flange / tolerance", "g·mm", 8.089017),
    checked("rotor grinding spindle 30 / plane pulley flange / tolerance", "g·mm", 5.309110),
    checked("rotor bilge pump rotor 4 in / plane balance ring / tolerance", "oz·in", 0.03106165),
    // The largest product under the limit at B, which decides alone: 41.319 / 2 / (90/210) and 41.319 / 2 / (124/210)
    checked("rotor blower rotor 41 / plane drive face / tolerance", "g·mm", 48.20565),
    checked("rotor blower rotor 41 / plane tail face / tolerance", "g·mm", 34.98797),
    // The same with 1600 at B and levers of 452/380 and 604/380
    checked("rotor fan wheel 560 / plane back plate / tolerance", "g·mm", 672.5664),
    checked("rotor fan wheel 560 / plane shroud / tolerance", "g·mm", 503.3113),
    // Σ mᵢ·zᵢ / Σ mᵢ: (3.12 · 95.577 + 2.36 · (84 + 23) + 0.86 · (19 − 64)) / 6.34
    checked("rotor blower rotor 41 / mass centre", "mm", 80.76025),
    // U_B − √Σ(bᵢ·Uᵢ)² at B, where least is left: parts 20, 24, 8.716 at 95.577, 107 and −45 mm, fits m·c/2 14.16 and 3.44 there,
    // and the runout's couple, 770 g·mm² over 210 mm. ISO 21940-14:2012, clause 6 (from memory); plain statics.
    checked("rotor blower rotor 41 / left for assembly", "g·mm", 23.9431),
    checked("rotor blower rotor 41 / left at worst", "g·mm", 6.5016),
    // Four 8 mm holes 6 mm deep with a 118° tip, 12 mm apart at their bottoms, which are 128.2 mm from the axis: one hole is
    // 0.91419 g, 119.547 g·mm, in 1200 slices of 400 columns each, up to the round surface; 5.37 deg, so 6 from one to the
    // next in whole degrees: 119.547·sin 12 ÷ sin 3
    checked("rotor fan wheel 315 / plane hub / correction radius", "mm", 130.7683),
    checked("rotor fan wheel 315 / plane hub / greatest correction", "g·mm", 474.917),
    // Four axial 6 mm holes 7 mm deep, 10 mm apart on a pitch circle of 204 mm, of 0.57596 g each: the radius is 102 mm,
    // and 5.62 deg are 6 in whole degrees
    checked("rotor blower impeller 41 / plane drive face / correction radius", "mm", 102.0),
    checked("rotor blower impeller 41 / plane drive face / greatest correction", "g·mm", 233.383),
    // An arc of 60°, 2 mm deep, 9 mm wide, summed over 400 × 400 pieces: 17.655 g, 2208.66 g·mm
    checked("rotor pump impeller 125 / plane suction / greatest correction", "g·mm", 2208.66),
    checked("rotor pump impeller 125 / plane suction / correction radius", "mm", 125.098),
    // A flat: ρ·w·c³/12, c = 2·√(2·150·1.5 − 1.5²). Segment of a circle, plain geometry.
    checked("rotor slinger disc 300 / plane rim / greatest correction", "g·mm", 694.160),
    // 24 slots of 0.91854 g at 42.5 mm, the least that any direction gets, tried every 0.05°
    checked("rotor armature 90 / plane slots / greatest correction", "g·mm", 296.523),
    // Half a key: 7850 kg/m³ · 8 · 7 · 36 mm³ / 2
    checked("rotor blower shaft 41 / keyway drive end / half-key mass", "g", 7.9128),
    // n_motor = n·D/(D_pulley·(1 − s)). Plain kinematics. 1150 · 60 / 80 / 0.985
    checked("setup fan wheel 315 on the soft bench / motor speed", "rpm", 875.6345),
    checked("setup bilge pump rotor 4 in on the soft bench / motor speed", "rpm", 451.2690),
    // m·r/U_tol × reading at tolerance. Common practice, no source. 3 · 134.2 / 46.839; 0.1 · 2.25 / 0.0310617
    // As it was set and proven: 17.2 marks of 0.5 div; and 3.00 g · 134.2 mm ÷ 8.60 div.
    checked("setup fan wheel 315 on the soft bench / calibrate hub / reading", "div", 8.6),
    checked("setup fan wheel 315 on the soft bench / calibrate hub / one division", "g·mm", 46.81395),
    checked("setup bilge pump rotor 4 in on the soft bench / calibrate balance ring / reading", "div", 7.25),
    checked("setup blower coupling half 41 on the swing cradle / calibrate flange / reading", "div", 20.19225),
    // F = m·r·Ω²: 0.003 kg · 0.1342 m · (2π · 1150 / 60)²
    checked("setup fan wheel 315 on the soft bench / calibrate hub / centrifugal force", "N", 5.838841),
    // Mass at the set radius: 10 g · 118 / 125.098
    checked("setup pump impeller 125 on the stiff bench / check mass / reading", "g", 9.43259),
    // Depth that takes 48.206 g·mm at 102 mm: (m/ρ − V_tip) / (π·6²/4)
    checked("setup blower rotor 41 on the soft bench / calibrate drive face / one division as depth", "mm", 5.636095),
];

/// The same of vectors: amount, and angle in degrees.
struct CheckedVector {
    path: &'static str,
    unit: &'static str,
    value: f64,
    degrees: f64,
}

const fn vector(path: &'static str, unit: &'static str, value: f64, degrees: f64) -> CheckedVector {
    CheckedVector { path, unit, value, degrees }
}

const CHECKED_VECTORS: &[CheckedVector] = &[
    // W = −α⁻¹·V₀ with α = (V − V₀)/T, in complex numbers; R. B. McMillan, Rotating Machinery, chapter 5 (seen).
    // 12.6 @ 105 and 6.5 @ 140 as found, 19.0 @ 10 and 9.2 @ 355 with 40 g at 228 mm, 8.3 @ 140 and 10.7 @ 105 with 35 g
    vector("setup fan wheel 560 on the soft bench / unbalance found back plate", "g·mm", 4327.467, 139.0477),
    vector("setup fan wheel 560 on the soft bench / unbalance found shroud", "g·mm", 3264.221, 253.7042),
    // Index balancing, ISO 21940-14 (from memory): half the sum and half the difference of the rotor's and the turned
    // rotor's vectors. (25.0196 @ 190 ± 20.0157 @ 287) / 2, readings of 0.20 g and 0.16 g at 125.098 mm
    vector("record pump impeller 125, casting 77 / rotor unbalance suction", "g·mm", 15.0378, 231.3418),
    vector("record pump impeller 125, casting 77 / arbor unbalance suction", "g·mm", 16.9460, 154.1143),
];

#[test]
fn its_vectors_are_those_worked_out_by_hand() {
    let results = results(&example_book());
    for CheckedVector { path, unit, value, degrees } in CHECKED_VECTORS {
        let (_, entry) = results.iter().find(|(found, _)| found == path).unwrap_or_else(|| panic!("no {path}"));
        let Outcome::Vector { base, angle, .. } = entry.outcome else { panic!("{path}: {:?}", entry.outcome) };
        let found = Unit::parse(unit).unwrap().from_base(base);
        let apart = (angle.to_degrees() - degrees).rem_euclid(360.0);
        assert!((found - value).abs() <= 2e-4 * value, "{path}: {found} {unit}, by hand {value} {unit}");
        assert!(apart.min(360.0 - apart) < 0.02, "{path}: {} deg, by hand {degrees} deg", angle.to_degrees());
    }
}

/// Trials and records: one rejected, one on a void calibration, some indexed, an assembly clocked from its parts.
#[test]
fn it_goes_from_trial_runs_to_verdicts() {
    let book = example_book();
    let computing = Computing::new(&book);
    let (mut rotors, mut verdicts, mut indexed, mut clocked) = (BTreeSet::new(), Vec::new(), 0, 0);
    for id in book.items() {
        match computing.item(id) {
            Computed::Setup(setup) => {
                rotors.extend(setup.trials.as_ref().and(setup.rotor.as_ref()).map(|rotor| rotor.block.name_text()));
            }
            Computed::Record(record) => {
                verdicts
                    .extend(record.verdict.as_ref().map(|verdict| (verdict.verdict, verdict.does_not_count.clone())));
                indexed += usize::from(record.index.is_some());
            }
            Computed::Rotor(rotor) => {
                clocked += usize::from(rotor.clocking.as_ref().is_some_and(|clocking| clocking.clocked.is_some()));
            }
            Computed::Facts(_) => {}
        }
    }
    assert!(rotors.len() >= 5, "trials of {rotors:?}");
    assert!(verdicts.len() >= 5, "{verdicts:?}");
    assert!(
        verdicts.iter().any(|(verdict, _)| matches!(verdict, Verdict::Over | Verdict::OverAsRead)),
        "none is rejected: {verdicts:?}"
    );
    let void = verdicts.iter().any(|(_, why)| why.iter().any(|one| one.why == DoesNotCount::CalibrationVoid));
    assert!(void, "none has a void calibration: {verdicts:?}");
    assert!(indexed >= 1 && clocked >= 1, "{indexed} indexed, {clocked} clocked");
}

#[test]
fn its_numbers_are_those_worked_out_by_hand() {
    let results = results(&example_book());
    for Checked { path, unit, value } in CHECKED {
        let (found, _) = amount_among(&results, path, unit);
        assert!((found - value).abs() <= 2e-5 * value.abs(), "{path}: {found} {unit}, by hand {value} {unit}");
    }
}

/// Two weighings read to 10 g each: half a step as a rectangle, k = 2. GUM 4.3.7 (from memory). 2·√2·5/√3 g
#[test]
fn its_uncertainties_come_from_the_scales_of_the_shop() {
    let (_, expanded) = amount(&example_book(), "rotor fan wheel 315 / mass", "g");
    assert!((expanded - 8.164966).abs() < 1e-5, "{expanded} g");
}

/// One file for each rotor, setup and record with every result in it.
#[test]
fn no_result_moves_unnoticed() {
    let book = example_book();
    let all = results(&book);
    for id in book.items() {
        let item = book.item(id);
        let whole = format!("{} {} / ", item.kind, item.name_text());
        let lines: Vec<String> = all
            .iter()
            .filter_map(|(path, entry)| Some(format!("{} = {}", path.strip_prefix(&whole)?, text_of(&book, entry))))
            .collect();
        if !lines.is_empty() {
            let name = format!("{} {}", item.kind, item.name_text()).replace([' ', ','], "_");
            insta::with_settings!({ snapshot_path => "snapshots/tern-quay", prepend_module_to_snapshot => false }, {
                insta::assert_snapshot!(name, lines.join("\n"));
            });
        }
    }
}

/// What the program chooses a unit for is in those of the shop, in words and tables too: none is left in g·mm.
#[test]
fn the_units_of_the_shop_hold_everywhere() {
    let book = example_book();
    let files = book.files().map(|(_, file)| {
        let text = file.text.replace("show in: g·mm", "show in: oz·in, in");
        Arc::new(SourceFile::read(&*file.path, text))
    });
    let other = Book::new(files.collect());
    assert_eq!(other.rules().unbalance_unit, Unit::OUNCE_INCH);
    let in_grams = |text: &str| {
        text.split_whitespace().any(|word| ["g·mm", "g·mm²"].contains(&word.trim_matches([',', ';', ')'])))
    };
    // A limit, a tolerance or a residual that a rotor, a proof or a machine states keeps the unit in which it is written.
    let stated = ["limit ", "tolerance", "permissible unbalance", "smallest residual"];
    let mut left = Vec::new();
    let mut shown = 0;
    for (path, entry) in results(&other) {
        let said = text_of(&other, &entry);
        shown += usize::from(said.contains("oz·in"));
        let name = entry.name();
        if in_grams(&said) && !stated.iter().any(|one| name.starts_with(one)) {
            left.push(format!("{path}: {said}"));
        }
    }
    assert!(shown > 300, "only {shown} results are in oz·in");
    assert!(left.is_empty(), "{} of {shown}\n{}", left.len(), left.join("\n"));
}
