use crate::book::CalibrateResults;
use crate::check::amounts::{ratio, shown};
use crate::check::machine_limits::machine_name;
use crate::check::{Draft, ItemContext, Severity, Sink};
use crate::vocabulary::setup;

/// Below twice the smallest residual, repeated runs scatter across the tolerance.
const COMFORTABLE: f64 = 2.0;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(setup) = context.setup() else { return };
    for calibration in &setup.calibrations {
        sink.drafts.extend(judge_one(context, calibration));
    }
}

fn judge_one<'b>(context: &ItemContext<'b, '_>, calibration: &CalibrateResults<'b>) -> Option<Draft> {
    let setup = context.setup()?;
    let over = calibration.over_residual.as_ref()?.get()?.value();
    let residual = calibration.smallest_residual.as_ref()?;
    if over >= COMFORTABLE {
        return None;
    }
    let (plane, name) = (calibration.plane, machine_name(setup));
    let (tolerance, reaches) = (shown(&calibration.tolerance), shown(residual));
    let message = match over < 1.0 {
        true => format!(
            "the tolerance of plane {plane}, {tolerance}, is less than the {reaches} that machine \"{name}\" can \
             reach there"
        ),
        false => format!(
            "the tolerance of plane {plane}, {tolerance}, is only {} times the {reaches} that machine \"{name}\" can \
             reach there",
            ratio(over)
        ),
    };
    let draft = match &calibration.block {
        Some(block) => context.on_heading(block, message),
        None => context.beside_first(&setup.block, &[setup::MACHINE.any()], message),
    };
    let draft = draft.help("take a machine with a smaller residual, or have this one tested again");
    Some(if over < 1.0 { draft } else { draft.weighing(Severity::Note) })
}
