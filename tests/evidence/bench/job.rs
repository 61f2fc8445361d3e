//! A job of the shop: a rotor, a machine, what was proven on it, how the rotor was left; all as text, and as it truly is.

use rotorbook::motion::Chance;

use super::machine::{ALL_ERRORS, CHANNELS, Errors, Machine, Shown};
use super::part::Part;
use super::rotor::{GMM, On, PLANES, Rotor, truly, written};
use crate::support::books;
use num_complex::Complex64;

/// How the readings of a job come to be unbalances.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Class {
    /// Dials set with a mass in each of two planes, proven.
    Dials,
    OneDial,
    /// Hard supports that are told where all is, proven: in g·mm, and as masses at the set radius.
    Unbalance,
    Mass,
    /// On an arbor that states what it adds; that was turned; of which nothing is said.
    ArborStated,
    ArborIndexed,
    ArborUnknown,
    /// Dials that were never proven.
    Unproven,
    /// Trial runs: two planes, three sensors for two planes, one plane, one plane by amounts alone.
    Trials,
    ManySensors,
    OneTrial,
    WithoutAngles,
}

impl Class {
    pub const ALL: [Class; 12] = [
        Class::Dials,
        Class::OneDial,
        Class::Unbalance,
        Class::Mass,
        Class::ArborStated,
        Class::ArborIndexed,
        Class::ArborUnknown,
        Class::Unproven,
        Class::Trials,
        Class::ManySensors,
        Class::OneTrial,
        Class::WithoutAngles,
    ];

    pub fn by_trials(self) -> bool {
        matches!(self, Class::Trials | Class::ManySensors | Class::OneTrial | Class::WithoutAngles)
    }

    pub fn by_dials(self) -> bool {
        !self.by_trials() && !matches!(self, Class::Unbalance | Class::Mass)
    }

    pub fn has_arbor(self) -> bool {
        matches!(self, Class::ArborStated | Class::ArborIndexed | Class::ArborUnknown)
    }

    fn planes(self) -> usize {
        if matches!(self, Class::OneDial | Class::OneTrial | Class::WithoutAngles) { 1 } else { 2 }
    }
}

/// A mass as it is written, and as it truly is: in kg·m at an angle.
struct Put {
    lines: String,
    truly: Complex64,
    said: f64,
}

pub struct Job {
    pub class: Class,
    pub rotor: Rotor,
    pub machine: Machine,
    pub text: String,
    /// What was in the planes besides the rotor when the last state was read, on the average of its runs.
    pub added: Vec<Complex64>,
    chance: Chance,
    pub(super) arbor: Vec<Complex64>,
    /// kg·m that the sheet takes one unit of the readout for.
    pub(super) said: [f64; 2],
}

const GRAM: f64 = 1e-3;

impl Job {
    /// `share` is what the worst limit is truly used to.
    pub fn by_chance(seed: u64, class: Class, share: f64) -> Self {
        let mut chance = Chance::new(seed);
        let mut rotor = Rotor::by_chance(&mut chance, class.planes(), class.has_arbor());
        rotor.unbalanced(&mut chance, share);
        let machine = Machine::by_chance(&mut chance, class, &rotor);
        let arbor = match class.has_arbor() {
            true => {
                let size = rotor.size() * chance.spread(0.01, 0.4);
                (0..2).map(|_| Complex64::from_polar(size * chance.between(0.3, 1.0), chance.angle())).collect()
            }
            false => vec![Complex64::ZERO; class.planes()],
        };
        let mut job =
            Self { class, rotor, machine, text: String::new(), added: Vec::new(), chance, arbor, said: [GMM; 2] };
        job.said = job.machine.one;
        job.write();
        job
    }

    fn write(&mut self) {
        let planes = self.class.planes();
        let setup = self.setup();
        // A sheet that is changed between proof and record is judged by the day of its proof.
        let is_proven = setup.contains("proof \"");
        let changed = if is_proven && self.chance.below(4) == 0 { self.chance.spread(0.3, 3.0) } else { 1.0 };
        let setup = match changed != 1.0 {
            true => setup.replace("    # limits\n", &self.proven_with()),
            false => setup.replace("    # limits\n", ""),
        };
        let record = self.record(changed != 1.0);
        let arbor = if self.class.has_arbor() { self.arbor_text() } else { String::new() };
        self.text = self.machine.text(planes) + &arbor + &self.rotor.text(changed) + &setup + &record;
    }

