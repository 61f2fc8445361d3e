use crate::book::{EffectiveBlock, Val};
use crate::check::amounts::{amount, limit, percent, ratio};
use crate::check::solving::{Bound, keeping};
use crate::check::{ItemContext, Severity, Sink, calibration};
use crate::mechanics::force::{centrifugal_force, weight};
use crate::syntax::Kind;
use crate::units::{Amount, Force, Length, Mass, Speed, Unit};
use crate::vocabulary::machine::Supports;
use crate::vocabulary::{Fact, calibrate, check_mass, linearity, separation, trial};

/// A tenth is usual for a trial mass, and ten times the tolerance of a fan comes to a little more: common practice, no
/// source.
const WORTH_KNOWING: f64 = 0.25;
/// From here on the rotor begins to lift off its supports once its own unbalance points the same way.
const TOO_MUCH: f64 = 0.5;
/// Above the whole weight nothing keeps the rotor on its supports: mostly a unit is wrong, kg for g.
const WHOLE_WEIGHT: f64 = 1.0;

/// A mass that is put on for a run, and how it pulls there.
struct PutOn<'b, 'c> {
    what: String,
    block: &'c EffectiveBlock<'b>,
    mass_is: Fact<Mass>,
    places: [Fact<Length>; 2],
    mass: Val<Mass>,
    force: Option<Force>,
    /// `at balancing speed`
    at: String,
}

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(setup) = context.setup() else { return };
    let Some(weight) = setup.mass_on_machine.get().and_then(|mass| weight(mass).ok()) else { return };
    let newton = context.book().rules().shown(Unit::NEWTON);
    let rest = if setup.supports() == Some(Supports::InPlace) { "in the bearings" } else { "on the supports" };
    for put_on in calibration_masses(context).chain(other_masses(context)) {
        let PutOn { what, block, mass_is, places, mass, force, at } = put_on;
        let Some(force) = force else { continue };
        let share = force.raw() / weight.raw();
        // What a proof is made with is there for one run, and chosen to be large.
        let is_of_proof = matches!(block.kind, Kind::Separation | Kind::Linearity);
        if share <= if is_of_proof { TOO_MUCH } else { WORTH_KNOWING } {
            continue;
        }
        let part =
            if share > WHOLE_WEIGHT { format!("{} times", ratio(share)) } else { format!("{} of", percent(share)) };
        let message = format!(
            "{what} pulls with {} {at}, {part} the {} that rest {rest}",
            amount(force, newton),
            amount(weight, newton)
        );
        let help =
            format!("take less mass or a lower speed; a tenth of the weight is usual, {} is much", limit(TOO_MUCH));
        let draft = context.beside_first(block, &[mass_is.any(), places[0].any(), places[1].any()], message).help(help);
        let draft = match (block.field(mass_is), mass.get()) {
            (Some(field), Some(own)) => {
                let less = keeping(own.raw() * WORTH_KNOWING / share, Bound::AtMost, mass.unit);
                draft.offer_value(context, field, &less)
            }
            _ => draft,
        };
        sink.report(match share {
            share if share > WHOLE_WEIGHT => draft.weighing(Severity::Error),
            share if share > TOO_MUCH => draft,
            _ => draft.weighing(Severity::Note),
        });
    }
}

/// Their forces are results.
fn calibration_masses<'b, 'c>(context: &ItemContext<'b, 'c>) -> impl Iterator<Item = PutOn<'b, 'c>> {
    calibration::blocks(context).map(|(calibration, block)| PutOn {
        what: format!("the calibration mass of plane {}", calibration.plane),
        block,
        mass_is: calibrate::MASS,
        places: [calibrate::RADIUS, calibrate::DIAMETER],
        mass: calibration.mass.clone(),
        force: calibration.force.get(),
        at: AT_BALANCING_SPEED.to_owned(),
    })
}

const AT_BALANCING_SPEED: &str = "at balancing speed";

/// Trial masses, the check mass, and those of a proof.
fn other_masses<'b, 'c>(context: &ItemContext<'b, 'c>) -> impl Iterator<Item = PutOn<'b, 'c>> {
    let facts = context.computing.facts();
    let setup = context.setup();
    let blocks = setup.into_iter().flat_map(|setup| {
        let proofs = setup.block.inner(Kind::Proof).flat_map(|proof| proof.blocks.iter());
        setup.block.blocks.iter().chain(proofs)
    });
    blocks.filter_map(move |block| {
        let (what, mass_is, places, own_speed) = match block.kind {
            Kind::Trial => (
                format!("the trial mass of trial \"{}\"", block.name_text()),
                trial::MASS,
                [trial::RADIUS, trial::DIAMETER],
                facts.quantity(block, trial::SPEED).get(),
            ),
            Kind::CheckMass => {
                ("the check mass".to_owned(), check_mass::MASS, [check_mass::RADIUS, check_mass::DIAMETER], None)
            }
            Kind::Separation => (
                format!("the mass of separation {}", block.name_text()),
                separation::MASS,
                [separation::RADIUS, separation::DIAMETER],
                None,
            ),
            Kind::Linearity => (
                format!("the mass of linearity {}", block.name_text()),
                linearity::MASS,
                [linearity::RADIUS, linearity::DIAMETER],
                None,
            ),
            _ => return None,
        };
        let mass: Val<Mass> = facts.quantity(block, mass_is);
        let radius = facts.radius(block, places[0], places[1]).get();
        let speed: Option<Speed> = own_speed.or_else(|| setup?.balancing_speed.get());
        let pull = || centrifugal_force(mass.get()? * radius?, speed?).ok();
        let at = match own_speed {
            Some(speed) => format!("at {}", amount(speed, context.book().rules().shown(Unit::RPM))),
            None => AT_BALANCING_SPEED.to_owned(),
        };
        Some(PutOn { what, block, mass_is, places, force: pull(), mass, at })
    })
}
