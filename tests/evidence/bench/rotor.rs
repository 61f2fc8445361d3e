//! A rotor as it truly is, the limits that its drawing sets, and what the shop writes of both. SI units.

use super::part::Part;
use num_complex::Complex64;
use rotorbook::motion::Chance;

/// What a limit is set on.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum On {
    Bearing(usize),
    Plane(usize),
    Static,
    Couple,
}

pub const PLANES: [&str; 2] = ["inner", "outer"];

/// kg·m in one g·mm, and kg·m² in one g·mm².
pub const GMM: f64 = 1e-6;
pub const GMM2: f64 = 1e-9;

impl On {
    /// As the program names it.
    pub fn name(self) -> String {
        match self {
            On::Bearing(n) => format!("bearing {}", ["a", "b"][n]),
            On::Plane(n) => PLANES[n].to_owned(),
            On::Static => "static".to_owned(),
            On::Couple => "couple".to_owned(),
        }
    }
}

/// The rotor and what limits it: in kg·m, a couple in kg·m².
pub struct Rotor {
    pub body: Part,
    pub limits: Vec<(On, f64)>,
    /// Lines of the tolerance block.
    tolerance: Vec<String>,
    mass: String,
    centre: String,
    has_bearings: bool,
}

/// As many significant digits, as it would be written, and the half step of the last one.
pub fn written(value: f64, digits: i32) -> (String, f64) {
    let decimals = (digits - 1 - value.abs().log10().floor() as i32).max(0);
    (format!("{value:.0$}", decimals as usize), 0.5 * 10f64.powi(-decimals))
}

/// Somewhere within half a step of what is written.
pub fn truly(text: &str, half: f64, chance: &mut Chance) -> f64 {
    text.parse::<f64>().unwrap() + half * chance.between(-1.0, 1.0)
}

/// ISO 21940-11:2016, clause 7 (from memory): the permissible unbalance shared by the distances of the mass centre, the
/// larger share no more than 0.7 of it and the smaller no less than 0.3; 1.3 and 0.3 where the mass centre lies outside.
fn shares(whole: f64, [a, b]: [f64; 2], centre: f64) -> [f64; 2] {
    let (to_a, to_b, span) = (centre - a, b - centre, b - a);
    let overhung = to_a < 0.0 || to_b < 0.0;
    [to_b, to_a].map(|distance| whole * (distance / span).abs().clamp(0.3, if overhung { 1.3 } else { 0.7 }))
}

impl Rotor {
    pub fn by_chance(chance: &mut Chance, planes: usize, on_arbor: bool) -> Self {
        let mut body = Part::by_chance(chance, planes);
        let span = body.bearing_span;
        body.planes = match (planes, chance.below(10)) {
            (1, _) => vec![span * chance.between(-0.3, 1.3)],
            (_, 0) => {
                let first = span * chance.between(0.1, 0.7);
                vec![first, first + span * chance.between(0.15, 0.3)]
            }
            _ => vec![span * chance.between(-0.3, 0.4), span * chance.between(0.6, 1.3)],
        };
        for at in &mut body.planes {
            *at = (*at * 1e3).round() * 1e-3;
        }
        body.bearing_span = (span * 1e3).round() * 1e-3;
        body.radius = (body.radius * 1e3).round() * 1e-3;
        // Weighed: what is written, and what it truly is.
        let (mass, half) = written(body.mass, 4);
        body.mass = truly(&mass, half, chance);
        let (centre, half) = (format!("{:.1}", body.mass_centre * 1e3), 0.05);
        body.mass_centre = truly(&centre, half, chance) * 1e-3;
        let rpm = (body.service_speed * 60.0 / std::f64::consts::TAU).round();
        body.service_speed = rpm * std::f64::consts::TAU / 60.0;
        // What has no bearings of its own is carried by an arbor.
        let has_bearings = !on_arbor || chance.coin();
        let mut rotor = Self { body, limits: Vec::new(), tolerance: Vec::new(), mass, centre, has_bearings };
        rotor.limit(chance);
        rotor
    }

    /// A drawing's tolerance: by grade, of the whole, bearing by bearing, plane by plane, static, couple.
    fn limit(&mut self, chance: &mut Chance) {
        let by_grade = self.body.permissible();
        let total = written(by_grade / GMM, 3).0;
        let whole = total.parse::<f64>().unwrap() * GMM;
        let part = |chance: &mut Chance, low, high| {
            let text = written(by_grade / GMM * chance.between(low, high), 3).0;
            let value = text.parse::<f64>().unwrap() * GMM;
            (text, value)
        };
        let (two, bearings) = (self.body.planes.len() == 2, self.has_bearings);
        let kind = chance.below(8);
        match kind {
            0..=2 => {
                self.say(format!("grade: G {}", self.body.grade));
                self.of_the_whole(by_grade);
            }
            3 if bearings => {
                for n in 0..2 {
                    let (text, value) = part(chance, 0.3, 0.7);
                    self.say(format!("at bearing {}: {text} g·mm", ["a", "b"][n]));
                    self.limits.push((On::Bearing(n), value));
                }
            }
            4 => {
                for n in 0..self.body.planes.len() {
                    let (text, value) = part(chance, 0.3, 0.7);
                    self.say(format!("{}: {text} g·mm", PLANES[n]));
                    self.limits.push((On::Plane(n), value));
                }
            }
            _ => {
                self.say(format!("total: {total} g·mm"));
                self.of_the_whole(whole);
                match kind {
                    5 if two => {
                        let (text, value) = part(chance, 0.3, 1.0);
                        self.say(format!("static: {text} g·mm"));
                        self.limits.push((On::Static, value));
                    }
                    6 if two => {
                        let span = self.body.bearing_span * 1e3;
                        let (text, _) = written(by_grade / GMM * span * chance.between(0.1, 0.4), 3);
                        self.say(format!("couple: {text} g·mm²"));
                        self.limits.push((On::Couple, text.parse::<f64>().unwrap() * GMM2));
                    }
                    7 if bearings => {
                        let (text, value) = part(chance, 0.2, 0.6);
                        self.say(format!("{}: {text} g·mm", PLANES[0]));
                        self.limits.push((On::Plane(0), value));
                    }
                    _ => {}
                }
            }
        }
    }

