//! What of a rotor and its setup counts for likeness.

use crate::book::{PlaneResults, RotorResults, SetupResults, Val, display_value};
use crate::sheet::FieldValue;
use crate::units::{Length, Speed, Typed, Unbalance, Unit};
use crate::vocabulary::Sense;
use crate::vocabulary::plane::{CorrectBy, Method};
use crate::vocabulary::rotor::BearingArrangement;
use crate::vocabulary::{Choice, machine, plane, result, rotor};

struct Plane {
    name: String,
    /// From one end of the span to the other; in m where there is no span.
    at: f64,
    method: Option<Method>,
    correct: Option<CorrectBy>,
    radius: Option<f64>,
}

pub(super) struct Features {
    mass: Option<f64>,
    span: Option<f64>,
    diameter: Option<f64>,
    tolerance: Option<f64>,
    speed: Option<f64>,
    /// Whether it has bearings of its own, else it sits on an arbor.
    has_bearings: bool,
    is_overhung: bool,
    planes: Vec<Plane>,
    /// In which sense its angles count.
    sense: Option<Sense>,
    /// What the machine takes, from the least to the most: mass, diameter, and distance between bearings.
    takes: [Option<[f64; 2]>; 3],
}

/// As a factor of two. Common practice, no source.
const NOT_STATED: f64 = std::f64::consts::LN_2;

fn base<T: Typed>(value: &Val<T>) -> Option<f64> {
    value.get().map(Typed::base).filter(|value| *value > 0.0)
}

