//! What a measured unbalance does not show of the rotor: errors of arbor, fit and mounting.

use crate::book::derive::Val;
use crate::book::formulas as by;
use crate::book::results::measuring::Found;
use crate::book::results::rotor::results::RotorResults;
use crate::book::results::runs::index::IndexResults;
use crate::book::results::runs::run::{RunResults, Runner};
use crate::book::results::values::entry::{Column, Outcome, Recorder, Spot, origin};
use crate::book::vectors::Gathered;
use crate::mechanics::errors::combined_error;
use crate::mechanics::fits::{eccentricity_of_runout, unbalance_of_clearance, unbalance_of_eccentricity};
use crate::mechanics::planes::acting_at_bearings;
use crate::sheet::FieldValue;
use crate::units::{Amount, Angle, Length, Mass, Ratio, SpecificUnbalance, Typed, Unbalance, Unit, Vector};
use crate::vocabulary::{Fact, UnbalanceVector, arbor, result, setup};

/// A place where the rotor is judged.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Place {
    /// Of bearing A (0) or B (1).
    Bearing(usize),
    /// A plane by its number among those that the setup tells.
    Plane(usize),
}

/// One error at a place.
#[derive(Clone, Debug)]
pub struct ErrorShare {
    pub name: &'static str,
    pub amount: Val<Unbalance>,
}

/// What the errors of a record are found from.
pub(in crate::book::results) struct Sources<'a, 'b> {
    pub runner: &'a Runner<'a, 'b>,
    pub runs: &'a [RunResults<'b>],
    /// The runs in the state that is judged.
    pub state: &'a [usize],
    pub index: Option<&'a IndexResults<'b>>,
}

