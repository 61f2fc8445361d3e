//! What is computed of rotors and assemblies, from `.rotor` text to the number shown, against cases from outside.
//!
//! Each case names its source. The pure formulas have a table of their own in `tests/data/mechanics.csv`; here the
//! whole way counts: names, units, which rule governs, and where the result is shown.

use std::sync::Arc;

use rotorbook::book::{Book, Computing, Entry, Outcome, SourceFile, text_of};
use rotorbook::units::Unit;

/// The outcome of one result; `whose` is the item's name, `block` the inner block's heading or empty.
fn outcome(text: &str, whose: &str, block: &str, name: &str) -> (Outcome, String) {
    let file = SourceFile::read("sheet.rotor", text);
    assert!(file.errors.is_empty() && file.sheet.problems.is_empty(), "{:?} {:?}", file.errors, file.sheet.problems);
    let book = Book::new(vec![Arc::new(file)]);
    let computing = Computing::new(&book);
    let id = book.items().find(|id| book.item(*id).name_text() == whose).unwrap();
    let computed = computing.item(id);
    let stands_there = |entry: &&Entry| entry.path.headings().eq(block.split_terminator('/'));
    let entry = computed.entries().iter().filter(stands_there).find(|entry| entry.spec.name == name);
    let entry = entry.unwrap_or_else(|| panic!("{whose} has no `{name}` in `{block}`"));
    (entry.outcome.clone(), text_of(&book, entry))
}

#[track_caller]
fn expect(text: &str, (whose, block, name): (&str, &str, &str), expected: f64, unit: &str, tolerance: f64) {
    let (outcome, shown) = outcome(text, whose, block, name);
    let Outcome::Amount { base, .. } = outcome else { panic!("{name}: {shown}") };
    let found = Unit::parse(unit).unwrap().from_base(base);
    assert!((found - expected).abs() <= tolerance, "{name}: {found} {unit} instead of {expected} {unit}");
}

#[track_caller]
fn expect_words(text: &str, (whose, block, name): (&str, &str, &str), expected: &str) {
    assert_eq!(outcome(text, whose, block, name).1, expected);
}

/// ISO 1940-1:2003 and ISO 21940-11:2016, the worked turbine rotor of the informative annex: 3600 kg, 3000 r/min,
/// G 2.5, mass centre 1500 mm from A and 900 mm from B. Inputs seen, printed results from memory.
const TURBINE: &str = r#"
rotor "turbine" {
  mass: 3600 kg
  mass centre: 1500 mm
  bearings: 0 mm, 2400 mm
  highest service speed: 3000 rpm

  plane left {
    at: 300 mm
  }

  plane right {
    at: 2000 mm
  }

  tolerance {
    grade: G 2.5
  }
}
"#;

#[test]
fn the_turbine_rotor_of_the_standards_annex() {
    expect(TURBINE, ("turbine", "tolerance", "permissible specific unbalance"), 7.96, "µm", 0.01);
    expect(TURBINE, ("turbine", "tolerance", "permissible unbalance"), 28650.0, "g·mm", 60.0);
    expect(TURBINE, ("turbine", "tolerance", "tolerance at a"), 10700.0, "g·mm", 60.0);
    expect(TURBINE, ("turbine", "tolerance", "tolerance at b"), 17900.0, "g·mm", 60.0);
}

// Statics of a rigid rotor at the worst phase; common practice, no source. The planes are ours.
#[test]
fn the_turbine_rotors_tolerance_goes_to_its_correction_planes() {
    expect(TURBINE, ("turbine", "plane left", "tolerance"), 8425.85, "g·mm", 0.05);
    expect(TURBINE, ("turbine", "plane right", "tolerance"), 20222.04, "g·mm", 0.05);
}

// ISO 21940-11 (ISO 1940-1:2003, clause 7), share limits 0.3 and 0.7 of an inboard rotor; from memory.
#[test]
fn shares_of_an_inboard_rotor_stay_within_their_limits() {
    let rotor = |centre: &str, total: &str| {
        format!(
            "rotor \"spindle\" {{\n  mass: 10 kg\n  mass centre: {centre}\n  bearings: 0 mm, 1000 mm\n\n  tolerance {{\n    \
             total: {total}\n  }}\n}}\n"
        )
    };
    let clamped = rotor("850 mm", "1000 g·mm");
    expect(&clamped, ("spindle", "tolerance", "tolerance at a"), 300.0, "g·mm", 1e-9);
    expect(&clamped, ("spindle", "tolerance", "tolerance at b"), 700.0, "g·mm", 1e-9);
    // The symmetric case of the same clause; from memory.
    let symmetric = rotor("500 mm", "800 g·mm");
    expect(&symmetric, ("spindle", "tolerance", "tolerance at a"), 400.0, "g·mm", 1e-9);
    expect(&symmetric, ("spindle", "tolerance", "tolerance at b"), 400.0, "g·mm", 1e-9);
}

