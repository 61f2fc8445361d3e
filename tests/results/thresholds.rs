//! Each limit that a rule judges by, from both sides: a sheet just inside it and the same sheet just outside, with one
//! number replaced. The limits themselves are common practice or the source that the rule names; the numbers here follow
//! from them and the sheet by the arithmetic beside each row.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use rotorbook::book::{Book, SourceFile};
use rotorbook::check;
use syn::visit::{self, Visit};

use crate::support::faulty;

/// A sheet to begin with: `base`, or the faulty sheet of a rule.
#[derive(Clone, Copy)]
struct Sheet {
    name: &'static str,
    /// Lines that are in place of others.
    with: &'static [(&'static str, &'static str)],
    /// Items after the last one.
    more: &'static str,
}

const BASE: Sheet = Sheet { name: "base", with: &[], more: "" };

const fn faulty_of(name: &'static str) -> Sheet {
    Sheet { name, with: &[], more: "" }
}

impl Sheet {
    const fn with(self, with: &'static [(&'static str, &'static str)]) -> Self {
        Self { with, ..self }
    }

    fn text(&self) -> String {
        let mut text = match self.name {
            "base" => fs::read_to_string(faulty::folder().join("base.rotor")).unwrap(),
            code => String::from_utf8(faulty::of(code).unwrap().bytes).unwrap(),
        };
        for (line, by) in self.with {
            assert!(text.contains(line), "{} has no `{line}`", self.name);
            text = text.replacen(line, by, 1);
        }
        text + self.more
    }
}

/// What a rule says of a sheet: nothing, or with what weight.
const SILENT: &str = "silent";

/// A limit of a rule, with a line of the sheet, what stands there on either side, and what the rule says then.
struct Row {
    code: &'static str,
    /// The constants that draw the limit, or the number as the rule has it.
    limits: &'static [&'static str],
    sheet: Sheet,
    /// The first such line after the heading.
    heading: &'static str,
    line: &'static str,
    sides: [(&'static str, &'static str); 2],
}

const fn row(
    code: &'static str,
    limits: &'static [&'static str],
    sheet: Sheet,
    (heading, line): (&'static str, &'static str),
    sides: [(&'static str, &'static str); 2],
) -> Row {
    Row { code, limits, sheet, heading, line, sides }
}

