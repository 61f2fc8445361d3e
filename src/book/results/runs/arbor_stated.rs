//! What an arbor's sheet states of its unbalance, beside what index runs tell of it.

use super::index::IndexResults;
use super::run::RunResults;
use crate::book::EffectiveBlock;
use crate::book::results::SetupResults;
use crate::book::results::values::render::display_value;
use crate::mechanics::fits;
use crate::sheet::{FieldValue, Stated, StatedReading};
use crate::units::{Angle, Length, Mass, SpecificUnbalance, Typed, Unbalance, Unit, Vector};
use crate::vocabulary::{Fact, UnbalanceVector, arbor};

/// Index runs tell of another unbalance of the arbor than its sheet states, whatever the errors of both.
pub struct ArborNotAsStated {
    pub found: Unbalance,
    /// Both sides together; where an angle is left open, the nearer end of what they may be.
    pub stated: Unbalance,
    /// What readings, steps and the seat of the rotor leave open between the two.
    pub known_to: Unbalance,
    pub unit: Unit,
}

/// `None` where nothing is stated, and where the two agree.
pub fn arbor_not_as_stated(setup: &SetupResults<'_>, index: &IndexResults<'_>) -> Option<ArborNotAsStated> {
    let arbor = setup.arbor.as_ref()?;
    let (left, right) = (stated(arbor, arbor::UNBALANCE_LEFT)?, stated(arbor, arbor::UNBALANCE_RIGHT)?);
    let found: Option<Vector<Unbalance>> = index.planes.iter().map(|plane| plane.arbor.get()).sum();
    let found = found?.amount();
    let read = index.planes.iter().map(|plane| plane.arbor.amount().expanded_uncertainty()).sum();
    let mass = setup.rotor.as_ref().and_then(|rotor| rotor.mass.get());
    let seat = mass.map_or(Unbalance::ZERO, |mass| seat(arbor, mass));
    let known_to = Unbalance::from_base(read) + half_step(left) + half_step(right) + seat;
    let [least, most] = together(left, right);
    if found <= most + known_to && found + known_to >= least {
        return None;
    }
    Some(ArborNotAsStated { found, stated: if found > most { most } else { least }, known_to, unit: left.amount.unit })
}

/// Why runs that read alike do not show a good rotor: had it not been turned between them, all of its unbalance would be taken
/// for the arbor's, and the arbor's sheet says that it has no such unbalance.
pub(in crate::book::results) fn not_turned(
    setup: &SetupResults<'_>,
    runs: &[RunResults<'_>],
    index: &IndexResults<'_>,
) -> Option<String> {
    let off = arbor_not_as_stated(setup, index)?;
    let rotor = setup.rotor.as_ref()?;
    let tolerance = |name: &str| rotor.plane(name).and_then(|plane| plane.tolerance.get());
    let reads_alike = index.planes.iter().all(|plane| {
        let own = plane.rotor.amount();
        let known_to = Unbalance::from_base(own.expanded_uncertainty());
        own.get().is_some_and(|own| own <= known_to || tolerance(plane.name).is_some_and(|limit| own <= limit))
    });
    let least =
        index.planes.iter().filter_map(|plane| tolerance(plane.name)).min_by(|a, b| a.base().total_cmp(&b.base()))?;
    if !reads_alike || off.found - off.stated - off.known_to <= least {
        return None;
    }
    let named: Vec<String> = index.runs.iter().map(|run| format!("`{}`", runs[*run].name)).collect();
    let [found, stated] = [off.found, off.stated].map(|amount| display_value(amount.base(), off.unit, 0.0));
    Some(format!(
        "runs {} read alike, as if the rotor was not turned on its arbor between them: the arbor would have {found}, and its \
         sheet states {stated}; turn the rotor half a turn on the arbor, and run it again",
        named.join(" and ")
    ))
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
            let vector = |of: Unbalance, at: &Stated| Vector::from_polar(of, Angle::from_base(at.base));
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