// ISO 21940-11:2016, clause 6: U_per = 1000·G·m/Ω; from memory. Rotors ours.
#[test]
fn permissible_unbalance_by_grade() {
    for (grade, mass, speed, expected) in [
        ("6.3", "40 kg", "1500 rpm", 1604.282),
        ("16", "12 kg", "4000 rpm", 458.366),
        ("1", "5 kg", "12000 rpm", 3.97887),
        ("6.3", "25 kg", "6000 rpm", 250.669),
    ] {
        let text = format!(
            "rotor \"wheel\" {{\n  mass: {mass}\n  highest service speed: {speed}\n\n  tolerance {{\n    grade: G {grade}\n  \
             }}\n}}\n"
        );
        expect(&text, ("wheel", "tolerance", "permissible unbalance"), expected, "g·mm", expected * 1e-4);
    }
}

/// 1000 lb at 15 000 r/min, the same load on both journals.
fn on_two_journals(mass: &str, rule: &str) -> String {
    format!(
        "rotor \"shaft\" {{\n  mass: {mass}\n  mass centre: 20 in\n  bearings: 0 in, 40 in\n  highest service speed: 15000 \
         rpm\n\n  tolerance {{\n    {rule}\n  }}\n}}\n"
    )
}

// The table of one rotor by three rules (API 610, API 617 and MIL-STD-167-1, from memory): 4W/N by journal load
// 0.13 oz·in, by whole weight 0.27 oz·in, G 2.5 0.50 oz·in in each plane.
#[test]
fn one_rotor_by_three_rules_in_inch_units() {
    let by_load = on_two_journals("1000 lb", "rule: W/N by journal load");
    expect(&by_load, ("shaft", "tolerance", "tolerance at a"), 0.13, "oz·in", 0.005);
    let by_weight = on_two_journals("1000 lb", "rule: W/N by whole weight");
    expect(&by_weight, ("shaft", "tolerance", "tolerance at b"), 0.27, "oz·in", 0.005);
    let by_grade = on_two_journals("1000 lb", "grade: G 2.5");
    expect(&by_grade, ("shaft", "tolerance", "permissible unbalance"), 1.0, "oz·in", 0.01);
    expect(&by_grade, ("shaft", "tolerance", "tolerance at a"), 0.5, "oz·in", 0.01);
}

// 6350·W/N in g·mm with W in kg, exactly 4·62.5·25.4; from memory. Twice the 226.796185 kg that one journal carries.
#[test]
fn the_same_rotor_in_metric_units() {
    let text = on_two_journals("453.59237 kg", "rule: W/N by journal load");
    expect(&text, ("shaft", "tolerance", "tolerance at a"), 96.01, "g·mm", 0.01);
    expect(&text, ("shaft", "tolerance", "tolerance at b"), 96.01, "g·mm", 0.01);
}

// 4/6.0153, the grade that 4W/N amounts to (seen in trade literature).
#[test]
fn four_w_over_n_amounts_to_a_grade() {
    let text = on_two_journals("1000 lb", "rule: W/N by journal load");
    expect(&text, ("shaft", "tolerance", "equivalent grade"), 0.665, "mm/s", 0.001);
}

// ISO 21940-11, similarity at the same speed: 30 kg with 600 g·mm, so 42 kg with 840 g·mm; from memory.
#[test]
fn a_tolerance_is_scaled_from_a_similar_part_or_a_rotor_of_the_book() {
    let card = r#"
rotor "new" {
  mass: 42 kg
  highest service speed: 1500 rpm

  tolerance {
    similar part {
      mass: 30 kg
      highest service speed: 1500 rpm
      total: 600 g·mm
    }
  }
}
"#;
    expect(card, ("new", "tolerance", "permissible unbalance"), 840.0, "g·mm", 1e-6);
    let book = r#"
rotor "old" {
  mass: 30 kg
  highest service speed: 1500 rpm

  tolerance {
    total: 600 g·mm
  }
}

rotor "new" {
  mass: 42 kg
  highest service speed: 1500 rpm

  tolerance {
    scaled from: "old"
  }
}
"#;
    expect(book, ("new", "tolerance", "permissible unbalance"), 840.0, "g·mm", 1e-6);
    expect(book, ("new", "tolerance", "permissible specific unbalance"), 20.0, "µm", 1e-9);
}