/// The lines of base.rotor that speak of its fan wheel: 4.82 kg, planes 34 mm and 121 mm from A, bearings 164 mm apart,
/// 38.2 g·mm a plane; 1150 rpm = 120.428 rad/s on the machine, 3550 rpm = 371.755 rad/s in service. One division is the
/// tolerance, so 2.00 g at 134.2 mm, 268.4 g·mm, reads 7.0262 div; 2.00 g at 141.0 mm reads 282 ÷ 38.2 = 7.3822 div.
/// By G 6.3 the whole rotor may have 4.82 kg · 6.3 mm/s ÷ 371.755 rad/s = 81.683 g·mm: 92.9 ÷ 164 of it, 46.270, at A and
/// 35.412 at B.
#[rustfmt::skip]
const ROWS: &[Row] = &[
    // 1150 rpm ÷ 2 = 575 rpm; 1150 ÷ 576 = 1.997.
    row("balancing-speed-near-resonance", &["FREE_FROM"], BASE, ("setup", "resonance found at: 410 rpm"),
        [("resonance found at: 575 rpm", SILENT), ("resonance found at: 576 rpm", "warning")]),
    // 1150 ÷ 0.3 = 3833.3.
    row("balancing-speed-near-resonance", &["STIFF_UP_TO"], BASE.with(BELOW), ("setup", "resonance found at: 410 rpm"),
        [("resonance found at: 3834 rpm", SILENT), ("resonance found at: 3833 rpm", "warning")]),
    // The band of equal speed is 3 % unless the setup says otherwise: 1150 ÷ 1.03 = 1116.5, 1150 ÷ 0.97 = 1185.6.
    row("balancing-speed-near-resonance", &[], BASE.with(AT), ("setup", "resonance found at: 410 rpm"),
        [("resonance found at: 1117 rpm", SILENT), ("resonance found at: 1116 rpm", "note")]),
    row("balancing-speed-near-resonance", &[], BASE.with(AT), ("setup", "resonance found at: 410 rpm"),
        [("resonance found at: 1185 rpm", SILENT), ("resonance found at: 1186 rpm", "note")]),
    // 1500 rpm is the critical of that sheet, 1150 rpm its speed: 1150 ÷ 0.7 = 1642.9.
    row("balancing-speed-near-critical", &["RIGID_UP_TO"], faulty_of("balancing-speed-near-critical"),
        ("rotor", "first bending critical: 1500 rpm"),
        [("first bending critical: 1643 rpm", SILENT), ("first bending critical: 1642 rpm", "warning")]),
    // 3600 rpm in service: 3600 ÷ 0.7 = 5142.9.
    row("service-speed-near-critical", &["RIGID_UP_TO"], faulty_of("service-speed-near-critical"),
        ("rotor", "first bending critical: 4300 rpm"),
        [("first bending critical: 5143 rpm", SILENT), ("first bending critical: 5142 rpm", "warning")]),
    row("balancing-speed-above-safe", &[], faulty_of("balancing-speed-above-safe"),
        ("rotor", "highest safe speed: 1000 rpm"),
        [("highest safe speed: 1150 rpm", SILENT), ("highest safe speed: 1149 rpm", "error")]),
    row("service-speed-above-safe", &[], BASE, ("rotor", "highest safe speed: 4200 rpm"),
        [("highest safe speed: 3550 rpm", SILENT), ("highest safe speed: 3549 rpm", "error")]),

    // The mass centre is at 71.1 mm, and 2.00 g at 141 mm in the rim, at 121 mm, pull with 4.0898 N: with the right support at x,
    // 47.268 N · (x − 71.1) ÷ x carries more than 4.0898 N · (121 − x) ÷ x from 75.07 mm on. The load is known to 0.05 N, 0.07 mm of x.
    row("rotor-lifts-off-support", &[], BASE, ("setup", "supports at: 0 mm, 164 mm"),
        [("supports at: 0 mm, 75.3 mm", SILENT), ("supports at: 0 mm, 75.0 mm", "error")]),

    row("speed-with-three-decimals", &["SLOW"], BASE, ("rotor", "highest service speed: 3550 rpm"),
        [("highest service speed: 100.000 rpm", SILENT), ("highest service speed: 99.999 rpm", "warning")]),
    row("service-speed-implausible", &["SLOWEST_RPM"], BASE, ("rotor", "highest service speed: 3550 rpm"),
        [("highest service speed: 30 rpm", SILENT), ("highest service speed: 29 rpm", "warning")]),
    // 3.64 kg a millimetre off the axis.
    row("specific-unbalance-implausible", &["FARTHEST_MILLIMETRES"], faulty_of("specific-unbalance-implausible"),
        ("rotor", "total: 8170 g·mm"), [("total: 3640 g·mm", SILENT), ("total: 3641 g·mm", "warning")]),
    // 2.5² and a hundredth of 6.3: 39.77.
    row("grade-far-from-others", &["FAR"], faulty_of("grade-far-from-others"), ("rotor", "grade: G 63"),
        [("grade: G 39.7", SILENT), ("grade: G 39.8", "note")]),
    row("grade-far-from-others", &["ENOUGH"], faulty_of("grade-far-from-others"),
        ("rotor \"spindle 30\"", "grade: G 2.5"), [("total: 100 g·mm", SILENT), ("grade: G 2.5", "note")]),

    // A gram at 134.2 mm pulls with 0.001 kg · 0.1342 m · (120.428 rad/s)² = 1.94629 N; the rotor weighs 4.82 kg · 9.80665
    // m/s² = 47.268 N. A quarter of that is 6.0716 g, half 12.143 g, all 24.286 g.
    row("force-too-high", &["WORTH_KNOWING"], BASE, ("calibrate hub", "mass: 2.00 g"),
        [("mass: 6.07 g", SILENT), ("mass: 6.08 g", "note")]),
    row("force-too-high", &["TOO_MUCH"], BASE, ("calibrate hub", "mass: 2.00 g"),
        [("mass: 12.14 g", "note"), ("mass: 12.15 g", "warning")]),
    row("force-too-high", &["WHOLE_WEIGHT"], BASE, ("calibrate hub", "mass: 2.00 g"),
        [("mass: 24.28 g", "warning"), ("mass: 24.29 g", "error")]),
    // 38.2 ÷ 2 = 19.1, and 38.2 itself.
    row("tolerance-below-residual", &["COMFORTABLE"], BASE,
        ("machine", "minimum achievable residual unbalance: 4 g·mm"),
        [("minimum achievable residual unbalance: 19.09 g·mm", SILENT),
         ("minimum achievable residual unbalance: 19.11 g·mm", "note")]),
    row("tolerance-below-residual", &[], BASE, ("machine", "minimum achievable residual unbalance: 4 g·mm"),
        [("minimum achievable residual unbalance: 38.19 g·mm", "note"),
         ("minimum achievable residual unbalance: 38.21 g·mm", "warning")]),
    // Five steps in 7.0262 div of the hub, which reads less than the rim: 1.4052 div.
    row("reading-too-low", &["STEPS"], BASE, ("readout", "smallest step: 0.1 div"),
        [("smallest step: 1.405 div", SILENT), ("smallest step: 1.406 div", "warning")]),
    // Without steps 7.0262 div ÷ 0.05 = 140.52 div.
    row("reading-too-low", &["SHARE"], BASE.with(&[("    smallest step: 0.1 div\n", "")]),
        ("readout", "full scale: 100 div"),
        [("full scale: 140 div", SILENT), ("full scale: 141 div", "warning")]),
    // The highest of the other two readings is 5.20 div: ten times is 52.0 div, three times 15.6.
    row("amount-and-angle-swapped", &["TIMES"], faulty_of("amount-and-angle-swapped"),
        ("trial \"mass in the hub\"", "reading left: 283 div @ 4.69 deg"),
        [("reading left: 52.0 div @ 4.69 deg", SILENT), ("reading left: 52.1 div @ 4.69 deg", "warning")]),
    row("amount-and-angle-swapped", &["ALIKE"], faulty_of("amount-and-angle-swapped"),
        ("trial \"mass in the hub\"", "reading left: 283 div @ 4.69 deg"),
        [("reading left: 283 div @ 15.7 deg", SILENT), ("reading left: 283 div @ 15.6 deg", "warning")]),
    // No angle is more than a full circle.
    row("amount-and-angle-swapped", &["360.0"], faulty_of("amount-and-angle-swapped"),
        ("trial \"mass in the hub\"", "reading left: 283 div @ 4.69 deg"),
        [("reading left: 361 div @ 4.69 deg", SILENT), ("reading left: 360 div @ 4.69 deg", "warning")]),
    // The rim reads more: 7.3822 div.
    row("reading-off-scale", &[], BASE, ("readout", "full scale: 100 div"),
        [("full scale: 7.39 div", SILENT), ("full scale: 7.38 div", "error")]),
    // Half of 30 marks of 0.5 div on the fine scale: 7.5 div, 1.5 marks of 5 div on the coarse one.
    row("reading-off-scale", &["LOW_ON_FINER"], SCALES, ("run found", "reading left: 1.0 mark on coarse @ 0 deg"),
        [("reading left: 1.6 mark on coarse @ 0 deg", SILENT), ("reading left: 1.5 mark on coarse @ 0 deg", "note")]),
    row("pre-balance-above-full-scale", &[], faulty_of("pre-balance-above-full-scale"),
        ("setup", "pre-balance to: 150 div"),
        [("pre-balance to: 100 div", SILENT), ("pre-balance to: 100.1 div", "warning")]),
    // 3 · 38.2 g·mm ÷ 134.2 mm = 0.8540 g.
    row("calibration-too-small", &["AT_LEAST", "calibration::AT_LEAST"], BASE, ("calibrate hub", "mass: 2.00 g"),
        [("mass: 0.855 g", SILENT), ("mass: 0.853 g", "warning")]),
    // The sheet's planes stand at 7.0262 and 7.3822 times the tolerance.
    row("calibration-outside-shop-range", &[], faulty_of("calibration-outside-shop-range"),
        ("shop", "calibration unbalance: 8 to 20"),
        [("calibration unbalance: 7.02 to 20", SILENT), ("calibration unbalance: 7.03 to 20", "note")]),
    row("calibration-outside-shop-range", &[], faulty_of("calibration-outside-shop-range"),
        ("shop", "calibration unbalance: 8 to 20"),
        [("calibration unbalance: 5 to 7.39", SILENT), ("calibration unbalance: 5 to 7.38", "note")]),
    // Below three times it is the other rule that speaks.
    row("calibration-outside-shop-range", &["AT_LEAST"],
        faulty_of("calibration-outside-shop-range").with(&[("8 to 20", "5 to 20")]), ("calibrate hub", "mass: 2.00 g"),
        [("mass: 0.853 g", SILENT), ("mass: 0.855 g", "note")]),
    // Half of 315 mm; half of the 600 mm that clear the bed.
    row("calibration-beyond-rotor", &["2.0"], BASE, ("calibrate hub", "radius: 134.2 mm"),
        [("radius: 157.5 mm", SILENT), ("radius: 157.6 mm", "warning")]),
    row("radius-beyond-swing", &[], BASE, ("calibrate hub", "radius: 134.2 mm"),
        [("radius: 300.0 mm", SILENT), ("radius: 300.1 mm", "error")]),
    // 2 · 134.2 mm, a thousandth up and down: 268.668 mm and 268.132 mm.
    row("diameter-as-radius-in-calibration", &["SAME"], BASE, ("calibrate hub", "radius: 134.2 mm"),
        [("radius: 268.7 mm", SILENT), ("radius: 268.6 mm", "warning")]),
    row("diameter-as-radius-in-calibration", &["SAME"], BASE, ("calibrate hub", "radius: 134.2 mm"),
        [("radius: 268.1 mm", SILENT), ("radius: 268.2 mm", "warning")]),
    // Half a step of 0.1 g, evenly spread, is ± 2 · 0.05 g ÷ √3 = 0.0577 g with k = 2: 5 % of 1.155 g. The same in mm.
    row("mass-known-too-poorly", &[], BASE, ("calibrate hub", "mass: 2.00 g"),
        [("mass: 1.2 g", SILENT), ("mass: 1.1 g", "warning")]),
    row("radius-known-too-poorly", &[], BASE, ("calibrate hub", "radius: 134.2 mm"),
        [("radius: 12 mm", SILENT), ("radius: 11 mm", "warning")]),
    // One position: 5 % of 268.4 g·mm = 13.42 g·mm. The mean of two, x²/2 = 5 %: x = √0.1, 84.88 g·mm.
    row("residual-spoils-calibration", &[], faulty_of("residual-spoils-calibration"),
        ("calibrate hub", "residual at calibration: 40 g·mm"),
        [("residual at calibration: 13.4 g·mm", SILENT), ("residual at calibration: 13.5 g·mm", "warning")]),
    row("residual-spoils-calibration", &[],
        faulty_of("residual-spoils-calibration").with(&[("one position", "mean of two opposite positions")]),
        ("calibrate hub", "residual at calibration: 40 g·mm"),
        [("residual at calibration: 84.8 g·mm", SILENT), ("residual at calibration: 84.9 g·mm", "warning")]),
    // Computed 7.0262 div: 0.005 g in 2.00 g and 0.05 mm in 134.2 mm, evenly spread, are ± 0.289 % and ± 0.043 %, together
    // ± 0.292 %, 0.0205 div; and half a step of the stated one, 0.005 div: 7.0007 to 7.0517 div.
    row("facts-disagree", &[], faulty_of("facts-disagree"), ("calibrate hub", "reading: 14.1 div"),
        [("reading: 7.05 div", SILENT), ("reading: 7.06 div", "error")]),
    row("facts-disagree", &[], faulty_of("facts-disagree"), ("calibrate hub", "reading: 14.1 div"),
        [("reading: 7.01 div", SILENT), ("reading: 7.00 div", "error")]),
    // A radius to 0.05 mm and half of a diameter to 0.05 mm: 134.2 mm and 268.4 mm may differ by 0.075 mm.
    row("facts-disagree", &["2.0"], BASE.with(DIAMETER_TOO), ("plane hub", "diameter: 268.4 mm"),
        [("diameter: 268.5 mm", SILENT), ("diameter: 268.6 mm", "error")]),
    row("facts-disagree", &["2.0"], BASE.with(DIAMETER_TOO), ("plane hub", "diameter: 268.4 mm"),
        [("diameter: 268.3 mm", SILENT), ("diameter: 268.2 mm", "error")]),
    // 134.2 mm to steps of 0.5 mm is 134.0 mm; half a step off is the same setting.
    row("facts-disagree", &["0.5"], BASE.with(TAKES_RADIUS), ("settings", "\"left strength\": 134.2 mm"),
        [("\"left strength\": 134.2 mm", SILENT), ("\"left strength\": 134.3 mm", "error")]),
    // 7.0262 div to half a step of the last digit.
    row("pinned-result-stale", &[], faulty_of("pinned-result-stale"), ("calibrate hub", "reading => 10.4 div"),
        [("reading => 7.0 div", SILENT), ("reading => 7.1 div", "error")]),
    row("pinned-result-stale", &[], faulty_of("pinned-result-stale"), ("calibrate hub", "reading => 10.4 div"),
        [("reading => 7.03 div", SILENT), ("reading => 7.02 div", "error")]),
    // 1.0 g read to 0.1 g, and 134.2 mm to 0.1 mm: ± 5.774 % and ± 0.043 %, together ± 5.774 %.
    row("check-mass-band-too-narrow", &[], faulty_of("check-mass-band-too-narrow"), ("check mass", "within: 2 %"),
        [("within: 5.8 %", SILENT), ("within: 5.7 %", "warning")]),

    row("rotor-too-heavy", &[], BASE, ("machine", "rotor mass: 0.5 kg to 40 kg"),
        [("rotor mass: 0.5 kg to 4.82 kg", SILENT), ("rotor mass: 0.5 kg to 4.81 kg", "error")]),
    row("rotor-too-light", &[], BASE, ("machine", "rotor mass: 0.5 kg to 40 kg"),
        [("rotor mass: 4.82 kg to 40 kg", SILENT), ("rotor mass: 4.83 kg to 40 kg", "warning")]),
    row("rotor-too-large", &[], BASE, ("machine", "swing: 600 mm"),
        [("swing: 315 mm", SILENT), ("swing: 314 mm", "error")]),
    // A radius counts twice, a diameter once: 600 mm of swing.
    row("rotor-too-large", &["OF_A_PLANE"], BASE, ("plane rim", "radius: 141 mm"),
        [("radius: 300 mm", SILENT), ("radius: 301 mm", "error")]),
    row("rotor-too-large", &["OF_A_PLANE"], BASE, ("plane rim", "radius: 141 mm"),
        [("diameter: 600 mm", SILENT), ("diameter: 601 mm", "error")]),
    row("rotor-too-large", &["OF_A_PLANE"], BASE, ("plane rim", "radius: 141 mm"),
        [("surface radius: 300 mm", SILENT), ("surface radius: 301 mm", "error")]),
    row("rotor-too-large", &["OF_A_PLANE"], BASE, ("plane rim", "radius: 141 mm"),
        [("surface diameter: 600 mm", SILENT), ("surface diameter: 601 mm", "error")]),
    row("rotor-too-large", &["OF_A_PLANE"], BASE, ("plane rim", "radius: 141 mm"),
        [("pitch diameter: 600 mm", SILENT), ("pitch diameter: 601 mm", "error")]),
    row("journal-does-not-fit", &[], BASE, ("machine", "journals: 8 mm to 60 mm"),
        [("journals: 20 mm to 60 mm", SILENT), ("journals: 20.1 mm to 60 mm", "error")]),
    row("journal-does-not-fit", &[], BASE, ("machine", "journals: 8 mm to 60 mm"),
        [("journals: 8 mm to 20 mm", SILENT), ("journals: 8 mm to 19.9 mm", "error")]),
    row("supports-do-not-fit", &[], BASE, ("machine", "between supports: 60 mm to 700 mm"),
        [("between supports: 164 mm to 700 mm", SILENT), ("between supports: 165 mm to 700 mm", "error")]),
    row("speed-not-on-machine", &[], BASE, ("machine", "balancing speed: 400 rpm to 3000 rpm"),
        [("balancing speed: 400 rpm to 1150 rpm", SILENT), ("balancing speed: 400 rpm to 1149 rpm", "error")]),
    // One speed with a band of 3 %: 1150 ÷ 0.97 = 1185.6.
    row("speed-not-on-machine", &[], BASE, ("machine", "balancing speed: 400 rpm to 3000 rpm"),
        [("balancing speed: 1185 rpm", SILENT), ("balancing speed: 1186 rpm", "error")]),
    // 1150 rpm · 60 mm ÷ 80 mm = 862.5 rpm.
    row("motor-speed-not-on-machine", &[], BASE, ("machine", "motor speed: 300 rpm to 3000 rpm"),
        [("motor speed: 300 rpm to 863 rpm", SILENT), ("motor speed: 300 rpm to 862 rpm", "error")]),
    row("control-out-of-range", &[], BASE, ("settings", "\"left strength\": 212"),
        [("\"left strength\": 500", SILENT), ("\"left strength\": 501", "error")]),
    // 1150 rpm ± 3 %: 1115.5 rpm to 1184.5 rpm.
    row("speed-out-of-band", &[], faulty_of("speed-out-of-band"), ("run corrected", "speed: 1230 rpm"),
        [("speed: 1184 rpm", SILENT), ("speed: 1185 rpm", "warning")]),
    row("speed-out-of-band", &[], faulty_of("speed-out-of-band"), ("run corrected", "speed: 1230 rpm"),
        [("speed: 1116 rpm", SILENT), ("speed: 1115 rpm", "warning")]),

    row("density-implausible", &["PLAUSIBLE"], RESIN, ("material", "density: 7.85 kg/m³"),
        [("density: 500 kg/m³", SILENT), ("density: 499 kg/m³", "warning")]),
    row("density-implausible", &["PLAUSIBLE"], RESIN, ("material", "density: 7.85 kg/m³"),
        [("density: 23000 kg/m³", SILENT), ("density: 23001 kg/m³", "warning")]),
    // Carbon steel has 7850 kg/m³, published to ± 30; a twentieth is 392.5: 7427.5 to 8272.5.
    row("density-implausible", &["MARGIN"], faulty_of("density-implausible"), ("material", "density: 7.85 kg/m³"),
        [("density: 8272 kg/m³", SILENT), ("density: 8273 kg/m³", "warning")]),
    row("density-implausible", &["MARGIN"], faulty_of("density-implausible"), ("material", "density: 7.85 kg/m³"),
        [("density: 7428 kg/m³", SILENT), ("density: 7427 kg/m³", "warning")]),
    // A hole of 10 mm, 1 mm deep with a tip of 5 mm ÷ tan 59° = 3.0043 mm: π·25·(1 + 3.0043 ÷ 3) mm³ = 157.19 mm³, less
    // π·5⁴ ÷ (8 · R) mm³ above the round surface: at 2.70 g/cm³ 0.420 g. A quarter up and down: 0.525 g and 0.315 g.
    row("depth-and-mass-disagree", &["AGREES"], faulty_of("depth-and-mass-disagree"),
        ("correction hub", "remove: 3.05 g"), [("remove: 0.52 g", SILENT), ("remove: 0.53 g", "warning")]),
    row("depth-and-mass-disagree", &["AGREES"], faulty_of("depth-and-mass-disagree"),
        ("correction hub", "remove: 3.05 g"), [("remove: 0.32 g", SILENT), ("remove: 0.31 g", "warning")]),
    // The parts come to 5.00 kg: 5 ÷ 0.98 = 5.1020 kg, 5 ÷ 1.02 = 4.9020 kg.
    row("mass-of-parts-disagrees", &["ALLOWED"], faulty_of("mass-of-parts-disagrees"),
        ("rotor \"fan 250 complete\"", "mass: 6.3 kg"), [("mass: 5.102 kg", SILENT), ("mass: 5.103 kg", "warning")]),
    row("mass-of-parts-disagrees", &["ALLOWED"], faulty_of("mass-of-parts-disagrees"),
        ("rotor \"fan 250 complete\"", "mass: 6.3 kg"), [("mass: 4.902 kg", SILENT), ("mass: 4.901 kg", "warning")]),
    // Two scales read to 0.01 kg: ± 2 · √2 · 0.005 kg ÷ √3 = 0.0082 kg, and half a step of the stated one, 0.005 kg: 0.0132
    // kg. 2 % of 4.82 kg is 0.0964 kg.
    row("weighed-and-stated-mass-disagree", &[], faulty_of("weighed-and-stated-mass-disagree"),
        ("rotor", "mass: 4.5 kg"), [("mass: 4.83 kg", SILENT), ("mass: 4.84 kg", "note")]),
    row("weighed-and-stated-mass-disagree", &["USUAL"], faulty_of("weighed-and-stated-mass-disagree"),
        ("rotor", "mass: 4.5 kg"), [("mass: 4.73 kg", "note"), ("mass: 4.72 kg", "warning")]),
    // Twice 0.021 kg·m²; all mass at the rim: 4.82 kg · (0.1575 m)² = 0.11957 kg·m².
    row("inertia-impossible", &["2.0"], faulty_of("inertia-impossible"), ("rotor", "diametral inertia: 0.011 kg·m²"),
        [("diametral inertia: 0.0210 kg·m²", SILENT), ("diametral inertia: 0.0209 kg·m²", "error")]),
    row("inertia-impossible", &[],
        faulty_of("inertia-impossible").with(&[("  diametral inertia: 0.011 kg·m²\n", "")]),
        ("rotor", "polar inertia: 0.042 kg·m²"),
        [("polar inertia: 0.1195 kg·m²", SILENT), ("polar inertia: 0.1196 kg·m²", "error")]),
    // Bearings and planes stand from 0 mm to 164 mm: as much again is 328 mm.
    row("mass-centre-implausible", &[], BASE, ("rotor", "mass centre: 71.1 mm"),
        [("mass centre: 328 mm", SILENT), ("mass centre: 329 mm", "warning")]),

    // The standard's series, from memory: … 2.5, 6.3, 16 …
    row("grade-unusual", &["STEPS"], faulty_of("grade-unusual"), ("tolerance", "grade: G 6.0"),
        [("grade: G 6.3", SILENT), ("grade: G 6.4", "note")]),
    // At the worst phase 41 g·mm in the hub and x in the rim at 150 mm put (41·34 + 150·x) ÷ 164 on B, which may take
    // 35.412: half a per cent more is x = 29.62, a tenth more x = 33.30.
    row("plane-tolerance-breaks-bearing", &["0.005"], faulty_of("plane-tolerance-breaks-bearing"),
        ("tolerance", "rim: 41 g·mm"), [("rim: 29.6 g·mm", SILENT), ("rim: 29.7 g·mm", "note")]),
    row("plane-tolerance-breaks-bearing", &["BROKEN_CLEARLY"], faulty_of("plane-tolerance-breaks-bearing"),
        ("tolerance", "rim: 41 g·mm"), [("rim: 33.2 g·mm", "note"), ("rim: 33.3 g·mm", "warning")]),
    // Bearings 240 mm apart, the mass centre 140 mm from A, planes 70 mm and z from A: A may take 100 ÷ 240 of the whole, and
    // half of it over the lever of (z − 240) ÷ 240 is a tenth of the whole at z = 740 mm.
    row("plane-leverage", &["TINY"], faulty_of("plane-leverage"), ("plane flange", "at: 1460 mm"),
        [("at: 739 mm", SILENT), ("at: 741 mm", "warning")]),
    // 164 mm ÷ 3 = 54.67 mm from 70 mm on; on hard supports a tenth, 16.4 mm from 34 mm on.
    row("planes-close-together", &[], faulty_of("planes-close-together"), ("plane back", "at: 104 mm"),
        [("at: 124.7 mm", SILENT), ("at: 124.6 mm", "note")]),
    row("planes-close-on-hard-supports", &[], faulty_of("planes-close-on-hard-supports"), ("plane rim", "at: 46 mm"),
        [("at: 50.4 mm", SILENT), ("at: 50.3 mm", "note")]),
    // A gives 750 ÷ 1200 of what A and B have together. With 179 at B, a at A is the share of B to 2 % from a = 0.3675 ·
    // (a + 179), 104.006, to a = 0.3825 · (a + 179), 110.879.
    row("bearing-shares-swapped", &["NEAR"], faulty_of("bearing-shares-swapped"),
        ("tolerance", "at bearing a: 107 g·mm"),
        [("at bearing a: 104.0 g·mm", SILENT), ("at bearing a: 104.1 g·mm", "warning")]),
    row("bearing-shares-swapped", &["NEAR"], faulty_of("bearing-shares-swapped"),
        ("tolerance", "at bearing a: 107 g·mm"),
        [("at bearing a: 110.9 g·mm", SILENT), ("at bearing a: 110.8 g·mm", "warning")]),
    // 2 · 81.683 = 163.366, half a per cent up and down: 164.18 and 162.55.
    row("off-by-a-familiar-factor", &["factors::NEAR"], faulty_of("off-by-a-familiar-factor"),
        ("tolerance", "total: 163.4 g·mm"),
        [("total: 164.2 g·mm", SILENT), ("total: 164.1 g·mm", "warning")]),
    row("off-by-a-familiar-factor", &["factors::NEAR"], faulty_of("off-by-a-familiar-factor"),
        ("tolerance", "total: 163.4 g·mm"),
        [("total: 162.5 g·mm", SILENT), ("total: 162.6 g·mm", "warning")]),
    // With 6.0 kg twice the tolerance is 203.36 g·mm: 0.20 kg·mm is known to 2.5 %, 0.28 oz·in to 1.8 %, and both are near.
    row("off-by-a-familiar-factor", &["factors::COARSE"],
        faulty_of("off-by-a-familiar-factor").with(&[("mass: 4.82 kg", "mass: 6.0 kg")]),
        ("tolerance", "total: 163.4 g·mm"),
        [("total: 0.20 kg·mm", SILENT), ("total: 0.28 oz·in", "warning")]),
    // At 3380 rpm the tolerance would be 81.683 · 3550 ÷ 3380 = 85.79; from 3550 ÷ 1.05 = 3380.95 rpm on the two are not told
    // apart.
    row("off-by-a-familiar-factor", &["0.02"], BASE.with(TOTAL_OF_BALANCING),
        ("setup", "balancing speed: 1150 rpm"),
        [("balancing speed: 3381 rpm", SILENT), ("balancing speed: 3380 rpm", "warning")]),
    // A thousandth of 81.683 and half a step of the stated one, 0.05: 81.815.
    row("tolerance-rules-disagree", &["1e-3"], faulty_of("tolerance-rules-disagree"),
        ("tolerance", "total: 95 g·mm"), [("total: 81.8 g·mm", SILENT), ("total: 81.9 g·mm", "note")]),
    // At one velocity the specific unbalance goes with 1 ÷ n: 2950 ÷ 1.005 = 2935.3.
    row("tolerance-loosened", &["1.005"], faulty_of("tolerance-loosened"),
        ("rotor \"pump impeller 250\"", "highest service speed: 1450 rpm"),
        [("highest service speed: 2936 rpm", SILENT), ("highest service speed: 2935 rpm", "error")]),

    row("correction-below-tolerance", &["ENOUGH"], BASE.with(MOST_CORRECTION),
        ("plane hub", "most correction: 200 g·mm"),
        [("most correction: 114.7 g·mm", SILENT), ("most correction: 114.5 g·mm", "note")]),
    row("correction-below-tolerance", &[], BASE.with(MOST_CORRECTION), ("plane hub", "most correction: 200 g·mm"),
        [("most correction: 38.3 g·mm", "note"), ("most correction: 38.1 g·mm", "warning")]),
    // B may take 35.412 g·mm, which is 47.997 at 121 of 164 mm: 2 · 47.997 g·mm ÷ 141 mm = 0.68081 g.
    row("smallest-correction-above-tolerance", &["2.0"], faulty_of("smallest-correction-above-tolerance"),
        ("plane rim", "mass each: 4.0 g"), [("mass each: 0.680 g", SILENT), ("mass each: 0.681 g", "note")]),
    // Half of 315 mm.
    row("diameter-as-radius", &["2.0"], BASE, ("plane hub", "radius: 134.2 mm"),
        [("radius: 157.5 mm", SILENT), ("radius: 157.6 mm", "warning")]),
    row("plane-beyond-rotor", &[], faulty_of("plane-beyond-rotor"), ("plane hub", "surface diameter: 286.4 mm"),
        [("surface diameter: 265.0 mm", SILENT), ("surface diameter: 265.1 mm", "warning")]),
    row("hole-breaks-the-edge", &["2.0"], faulty_of("hole-breaks-the-edge"), ("plane hub", "edge distance: 3 mm"),
        [("edge distance: 4.1 mm", SILENT), ("edge distance: 4.0 mm", "warning")]),
    row("holes-overlap", &[], faulty_of("holes-overlap"), ("plane hub", "hole spacing at least: 6 mm"),
        [("hole spacing at least: 8.1 mm", SILENT), ("hole spacing at least: 8.0 mm", "warning")]),
    // A tip of 118° is 3 mm ÷ tan 59° = 1.8026 mm high: 21 mm less that is 19.197 mm.
    row("hole-deeper-than-axis", &[], faulty_of("hole-deeper-than-axis"), ("plane nose", "depth: up to 20 mm"),
        [("depth: up to 19.1 mm", SILENT), ("depth: up to 19.2 mm", "error")]),
    // 10 mm less 3 mm less a tip of 4 mm ÷ tan 59° = 2.4034 mm: 4.597 mm.
    row("hole-deeper-than-wall", &[], faulty_of("hole-deeper-than-wall"), ("plane hub", "depth: up to 6 mm"),
        [("depth: up to 4.5 mm", SILENT), ("depth: up to 4.6 mm", "error")]),
    // Places 60° apart: without that of 60° a gap of 120°, without that of 120° as well one of 180°.
    row("places-leave-a-gap", &["180.0"], faulty_of("places-leave-a-gap"), ("plane rim", "barred: 50 deg to 250 deg"),
        [("barred: 50 deg to 110 deg", SILENT), ("barred: 50 deg to 130 deg", "warning")]),
    // 2.1 kg that may lie half the clearance off: 30 g·mm of 60 at 28.57 µm, all 60 at 57.14 µm.
    row("fit-spends-tolerance", &["HALF"], faulty_of("fit-spends-tolerance"),
        ("made of \"fan wheel 250\"", "fit clearance: 0.08 mm"),
        [("fit clearance: 0.0285 mm", SILENT), ("fit clearance: 0.0286 mm", "warning")]),
    row("fit-spends-tolerance", &[], faulty_of("fit-spends-tolerance"),
        ("made of \"fan wheel 250\"", "fit clearance: 0.08 mm"),
        [("fit clearance: 0.0571 mm", "warning"), ("fit clearance: 0.0572 mm", "error")]),
    // Parts of 18 and 24 g·mm come to √(18² + 24²) = 30 g·mm.
    row("left-for-assembly-nothing", &[], faulty_of("left-for-assembly-nothing").with(&[("total: 22 g·mm", "total: 24 g·mm")]),
        ("rotor \"fan 250 complete\"", "total: 25 g·mm"),
        [("total: 30.1 g·mm", SILENT), ("total: 30.0 g·mm", "warning")]),
    // Soft supports need no distances.
    row("supports-missing", &[], faulty_of("supports-missing"), ("machine", "supports: hard"),
        [("supports: soft", SILENT), ("supports: hard", "warning")]),
    // 76.4 g·mm · 2 ÷ 4.82 kg = 31.70 µm.
    row("arbor-unbalance-eats-tolerance", &[], faulty_of("arbor-unbalance-eats-tolerance"),
        ("arbor", "fit clearance: 0.05 mm"),
        [("fit clearance: 0.0317 mm", SILENT), ("fit clearance: 0.0318 mm", "warning")]),

    // One division is the tolerance. Readings of 0.5, 0.5 and x at one angle: √(2 ÷ 3 · (x − 0.5)² ÷ 4) ÷ √3 with t = 2.869 of
    // four comparisons is half a division at x = 1.239.
    row("error-spends-tolerance", &["TOO_MUCH"], Sheet { more: MOUNTINGS, ..BASE },
        ("and again", "reading left: 0.7 div @ 35 deg"),
        [("reading left: 1.23 div @ 35 deg", SILENT), ("reading left: 1.25 div @ 35 deg", "warning")]),
    // Three readings at one angle, 0.2, 0.2 and x: (2·x − 0.4) ÷ 3 = 0.25 at x = 0.575.
    row("remounting-spends-tolerance", &["MAY_MOVE"], faulty_of("remounting-spends-tolerance"),
        ("proof", "remounted left: 0.2 div @ 40 deg, 0.7 div @ 210 deg, 0.5 div @ 330 deg"),
        [("remounted left: 0.20 div @ 40 deg, 0.20 div @ 40 deg, 0.57 div @ 40 deg", SILENT),
         ("remounted left: 0.20 div @ 40 deg, 0.20 div @ 40 deg, 0.58 div @ 40 deg", "warning")]),
    row("start-not-regained", &["MAY_MOVE"], faulty_of("start-not-regained"),
        ("proof", "back at start left: 0.8 div @ 30 deg"),
        [("back at start left: 0.44 div @ 40 deg", SILENT), ("back at start left: 0.46 div @ 40 deg", "warning")]),
    // From 0.2 div on, all at one angle, 3.00 g move the needle by 8.5 div, so 6.00 g should by 17 div; 5 % of that is 0.85:
    // 16.35 div to 18.05 div on the needle.
    row("reading-not-in-proportion", &[], PROPORTION, ("linearity hub", "reading left: 15.4 div @ 1 deg"),
        [("reading left: 16.4 div @ 40 deg", SILENT), ("reading left: 16.3 div @ 40 deg", "warning")]),
    row("reading-not-in-proportion", &[], PROPORTION, ("linearity hub", "reading left: 15.4 div @ 1 deg"),
        [("reading left: 18.0 div @ 40 deg", SILENT), ("reading left: 18.1 div @ 40 deg", "warning")]),
    // 3.00 g at 141 mm read 423 ÷ 38.2 = 11.07 div; 5 % of that is 0.55 div, from 0.2 div on 0.75 div.
    row("interference-too-high", &[], BASE.with(SEPARATION), ("separation rim", "reading left: 0.4 div @ 0 deg"),
        [("reading left: 0.75 div @ 0 deg", SILENT), ("reading left: 0.76 div @ 0 deg", "warning")]),

    // Called for is 2.50 g at 130 deg: 1.00 g at 14 or 16 deg beside it.
    row("correction-not-as-called-for", &["FIRST_STEP"], FIRST_STEP, ("correction hub", "angle: 130 deg"),
        [("angle: 144 deg", SILENT), ("angle: 146 deg", "warning")]),

    // The run calls for 8.8 · 38.2 = 336.16 g·mm at 130°, 2.5049 g at 134.2 mm. At 310° that is half a turn off: a quarter up
    // and down 3.131 g and 1.879 g.
    row("correction-in-the-wrong-sense", &[], faulty_of("correction-in-the-wrong-sense"),
        ("correction hub", "add: 3.05 g"), [("add: 3.14 g", SILENT), ("add: 3.13 g", "warning")]),
    row("correction-in-the-wrong-sense", &[], faulty_of("correction-in-the-wrong-sense"),
        ("correction hub", "add: 3.05 g"), [("add: 1.87 g", SILENT), ("add: 1.88 g", "warning")]),
    // What is called for at 350° is put on at θ: as it was meant it is off by 2·sin((θ + 10°) ÷ 2), mirrored by next to
    // nothing. A third and a bit, 0.35, is 20.16° apart.
    row("correction-in-the-wrong-sense", &[], MIRRORED, ("correction hub", "angle: 310 deg"),
        [("angle: 10.1 deg", SILENT), ("angle: 10.2 deg", "warning")]),
    // Called for at 354°: as meant 2·sin((θ + 6°) ÷ 2), mirrored 2·sin((θ − 6°) ÷ 2). At 17.9° 0.4141 and 0.2073, at 17.8°
    // 0.4124 and 0.2056: less than half only there.
    row("correction-in-the-wrong-sense", &[], MIRRORED_LESS, ("correction hub", "angle: 310 deg"),
        [("angle: 17.9 deg", SILENT), ("angle: 17.8 deg", "warning")]),

    // A quarter up and down of 14.2 div: 17.75 div and 10.65 div; 310° and 25°.
    row("trial-too-weak", &["ENOUGH_CHANGE"], faulty_of("trial-too-weak"),
        ("mass in the hub", "reading left: 14.9 div @ 314 deg"),
        [("reading left: 17.8 div @ 310 deg", SILENT), ("reading left: 17.7 div @ 310 deg", "warning")]),
    row("trial-too-weak", &["ENOUGH_CHANGE"], faulty_of("trial-too-weak"),
        ("mass in the hub", "reading left: 14.9 div @ 314 deg"),
        [("reading left: 10.6 div @ 310 deg", SILENT), ("reading left: 10.7 div @ 310 deg", "warning")]),
    row("trial-too-weak", &["ENOUGH_TURN"], faulty_of("trial-too-weak"),
        ("mass in the hub", "reading left: 14.9 div @ 314 deg"),
        [("reading left: 14.2 div @ 335.1 deg", SILENT), ("reading left: 14.2 div @ 334.9 deg", "warning")]),
    // One plane with angles is judged like two.
    row("trial-too-weak", &["ENOUGH_TURN"], faulty_of("trials-contradict-calibration"),
        ("as found", "reading left: 0.4 div @ 80 deg"),
        [("reading left: 6.5 div @ 25.1 deg", SILENT), ("reading left: 6.5 div @ 24.9 deg", "warning")]),
    // From 10 div on, all at one angle: the hub moves left by 10 and right by 8, the rim left by 10 and right by x. Across
    // 10 · 8, along 10 · x: alike by 8 ÷ x or x ÷ 8, 0.8 at x = 10 and at x = 6.4.
    row("planes-act-alike", &["ACT_ALIKE"], ALIKE, ("mass in the rim", "reading right: 22.8 div @ 17 deg"),
        [("reading right: 20.1 div @ 0 deg", SILENT), ("reading right: 19.9 div @ 0 deg", "warning")]),
    row("planes-act-alike", &["ACT_ALIKE"], ALIKE, ("mass in the rim", "reading right: 22.8 div @ 17 deg"),
        [("reading right: 16.3 div @ 0 deg", SILENT), ("reading right: 16.5 div @ 0 deg", "warning")]),
    // With bᵢ = (Aᵢ ÷ 60)² − 1 the one way gives √(Σb ÷ 3), the other |Σ b·e^(iθ)| ÷ 3. For 50 and 64 µm and c at 240°: 103
    // µm 0.7701 and 0.6889, 10.5 % apart; 104 µm 0.7824 and 0.7078, 9.5 %; 123 µm 1.0058 and 1.1029, 9.7 %; 124 µm 1.0171 and
    // 1.1256, 10.7 %.
    row("four-runs-disagree", &["MAY_DISAGREE"], faulty_of("four-runs-disagree"),
        ("at 240", "reading left: 91 µm"), [("reading left: 104 µm", SILENT), ("reading left: 103 µm", "warning")]),
    row("four-runs-disagree", &["MAY_DISAGREE"], faulty_of("four-runs-disagree"),
        ("at 240", "reading left: 91 µm"), [("reading left: 123 µm", SILENT), ("reading left: 124 µm", "warning")]),
    // Two runs as found, 58 and 62 µm, are one of 60 µm.
    row("four-runs-disagree", &["MAY_DISAGREE"], faulty_of("four-runs-disagree").with(FOUND_TWICE),
        ("at 240", "reading left: 91 µm"), [("reading left: 104 µm", SILENT), ("reading left: 103 µm", "warning")]),

    row("traverse-readings-and-places", &["FEWEST"], SIX_READINGS, ("traverse", "places: 8 from 0 deg"),
        [("places: 6 from 0 deg", SILENT), ("places: 5 from 0 deg", "error")]),
    // Eleven readings of 1 and one of x: the mean is (11 + x) ÷ 12, and x departs from it by 11·|x − 1| ÷ (11 + x): 12 % at
    // x = 1.1324 and x = 0.8705.
    row("traverse-beyond-band", &["TRAVERSE_BAND"], EVEN_READINGS, ("traverse", "readings: 1.000 div"),
        [("readings: 1.132 div", SILENT), ("readings: 1.133 div", "warning")]),
    row("traverse-beyond-band", &["TRAVERSE_BAND"], EVEN_READINGS, ("traverse", "readings: 1.000 div"),
        [("readings: 0.871 div", SILENT), ("readings: 0.870 div", "warning")]),
    // Ten times the machine's 4 g·mm, a tenth up and down, is 44 and 36 g·mm: at 134.2 mm 0.3279 g and 0.2683 g.
    row("traverse-beyond-band", &[], faulty_of("traverse-beyond-band"), ("traverse", "mass: 0.298 g"),
        [("mass: 0.328 g", SILENT), ("mass: 0.327 g", "warning")]),
    row("traverse-beyond-band", &[], faulty_of("traverse-beyond-band"), ("traverse", "mass: 0.298 g"),
        [("mass: 0.268 g", SILENT), ("mass: 0.269 g", "warning")]),
    // Six squares 1 + r·cos θ with r = 0.8 are those of a residual of half the test unbalance: r = 2·x ÷ (1 + x²). With the
    // others to a thousandth the first is 1.3422 there. Halved, so that by their amounts the residual is the smaller one.
    row("traverse-mass-too-small", &["TEST_OVER_RESIDUAL"], HALF_RESIDUAL, ("traverse", "readings: 0.5000 div"),
        [("readings: 0.6710 div", SILENT), ("readings: 0.6712 div", "warning")]),
];

