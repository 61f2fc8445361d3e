use crate::book::{CorrectionResults, Val, VectorVal};
use crate::check::amounts::{amount, shown};
use crate::check::{ItemContext, Sink};
use crate::units::{Amount, Length, Mass, Unbalance};
use crate::vocabulary::{correction, plane};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    if let Some(record) = context.record() {
        for correction in &record.corrections {
            stated(context, sink, correction);
            let Some(left) = &correction.not_reached else { continue };
            let (Some(called_for), Some(rest)) = (&correction.called_for, left.get()) else { continue };
            let message = format!(
                "{} is called for in plane {}, {} more than it can take",
                shown(&called_for.amount()),
                correction.plane,
                amount(rest.amount(), left.unit)
            );
            let facts = [correction::ANGLE.any(), correction::RADIUS.any()];
            sink.report(context.beside_first(&correction.block, &facts, message).help(HELP));
        }
    }
    let Some((setup, trials)) = context.setup().and_then(|setup| Some((setup, setup.trials.as_ref()?))) else { return };
    for (plane, found) in trials.planes.iter().zip(&trials.found.found) {
        let greatest = setup.rotor.as_ref().and_then(|rotor| rotor.plane(plane)?.greatest.clone());
        let Some((most, wanted)) = greatest.as_ref().and_then(|most| Some((most.get()?, found.get()?.amount()))) else {
            continue;
        };
        let Some(run) = trials.runs.iter().find(|run| run.plane.is_none()).filter(|_| wanted > most) else { continue };
        let unit = found.unit;
        let rest: Unbalance = wanted - most;
        let message = format!(
            "the run as found calls for {} in plane {plane}, {} more than it can take",
            amount(wanted, unit),
            amount(rest, unit)
        );
        sink.report(context.on_heading(&run.block, message).help(HELP));
    }
}

const HELP: &str = "spread the rest over more places or holes, rough-balance the rotor before it comes to this machine, or let another plane take a share of the static unbalance";

/// What a stated correction took off or put on, against what its plane allows.
fn stated<'b>(context: &ItemContext<'b, '_>, sink: &mut Sink, correction: &CorrectionResults<'b>) {
    let setup = context.record().and_then(|record| record.setup.as_ref());
    let Some(plane) = setup.and_then(|setup| setup.rotor.as_ref()?.plane(correction.plane)) else { return };
    let name = plane.name;
    for place in &correction.places {
        let (Some(most), Some(mass)) = (correction.most_per_place, place.mass.get()) else { continue };
        let before = if place.adds { place.before } else { Mass::ZERO };
        if exceeds(mass + before, &place.mass, most) {
            let has = match before > Mass::ZERO {
                true => format!(" besides the {} that are on it", amount(before, place.mass.unit)),
                false => String::new(),
            };
            let message = format!(
                "place {} of plane {name} is given {}{has}, where one place takes {}",
                place.name,
                shown(&place.mass),
                amount(most, place.mass.unit)
            );
            sink.report(
                context
                    .beside(place.field, message)
                    .help("spread it over further places, or correct the record or `most per place` of the plane"),
            );
        }
    }
    let depth: Val<Length> = context.computing.facts().quantity(&correction.block, correction::DEPTH);
    if let (Some(deep), Some(most)) = (depth.get(), plane.geometry.depth.get())
        && exceeds(deep, &depth, most)
    {
        let message = format!(
            "the correction in plane {name} is {} deep, where {} are allowed",
            shown(&depth),
            shown(&plane.geometry.depth)
        );
        sink.report(context.beside_first(&correction.block, &[correction::DEPTH.any()], message).help(DONE));
        return;
    }
    // At numbered places the most depends on the direction, and each place has been judged.
    let greatest = plane.greatest.as_ref().filter(|_| plane.block.field(plane::PLACES).is_none());
    let done = correction.done.as_ref().map(VectorVal::amount);
    let (Some(done), Some(greatest)) = (done, greatest) else { return };
    let (Some(amount_done), Some(most)) = (done.get(), greatest.get()) else { return };
    // What a hole takes is known no better than the density.
    let most_at_best = most + Unbalance::from_raw(greatest.expanded_uncertainty());
    if exceeds(amount_done, &done, most_at_best) {
        let message = format!(
            "the correction in plane {name} makes {}, more than the {} it takes",
            shown(&done),
            shown(greatest)
        );
        sink.report(
            context
                .beside_first(
                    &correction.block,
                    &[correction::REMOVE.any(), correction::ADD.any(), correction::ANGLE.any()],
                    message,
                )
                .help(DONE),
        );
    }
}

/// Whether a stated amount is more than what is allowed, beyond what it is known to.
fn exceeds<T: Amount>(stated: T, value: &Val<T>, most: T) -> bool {
    stated.raw() - value.expanded_uncertainty() > most.raw() * (1.0 + 1e-9)
}

const DONE: &str = "if it was done so, the plane is weaker than its drawing allows: have it looked at; if not, correct the \
                    record, or what the plane says it takes";