    fn say(&mut self, line: String) {
        self.tolerance.push(line);
    }

    /// Shared between the bearings; where there are none, the planes are where the tolerance is set, all of it in one.
    fn of_the_whole(&mut self, whole: f64) {
        let (centre, span) = (self.body.mass_centre, self.body.bearing_span);
        let rows = match (self.has_bearings, &self.body.planes[..]) {
            (true, _) => {
                shares(whole, [0.0, span], centre).into_iter().enumerate().map(|(n, l)| (On::Bearing(n), l)).collect()
            }
            (false, [a, b]) => {
                shares(whole, [*a, *b], centre).into_iter().enumerate().map(|(n, l)| (On::Plane(n), l)).collect()
            }
            (false, _) => vec![(On::Plane(0), whole)],
        };
        self.limits.extend::<Vec<(On, f64)>>(rows);
    }

    /// What one unit of unbalance at a place does at a limit.
    pub fn lever(&self, on: On, at: f64) -> f64 {
        let span = self.body.bearing_span;
        match (on, &self.body.planes[..]) {
            (On::Bearing(0), _) => (span - at) / span,
            (On::Bearing(_), _) => at / span,
            (On::Static, _) | (On::Plane(_), [_]) => 1.0,
            (On::Couple, _) => at - self.body.mass_centre,
            (On::Plane(n), planes) => (at - planes[1 - n]) / (planes[n] - planes[1 - n]),
        }
    }

    /// What acts at a limit of unbalances along the rotor.
    pub fn acting(&self, on: On, unbalances: &[(Complex64, f64)]) -> f64 {
        unbalances.iter().map(|(unbalance, at)| unbalance.scale(self.lever(on, *at))).sum::<Complex64>().norm()
    }

    /// What acts over its limit, at the worst of them.
    pub fn over_limit(&self) -> f64 {
        let over = self.limits.iter().map(|(on, limit)| self.acting(*on, &self.body.unbalances) / limit);
        over.fold(0.0, f64::max)
    }

    /// What each plane may have when all have as much, in phase: the size of things on this rotor.
    pub fn size(&self) -> f64 {
        let alone = self.limits.iter().map(|(on, limit)| {
            limit / self.body.planes.iter().map(|at| self.lever(*on, *at).abs()).sum::<f64>().max(1e-9)
        });
        alone.fold(f64::INFINITY, f64::min)
    }

    /// The unbalances at random, so large that the worst limit is used to such a share.
    pub fn unbalanced(&mut self, chance: &mut Chance, share: f64) {
        let span = self.body.bearing_span;
        let one = self.body.planes.len() == 1;
        for _ in 0..3 {
            let at = if one { self.body.planes[0] } else { span * chance.between(-0.1, 1.1) };
            self.body.put_on(Complex64::from_polar(chance.between(0.1, 1.0), chance.angle()), at);
        }
        let factor = share / self.over_limit();
        for (unbalance, _) in &mut self.body.unbalances {
            *unbalance = unbalance.scale(factor);
        }
    }

    pub fn text(&self, tolerance_times: f64) -> String {
        let body = &self.body;
        let mut text = format!(
            "rotor part {{\n  mass: {} kg ± {} kg\n  mass centre: {} mm ± 0.05 mm\n",
            self.mass,
            written(body.mass, 4).1,
            self.centre
        );
        if self.has_bearings {
            text += &format!("  bearings: 0 mm, {:.0} mm\n", body.bearing_span * 1e3);
        }
        // Outside its bearings, or outside the planes that replace them.
        let ends = match (self.has_bearings, &body.planes[..]) {
            (false, [a, b]) => [*a, *b],
            _ => [0.0, body.bearing_span],
        };
        if !(ends[0]..=ends[1]).contains(&body.mass_centre) {
            text += "  bearing arrangement: overhung\n";
        }
        let rpm = body.service_speed * 60.0 / std::f64::consts::TAU;
        text += &format!("  highest service speed: {rpm:.0} rpm\n  angles count: with rotation\n");
        for (name, at) in PLANES.iter().zip(&body.planes) {
            let radius = body.radius * 1e3;
            text += &format!(
                "  plane {name} {{\n    at: {:.0} mm\n    radius: {radius:.0} mm\n    correct: either\n  }}\n",
                at * 1e3
            );
        }
        text += "  tolerance {\n";
        if body.planes.len() == 1 {
            text += "    planes: one\n";
        }
        for line in &self.tolerance {
            text += &format!("    {}\n", times(line, tolerance_times));
        }
        text + "  }\n}\n"
    }
}

/// `total: 81.7 g·mm` with another number, `grade: G 6.3` too.
fn times(line: &str, factor: f64) -> String {
    if factor == 1.0 {
        return line.to_owned();
    }
    let words: Vec<String> = line
        .split(' ')
        .map(|word| word.parse::<f64>().map_or_else(|_| word.to_owned(), |number| format!("{:.6}", number * factor)))
        .collect();
    words.join(" ")
}
