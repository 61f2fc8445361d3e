use crate::book::EffectiveBlock;
use crate::check::amounts::amount;
use crate::check::{ItemContext, Sink};
use crate::mechanics::fits;
use crate::sheet::{FieldValue, StatedReading};
use crate::units::{Angle, Length, Mass, SpecificUnbalance, Typed, Unbalance, Vector};
use crate::vocabulary::{Fact, UnbalanceVector, arbor};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some((record, setup)) = context.record().and_then(|record| Some((record, record.setup.as_ref()?))) else {
        return;
    };
    let (Some(arbor), Some(index)) = (&setup.arbor, &record.index) else { return };
    let (Some(left), Some(right)) = (stated(arbor, arbor::UNBALANCE_LEFT), stated(arbor, arbor::UNBALANCE_RIGHT))
    else {
        return;
    };
    let found: Option<Vector<Unbalance>> = index.planes.iter().map(|plane| plane.arbor.get()).sum();
    let Some(found) = found.map(Vector::amount) else { return };
    let read = index.planes.iter().map(|plane| plane.arbor.amount().expanded_uncertainty()).sum();
    let seat =
        setup.rotor.as_ref().and_then(|rotor| rotor.mass.get()).map_or(Unbalance::ZERO, |mass| seat(arbor, mass));
    let known_to = Unbalance::from_base(read) + half_step(left) + half_step(right) + seat;
    let [least, most] = together(left, right);
    if found <= most + known_to && found + known_to >= least {
        return;
    }
    let Some(field) = arbor.field(arbor::UNBALANCE_LEFT) else { return };
    let (name, unit) = (arbor.name_text(), left.amount.unit);
    let message = format!(
        "index runs show that arbor \"{name}\" adds {}; its stated `unbalance left` and `unbalance right` amount to {}",
        amount(found, unit),
        amount(if found > most { most } else { least }, unit)
    );
    let help = "index the rotor on the arbor again, then state the unbalance found and its date: `unbalance left`, `unbalance right`, `date`";
    sink.report(context.on_heading(&record.block, message).help(help).about(field, "the arbor"));
}

fn stated<'b>(arbor: &EffectiveBlock<'b>, side: Fact<UnbalanceVector>) -> Option<&'b StatedReading> {
    match &arbor.field(side)?.field.value {
        FieldValue::Reading(reading) => Some(reading),
        _ => None,
    }
}

fn of(reading: &StatedReading) -> Unbalance {
    Unbalance::from_base(reading.amount.base)
}

fn half_step(reading: &StatedReading) -> Unbalance {
    Unbalance::from_base(reading.amount.half_step)
}

/// What both sides have together, at least and at most: alike where both angles are stated.
fn together(left: &StatedReading, right: &StatedReading) -> [Unbalance; 2] {
    match (&left.angle, &right.angle) {
        (Some(at), Some(other)) => {
            let vector = |of: Unbalance, at: &crate::sheet::Stated| Vector::from_polar(of, Angle::from_base(at.base));
            [(vector(of(left), at) + vector(of(right), other)).amount(); 2]
        }
        _ => [(of(left) - of(right)).abs(), of(left) + of(right)],
    }
}

/// What the rotor's mass adds by how it sits: as far off as the arbor runs out, and as its fit lets it.
fn seat(arbor: &EffectiveBlock<'_>, mass: Mass) -> Unbalance {
    let length = |fact: Fact<Length>| match &arbor.field(fact)?.field.value {
        FieldValue::Quantity(stated) => Some(Length::from_base(stated.base)),
        _ => None,
    };
    let of_centring =
        |off: Length| fits::unbalance_of_eccentricity(mass, SpecificUnbalance::from_base(off.base())).ok();
    let parts = [
        length(arbor::RUNOUT)
            .and_then(|runout| fits::unbalance_of_eccentricity(mass, fits::eccentricity_of_runout(runout).ok()?).ok()),
        length(arbor::FIT_CLEARANCE).and_then(|clearance| fits::unbalance_of_clearance(mass, clearance).ok()),
        length(arbor::CENTRING_REPEATABILITY).and_then(of_centring),
    ];
    parts.into_iter().flatten().sum()
}