impl<'b> Sources<'_, 'b> {
    /// The errors at one place, and their combination.
    pub fn at(&self, recorder: &mut Recorder<'b>, spot: &Spot, place: Place) -> (Vec<ErrorShare>, Val<Unbalance>) {
        let mut shares = Vec::new();
        let mountings = self.mountings(recorder, spot, place);
        shares.extend(self.of_arbor_facts(recorder, spot, place, mountings.is_some()));
        shares.extend(mountings);
        shares.extend(self.of_index(recorder, spot, place));
        let amounts: Vec<Val<Unbalance>> = shares.iter().map(|share| share.amount.clone()).collect();
        let unit = recorder.facts.shop.unbalance_unit;
        let spec = &result::COMBINED_ERROR;
        let combined = recorder.on_the_way(spot, spec, unit, &by::COMBINED, &amounts[..], |amounts: Vec<Unbalance>| {
            combined_error(&amounts)
        });
        if shares.is_empty() {
            let why = "nothing is said of arbor, fit or mounting that puts in an error";
            recorder.not_asked(spot, &[spec, &result::ERRORS], why);
        } else {
            recorder.keep(spot, spec, &combined);
            let rows = shares.iter().map(|share| vec![share.amount.get().map(Amount::raw)]).collect();
            let heads = shares.iter().map(|share| share.name.into()).collect();
            let columns = vec![Column { name: result::RUN_UNBALANCE.name, unit }];
            recorder.push(spot, &result::ERRORS, Outcome::Table { heads, columns, rows }, None);
        }
        (shares, combined)
    }

    fn setup(&self) -> &crate::book::results::setup::SetupResults<'b> {
        self.runner.setup
    }

    /// Clearance, runout and centring of the arbor, and its own unbalance. What was indexed out is not among them.
    fn of_arbor_facts(
        &self,
        recorder: &Recorder<'b>,
        spot: &Spot,
        place: Place,
        mounting_is_measured: bool,
    ) -> Vec<ErrorShare> {
        let (Some(arbor), Some(rotor)) = (&self.setup().arbor, &self.setup().rotor) else { return Vec::new() };
        let indexed = self.index.is_some();
        let mut shares = Vec::new();
        let mut whole = |name: &'static str, fact: Fact<Length>, formula, of: fn(Mass, Length) -> _| {
            if arbor.field(fact).is_none() {
                return;
            }
            let length = recorder.facts.quantity(arbor, fact);
            shares.push(ErrorShare {
                name,
                amount: self.share_of_whole(recorder, spot, (rotor, place), &length, formula, of),
            });
        };
        whole("clearance of the fit", arbor::FIT_CLEARANCE, &by::OF_CLEARANCE, unbalance_of_clearance);
        if !indexed {
            whole("runout of the seat", arbor::RUNOUT, &by::OF_RUNOUT, |mass, runout| {
                unbalance_of_eccentricity(mass, eccentricity_of_runout(runout)?)
            });
        }
        if !mounting_is_measured {
            whole("centring", arbor::CENTRING_REPEATABILITY, &by::OF_CENTRING, |mass, length| {
                unbalance_of_eccentricity(mass, SpecificUnbalance::from_base(length.base()))
            });
        }
        if !indexed {
            shares.extend(self.of_arbor_unbalance(recorder, spot, place));
        }
        shares
    }

    /// A mass off centre acts at the mass centre: its share at a place is that of the levers.
    fn share_of_whole(
        &self,
        recorder: &Recorder<'b>,
        spot: &Spot,
        (rotor, place): (&RotorResults<'b>, Place),
        length: &Val<Length>,
        formula: &'static crate::book::formulas::Formula,
        of: fn(Mass, Length) -> crate::mechanics::Computed<Unbalance>,
    ) -> Val<Unbalance> {
        let unit = recorder.facts.shop.unbalance_unit;
        let spec = &result::COMBINED_ERROR;
        let mut gathered = Gathered::new();
        let (m, l) = (gathered.value(&rotor.mass), gathered.value(length));
        let lever = self.lever_of_mass_centre(&mut gathered, rotor, place);
        gathered.work_out_one((origin(spot, spec), unit), recorder.explained(formula), |numbers| {
            Ok(of(numbers.value(m), numbers.value(l))? * lever.of(numbers)?)
        })
    }

    /// How much of an unbalance at the mass centre acts at a place.
    fn lever_of_mass_centre(&self, gathered: &mut Gathered, rotor: &RotorResults<'b>, place: Place) -> Lever {
        let share = |of: &Val<Unbalance>| {
            let share = of.get().zip(rotor.permissible.get()).map(|(of, whole)| of / whole);
            Lever::Share(share.unwrap_or(Ratio::new(1.0)))
        };
        let ends: Option<([&Val<Length>; 2], usize)> = match place {
            Place::Bearing(n) => Some(([&rotor.bearings[0], &rotor.bearings[1]], n)),
            Place::Plane(n) => {
                let planes: Vec<_> = self.runner.measuring.planes.iter().filter_map(|name| rotor.plane(name)).collect();
                match planes[..] {
                    [first, second] => Some(([&first.at, &second.at], n)),
                    [_] => return Lever::Share(Ratio::new(1.0)),
                    _ => None,
                }
            }
        };
        match ends {
            Some((ends, n)) if rotor.mass_centre.is_known() && ends.iter().all(|end| end.is_known()) => {
                let places = ends.map(|end| gathered.value(end));
                Lever::Of { ends: places, at: gathered.value(&rotor.mass_centre), n }
            }
            _ => match place {
                Place::Bearing(n) => share(&rotor.at_bearings[n]),
                Place::Plane(n) => {
                    let plane = self.runner.measuring.planes.get(n).and_then(|name| rotor.plane(name));
                    plane.map_or(Lever::Share(Ratio::new(1.0)), |plane| share(&plane.tolerance))
                }
            },
        }
    }

    /// The arbor's own unbalance at its two sides, at the worst phase: it turns with the rotor, at no known angle to it.
    fn of_arbor_unbalance(&self, recorder: &Recorder<'b>, spot: &Spot, place: Place) -> Option<ErrorShare> {
        let setup = self.setup();
        let arbor = setup.arbor.as_ref()?;
        let side = |fact: Fact<UnbalanceVector>| -> Option<Val<Unbalance>> {
            let field = arbor.field(fact)?;
            let origin = recorder.facts.origin(arbor, fact, Some(field));
            match &field.field.value {
                FieldValue::Reading(reading) => Some(recorder.facts.stated(arbor, field, &reading.amount, origin)),
                _ => Some(Val::missing(origin, crate::book::origin::Reason::Unreadable, Unit::ONE)),
            }
        };
        let sides = [side(arbor::UNBALANCE_LEFT), side(arbor::UNBALANCE_RIGHT)];
        if sides.iter().all(Option::is_none) {
            return None;
        }
        let rotor = setup.rotor.as_ref()?;
        let supports = [0, 1].map(|n| recorder.facts.nth(&setup.block, setup::SUPPORTS_AT, n));
        let ends: Option<[Val<Length>; 2]> = match place {
            Place::Bearing(_) => Some(rotor.bearings.clone()),
            Place::Plane(_) => {
                let planes: Vec<_> = self.runner.measuring.planes.iter().filter_map(|name| rotor.plane(name)).collect();
                match planes[..] {
                    [first, second] => Some([first.at.clone(), second.at.clone()]),
                    _ => None,
                }
            }
        };
        let (Place::Bearing(n) | Place::Plane(n)) = place;
        let mut gathered = Gathered::new();
        let amounts: Vec<Option<usize>> =
            sides.iter().map(|side| side.as_ref().map(|side| gathered.value(side))).collect();
        let known = ends.filter(|ends| ends.iter().chain(&supports).all(Val::is_known));
        let levers = known.map(|ends| {
            (ends.each_ref().map(|end| gathered.value(end)), supports.each_ref().map(|at| gathered.value(at)))
        });
        let here = (origin(spot, &result::COMBINED_ERROR), recorder.facts.shop.unbalance_unit);
        let amount = gathered.work_out_one(here, recorder.explained(&by::OF_ARBOR), |numbers| {
            let amount = |side: usize| amounts[side].map_or(Unbalance::ZERO, |at| numbers.value(at));
            // Without places, each side is taken to act on its own end whole.
            let Some((ends, supports)) = &levers else { return Ok(amount(n.min(1))) };
            let mut sum = Unbalance::ZERO;
            for side in [0, 1] {
                let along = Vector::from_polar(amount(side), Angle::ZERO);
                let acting =
                    acting_at_bearings(&[(along, numbers.value(supports[side]))], ends.map(|end| numbers.value(end)))?;
                sum = sum + acting[n.min(1)].amount();
            }
            Ok(sum)
        });
        Some(ErrorShare { name: setup::ARBOR.words(), amount })
    }

    /// How far three or more mountings lie from their mean; two, from each other, as neither is known to be the better.
    fn mountings(&self, recorder: &Recorder<'b>, spot: &Spot, place: Place) -> Option<ErrorShare> {
        let first = *self.state.first()?;
        let same_seat = |run: &usize| match (&self.runs[*run].turned, &self.runs[first].turned) {
            (None, None) => true,
            (Some(a), Some(b)) => a.get() == b.get(),
            _ => false,
        };
        let again = self.state.iter().skip(1).filter(|run| self.runs[**run].remounted == Some(true));
        let mounted: Vec<usize> = std::iter::once(first).chain(again.copied()).filter(same_seat).collect();
        if mounted.len() < 2 {
            return None;
        }
        let unit = recorder.facts.shop.unbalance_unit;
        let amount = self.scatter(recorder, spot, place, &mounted, unit)?;
        Some(ErrorShare { name: "repeated mounting", amount })
    }

    fn scatter(
        &self,
        recorder: &Recorder<'b>,
        spot: &Spot,
        place: Place,
        mounted: &[usize],
        unit: Unit,
    ) -> Option<Val<Unbalance>> {
        let mut gathered = Gathered::new();
        let spec = &result::COMBINED_ERROR;
        let found: Vec<Found> = mounted.iter().map(|run| at_place(&self.runs[*run], place)).collect::<Option<_>>()?;
        let vectors: Option<Vec<_>> = found.iter().map(Found::vector).collect();
        let (here, formula) = ((origin(spot, spec), unit), recorder.explained(&by::OF_MOUNTINGS));
        let value: Val<Unbalance> = match vectors {
            Some(vectors) => {
                let at: Vec<usize> = vectors.into_iter().map(|vector| gathered.vector(vector)).collect();
                gathered.work_out_one(here, formula, |numbers| {
                    Ok(farthest(&at.iter().map(|at| numbers.vector(*at)).collect::<Vec<_>>()))
                })
            }
            None => {
                let at: Vec<usize> = found.iter().map(|one| gathered.value(&one.amount())).collect();
                gathered.work_out_one(here, formula, |numbers| {
                    let along = |at: &usize| Vector { x: numbers.value(*at), y: Unbalance::ZERO };
                    Ok(farthest(&at.iter().map(along).collect::<Vec<_>>()))
                })
            }
        };
        // The scatter is itself an uncertainty.
        Some(Val { contributions: Default::default(), ..value })
    }

    /// How far indexed runs lie from what arbor and rotor explain; at a bearing, all planes at the worst phase.
    fn of_index(&self, recorder: &Recorder<'b>, spot: &Spot, place: Place) -> Option<ErrorShare> {
        let index = self.index?;
        let name = "indexed runs";
        match place {
            Place::Plane(n) => Some(ErrorShare { name, amount: index.planes.get(n)?.scatter.clone()? }),
            Place::Bearing(n) => {
                let rotor = self.setup().rotor.as_ref()?;
                let scatter: Vec<&Val<Unbalance>> =
                    index.planes.iter().map(|plane| plane.scatter.as_ref()).collect::<Option<_>>()?;
                let mut gathered = Gathered::new();
                let read: Vec<(usize, usize)> = scatter
                    .iter()
                    .zip(&index.planes)
                    .map(|(scatter, plane)| (gathered.value(*scatter), gathered.value(&self.runner.at(plane.name))))
                    .collect();
                let bearings = rotor.bearings.each_ref().map(|bearing| gathered.value(bearing));
                let here = (origin(spot, &result::COMBINED_ERROR), recorder.facts.shop.unbalance_unit);
                let amount = gathered.work_out_one(here, recorder.explained(&by::COMBINED), |numbers| {
                    let mut sum = Unbalance::ZERO;
                    for (scatter, at) in &read {
                        let along = Vector::from_polar(numbers.value::<Unbalance>(*scatter), Angle::ZERO);
                        let bearings = bearings.map(|bearing| numbers.value(bearing));
                        sum = sum + acting_at_bearings(&[(along, numbers.value(*at))], bearings)?[n].amount();
                    }
                    Ok(sum)
                });
                Some(ErrorShare { name, amount })
            }
        }
    }
}