const BELOW: &[(&str, &str)] = &[("works: above resonance", "works: below resonance")];
const AT: &[(&str, &str)] = &[("works: above resonance", "works: at resonance")];
const RESIN: Sheet = faulty_of("density-implausible").with(&[("\"carbon steel\"", "\"filled resin\"")]);
const TAKES_RADIUS: &[(&str, &str)] = &[
    (
        "  control \"left strength\" {\n    range: 0 to 500\n",
        "  control \"left strength\" {\n    takes: left radius\n    range: 0 mm to 500 mm\n    step: 0.5 mm\n",
    ),
    ("    \"left strength\": 212\n", "    \"left strength\": 134.2 mm\n"),
];

const DIAMETER_TOO: &[(&str, &str)] = &[("    radius: 134.2 mm\n", "    radius: 134.2 mm\n    diameter: 268.4 mm\n")];
const MOST_CORRECTION: &[(&str, &str)] = &[("    correct: add\n", "    correct: add\n    most correction: 200 g·mm\n")];
const TOTAL_OF_BALANCING: &[(&str, &str)] =
    &[("    hub: 38.2 g·mm\n    rim: 38.2 g·mm\n", "    grade: G 6.3\n    total: 85.8 g·mm\n")];
const PROPORTION: Sheet =
    faulty_of("reading-not-in-proportion").with(&[("reading left: 8.7 div @ 1 deg", "reading left: 8.7 div @ 40 deg")]);