// ISO 21940-32, half-key principle with the height simply halved: 14 × 9 × 70 mm of steel; common practice, no source.
#[test]
fn a_half_key_weighs_half_a_key() {
    let text = r#"
rotor "shaft" {
  keyway "drive end" {
    key: half key
    width: 14 mm
    height: 9 mm
    length: 70 mm
  }
}
"#;
    expect(text, ("shaft", "keyway drive end", "half-key mass"), 34.619, "g", 0.001);
}

// Half the clearance as eccentricity: Bloch & Geitner, Machinery Component Maintenance and Repair, p. 282 (seen);
// numbers ours.
#[test]
fn a_loose_fit_puts_unbalance_in() {
    let text = r#"
rotor "wheel" {
  mass: 5 kg

  tolerance {
    total: 12 g·mm
  }
}

rotor "assembly" {
  made of "wheel" {
    balanced: by itself
    fit clearance: 0.02 mm
  }

  tolerance {
    total: 100 g·mm
  }
}
"#;
    expect(text, ("assembly", "made of wheel", "fit unbalance"), 50.0, "g·mm", 1e-6);
    expect_words(text, ("assembly", "", "order of balancing"), "wheel; then the assembly");
}

// ISO 21940-14:2012, clause 6, root of squares: 3, 4 and 12 make 13; from memory. Worst case 3 + 4 + 12 = 19.
#[test]
fn parts_leave_the_assembly_what_their_squares_leave() {
    let part = |name: &str, total: &str| {
        format!("rotor \"{name}\" {{\n  mass: 1 kg\n\n  tolerance {{\n    total: {total}\n  }}\n}}\n\n")
    };
    let made_of = |name: &str| format!("  made of \"{name}\" {{\n    balanced: by itself\n  }}\n\n");
    let parts = [("shaft", "3 g·mm"), ("wheel", "4 g·mm"), ("disc", "12 g·mm")];
    let mut text: String = parts.iter().map(|(name, total)| part(name, total)).collect();
    text.push_str("rotor \"assembly\" {\n");
    text.extend(parts.iter().map(|(name, _)| made_of(name)));
    text.push_str("  tolerance {\n    total: 20 g·mm\n  }\n}\n");
    expect(&text, ("assembly", "", "left for assembly"), 7.0, "g·mm", 1e-9);
    expect(&text, ("assembly", "", "left at worst"), 1.0, "g·mm", 1e-9);
    expect(&text, ("assembly", "", "mass"), 3.0, "kg", 1e-12);
}

// Vector sums by hand: 8 places of 4 g at 100 mm, 400 g·mm each, make 1 + 2 · cos 45° = 2.4142 of them at worst. Without
// place 1 the worst direction is towards it, where the neighbours make 2 · cos 45° = 1.4142. With places at 45 and at
// 315 deg gone, place 1 stands alone towards 0 deg; where place 8 is the barred one, only 45 deg is gone.
#[test]
fn a_place_that_is_used_takes_no_more() {
    let text = |lines: &str| {
        format!(
            "rotor wheel {{\n  angles count: with rotation\n  plane rim {{\n    at: 0 mm\n    radius: 100 mm\n    \
             correct: add\n    method: clamping\n    most per place: 4 g\n    places: 8 from 0 deg\n    {lines}\n  \
             }}\n}}\n"
        )
    };
    let greatest = ("wheel", "plane rim", "greatest correction");
    expect(&text("places numbered: with rotation"), greatest, 965.685, "g·mm", 1e-2);
    expect(&text("places used: 1"), greatest, 565.685, "g·mm", 1e-2);
    let barred = "barred: 20 deg to 70 deg\n    places used: 8\n    places numbered:";
    expect(&text(&format!("{barred} with rotation")), greatest, 400.0, "g·mm", 1e-6);
    expect(&text(&format!("{barred} against rotation")), greatest, 565.685, "g·mm", 1e-2);
    expect(&text("places used: 1, 2, 3, 4, 5, 6, 7, 8"), greatest, 0.0, "g·mm", 1e-9);
}

