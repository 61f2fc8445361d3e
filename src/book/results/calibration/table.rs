//! The table for the bench: for what is read, what to take off or put on, up to what plane and readout have.

use super::division::{Worth, mass_unit};
use crate::book::derive::Val;
use crate::book::results::bench::mode::{Mode, SHOWS_NO_UNBALANCE};
use crate::book::results::plane::unturned::{Unturned, Wanted};
use crate::book::results::values::entry::{Column, Outcome, Recorder};
use crate::book::results::values::not_computed::WhyNot;
use crate::mechanics::correction::sliding::spread_for;
use crate::units::{Amount, Angle, Indication, Length, Mass, Ratio, Unbalance, Unit};
use crate::vocabulary::plane::Method;
use crate::vocabulary::{calibrate, plane, result};

/// Rows of a table: more than a technician looks through.
const MOST: usize = 6;

/// What is done about one reading, in base units.
struct Row {
    reading: f64,
    unbalance: Unbalance,
    mass: Option<Mass>,
    depth: Option<Length>,
    holes: Option<u32>,
    pieces: Option<u32>,
    /// Half-way between two places: pieces, the depth of each of two cuts, or the mass.
    half_way: Option<f64>,
    /// Between two weights, or from one hole to the next.
    apart: Option<Angle>,
    /// The most that it leaves, as it is read.
    leaves: Option<f64>,
}

impl Row {
    fn tells_what_to_do(&self) -> bool {
        let amounts = [self.mass.map(Amount::raw), self.depth.map(Amount::raw), self.apart.map(Amount::raw)];
        amounts.iter().chain([&self.half_way, &self.pieces.map(f64::from)]).any(Option::is_some)
    }
}

/// A reading with the unbalance that it means.
struct Step {
    unit: Unit,
    reading: Indication,
    unbalance: Unbalance,
}

