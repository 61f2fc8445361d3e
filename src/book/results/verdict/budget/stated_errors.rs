//! Errors that machine, arbor or setup state, as lines of the budget.

use super::line::{At, Known, Line, Sources, group};
use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::results::plane::extra::place_of_error;
use crate::book::results::setup::SetupResults;
use crate::book::results::values::entry::Recorder;
use crate::mechanics::budget::Part;
use crate::mechanics::limits::Acting;
use crate::sheet::{FieldValue, StatedReading};
use crate::syntax::Kind;
use crate::units::{Dimension, Length, Ratio, Typed, Unbalance};
use crate::vocabulary::balance_error::ErrorOf;
use crate::vocabulary::machine::Drive;
use crate::vocabulary::shop::BudgetLine;
use crate::vocabulary::{Choice, balance_error};

impl<'b> Sources<'_, 'b> {
    /// Adds what is stated to the lines of a budget.
    pub(super) fn state_errors(&self, recorder: &Recorder<'b>, at: &At<'_, 'b>, lines: &mut Vec<Line>) {
        for (n, block) in self.stating_errors().enumerate() {
            state_error(block, self.of_stated(recorder, at, block, n), lines);
        }
    }

    /// `None` where it has no amount, or a share of nothing.
    fn of_stated(
        &self,
        recorder: &Recorder<'b>,
        at: &At<'_, 'b>,
        block: &EffectiveBlock<'b>,
        n: usize,
    ) -> Option<Vec<Part>> {
        let field = block.field(balance_error::AMOUNT)?;
        let FieldValue::Reading(reading) = &field.field.value else { return None };
        let of = |share: Part| Some(vec![Part { group: group(FIRST, n), ..share }]);
        let planes = || at.planes().filter(|plane| self.acts_in(block, *plane));
        if reading.amount.dimension() != Dimension::UNBALANCE {
            let share = Ratio::new(reading.amount.base);
            let sum = match block.choice(balance_error::OF)? {
                ErrorOf::OwnReading => planes().map(|plane| at.of_reading(plane, share)).sum(),
                ErrorOf::OtherPlanes => planes().map(|plane| self.of_others(at, plane, share)).sum(),
            };
            return of(Part::up_to(sum, 0));
        }
        let (amount, left) = self.unbalance(recorder, block)?;
        let here = |amount: Unbalance| self.here(recorder, at, block, amount);
        match left {
            Some(left) => of(Part::known_to(here(left), 0)),
            None => of(Part::at_any_angle(here(amount.get()?), 0)),
        }
    }

    /// An error that is stated as an unbalance, and what is left of it where it is taken out of readings.
    fn unbalance(
        &self,
        recorder: &Recorder<'b>,
        block: &EffectiveBlock<'b>,
    ) -> Option<(Val<Unbalance>, Option<Unbalance>)> {
        let field = block.field(balance_error::AMOUNT)?;
        let FieldValue::Reading(reading) = &field.field.value else { return None };
        if reading.amount.dimension() != Dimension::UNBALANCE {
            return None;
        }
        let origin = recorder.facts.origin(block, balance_error::AMOUNT, Some(field));
        let amount: Val<Unbalance> = recorder.facts.stated(block, field, &reading.amount, origin);
        let left = self.known_once_out(reading, &amount);
        Some((amount, left))
    }

    /// The blocks that state an error of these readings.
    fn stating_errors(&self) -> impl Iterator<Item = &EffectiveBlock<'b>> {
        stating_errors(self.runner.setup, self.index.is_some())
    }

    fn place(&self, recorder: &Recorder<'b>, block: &EffectiveBlock<'b>) -> Val<Length> {
        let planes = self.runner.setup.rotor.as_ref().map_or(&[][..], |rotor| &rotor.planes);
        place_of_error(&recorder.facts, block, planes)
    }

    /// What a stated error comes to here: by its place along the rotor, else as if each plane had it.
    fn here(
        &self,
        recorder: &Recorder<'b>,
        at: &At<'_, 'b>,
        block: &EffectiveBlock<'b>,
        amount: Unbalance,
    ) -> Unbalance {
        let place = self.place(recorder, block);
        match place.is_left_out() {
            true => at.planes().map(|plane| at.of_plane(plane, amount)).sum(),
            false => at.of_place(place.get(), amount),
        }
    }

    /// What a vector at an angle is known to along any direction, once it is taken out of readings with angles.
    fn known_once_out(&self, reading: &StatedReading, amount: &Val<Unbalance>) -> Option<Unbalance> {
        let angle = reading.angle.as_ref().filter(|_| self.state.vectors().is_some())?;
        let across = angle.stated_uncertainty().unwrap_or(angle.half_step / 3f64.sqrt());
        let along = amount.standard_uncertainty();
        Some(Unbalance::from_base(along.hypot(amount.get()?.base() * across)))
    }

    /// What stated vectors come to here that are taken out of every reading.
    pub fn taken_out_at(&self, recorder: &Recorder<'b>, at: &At<'_, 'b>) -> Unbalance {
        let one = |block: &EffectiveBlock<'b>| {
            let (amount, _) = self.unbalance(recorder, block).filter(|(_, left)| left.is_some())?;
            Some(self.here(recorder, at, block, amount.get()?))
        };
        self.stating_errors().filter_map(one).sum()
    }

    /// What of stated vectors is in the reading of each plane, from which they are taken out.
    pub fn taken_out_in_planes(&self, recorder: &Recorder<'b>, places: &[Length]) -> Vec<Unbalance> {
        let mut in_planes = vec![Unbalance::ZERO; places.len()];
        for block in self.stating_errors() {
            let Some((amount, Some(_))) = self.unbalance(recorder, block) else { continue };
            let (Some(amount), place) = (amount.get(), self.place(recorder, block)) else { continue };
            for (plane, in_plane) in in_planes.iter_mut().enumerate() {
                let lever = place.get().and_then(|at| Acting::InPlane(plane).lever(at, places).ok());
                *in_plane = *in_plane + amount * lever.map_or(1.0, |lever| lever.value().abs());
            }
        }
        in_planes
    }

    fn acts_in(&self, block: &EffectiveBlock<'b>, plane: usize) -> bool {
        match block.field(balance_error::PLANE).map(|field| &field.field.value) {
            Some(FieldValue::Name(name)) => *name.text == *self.state.planes[plane].name,
            _ => true,
        }
    }

    /// What a share of the other planes' readings comes to in one plane.
    fn of_others(&self, at: &At<'_, 'b>, plane: usize, share: Ratio) -> Unbalance {
        let others: Unbalance = at.planes().filter(|other| *other != plane).map(|other| at.amounts[other]).sum();
        at.of_plane(plane, others * share.value().abs())
    }
}