const SEPARATION: &[(&str, &str)] = &[(
    "  calibrate hub {",
    "  proof \"2026-03-09\" {
    date: 2026-03-09
    start reading left: 0.2 div @ 0 deg
    start reading right: 0.2 div @ 0 deg

    separation rim {
      mass: 3.00 g
      reading left: 0.4 div @ 0 deg
      reading right: 11.3 div @ 0 deg
    }
  }

  calibrate hub {",
)];
const ALIKE: Sheet = faulty_of("planes-act-alike").with(&[
    ("reading left: 14.2 div @ 310 deg", "reading left: 10.0 div @ 0 deg"),
    ("reading right: 8.6 div @ 45 deg", "reading right: 10.0 div @ 0 deg"),
    ("reading left: 30.0 div @ 340 deg", "reading left: 20.0 div @ 0 deg"),
    ("reading right: 22.0 div @ 20 deg", "reading right: 18.0 div @ 0 deg"),
    ("reading left: 29.0 div @ 338 deg", "reading left: 20.0 div @ 0 deg"),
]);
const SCALES: Sheet = Sheet {
    with: &[(
        "    full scale: 100 div\n    smallest step: 0.1 div\n",
        "    scale fine {\n      one mark is: 0.5 div\n      marks: 30\n    }\n\n    scale coarse {\n      one mark is: 5 div\n      \
         marks: 30\n    }\n",
    )],
    more: "\nrecord \"wheel 118\" {\n  setup: \"fan wheel 315 on the soft bench\"\n\n  run found {\n    speed: 1150 rpm\n    \
           calibration masses: off\n    reading left: 1.0 mark on coarse @ 0 deg\n  }\n}\n",
    ..BASE
};
const FIRST_STEP: Sheet =
    faulty_of("correction-not-as-called-for").with(&[("add place 3: 3.05 g", "add: 1.00 g\n    angle: 130 deg")]);