impl<'b> Worth<'_, 'b> {
    /// One row a reading: what it means, and what to take off or put on.
    pub fn table(&self, recorder: &mut Recorder<'b>) {
        let step = match self.step() {
            Ok(step) => step,
            Err(why) => return recorder.not_asked(self.spot, &[&result::DIVISION_TABLE], why),
        };
        let rows: Vec<Row> = self.multiples(&step).into_iter().map(|times| self.row(recorder, &step, times)).collect();
        if !rows.iter().any(Row::tells_what_to_do) {
            return recorder.not_asked(self.spot, &[&result::DIVISION_TABLE], self.why_nothing_to_do());
        }
        let length_unit = self.plane.geometry.length_unit();
        type Cell = fn(&Row) -> Option<f64>;
        let half_way =
            match rows.iter().find_map(|row| row.pieces.map(|_| Unit::ONE).or(row.depth.map(|_| length_unit))) {
                Some(unit) => unit,
                None => mass_unit(recorder),
            };
        let columns: [(Column, Cell, bool); 9] = [
            (Column { name: calibrate::READING.words(), unit: step.unit }, |row| Some(row.reading), true),
            (
                Column { name: result::RUN_UNBALANCE.name, unit: recorder.facts.shop.unbalance_unit },
                |row| Some(row.unbalance.raw()),
                true,
            ),
            (
                Column { name: calibrate::MASS.words(), unit: mass_unit(recorder) },
                |row| row.mass.map(Amount::raw),
                true,
            ),
            (Column { name: plane::DEPTH.words(), unit: length_unit }, |row| row.depth.map(Amount::raw), true),
            (Column { name: result::CORRECTION_HOLES.name, unit: Unit::ONE }, |row| row.holes.map(f64::from), false),
            (Column { name: calibrate::PIECES, unit: Unit::ONE }, |row| row.pieces.map(f64::from), false),
            (Column { name: calibrate::HALF_WAY, unit: half_way }, |row| row.half_way, false),
            (Column { name: calibrate::LEAVES, unit: step.unit }, |row| row.leaves, false),
            (Column { name: "apart", unit: Unit::DEGREE }, |row| row.apart.map(Amount::raw), false),
        ];
        // The first ones are there whatever is known of them; the others are those of the plane's method.
        let used: Vec<(Column, Cell)> = columns
            .into_iter()
            .filter(|(_, cell, always)| *always || rows.iter().any(|row| cell(row).is_some()))
            .map(|(column, cell, _)| (column, cell))
            .collect();
        let rows = rows.iter().map(|row| used.iter().map(|(_, cell)| cell(row)).collect()).collect();
        let columns = used.into_iter().map(|(column, _)| column).collect();
        recorder.push(self.spot, &result::DIVISION_TABLE, Outcome::Table { heads: Vec::new(), columns, rows }, None);
    }

    fn row(&self, recorder: &Recorder<'b>, step: &Step, times: f64) -> Row {
        let unbalance = step.unbalance * times;
        let reading = step.reading.value() * times;
        let geometry = &self.plane.geometry;
        let (each, radius) = (geometry.mass_each.get(), self.plane.radius.get());
        let is_sliding = self.plane.method == Some(Method::SlidingWeights);
        let spread = || spread_for(unbalance, each?, radius?).ok();
        let made = |wanted| self.plane.unturned(recorder, self.spot, unbalance, wanted).filter(|_| !is_sliding);
        let (at, half_way) = (made(Wanted::AtPlace), made(Wanted::HalfWay));
        // Without a method, or the facts of a cut, an unbalance is still a mass at the radius.
        let by_radius = || Some(unbalance / radius?);
        let mass = match at {
            Some(at) => at.mass,
            None if self.plane.places.is_some() || is_sliding => None,
            None => by_radius(),
        };
        let left = [at, half_way].into_iter().flatten().map(|made| made.left).fold(Unbalance::ZERO, Unbalance::max);
        let depth = at.and_then(|at| at.depth);
        Row {
            reading,
            unbalance,
            mass,
            depth,
            holes: at.filter(|_| depth.is_some()).and_then(|at| at.cuts).filter(|cuts| *cuts > 1),
            pieces: at.and_then(|at| at.pieces),
            half_way: half_way.and_then(by_hand),
            apart: match at.filter(|_| depth.is_some()).and_then(|at| at.apart) {
                Some(apart) => Some(apart),
                None => (is_sliding && self.is_a_pair(recorder)).then(spread).flatten(),
            },
            leaves: (left > unbalance * 1e-9).then(|| reading * (left / unbalance).value()),
        }
    }

    /// Why no reading has an answer at this plane.
    fn why_nothing_to_do(&self) -> WhyNot {
        let lacks = || self.plane.geometry.lacks(self.plane.method?).into_iter().next().cloned();
        match &self.plane.radius.known {
            Err(missing) => WhyNot::NoRadius(missing.clone()),
            Ok(_) if self.plane.method == Some(Method::SlidingWeights) => {
                "where each weight goes depends on where they all are".into()
            }
            Ok(_) => match (self.plane.geometry.mass_each.known.as_ref(), lacks()) {
                (_, Some(missing)) => WhyNot::Lacks(missing),
                (Err(missing), None) if self.plane.method.is_some_and(Method::is_in_pieces) => {
                    WhyNot::Lacks(missing.clone())
                }
                _ => "it is another one at each place".into(),
            },
        }
    }

    fn is_a_pair(&self, recorder: &Recorder<'b>) -> bool {
        let weights: Val<Ratio> = recorder.facts.number(&self.plane.block, plane::WEIGHTS);
        weights.is_left_out() || weights.get() == Some(Ratio::new(2.0))
    }

    /// Round multiples of a step, from the tolerance on, as far as the plane can be corrected and the readout reads.
    fn multiples(&self, step: &Step) -> Vec<f64> {
        let times = |most: Unbalance| (most / step.unbalance).value();
        let greatest = self.plane.greatest.as_ref().and_then(Val::get).map(times);
        let end = self.readout.end().map(|end| end / step.reading.value());
        let most = [greatest, end].into_iter().flatten().fold(f64::INFINITY, f64::min) * (1.0 + 1e-9);
        let tolerance = self.tolerance.get().map_or(1.0, times);
        let first = round(tolerance.min(most).max(1e-6));
        let rows = std::iter::successors(Some(first), |last| Some(next(*last)));
        rows.take_while(|times| *times <= most).take(MOST).collect()
    }

    /// One of what the readout shows, with its unbalance. Readings in base units of the readout.
    fn step(&self) -> Result<Step, WhyNot> {
        let unit = self.readout.unit;
        let reading = Indication::new(unit.to_base(1.0));
        let unbalance = match self.readout.mode().ok_or(SHOWS_NO_UNBALANCE)? {
            Mode::Divisions => self.one_division.known.clone().map_err(WhyNot::Lacks)?,
            Mode::Unbalance => {
                self.tolerance.known.clone().map_err(WhyNot::Lacks)?;
                reading.shown()
            }
            Mode::Mass => {
                let radius = self.plane.radius.known.clone().map_err(WhyNot::NoRadius)?;
                self.tolerance.known.clone().map_err(WhyNot::Lacks)?;
                reading.shown::<Mass>() * radius
            }
        };
        Ok(Step { unit, reading, unbalance })
    }
}

/// What is told of a correction half-way between two places: pieces, the depth of each of two cuts, or the mass.
fn by_hand(made: Unturned) -> Option<f64> {
    match made.cuts {
        Some(2) => made.depth.map(Amount::raw),
        Some(_) => None,
        None => made.pieces.map(f64::from).or(made.mass.map(Amount::raw)),
    }
}

/// The nearest of 1, 2, 5, 10 … below.
fn round(amount: f64) -> f64 {
    let power = 10f64.powf((amount * (1.0 + 1e-9)).log10().floor());
    let leading = amount / power * (1.0 + 1e-9);
    [5.0, 2.0].into_iter().find(|digit| leading >= *digit).unwrap_or(1.0) * power
}

/// The next of them.
fn next(amount: f64) -> f64 {
    let leading = amount / 10f64.powf((amount * (1.0 + 1e-9)).log10().floor());
    if (1.5..3.0).contains(&leading) { amount * 2.5 } else { amount * 2.0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_are_round() {
        let rows: Vec<f64> = std::iter::successors(Some(round(0.37)), |last| Some(next(*last))).take(6).collect();
        for (row, expected) in rows.iter().zip([0.2, 0.5, 1.0, 2.0, 5.0, 10.0]) {
            assert!((row - expected).abs() < 1e-12, "{rows:?}");
        }
        assert!((round(1.0) - 1.0).abs() < 1e-12 && (round(7.3) - 5.0).abs() < 1e-12);
    }
}