// Plain geometry: a flat-ended hole of 10 mm, 10 mm deep, takes π/4 · 1 cm² · 1 cm · 7.85 g/cm³ = 6.1654 g, at 100 mm
// 616.54 g·mm; one at each of 8 places makes 1 + 2 · cos 45° = 2.4142 of them at worst.
#[test]
fn a_plane_drilled_at_places_makes_their_sum() {
    let text = |places: &str| {
        format!(
            "material \"plain steel\" {{\n  density: 7850 kg/m³\n}}\nrotor disc {{\n  plane face {{\n    at: 0 mm\n    \
             correct: remove\n    method: drilling\n    direction: axial\n    pitch diameter: 200 mm\n    \
             hole diameter: 10 mm\n    point angle: 180 deg\n    depth: up to 10 mm\n    material: \"plain steel\"\n    \
             {places}\n  }}\n}}\n"
        )
    };
    let greatest = ("disc", "plane face", "greatest correction");
    expect(&text(""), greatest, 616.54, "g·mm", 0.02);
    expect(&text("places: 8 from 0 deg"), greatest, 1488.4, "g·mm", 0.1);
}

// Solid geometry, checked by numerical slicing; common practice, no source: drill 10 mm, 15 mm deep, 118° point,
// radius 100 mm.
#[test]
fn a_drilled_plane_knows_its_radius_and_its_reach() {
    let text = r#"
material "plain steel" {
  density: 7850 kg/m³
}

rotor "disc" {
  plane face {
    at: 10 mm
    method: drilling
    surface diameter: 200 mm
    hole diameter: 10 mm
    depth: up to 15 mm
    material: "plain steel"
  }
}
"#;
    expect(text, ("disc", "plane face", "greatest correction"), 905.54, "g·mm", 0.1);
    expect(text, ("disc", "plane face", "correction radius"), 91.968, "mm", 0.01);
}

// The same hole along the axis takes the same 9.8655 g, all of it on the pitch circle of 100 mm radius.
#[test]
fn an_axial_hole_counts_at_half_its_pitch_diameter() {
    let text = r#"
material "plain steel" {
  density: 7850 kg/m³
}

rotor "disc" {
  plane face {
    at: 10 mm
    method: drilling
    direction: axial
    pitch diameter: 200 mm
    hole diameter: 10 mm
    depth: up to 15 mm
    material: "plain steel"
  }
}
"#;
    expect(text, ("disc", "plane face", "greatest correction"), 986.55, "g·mm", 0.1);
    expect(text, ("disc", "plane face", "correction radius"), 100.0, "mm", 1e-9);
}

// Centroid of an annular sector; common practice, no source: radii 100 and 98 mm, 20 mm wide, 15° to either side.
#[test]
fn a_ground_plane_knows_its_radius_and_its_reach() {
    let text = r#"
material "plain steel" {
  density: 7850 kg/m³
}

rotor "disc" {
  plane face {
    at: 10 mm
    method: grinding
    surface radius: 100 mm
    depth: up to 2 mm
    width: 20 mm
    full arc: 30 deg
    material: "plain steel"
  }
}
"#;
    expect(text, ("disc", "plane face", "greatest correction"), 1593.1, "g·mm", 0.3);
    expect(text, ("disc", "plane face", "correction radius"), 97.88, "mm", 0.01);
}

// The format's own rules: what a sheet says of its planes is kept where the bearings allow it.
#[test]
fn plane_tolerances_that_the_bearings_allow_hold_as_given() {
    let given = |left: &str, right: &str| {
        TURBINE.replace("grade: G 2.5", &format!("grade: G 2.5\n    left: {left}\n    right: {right}"))
    };
    // The worst at A is 5000·2100/2400 + 21000·400/2400 = 7875, at B 5000·300/2400 + 21000·2000/2400 = 18125 > 17905.
    let breaks_b = given("5000 g·mm", "21000 g·mm");
    // The left plane keeps its 5000; B then leaves the right one (17904.93·2400 − 5000·300)/2000.
    expect(&breaks_b, ("turbine", "plane left", "tolerance"), 5000.0, "g·mm", 1e-6);
    expect(&breaks_b, ("turbine", "plane right", "tolerance"), 20735.92, "g·mm", 0.05);
    // With 20 500 at the right plane B takes 17708, which is less than 17905, though the rotor alone would give 20 222.
    let holds = given("5000 g·mm", "20500 g·mm");
    expect(&holds, ("turbine", "plane left", "tolerance"), 5000.0, "g·mm", 1e-6);
    expect(&holds, ("turbine", "plane right", "tolerance"), 20500.0, "g·mm", 1e-6);
}