impl Features {
    pub fn of(rotor: &RotorResults<'_>, setup: Option<&SetupResults<'_>>) -> Self {
        let bearings = rotor.bearings.each_ref().map(|at| at.get().map(Length::base));
        let span = bearings[0].zip(bearings[1]).map(|(a, b)| (b - a).abs()).filter(|span| *span > 0.0);
        let first = bearings[0].zip(bearings[1]).map(|(a, b)| a.min(b));
        let at = |plane: &PlaneResults<'_>| {
            let at = plane.at.get().map_or(0.0, Length::base);
            match (first, span) {
                (Some(first), Some(span)) => (at - first) / span,
                _ => at,
            }
        };
        let one = |plane: &PlaneResults<'_>| Plane {
            name: plane.name.to_owned(),
            at: at(plane),
            method: plane.method,
            correct: plane.block.choice(plane::CORRECT),
            radius: base(&plane.radius),
        };
        let mut planes: Vec<Plane> = rotor.planes.iter().map(one).collect();
        planes.sort_by(|a, b| a.at.total_cmp(&b.at));
        let diameter = match rotor.block.field(rotor::LARGEST_DIAMETER).map(|field| &field.field.value) {
            Some(FieldValue::Quantity(stated)) => Some(stated.base),
            _ => None,
        };
        let radii = planes.iter().filter_map(|plane| plane.radius).fold(0.0, f64::max);
        let range = |fact: &str| {
            let block = &setup?.machine.as_ref()?.block;
            match &block.fields.iter().find(|field| field.key.name == fact)?.field.value {
                FieldValue::Range(range) => {
                    Some([range.low.map_or(0.0, |low| low.base), range.high.map_or(f64::INFINITY, |high| high.base)])
                }
                FieldValue::Quantity(stated) => Some([0.0, stated.base]),
                _ => None,
            }
        };
        Self {
            mass: base(&rotor.mass),
            span,
            diameter: diameter.or((radii > 0.0).then_some(2.0 * radii)),
            tolerance: base::<Unbalance>(&rotor.permissible),
            speed: base::<Speed>(&rotor.service_speed),
            has_bearings: span.is_some(),
            is_overhung: rotor.is_overhung,
            planes,
            sense: rotor.block.choice(rotor::ANGLES_COUNT),
            takes: [machine::ROTOR_MASS.words(), machine::SWING.words(), machine::BETWEEN_SUPPORTS.words()].map(range),
        }
    }

    /// How far the proven rotor, `self`, is from the one that is wanted, and what differs, in words.
    pub fn beside(&self, wanted: &Self) -> (f64, Vec<String>) {
        let (mut distance, mut differs) = (0.0, Vec::new());
        let mut ratio = |own: Option<f64>, new: Option<f64>, weight: f64, what: &str, shown: &dyn Fn(f64) -> String| {
            let Some(new) = new else { return };
            let Some(own) = own else {
                // What nobody knows to agree counts as if it did not, or a sheet would be nearer for saying less.
                distance += weight * NOT_STATED;
                differs.push(format!("{what} is not stated there, this one {}", shown(new)));
                return;
            };
            let apart = (new / own).ln().abs();
            distance += weight * apart;
            if apart > 0.05 {
                differs.push(format!("{what} {}, this one {}", shown(own), shown(new)));
            }
        };
        let of = |unit: Unit| move |value: f64| display_value(value, unit, 0.0);
        ratio(self.mass, wanted.mass, 1.0, rotor::MASS.words(), &of(Unit::KILOGRAM));
        ratio(self.span, wanted.span, 1.0, "between bearings", &of(Unit::MILLIMETRE));
        ratio(self.diameter, wanted.diameter, 0.5, plane::DIAMETER.words(), &of(Unit::MILLIMETRE));
        ratio(self.tolerance, wanted.tolerance, 0.5, result::PERMISSIBLE.name, &of(Unit::GRAM_MILLIMETRE));
        ratio(self.speed, wanted.speed, 0.3, "service speed", &of(Unit::RPM));
        if self.planes.len() != wanted.planes.len() {
            distance += 3.0;
            differs.push(format!("{}, this one {}", counted(self.planes.len()), counted(wanted.planes.len())));
        } else {
            for (own, new) in self.planes.iter().zip(&wanted.planes) {
                distance += plane(own, new, self.has_bearings && wanted.has_bearings, &mut differs);
            }
        }
        if self.has_bearings != wanted.has_bearings {
            // Where the planes lie in the span cannot be compared either.
            distance += 1.5;
            let on = |has: bool| if has { "in its own bearings" } else { "on an arbor" };
            differs.push(format!("{}, this one {}", on(self.has_bearings), on(wanted.has_bearings)));
        }
        if self.is_overhung != wanted.is_overhung {
            distance += 1.0;
            let lies =
                |overhung: bool| if overhung { BearingArrangement::Overhung.words() } else { "between its bearings" };
            differs.push(format!("{}, this one {}", lies(self.is_overhung), lies(wanted.is_overhung)));
        }
        if let (Some(own), Some(new)) = (self.sense, wanted.sense)
            && own != new
        {
            // What is written of one holds for the other mirrored.
            distance += 0.3;
            differs.push(format!("{} {}, this one {}", rotor::ANGLES_COUNT.words(), own.words(), new.words()));
        }
        let taken = [
            (wanted.mass, rotor::MASS.words(), Unit::KILOGRAM),
            (wanted.diameter, plane::DIAMETER.words(), Unit::MILLIMETRE),
            (wanted.span, "distance between bearings", Unit::MILLIMETRE),
        ];
        for ((value, what, unit), takes) in taken.into_iter().zip(self.takes) {
            if let (Some(value), Some([low, high])) = (value, takes)
                && !(low * (1.0 - 1e-9)..=high * (1.0 + 1e-9)).contains(&value)
            {
                distance += 4.0;
                let shown = of(unit);
                let takes = match (low > 0.0, high.is_finite()) {
                    (true, true) => format!("{} to {}", shown(low), shown(high)),
                    (true, false) => format!("{} or more", shown(low)),
                    (false, _) => format!("no more than {}", shown(high)),
                };
                let value = shown(value);
                differs.push(format!("its machine does not take the {what} of this one, {value}, but {takes}"));
            }
        }
        (distance, differs)
    }
}

fn counted(planes: usize) -> String {
    format!("{planes} plane{}", if planes == 1 { "" } else { "s" })
}

fn plane(own: &Plane, new: &Plane, by_span: bool, differs: &mut Vec<String>) -> f64 {
    let mut distance = 0.0;
    let names = if own.name == new.name { own.name.clone() } else { format!("{} and {}", own.name, new.name) };
    if by_span {
        let apart = (own.at - new.at).abs();
        distance += 2.0 * apart;
        if apart > 0.05 {
            let place = |at: f64| format!("{:.0} %", at * 100.0);
            differs.push(format!("{names} at {} of the span, this one {}", place(own.at), place(new.at)));
        }
    }
    if own.method != new.method && own.method.is_some() && new.method.is_some() {
        distance += if own.correct == new.correct { 0.4 } else { 0.7 };
        let words = |method: Option<Method>| method.map_or("?", Choice::words);
        differs.push(format!("{names} by {}, this one by {}", words(own.method), words(new.method)));
    } else if own.correct != new.correct && own.correct.is_some() && new.correct.is_some() {
        distance += 0.5;
        let words = |correct: Option<CorrectBy>| correct.map_or("?", Choice::words);
        differs.push(format!("{names}: {}, this one {}", words(own.correct), words(new.correct)));
    }
    if let (Some(a), Some(b)) = (own.radius, new.radius) {
        let apart = (b / a).ln().abs();
        distance += 0.2 * apart;
    }
    distance
}
