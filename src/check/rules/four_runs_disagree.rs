use crate::book::Reason;
use crate::check::amounts::{limit, percent};
use crate::check::{ItemContext, Sink};
use crate::mechanics::Requirement;

/// How far the runs may disagree. Source: common practice, no source.
const MAY_DISAGREE: f64 = 0.1;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(trials) = context.setup().and_then(|setup| setup.trials.as_ref()) else { return };
    if trials.with_angles || trials.planes.len() != 1 {
        return;
    }
    let Some(share) = &trials.found.disagreement else { return };
    let message = match &share.known {
        Ok(share) if share.value() > MAY_DISAGREE => format!(
            "two ways to find the effect of the trial mass from the amounts differ by {}, more than {}",
            percent(share.value()),
            limit(MAY_DISAGREE)
        ),
        Err(missing) => match &missing.reason {
            Reason::Domain(error) if error.must == Requirement::FitOneUnbalance => {
                "no unbalance gives the amounts that were read with the trial mass at these angles".to_owned()
            }
            _ => return,
        },
        Ok(_) => return,
    };
    let Some(run) = trials.runs.iter().find(|run| run.plane.is_none()) else { return };
    sink.report(context.on_heading(&run.block, message).help(
        "run again with the same mass at the same radius, at the same speed; a reading that drifts between runs shows \
         here first",
    ));
}