#[test]
fn stating_the_computed_plane_tolerances_changes_nothing_else() {
    let text = TURBINE.replace("grade: G 2.5", "grade: G 2.5\n    left: 8.4 kg·mm\n    right: 20.2 kg·mm");
    expect(&text, ("turbine", "tolerance", "permissible unbalance"), 28650.0, "g·mm", 60.0);
    expect(&text, ("turbine", "tolerance", "tolerance at a"), 10700.0, "g·mm", 60.0);
}

#[test]
fn a_tolerance_of_one_plane_is_none_of_the_whole_rotor() {
    let text = TURBINE.replace("grade: G 2.5", "left: 8.4 kg·mm");
    let shown = outcome(&text, "turbine", "tolerance", "permissible unbalance").1;
    assert_eq!(shown, "not computed: plane right has no tolerance, and nothing is stated for the whole rotor");
}

/// The names of what is computed of a rotor, in the order in which it is shown.
fn names(text: &str, whose: &str) -> Vec<&'static str> {
    let book = Book::new(vec![Arc::new(SourceFile::read("sheet.rotor", text))]);
    let computing = Computing::new(&book);
    let id = book.items().find(|id| book.item(*id).name_text() == whose).unwrap();
    computing.item(id).entries().iter().map(|entry| entry.spec.name).collect()
}

// What is shown is what is worked with: a stated mass or mass centre comes before the weighing.
#[test]
fn a_weighing_beside_a_stated_mass_is_no_second_mass() {
    let rotor = |facts: &str| {
        format!(
            "rotor disc {{\n{facts}  bearings: 0 mm, 100 mm\n  weighed: 2 kg at 0 mm, 3 kg at 100 mm\n  \
             highest service speed: 3000 rpm\n  tolerance {{\n    grade: G 6.3\n  }}\n}}\n"
        )
    };
    let weighed = rotor("");
    expect(&weighed, ("disc", "", "mass"), 5.0, "kg", 1e-9);
    expect(&weighed, ("disc", "", "mass centre"), 60.0, "mm", 1e-9);
    let stated = rotor("  mass: 10 kg\n");
    assert!(!names(&stated, "disc").contains(&"mass"));
    expect(&stated, ("disc", "", "mass centre"), 60.0, "mm", 1e-9);
    expect(&stated, ("disc", "", "journal load a"), 4.0, "kg", 1e-9);
    assert!(!names(&rotor("  mass centre: 50 mm\n"), "disc").contains(&"mass centre"));
}

// A disc on an arbor has no bearings of its own: nothing is said to be missing that nothing needs.
#[test]
fn nobody_misses_the_bearings_of_a_disc() {
    let disc = "rotor disc {\n  mass: 5 kg\n  mass centre: 20 mm\n  highest service speed: 3000 rpm\n  plane rim {\n    \
                at: 20 mm\n    radius: 90 mm\n  }\n  tolerance {\n    grade: G 6.3\n  }\n}\n";
    let of_bearings = |text: &str| {
        let names = names(text, "disc");
        names.into_iter().filter(|name| name.starts_with("journal load") || name.starts_with("tolerance at")).count()
    };
    assert_eq!(of_bearings(disc), 0);
    assert_eq!(of_bearings(&disc.replace("  mass: 5 kg", "  mass: 5 kg\n  bearings: 0 mm, 80 mm")), 4);
    // A rule that goes by journal load needs them, and its loads say what is missing.
    let by_load = disc.replace("grade: G 6.3", "rule: W/N by journal load");
    assert_eq!(
        outcome(&by_load, "disc", "", "journal load a").1,
        "not computed: `bearings` in rotor \"disc\" is missing"
    );
}

/// A wheel outside bearing B with limits at both bearings and nothing else.
const OVERHUNG: &str = r#"
rotor "wheel" {
  mass: 40 kg
  mass centre: 500 mm
  bearings: 0 mm, 400 mm
  bearing arrangement: overhung
  highest service speed: 1770 rpm
  plane back {
    at: 450 mm
    radius: 230 mm
  }
  plane front {
    at: 600 mm
    radius: 230 mm
  }
  tolerance {
    at bearing a: 450 g·mm
    at bearing b: 1600 g·mm
  }
}
"#;