/// How far mountings lie apart: from their mean, where there are enough for one.
fn farthest(mountings: &[Vector<Unbalance>]) -> Unbalance {
    if let [first, second] = mountings {
        return (*first - *second).amount();
    }
    let mean = mountings.iter().copied().sum::<Vector<Unbalance>>() / mountings.len() as f64;
    mountings.iter().map(|one| (*one - mean).amount()).fold(Unbalance::ZERO, Unbalance::max)
}

/// How much of the whole acts at a place.
enum Lever {
    Share(Ratio),
    Of { ends: [usize; 2], at: usize, n: usize },
}

impl Lever {
    fn of(&self, numbers: &crate::book::vectors::Numbers) -> crate::mechanics::Computed<Ratio> {
        match self {
            Lever::Share(share) => Ok(*share),
            Lever::Of { ends, at, n } => {
                let one = Unbalance::gram_millimetres(1.0);
                let along = Vector::from_polar(one, Angle::ZERO);
                let acting = acting_at_bearings(&[(along, numbers.value(*at))], ends.map(|end| numbers.value(end)))?;
                Ok(acting[*n].amount() / one)
            }
        }
    }
}

/// What a run shows at a place.
pub(in crate::book::results) fn at_place(run: &RunResults<'_>, place: Place) -> Option<Found> {
    match place {
        Place::Bearing(n) => run.at_bearings.as_ref().map(|bearings| Found::Vector(bearings[n].clone())),
        Place::Plane(n) => run.planes.get(n).map(|plane| plane.unbalance.clone()),
    }
}