    /// So many g·mm or a little less, weighed and set off by people.
    fn put(&mut self, unbalance: f64, degrees: f64, at_least: f64) -> Put {
        let radius = format!("{:.1}", self.rotor.body.radius * 1e3);
        let (mass, half) = written((unbalance / self.rotor.body.radius / GRAM).max(at_least), 3);
        let true_mass = truly(&mass, half, &mut self.chance) * GRAM;
        let true_radius = truly(&radius, 0.05, &mut self.chance) * 1e-3;
        let true_angle = degrees + self.chance.between(-0.5, 0.5);
        Put {
            lines: format!("mass: {mass} g\n    radius: {radius} mm\n    angle: {degrees:.0} deg\n"),
            truly: Complex64::from_polar(true_mass * true_radius, true_angle.to_radians()),
            said: mass.parse::<f64>().unwrap() * GRAM * radius.parse::<f64>().unwrap() * 1e-3,
        }
    }

    /// What is in the planes at one mounting, besides the rotor: how it sits, and its arbor.
    pub(super) fn mount(&mut self) -> Vec<Complex64> {
        let scatter = self.machine.mounting;
        let one = |chance: &mut Chance| Complex64 { re: chance.scatter(scatter), im: chance.scatter(scatter) };
        (0..self.class.planes()).map(|n| one(&mut self.chance) + self.arbor[n]).collect()
    }

    fn read(&mut self, added: &[Complex64]) -> Vec<Shown> {
        // By trials, runs are not at quite the same speed.
        let speed =
            self.machine.speed * (1.0 + if self.class.by_trials() { self.chance.between(-0.005, 0.005) } else { 0.0 });
        let signals = self.machine.signals(&self.rotor.body, added, speed, ALL_ERRORS);
        signals.into_iter().enumerate().map(|(n, signal)| self.machine.show(n, signal, &mut self.chance)).collect()
    }

    fn readings(&self, fact: &str, shown: &[Shown]) -> String {
        let line =
            |(channel, shown): (&&str, &Shown)| format!("    {fact} {channel}: {}\n", self.machine.written(*shown));
        CHANNELS.iter().zip(shown).map(line).collect()
    }

    fn with(mounted: &[Complex64], plane: usize, more: Complex64) -> Vec<Complex64> {
        mounted.iter().enumerate().map(|(n, one)| if n == plane { *one + more } else { *one }).collect()
    }

    fn rpm(&self) -> f64 {
        self.machine.speed * 60.0 / std::f64::consts::TAU
    }

    fn setup(&mut self) -> String {
        let mut text =
            format!("setup sheet {{\n  rotor: part\n  machine: bench\n  balancing speed: {:.0} rpm\n", self.rpm());
        let planes = self.class.planes();
        if self.class.has_arbor() {
            let span = self.rotor.body.planes[..].iter().map(|at| format!("{:.0} mm", at * 1e3)).collect::<Vec<_>>();
            text += &format!("  arbor: spindle\n  supports at: {}\n", span.join(", "));
        }
        if self.class.by_trials() {
            return text + &self.trials() + "}\n";
        }
        for (channel, plane) in CHANNELS.iter().zip(PLANES).take(planes) {
            text += &format!("  channel {channel}: {plane}\n");
        }
        text += "  indicates: heavy spot\n";
        let mut set = String::new();
        if self.class.by_dials() {
            text += &format!("  tolerance reads: {} div\n", self.machine.tolerance_reads);
            for n in 0..planes {
                let put = self.put(8.0 * self.rotor.size(), 0.0, 0.0);
                // The needle is set to the nearest step that is about right, as well as it can be seen.
                let tells = self.class == Class::Unproven && self.chance.coin();
                let wanted = match tells {
                    true => self.reading_to_set(&text, n, &put),
                    false => put.said / self.rotor.size() * self.machine.tolerance_reads,
                };
                let shown = (wanted / self.machine.step).round() * self.machine.step;
                let off = self.chance.between(-0.5, 0.5) * self.machine.step + self.chance.scatter(self.machine.noise);
                let signal = self.machine.signals(
                    &self.alone(n, put.truly),
                    &vec![Complex64::ZERO; planes],
                    self.machine.speed,
                    Errors { apparent: false, ..ALL_ERRORS },
                );
                self.machine.one[n] = signal[n].norm() / (shown + off);
                self.said[n] = put.said / if tells { wanted } else { shown };
                let written = self.machine.written(Shown { amount: shown, angle: 0.0 });
                let amount = written.split(" @").next().unwrap().to_owned();
                let stated = if self.class == Class::Unproven && !tells {
                    format!("    reading: {amount}\n")
                } else {
                    String::new()
                };
                text += &format!(
                    "  calibrate {} {{\n    {}    taken as: vector difference\n{stated}  }}\n",
                    PLANES[n], put.lines
                );
                set += &format!("    calibration reading {}: {amount}\n", PLANES[n]);
            }
        }
        if self.class != Class::Unproven {
            text += &self.proof(&set);
        }
        text + "}\n"
    }

