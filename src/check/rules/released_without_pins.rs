use crate::book::{self, CalibrateResults};
use crate::check::calibration::ToSet;
use crate::check::placing::line_at_end;
use crate::check::{Draft, ItemContext, Sink};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(setup) = context.setup().filter(|setup| setup.is_released() && context.is_read_whole()) else { return };
    for calibration in &setup.calibrations {
        sink.drafts.extend(judge_one(context, calibration));
    }
}

/// The reading must be pinned; where it is stated, the mass or radius that follows from it.
fn judge_one(context: &ItemContext<'_, '_>, calibration: &CalibrateResults<'_>) -> Option<Draft> {
    let block = calibration.block.as_ref()?;
    let to_set = ToSet::of(calibration, block)?;
    let name = to_set.fact.words();
    let (base, unit, standard) = to_set.known.ok()?;
    let pin = format!("{name} => {}", book::display_value(base, unit, 0.0));
    let shown = book::display_value(base, unit, standard);
    if block.own.is_some_and(|own| own.pins.iter().any(|pin| *pin.name == *name)) {
        return None;
    }
    let heading = format!("calibrate {}", calibration.plane);
    let span = block.own.map_or(context.block.heading, |own| own.heading);
    let draft = context
        .draft(span, format!("the sheet is released, but `{heading}` does not pin its {name}, which is {shown}"))
        .help(format!("write `{pin}` into it, so that no change of a fact can move it unseen"));
    let edit = match block.own {
        Some(own) => line_at_end(context.source(), own, &pin),
        None => {
            let name = block
                .name
                .filter(|name| name.quoted)
                .map_or(calibration.plane.to_owned(), |name| format!("\"{}\"", name.text));
            line_at_end(context.source(), context.block, &format!("calibrate {name} {{\n  {pin}\n}}"))
        }
    };
    Some(match edit {
        Some(edit) => draft.fix(format!("Pin the {name}"), edit),
        None => draft,
    })
}