const MIRRORED: Sheet = faulty_of("correction-in-the-wrong-sense")
    .with(&[("reading left: 8.8 div @ 310 deg", "reading left: 8.8 div @ 170 deg"), ("add: 3.05 g", "add: 2.505 g")]);
const MIRRORED_LESS: Sheet = faulty_of("correction-in-the-wrong-sense")
    .with(&[("reading left: 8.8 div @ 310 deg", "reading left: 8.8 div @ 174 deg"), ("add: 3.05 g", "add: 2.505 g")]);
const FOUND_TWICE: &[(&str, &str)] = &[(
    "    reading left: 60 µm\n  }\n",
    "    reading left: 58 µm\n  }\n\n  trial \"found again\" {\n    speed: 1150 rpm\n    reading left: 62 µm\n  }\n",
)];
const SIX_READINGS: Sheet = faulty_of("traverse-readings-and-places").with(&[(", 8.5 div, 8.7 div", ", 8.5 div")]);
const EVEN_READINGS: Sheet = faulty_of("traverse-beyond-band").with(&[(
    "readings: 1.03 div, 1.06 div, 1.04 div, 0.98 div, 0.90 div, 0.79 div, 0.70 div, 0.66 div, 0.68 div, 0.76 div, \
     0.86 div, 0.96 div",
    "readings: 1.000 div, 1.000 div, 1.000 div, 1.000 div, 1.000 div, 1.000 div, 1.000 div, 1.000 div, 1.000 div, \
     1.000 div, 1.000 div, 1.000 div",
)]);
const HALF_RESIDUAL: Sheet = faulty_of("traverse-mass-too-small").with(&[
    ("places: 12 from 0 deg", "places: 6 from 0 deg"),
    (
        "readings: 0.47 div, 0.49 div, 0.48 div, 0.43 div, 0.36 div, 0.27 div, 0.17 div, 0.09 div, 0.14 div, 0.24 div, \
         0.34 div, 0.41 div",
        "readings: 0.5000 div, 0.5915 div, 0.3875 div, 0.2235 div, 0.3875 div, 0.5915 div",
    ),
]);
const MOUNTINGS: &str = r#"
record "wheel 118" {
  setup: "fan wheel 315 on the soft bench"