/// The blocks that state an error of a setup's readings.
pub(in crate::book::results::verdict) fn stating_errors<'s, 'b>(
    setup: &'s SetupResults<'b>,
    indexed: bool,
) -> impl Iterator<Item = &'s EffectiveBlock<'b>> {
    // Turning the rotor on its arbor tells all that is the arbor's.
    let arbor = setup.arbor.as_ref().filter(|_| !indexed);
    let carriers = setup.machine_block().into_iter().chain(arbor).chain([&setup.block]);
    carriers.flat_map(|carrier| carrier.inner(Kind::BalanceError))
}

/// A stated share of what is read itself.
pub(in crate::book::results::verdict) fn share_of_reading(block: &EffectiveBlock<'_>) -> Option<Ratio> {
    let FieldValue::Reading(reading) = &block.field(balance_error::AMOUNT)?.field.value else { return None };
    let is_share = reading.amount.dimension() != Dimension::UNBALANCE;
    let of_itself = block.choice(balance_error::OF)? == ErrorOf::OwnReading;
    (is_share && of_itself).then(|| Ratio::new(reading.amount.base))
}

/// Adds what is stated: to the line of the budget that it is named like, which is then known, else as a line of its own.
pub(in crate::book::results::verdict) fn state_error(
    block: &EffectiveBlock<'_>,
    parts: Option<Vec<Part>>,
    lines: &mut Vec<Line>,
) {
    let name = block.name_text();
    let known = if parts.is_some() { Known::Stated } else { Known::NotKnown };
    let why = match (&parts, block.field(balance_error::SOURCE).map(|field| &field.field.value)) {
        (Some(_), Some(FieldValue::Text(source))) => source.to_string(),
        (Some(_), _) => "nobody says who found it".to_owned(),
        (None, _) => "its `amount` is not known".to_owned(),
    };
    let parts = parts.unwrap_or_default();
    match lines.iter_mut().find(|line| states(name, &line.name)) {
        Some(line) => {
            let stands = matches!(line.known, Known::Measured | Known::ByDefault) || known == Known::NotKnown;
            let known = match known {
                Known::NotKnown => known,
                _ if stands => line.known,
                _ => known,
            };
            (line.known, line.why) = (known, if stands { line.why.clone() } else { why.into() });
            line.parts.extend(parts);
        }
        None => lines.push(Line { name: name.to_owned().into(), known, why: why.into(), parts }),
    }
}

/// Whether an error of this name states a line: it is called like the line, or is what an end drive puts in.
fn states(name: &str, line: &str) -> bool {
    name == line || line == BudgetLine::Drive.words() && name == format!("{} {line}", Drive::End.words())
}

/// The first of the groups of stated errors.
pub(in crate::book::results::verdict) const FIRST: u32 = 40;
