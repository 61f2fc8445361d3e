use crate::book::{EffectiveBlock, EffectiveField, SetupResults};
use crate::check::amounts::{amount, shown};
use crate::check::machine_limits::rotor_name;
use crate::check::{Draft, ItemContext, Severity, Sink};
use crate::mechanics::fits;
use crate::sheet::FieldValue;
use crate::units::{Length, Mass, SpecificUnbalance, Typed, Unbalance};
use crate::vocabulary::{Fact, arbor, setup};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(setup) = context.setup() else { return };
    let (Some(rotor), Some(arbor)) = (&setup.rotor, &setup.arbor) else { return };
    let (Some(mass), Some(tolerance)) = (rotor.mass.get(), rotor.permissible.get()) else { return };
    sink.drafts.extend(judge_one(context, setup, arbor, mass, tolerance));
}

fn judge_one<'b>(
    context: &ItemContext<'b, '_>,
    setup: &SetupResults<'b>,
    arbor: &EffectiveBlock<'b>,
    mass: Mass,
    tolerance: Unbalance,
) -> Option<Draft> {
    let permissible = &setup.rotor.as_ref()?.permissible;
    let (clearance, repeatability) =
        (length(arbor, arbor::FIT_CLEARANCE), length(arbor, arbor::CENTRING_REPEATABILITY));
    // Anew at each mounting: no turning on the arbor takes these two out.
    let mut errors = Vec::new();
    if let Some((_, clearance)) = clearance {
        errors.push(fits::unbalance_of_clearance(mass, clearance).ok()?);
    }
    if let Some((_, moves)) = repeatability {
        errors.push(fits::unbalance_of_eccentricity(mass, SpecificUnbalance::from_base(moves.base())).ok()?);
    }
    let error = fits::root_of_squares(&errors).ok()?;
    let field = clearance.or(repeatability).or_else(|| length(arbor, arbor::RUNOUT))?.0;
    let at = setup.block.field(setup::ARBOR)?;
    let (name, unit) = (arbor.name_text(), permissible.unit);
    if error >= tolerance {
        let half = fits::clearance_for_unbalance(tolerance * 0.5, mass).ok()?;
        let message = format!(
            "each mounting on arbor \"{name}\" may put {} into rotor \"{}\", whose whole tolerance is {}: no run can \
             show it within",
            amount(error, unit),
            rotor_name(setup),
            shown(permissible)
        );
        let length_unit = length_unit(arbor)?;
        let help =
            format!("a diametral clearance of {} would still take half the tolerance", amount(half, length_unit));
        return Some(context.beside(at, message).help(help).about(field, "the arbor"));
    }
    let (field, runout) = length(arbor, arbor::RUNOUT)?;
    let systematic = fits::unbalance_of_eccentricity(mass, fits::eccentricity_of_runout(runout).ok()?).ok()?;
    (systematic >= tolerance).then(|| {
        let message = format!(
            "the runout of arbor \"{name}\" puts {} into rotor \"{}\", whose whole tolerance is {}",
            amount(systematic, unit),
            rotor_name(setup),
            shown(permissible)
        );
        let help = "turn the rotor by 180 deg on the arbor and measure again: what stays with the arbor comes out";
        context.beside(at, message).help(help).about(field, "the arbor").weighing(Severity::Note)
    })
}

fn length<'b>(arbor: &EffectiveBlock<'b>, fact: Fact<Length>) -> Option<(EffectiveField<'b>, Length)> {
    let field = arbor.field(fact)?;
    match &field.field.value {
        FieldValue::Quantity(stated) => Some((field, Length::from_base(stated.base))),
        _ => None,
    }
}

/// The unit in which the arbor's fits are stated.
fn length_unit(arbor: &EffectiveBlock<'_>) -> Option<crate::units::Unit> {
    [arbor::FIT_CLEARANCE, arbor::CENTRING_REPEATABILITY].into_iter().find_map(|fact| {
        match &arbor.field(fact)?.field.value {
            FieldValue::Quantity(stated) => Some(stated.unit),
            _ => None,
        }
    })
}