  run corrected {
    speed: 1150 rpm
    calibration masses: off
    reading left: 0.5 div @ 35 deg
    reading right: 0.1 div @ 25 deg
  }

  run "laid in again" {
    speed: 1150 rpm
    calibration masses: off
    remounted: yes
    reading left: 0.5 div @ 35 deg
    reading right: 0.1 div @ 25 deg
  }

  run "and again" {
    speed: 1150 rpm
    calibration masses: off
    remounted: yes
    reading left: 0.7 div @ 35 deg
    reading right: 0.1 div @ 25 deg
  }
}
"#;

/// What a rule says of a text: the heaviest of its findings.
fn said(text: &str, code: &str) -> String {
    let book = Book::new(vec![Arc::new(SourceFile::read("sheet.rotor", text))]);
    let unread: Vec<_> = book.files().flat_map(|(_, file)| file.sheet.problems.iter()).collect();
    assert!(unread.is_empty(), "{code}: {unread:#?}");
    let found = check::check(&book);
    let own = found.iter().filter(|found| found.rule.code == code);
    own.map(|found| found.severity).min().map_or(SILENT, |severity| severity.word()).to_owned()
}

#[test]
fn rules_speak_just_outside_their_limits_and_not_just_inside() {
    let mut failures = Vec::new();
    for Row { code, sheet, heading, line, sides, .. } in ROWS {
        let text = sheet.text();
        let block = text.find(heading).unwrap_or_else(|| panic!("{code}: no `{heading}`"));
        let at = block + text[block..].find(line).unwrap_or_else(|| panic!("{code}: no `{line}` after `{heading}`"));
        for (by, expected) in sides {
            let found = said(&[&text[..at], by, &text[at + line.len()..]].concat(), code);
            if found != *expected {
                failures.push(format!("{code}, {by}: {found}, not {expected}"));
            }
        }
    }
    assert!(failures.is_empty(), "{}", failures.join("\n"));
}

