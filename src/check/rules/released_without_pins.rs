use crate::book::{self, CalibrateResults, Val};
use crate::check::amounts::with_uncertainty;
use crate::check::placing::line_at_end;
use crate::check::{Draft, ItemContext, Rule, Run, Severity, Sink};
use crate::syntax::Kind;
use crate::units::Amount;

pub static RULE: Rule = Rule {
    code: "released-without-pins",
    severity: Severity::Warning,
    title: "A released sheet does not pin what the machine is set to",
    page: include_str!("released_without_pins.md"),
    run: Run::Item(&[Kind::Setup], judge),
};

fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(setup) = context.setup().filter(|setup| setup.is_released()) else { return };
    for calibration in &setup.calibrations {
        sink.drafts.extend(judge_one(context, calibration));
    }
}

/// The reading must be pinned; where it is stated, the mass or radius that follows from it.
fn judge_one(context: &ItemContext<'_, '_>, calibration: &CalibrateResults<'_>) -> Option<Draft> {
    let block = calibration.block.as_ref()?;
    let has = |key: &str| block.field(key).is_some();
    let (name, pin, shown) = match has("reading") {
        false => written("reading", &calibration.reading)?,
        true if !has("mass") => written("mass", &calibration.mass)?,
        true if !has("radius") && !has("diameter") => written("radius", &calibration.radius)?,
        true => return None,
    };
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

/// Name, line of the pin, and the value as the message shows it; `None` for a hole.
fn written<T: Amount>(name: &'static str, value: &Val<T>) -> Option<(&'static str, String, String)> {
    let pin = book::display_value(value.get()?.raw(), value.unit, 0.0);
    Some((name, format!("{name} => {pin}"), with_uncertainty(value)))
}