    /// What the sheet says that the needle is to be set to.
    fn reading_to_set(&self, setup: &str, n: usize, put: &Put) -> f64 {
        let calibrate =
            format!("  calibrate {} {{\n    {}    taken as: vector difference\n  }}\n}}\n", PLANES[n], put.lines);
        let text = self.machine.text(self.class.planes()) + &self.rotor.text(1.0) + setup + &calibrate;
        let book = books::readable(&text);
        books::amount(&book, &format!("setup sheet / calibrate {} / reading", PLANES[n]), "div").0
    }

    /// The rotor with nothing but one unbalance in one plane.
    fn alone(&self, plane: usize, unbalance: Complex64) -> Part {
        self.rotor.body.with(vec![(unbalance, self.rotor.body.planes[plane])])
    }

    fn proof(&mut self, set: &str) -> String {
        let planes = self.class.planes();
        let mounted = self.mount();
        let start = self.read(&mounted);
        let mut text =
            format!("  proof \"2026-03-02\" {{\n    date: 2026-03-02\n{set}{}", self.readings("start reading", &start));
        for (kind, times) in [("separation", 4.0), ("linearity", 8.0)] {
            for n in 0..planes {
                let put = self.put(times * self.rotor.size(), 15.0 * (n as f64), 0.0);
                let shown = self.read(&Self::with(&mounted, n, put.truly));
                text += &format!(
                    "    {kind} {} {{\n    {}{}    }}\n",
                    PLANES[n],
                    put.lines,
                    self.readings("reading", &shown)
                );
            }
        }
        let back = self.read(&mounted);
        text += &self.readings("back at start", &back);
        let mountings: Vec<Vec<Shown>> = (0..3 + self.chance.below(2))
            .map(|_| {
                let mounted = self.mount();
                self.read(&mounted)
            })
            .collect();
        for n in 0..planes {
            let each: Vec<String> = mountings.iter().map(|shown| self.machine.written(shown[n])).collect();
            text += &format!("    remounted {}: {}\n", CHANNELS[n], each.join(", "));
        }
        text + "    # limits\n  }\n"
    }

    /// The limits of the day, as the drawing had them.
    fn proven_with(&self) -> String {
        let mut text = "    proven with {\n".to_owned();
        for (on, limit) in &self.rotor.limits {
            let head = match on {
                On::Bearing(n) => format!("limit at bearing {}", ["a", "b"][*n]),
                On::Plane(n) => format!("limit in {}", PLANES[*n]),
                On::Static => "limit static".to_owned(),
                On::Couple => "limit couple".to_owned(),
            };
            text += &match on {
                On::Couple => format!("      {head}: {:.6} g·mm²\n", limit / super::rotor::GMM2),
                _ => format!("      {head}: {:.6} g·mm\n", limit / GMM),
            };
        }
        text + "    }\n"
    }