// Statics: 1000 g·mm at 500 mm put 250 on A and 1250 on B, so that 450 and 1600 allow 1280 g·mm there and not 2050. The
// planes have their limits from the levers alone: B allows half of 1600 each, 400·800/450 = 711.1 and 400·800/600 = 533.3,
// of which A takes 711.1·50/400 + 533.3·200/400 = 355.6.
#[test]
fn limits_at_the_bearings_of_an_overhung_rotor_do_not_add_up() {
    let (_, shown) = outcome(OVERHUNG, "wheel", "tolerance", "permissible unbalance");
    assert!(shown.starts_with("not computed: the rotor is overhung"), "{shown}");
    expect(OVERHUNG, ("wheel", "plane back", "tolerance"), 711.11, "g·mm", 0.01);
    expect(OVERHUNG, ("wheel", "plane front", "tolerance"), 533.33, "g·mm", 0.01);
    let inboard = OVERHUNG.replace("  bearing arrangement: overhung\n", "");
    expect(&inboard, ("wheel", "tolerance", "permissible unbalance"), 2050.0, "g·mm", 1e-6);
    let graded = OVERHUNG.replace("at bearing a", "grade: G 6.3\n    at bearing a");
    expect(&graded, ("wheel", "tolerance", "permissible unbalance"), 9549.3 * 6.3 * 40.0 / 1770.0, "g·mm", 0.1);
}

// A rotor that overhangs is held down at its free end. By hand, plain statics: 16.4 kg − 4.4 kg = 12.0 kg, and
// 16.4 kg · 300 mm ÷ 12.0 kg = 410 mm.
#[test]
fn a_rotor_held_down_at_its_free_end_is_weighed_with_a_load_below_zero() {
    let rotor = "rotor disc {\n  weighed: -4.4 kg at 0 mm, 16.4 kg at 300 mm\n}\n";
    expect(rotor, ("disc", "", "mass"), 12.0, "kg", 1e-9);
    expect(rotor, ("disc", "", "mass centre"), 410.0, "mm", 1e-9);
}

// The turbine rotor's 28 648 g·mm, by the exact ounce and inch of NIST SP 811 (from memory): 720.0778 g·mm to the oz·in.
#[test]
fn results_follow_the_units_that_the_shop_shows() {
    let text = format!("shop \"shop\" {{\n  format: 1\n  show in: oz·in, in\n}}\n{TURBINE}");
    let shown = outcome(&text, "turbine", "tolerance", "permissible unbalance").1;
    assert!(shown.starts_with("39.8 oz·in"), "{shown}");
}

// By hand: 100 g·mm in the middle of two planes are 50 g·mm in each. 2 kg that may sit off by half of 0.02 mm are 20 g·mm, 10 in
// each plane; (0.02 - 0.01) kg·m² · 0.02 mm ÷ 200 mm are 1000 g·mm², 10 g·mm over 100 mm. Either is known to 10 ÷ √2 along any
// direction: with k = 2 both make 20 g·mm, and off to the side √(50² + 20²) - 50 = 3.9: 20.4. sin φ = 20 ÷ 50, 23.6 deg.
#[test]
fn what_parts_amount_to_is_known_as_well_as_they_sit() {
    let with = |seat: &str| {
        format!(
            "rotor disc {{\n  mass: 2.0000 kg\n  mass centre: 0.000 mm\n  angles count: with rotation\n  \
             polar inertia: 0.020000 kg·m²\n  diametral inertia: 0.010000 kg·m²\n  \
             plane x {{\n    at: 0.000 mm\n  }}\n}}\n\
             rotor whole {{\n  angles count: with rotation\n  made of disc {{\n    at: 100.000 mm\n    \
             fitted at: 0 deg\n    unbalance x: 100.000 g·mm @ 0 deg\n{seat}  }}\n  \
             plane p1 {{\n    at: 50.000 mm\n    radius: 100 mm\n    correct: remove\n  }}\n  \
             plane p2 {{\n    at: 150.000 mm\n    radius: 100 mm\n    correct: remove\n  }}\n}}\n"
        )
    };
    let said = |seat: &str| outcome(&with(seat), "whole", "", "unbalance of parts").1;
    let (fit, face) = ("    fit clearance: 0.0200 mm\n", "    face runout: 0.0200 mm\n    at diameter: 200.00 mm\n");
    assert!(
        said(&format!("{fit}{face}")).starts_with("50 g·mm ± 20 g·mm @ 0 deg ± 24 deg"),
        "{}",
        said(&format!("{fit}{face}"))
    );
    assert!(said(fit).starts_with("50 g·mm ± 14 g·mm @ 0 deg ± 16 deg"), "{}", said(fit));
    assert!(said("").starts_with("50.0 g·mm @ 0 deg"), "{}", said(""));
}