/// ISO 21940-11 names these grades (from memory).
#[test]
fn no_grade_of_the_standard_is_unusual() {
    let sheet = faulty_of("grade-unusual").text();
    for grade in ["4000", "1600", "630", "250", "100", "40", "16", "6.3", "2.5", "1", "0.4"] {
        assert_eq!(said(&sheet.replace("G 6.0", &format!("G {grade}")), "grade-unusual"), SILENT, "G {grade}");
    }
}

/// Numbers that only choose words and digits.
const NO_LIMITS: &[&str] = &[
    "confusions::SMALL",
    "correction-not-as-called-for 9.99",
    "grade-far-from-others 10.0",
    "pins::2.0",
    "pin_text::0.5",
    "specific-unbalance-implausible SLOW_RPM",
];

/// Every number that a rule may judge by, as `code limit` or `helper::limit`: constants, and other numbers in comparisons but
/// those that stand for nothing, for all, or for rounding.
fn limits() -> BTreeSet<String> {
    struct Limits<'c> {
        constants: &'c BTreeSet<String>,
        comparing: bool,
        found: BTreeSet<String>,
    }
    impl<'a> Visit<'a> for Limits<'_> {
        fn visit_item_const(&mut self, item: &'a syn::ItemConst) {
            if self.constants.contains(&item.ident.to_string()) {
                self.found.insert(item.ident.to_string());
            }
        }

        fn visit_item_mod(&mut self, _: &'a syn::ItemMod) {}

        fn visit_path_segment(&mut self, segment: &'a syn::PathSegment) {
            if self.constants.contains(&segment.ident.to_string()) {
                self.found.insert(segment.ident.to_string());
            }
        }

        fn visit_use_name(&mut self, name: &'a syn::UseName) {
            if self.constants.contains(&name.ident.to_string()) {
                self.found.insert(name.ident.to_string());
            }
        }

        fn visit_expr_binary(&mut self, binary: &'a syn::ExprBinary) {
            use syn::BinOp as Is;
            let before = self.comparing;
            self.comparing |= matches!(binary.op, Is::Lt(_) | Is::Le(_) | Is::Gt(_) | Is::Ge(_));
            visit::visit_expr_binary(self, binary);
            self.comparing = before;
        }

        fn visit_lit_float(&mut self, number: &'a syn::LitFloat) {
            let value: f64 = number.base10_parse().unwrap();
            if self.comparing && value > 1e-5 && value != 1.0 {
                self.found.insert(number.to_string());
            }
        }
    }
    let parse = |path: &Path| syn::parse_file(&fs::read_to_string(path).unwrap()).unwrap();
    let below = |folder: &str| -> Vec<PathBuf> {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
        let files = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
        files.filter(|path| path.extension().is_some_and(|extension| extension == "rs")).collect()
    };
    let mut constants = Constants::default();
    for path in ["src/check/rules", "src/check", "src/mechanics"].into_iter().flat_map(below) {
        constants.visit_file(&parse(&path));
    }
    let mut found = BTreeSet::new();
    for (folder, of_rule) in [("src/check/rules", true), ("src/check", false)] {
        for path in below(folder) {
            let mut limits = Limits { constants: &constants.0, comparing: false, found: BTreeSet::new() };
            limits.visit_file(&parse(&path));
            let stem = path.file_stem().unwrap().to_str().unwrap();
            found.extend(limits.found.iter().map(|limit| match of_rule {
                true => format!("{} {limit}", stem.replace('_', "-")),
                false => format!("{stem}::{limit}"),
            }));
        }
    }
    found
}