    fn arbor_text(&mut self) -> String {
        let side = |one: Complex64| {
            format!("{:.2} g·mm @ {:.0} deg", one.norm() / GMM, one.arg().to_degrees().rem_euclid(360.0))
        };
        let sides = match self.class {
            Class::ArborStated => format!(
                "  unbalance left: {}\n  unbalance right: {}\n  runout: 0.000 mm\n",
                side(self.arbor[0]),
                side(self.arbor[1])
            ),
            _ => String::new(),
        };
        format!("arbor spindle {{\n  mass: 2 kg\n{sides}}}\n")
    }

    /// As found, a mass in each plane, and one more in each: three places without angles.
    fn trials(&mut self) -> String {
        let mounted = self.mount();
        let speed = format!("    speed: {:.0} rpm\n", self.rpm());
        let shown = self.read(&mounted);
        let mut text = format!("  trial found {{\n{speed}{}  }}\n", self.readings("reading", &shown));
        let angles: &[f64] = if self.class == Class::WithoutAngles { &[0.0, 120.0, 240.0] } else { &[0.0, 90.0] };
        let size = self.rotor.size() * self.chance.between(2.0, 6.0);
        for n in 0..self.class.planes() {
            for degrees in angles {
                let put = self.put(size, *degrees, 0.0);
                let shown = self.read(&Self::with(&mounted, n, put.truly));
                text += &format!(
                    "  trial {}-{degrees} {{\n    mass in: {}\n    {}    trial mass: taken off\n{speed}{}  }}\n",
                    PLANES[n],
                    PLANES[n],
                    put.lines,
                    self.readings("reading", &shown)
                );
            }
        }
        text
    }

    pub(super) fn run(&mut self, name: &str, facts: &str, added: &[Complex64]) -> String {
        let shown = self.read(added);
        format!(
            "  run {name} {{\n    speed: {:.0} rpm\n    calibration masses: off\n{facts}{}  }}\n",
            self.rpm(),
            self.readings("reading", &shown)
        )
    }

    /// As found, what was corrected, and how it was left: once, or as often as it was mounted.
    fn record(&mut self, is_bound: bool) -> String {
        let mut text = "record job {\n  setup: sheet\n".to_owned();
        if is_bound {
            text += "  proof: \"2026-03-02\"\n  date: 2026-03-20\n";
        }
        let planes = self.class.planes();
        if self.class != Class::WithoutAngles && self.class != Class::ArborIndexed && self.chance.coin() {
            // It was so much heavier before, wherever that was.
            let mut corrections = String::new();
            let mounted = self.mount();
            let mut before = mounted;
            for n in 0..planes {
                let (size, degrees) = (self.rotor.size() * self.chance.spread(0.5, 6.0), self.chance.below(360) as f64);
                let put = self.put(size, degrees, 0.0);
                before = Self::with(&before, n, -put.truly);
                corrections += &format!(
                    "  correction {} {{\n    after: found\n    {}  }}\n",
                    PLANES[n],
                    put.lines.replacen("mass:", "add:", 1)
                );
            }
            text += &self.run("found", "", &before);
            text += &corrections;
        }
        let mut each = Vec::new();
        if self.class == Class::ArborIndexed {
            // The rotor's own angles turn against the arbor's.
            let arbor = self.arbor.clone();
            for turned in [0, 180] {
                let sign = if turned == 0 { 1.0 } else { -1.0 };
                let mounted = self.mount();
                let mounted: Vec<Complex64> =
                    (0..planes).map(|n| mounted[n] - arbor[n] + arbor[n].scale(sign)).collect();
                let facts = format!("    turned on arbor by: {turned} deg\n    angles from: rotor\n");
                text += &self.run(&format!("turned-{turned}"), &facts, &mounted);
                each.push((0..planes).map(|n| mounted[n] - arbor[n].scale(sign)).collect::<Vec<_>>());
            }
        } else {
            for n in 0..1 + self.chance.below(3) {
                let mounted = self.mount();
                let facts = if n == 0 { "" } else { "    remounted: yes\n" };
                text += &self.run(&format!("left-{n}"), facts, &mounted);
                each.push(mounted);
            }
        }
        let mean = |n: usize| each.iter().map(|one| one[n]).sum::<Complex64>().scale(1.0 / each.len() as f64);
        self.added = (0..planes).map(mean).collect();
        text + "}\n"
    }
}
