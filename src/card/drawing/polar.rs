//! Unbalance round the axis: each run as an arrow, the corrections laid on it, and the circle of the tolerance.

use std::f64::consts::TAU;

use super::end_view::at;
use super::{Anchor, Drawing, Form, Pen, SIZE};
use crate::syntax::Kind;
use crate::units;

const WIDTH: f64 = 57.0;
const HEIGHT: f64 = 56.0;
const OUTER: f64 = 20.5;
const MIDDLE: [f64; 2] = [WIDTH / 2.0, HEIGHT / 2.0];

/// What is drawn of one plane; amounts in one unit, angles in radians.
pub(in crate::card) struct Plot {
    pub told: String,
    /// Whether angles grow clockwise.
    pub clockwise: bool,
    pub tolerance: Option<f64>,
    pub unit: String,
    pub vectors: Vec<Vector>,
    /// Runs that told no angle: the number of the run, and its amount.
    pub amounts: Vec<(String, f64)>,
    /// The amount at the edge.
    pub edge: f64,
}

/// An arrow, from the axis or from the tip of another.
#[derive(Clone)]
pub(in crate::card) struct Vector {
    pub name: String,
    pub from: [f64; 2],
    pub to: [f64; 2],
    pub is_correction: bool,
}

/// An amount at an angle as x and y, the angle's zero along x.
pub(in crate::card) fn components(amount: f64, radians: f64) -> [f64; 2] {
    [amount * radians.cos(), amount * radians.sin()]
}

/// The nearest round amount above.
pub(in crate::card) fn edge_above(amount: f64) -> f64 {
    if amount.is_nan() || amount <= 0.0 {
        return 1.0;
    }
    let power = 10f64.powf(amount.log10().floor());
    [1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0]
        .into_iter()
        .map(|digit| digit * power)
        .find(|edge| amount <= *edge)
        .unwrap_or(10.0 * power)
}

pub(in crate::card) fn polar(plot: &Plot) -> Drawing {
    let mut drawing = Drawing::new(WIDTH, HEIGHT, plot.told.clone());
    drawing.scale = Some(OUTER / plot.edge);
    plot.grid(&mut drawing);
    let mut taken = Vec::new();
    plot.amounts(&mut drawing, &mut taken);
    plot.arrows(&mut drawing);
    plot.names(&mut drawing, &mut taken);
    drawing
}

impl Plot {
    /// Zero at the top.
    fn on_paper(&self, [x, y]: [f64; 2]) -> [f64; 2] {
        let scale = OUTER / self.edge;
        let across = if self.clockwise { y } else { -y };
        [MIDDLE[0] + across * scale, MIDDLE[1] - x * scale]
    }

    fn grid(&self, drawing: &mut Drawing) {
        drawing.circle("edge", MIDDLE, OUTER, Pen::Thin);
        drawing.circle("half way", MIDDLE, OUTER / 2.0, Pen::Thin);
        for twelfth in 0..12 {
            let angle = f64::from(twelfth) * TAU / 12.0;
            let [x, y] = self.on_paper(components(self.edge, angle));
            let towards = [(x - MIDDLE[0]) / OUTER, (y - MIDDLE[1]) / OUTER];
            let from = if twelfth % 3 == 0 { MIDDLE } else { at(MIDDLE, towards, OUTER - 1.5) };
            drawing.line("", from, [x, y], Pen::Thin);
            let [x, y] = at(MIDDLE, towards, OUTER + 3.8);
            drawing.text("", [x, y + SIZE * 0.35], Anchor::Middle, (twelfth * 30).to_string());
        }
        if let Some(tolerance) = self.tolerance.filter(|tolerance| *tolerance <= self.edge) {
            let radius = OUTER * tolerance / self.edge;
            drawing.add(Kind::Tolerance.words(), Form::Circle { at: MIDDLE, radius, pen: Pen::Heavy, filled: false });
        }
        let edge = format!("edge {} {}", units::plainly(self.edge), self.unit);
        drawing.text("", [WIDTH - 1.0, HEIGHT - 1.5], Anchor::End, edge);
    }

    /// Without an angle the unbalance may lie anywhere on a circle.
    fn amounts(&self, drawing: &mut Drawing, taken: &mut Vec<[f64; 4]>) {
        for (name, amount) in &self.amounts {
            let radius = OUTER * amount / self.edge;
            drawing.circle(name, MIDDLE, radius, Pen::Dashed);
            let tip = at(MIDDLE, [0.5_f64.sqrt(), 0.5_f64.sqrt()], radius);
            label(drawing, taken, tip, name);
        }
    }

    fn arrows(&self, drawing: &mut Drawing) {
        for vector in &self.vectors {
            let pen = if vector.is_correction { Pen::Dashed } else { Pen::Normal };
            drawing.arrow(&vector.name, self.on_paper(vector.from), self.on_paper(vector.to), pen);
        }
    }

    fn names(&self, drawing: &mut Drawing, taken: &mut Vec<[f64; 4]>) {
        for vector in &self.vectors {
            let tip = match vector.is_correction {
                false => self.on_paper(vector.to),
                // Its tip is where the next begins: named half way.
                true => {
                    let (from, to) = (self.on_paper(vector.from), self.on_paper(vector.to));
                    [(from[0] + to[0]) / 2.0, (from[1] + to[1]) / 2.0]
                }
            };
            label(drawing, taken, tip, &vector.name);
        }
    }
}

/// A name beside a point, where none stands yet.
fn label(drawing: &mut Drawing, taken: &mut Vec<[f64; 4]>, tip: [f64; 2], name: &str) {
    let (wide, tall) = (super::wide(name) + 0.8, SIZE);
    let spots = [3.2, 6.0, 9.0, 12.0].into_iter().flat_map(|far| {
        (0..8).map(move |n| {
            let angle = f64::from(n) * TAU / 8.0 - TAU / 8.0;
            [tip[0] + far * angle.cos(), tip[1] + far * angle.sin()]
        })
    });
    let boxed =
        |spot: &[f64; 2]| [spot[0] - wide / 2.0, spot[1] - tall / 2.0, spot[0] + wide / 2.0, spot[1] + tall / 2.0];
    let is_free = |spot: &[f64; 2]| {
        let own = boxed(spot);
        let inside = own[0] > 0.5 && own[1] > 0.5 && own[2] < WIDTH - 0.5 && own[3] < HEIGHT - SIZE;
        let from_middle = (spot[0] - MIDDLE[0]).hypot(spot[1] - MIDDLE[1]);
        let clear = !(OUTER + 0.5..OUTER + 6.5).contains(&from_middle);
        let apart = |other: &[f64; 4]| own[2] < other[0] || other[2] < own[0] || own[3] < other[1] || other[3] < own[1];
        inside && clear && taken.iter().all(apart)
    };
    let spot = spots.clone().find(is_free).unwrap_or(tip);
    taken.push(boxed(&spot));
    drawing.strong(name, [spot[0], spot[1] + SIZE * 0.35], Anchor::Middle, name);
}
