use crate::check::amounts::{amount, shown};
use crate::check::{ItemContext, Rule, Run, Severity, Sink};
use crate::syntax::Kind;
use crate::units::Unbalance;

pub static RULE: Rule = Rule {
    code: "correction-beyond-capacity",
    severity: Severity::Warning,
    title: "The plane cannot take the correction that is called for",
    page: include_str!("correction_beyond_capacity.md"),
    run: Run::Item(&[Kind::Setup, Kind::Record], judge),
};

fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    if let Some(record) = context.record() {
        for correction in &record.corrections {
            let Some(left) = &correction.not_reached else { continue };
            let (Some(called_for), Some(rest)) = (&correction.called_for, left.get()) else { continue };
            let message = format!(
                "plane {} cannot take {} of the {} that are called for",
                correction.plane,
                amount(rest.amount(), left.unit),
                shown(&called_for.amount())
            );
            let keys = ["angle", "radius"];
            sink.report(context.beside_first(&correction.block, &keys, message).help(HELP));
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

const HELP: &str = "spread the rest over further places or holes, correct it where more can be done before the rotor \
                    comes to this machine, or let another plane take a share of the static unbalance";