/// The names of constants that hold numbers which are measured or counted.
#[derive(Default)]
struct Constants(BTreeSet<String>);

impl<'a> Visit<'a> for Constants {
    fn visit_item_const(&mut self, item: &'a syn::ItemConst) {
        struct Numbers(bool);
        impl<'a> Visit<'a> for Numbers {
            fn visit_path_segment(&mut self, segment: &'a syn::PathSegment) {
                self.0 |= segment.ident == "f64" || segment.ident == "u32";
                visit::visit_path_segment(self, segment);
            }
        }
        let mut numbers = Numbers(false);
        numbers.visit_type(&item.ty);
        if numbers.0 {
            self.0.insert(item.ident.to_string());
        }
    }

    fn visit_item_mod(&mut self, _: &'a syn::ItemMod) {}
}

#[test]
fn every_limit_of_a_rule_has_a_row() {
    let of = |code: &str, limit: &str| match limit.contains("::") {
        true => limit.to_owned(),
        false => format!("{code} {limit}"),
    };
    let rows: BTreeSet<String> = ROWS
        .iter()
        .flat_map(|row| row.limits.iter().map(|limit| of(row.code, limit)))
        .chain(NO_LIMITS.iter().map(|limit| (*limit).to_owned()))
        .collect();
    let limits = limits();
    let without: Vec<&String> = limits.difference(&rows).collect();
    assert!(without.is_empty(), "limits without a row: {without:#?}");
    let of_none: Vec<&String> = rows.difference(&limits).collect();
    assert!(of_none.is_empty(), "rows of limits that no rule has: {of_none:#?}");
}
