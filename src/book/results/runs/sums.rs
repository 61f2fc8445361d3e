//! The unbalances of all planes together: their sum, and their moment.

use std::sync::Arc;

use crate::book::derive::Val;
use crate::book::formulas::{self as by, Formula};
use crate::book::origin::Missing;
use crate::book::results::plane::extra::Elsewhere;
use crate::book::results::values::entry::{Meaning, Recorder, Spot, origin};
use crate::book::vectors::{Gathered, VectorVal, components};
use crate::mechanics::known_masses::resultant_and_moment;
use crate::mechanics::planes;
use crate::units::{Couple, Length, Unbalance, Vector};
use crate::vocabulary::{Sense, result};

/// Of the planes with their places; the moment about the mass centre, or about the middle of the planes where that is not
/// known.
pub(in crate::book::results) fn static_and_couple(
    recorder: &mut Recorder<'_>,
    spot: &Spot,
    read: &[(&VectorVal<Unbalance>, Val<Length>)],
    mass_centre: &Val<Length>,
    sense: &Result<Sense, Arc<Missing>>,
) -> (VectorVal<Unbalance>, VectorVal<Couple>) {
    let mut gathered = Gathered::new();
    let vectors: Vec<usize> = read.iter().map(|(vector, _)| gathered.vector(*vector)).collect();
    let outputs = gathered.work_out(recorder.explained(&by::STATIC_SUM), |numbers| {
        Ok(components([vectors.iter().map(|at| numbers.vector::<Unbalance>(*at)).sum()]))
    });
    let spec = &result::STATIC_UNBALANCE;
    let sum = outputs.vector(0, origin(spot, spec), recorder.facts.shop.unbalance_unit);
    recorder.keep_vector(spot, spec, &sum, Meaning::HeavySpot, sense);
    let mut gathered = Gathered::new();
    let read: Vec<(usize, usize)> =
        read.iter().map(|(vector, at)| (gathered.vector(*vector), gathered.value(at))).collect();
    let centre = mass_centre.is_known().then(|| gathered.value(mass_centre));
    let outputs = gathered.work_out(recorder.explained(&by::COUPLE_SUM), |numbers| {
        let known: Vec<(Vector<Unbalance>, Length)> =
            read.iter().map(|(vector, at)| (numbers.vector(*vector), numbers.value(*at))).collect();
        let middle = known.iter().map(|(_, at)| *at).sum::<Length>() / known.len() as f64;
        let about = centre.map_or(middle, |centre| numbers.value(centre));
        Ok(components([resultant_and_moment(&known, about).1]))
    });
    let spec = &result::COUPLE_UNBALANCE;
    let couple = outputs.vector(0, origin(spot, spec), recorder.facts.shop.couple_unit());
    recorder.keep_vector(spot, spec, &couple, Meaning::HeavySpot, sense);
    (sum, couple)
}

/// The unbalance of a plane, and its axial place.
type AtPlace<'v> = (&'v VectorVal<Unbalance>, Val<Length>);

/// What the planes with their places do at one of two bearings, by number.
pub(in crate::book::results) fn at_bearing(
    recorder: &Recorder<'_>,
    spot: &Spot,
    formula: &'static Formula,
    (read, elsewhere, bearings): (&[AtPlace<'_>], &[Elsewhere], &[Val<Length>; 2]),
    number: usize,
) -> VectorVal<Unbalance> {
    let mut gathered = Gathered::new();
    let read: Vec<(usize, usize)> =
        read.iter().map(|(vector, at)| (gathered.vector(*vector), gathered.value(at))).collect();
    let elsewhere: Vec<(usize, usize)> =
        elsewhere.iter().map(|one| (gathered.vector(&one.unbalance), gathered.value(&one.at))).collect();
    let formula = if elsewhere.is_empty() { formula } else { &by::ACTING_WITH_MASSES_ELSEWHERE };
    let bearings = bearings.each_ref().map(|at| gathered.value(at));
    let outputs = gathered.work_out(recorder.explained(formula), |numbers| {
        let unbalances: Vec<(Vector<Unbalance>, Length)> =
            read.iter().map(|(vector, at)| (numbers.vector(*vector), numbers.value(*at))).collect();
        // The only plane has each of them as if it were there.
        let moved = elsewhere.iter().flat_map(|(vector, at)| {
            let own: Vector<Unbalance> = numbers.vector(*vector);
            [(own, numbers.value(*at)), (-own, unbalances[0].1)]
        });
        let unbalances: Vec<(Vector<Unbalance>, Length)> = unbalances.iter().copied().chain(moved).collect();
        let bearings = bearings.map(|at| numbers.value(at));
        Ok(components([planes::acting_at_bearings(&unbalances, bearings)?[number]]))
    });
    outputs.vector(0, origin(spot, &result::RUN_UNBALANCE), recorder.facts.shop.unbalance_unit)
}
