//! The rows of a verdict: what acts at each limit that stands.

use super::state::State;
use crate::book::derive::Val;
use crate::book::formulas as by;
use crate::book::origin::Reason;
use crate::book::results::rotor::limits::{Acts, Limit, PlaneAt};
use crate::book::results::runs::stand::TELLS_THE_SUM;
use crate::book::results::values::entry::{Recorder, Spot, origin};
use crate::book::vectors::{Gathered, Numbers, VectorVal, components};
use crate::mechanics::limits::{Acting, Row};
use crate::units::{Length, Typed, Unbalance, Unit, Vector};
use crate::vocabulary::result;

/// One limit with what acts at it.
pub(in crate::book::results) struct JudgedRow<'l> {
    pub limit: &'l Limit,
    /// The places of the planes that the setup tells.
    pub places: Vec<Val<Length>>,
    /// `None` while one of its numbers is not known.
    pub acting: Option<Acting>,
    pub row: Option<Row>,
    /// At the worst phase, where only amounts are known.
    pub measured: Val<Unbalance>,
    /// The same with its angle; `None` where only amounts are known.
    pub vector: Option<VectorVal<Unbalance>>,
    /// At the best phase, and however much more there is in a plane that read to the end of its scale.
    pub best: Option<Unbalance>,
    /// Whether such a plane acts here.
    pub is_at_least: bool,
}

impl<'l> JudgedRow<'l> {
    /// `unread` is a plane that shares the tolerance and is not read.
    pub fn of(recorder: &Recorder<'_>, spot: &Spot, state: &State<'_>, limit: &'l Limit, unread: Option<&str>) -> Self {
        let spot = spot.with(limit.of.clone());
        let places: Vec<Val<Length>> = state.planes.iter().map(|plane| plane.at.clone()).collect();
        let none = |measured| {
            let places = places.clone();
            Self { limit, places, acting: None, row: None, measured, vector: None, best: None, is_at_least: false }
        };
        let lacks = match limit.acts {
            Acts::Sum if state.is_sum_alone => None,
            _ if state.is_sum_alone => Some(TELLS_THE_SUM.to_owned()),
            _ => not_read(state, limit, unread)
                .map(|plane| format!("plane {plane} counts here, and nothing tells its unbalance")),
        };
        if let Some(why) = lacks {
            let here = origin(&spot, &result::MEASURED);
            return none(Val::missing(here, Reason::Impossible(why.into()), Unit::GRAM_MILLIMETRE));
        }
        let mut gathered = Gathered::new();
        let names: Vec<PlaneAt<'_>> = state.planes.iter().map(|plane| (plane.name, &plane.at)).collect();
        let at = limit.gather(&mut gathered, &names);
        let numbers = gathered.numbers();
        let row = numbers.as_ref().and_then(|numbers| at.row(numbers).ok());
        let acting = numbers.as_ref().map(|numbers| at.acting(numbers));
        let unit = recorder.facts.shop.unbalance_unit;
        let here = (origin(&spot, &result::MEASURED), unit);
        let rows = |numbers: &Numbers| at.row(numbers);
        if let Acts::InPlane = limit.acts {
            let own = state.planes.iter().find(|plane| limit.of.plane() == Some(plane.name));
            let measured = own.map(|plane| Val { origin: here.0, ..plane.found.amount() });
            let Some(measured) = measured else { return none(limit.amount.clone()) };
            let is_at_least = own.is_some_and(|plane| plane.is_at_least);
            let vector = own.and_then(|plane| plane.found.vector().cloned());
            return Self { best: measured.get(), acting, row, is_at_least, vector, ..none(measured) };
        }
        let Some(vectors) = state.vectors() else {
            let amounts: Vec<usize> = state.planes.iter().map(|plane| gathered.value(&plane.found.amount())).collect();
            let read = |numbers: &Numbers| amounts.iter().map(|at| numbers.value(*at)).collect::<Vec<Unbalance>>();
            let best = gathered.numbers().and_then(|numbers| Some(rows(&numbers).ok()?.best(&read(&numbers))));
            let worst = gathered.work_out_one(here, recorder.explained(&by::WORST_PHASE), |numbers| {
                Ok(rows(numbers)?.worst(&read(numbers)))
            });
            let is_at_least = state.planes.iter().any(|plane| plane.is_at_least);
            let best = if is_at_least { None } else { best };
            return Self { best, acting, row, is_at_least, ..none(worst) };
        };
        let vectors: Vec<usize> = vectors.into_iter().map(|vector| gathered.vector(vector)).collect();
        let formula = match limit.acts {
            Acts::AtBearing(0, _) => &by::ACTING_AT_A,
            Acts::AtBearing(..) => &by::ACTING_AT_B,
            Acts::About(_) => &by::COUPLE_SUM,
            Acts::Sum | Acts::InPlane => &by::STATIC_SUM,
        };
        let elsewhere: Vec<(usize, usize)> =
            state.elsewhere.iter().map(|one| (gathered.vector(&one.unbalance), gathered.value(&one.at))).collect();
        let formula = if elsewhere.is_empty() { formula } else { &by::ACTING_WITH_MASSES_ELSEWHERE };
        let outputs = gathered.work_out(recorder.explained(formula), |numbers| {
            let read: Vec<Vector<Unbalance>> = vectors.iter().map(|vector| numbers.vector(*vector)).collect();
            let row = rows(numbers)?;
            let mut sum = row.acting(&read);
            for (vector, place) in &elsewhere {
                // The only plane has it as if it were there.
                let own = at.acting(numbers).lever(numbers.value(*place), &[])?;
                sum = sum + numbers.vector::<Unbalance>(*vector) * (own.value() - row.lever(0).value());
            }
            Ok(components([sum]))
        });
        let vector = outputs.vector::<Unbalance>(0, here.0, unit);
        let measured = vector.amount();
        let is_at_least = state.planes.iter().any(|plane| plane.is_at_least);
        let best = if is_at_least { row.as_ref().and_then(|row| least(state, row)) } else { measured.get() };
        Self { best, acting, row, is_at_least, vector: Some(vector), ..none(measured) }
    }
}

/// The least that acts where one plane has what it read or any more in the same direction; `None` of more such planes.
fn least(state: &State<'_>, row: &Row) -> Option<Unbalance> {
    let vectors: Vec<Vector<Unbalance>> =
        state.vectors()?.into_iter().map(|vector| vector.get()).collect::<Option<_>>()?;
    let mut open = (0..vectors.len()).filter(|plane| state.planes[*plane].is_at_least);
    let (plane, None) = (open.next()?, open.next()) else { return None };
    let own = vectors[plane] * row.lever(plane).value();
    let others = row.acting(&vectors) - own;
    let along = own.x.base() * others.x.base() + own.y.base() * others.y.base();
    let square = own.amount().base().powi(2);
    let times = if square > 0.0 { (-along / square).max(1.0) } else { 1.0 };
    Some((own * times + others).amount())
}

/// The plane that a limit needs and nothing reads.
fn not_read<'n>(state: &State<'_>, limit: &'n Limit, unread: Option<&'n str>) -> Option<&'n str> {
    match (&limit.acts, limit.of.plane()) {
        (Acts::InPlane, own) => own.filter(|own| !state.planes.iter().any(|plane| plane.name == *own)),
        _ => unread,
    }
}
