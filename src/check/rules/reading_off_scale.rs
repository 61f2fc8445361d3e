use crate::book::{CalibrateResults, EffectiveBlock, ReadoutFacts, SetupResults};
use crate::check::amounts::{amount, shown};
use crate::check::calibration;
use crate::check::machine_limits::machine_name;
use crate::check::{Draft, ItemContext, Rule, Run, Severity, Sink};
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::units::Indication;

pub static RULE: Rule = Rule {
    code: "reading-off-scale",
    severity: Severity::Error,
    title: "The reading to set is beyond the end of the scale",
    page: include_str!("reading_off_scale.md"),
    run: Run::Item(&[Kind::Setup], judge),
};

fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(setup) = context.setup() else { return };
    let Some(readout) = setup.machine.as_ref().and_then(|machine| machine.readout.as_ref()) else { return };
    for (calibration, block) in calibration::blocks(context) {
        sink.drafts.extend(judge_one(context, setup, readout, calibration, block));
    }
}

fn judge_one<'b>(
    context: &ItemContext<'b, '_>,
    setup: &SetupResults<'b>,
    readout: &ReadoutFacts<'b>,
    calibration: &CalibrateResults<'b>,
    block: &EffectiveBlock<'b>,
) -> Option<Draft> {
    let reading = calibration.stated_reading.as_ref().unwrap_or(&calibration.reading);
    let value = reading.get()?.value();
    let (end, of_what) = end(readout, block)?;
    if value <= end * (1.0 + 1e-9) {
        return None;
    }
    let message = format!(
        "the reading of plane {}, {}, is beyond the end of {of_what}, {}",
        calibration.plane,
        shown(reading),
        amount(Indication::new(end), readout.unit)
    );
    let draft = context.beside_first(block, &["reading", "mass", "radius", "diameter"], message);
    let fits = calibration.mass.get().map(|mass| amount(mass * (end / value), calibration.mass.unit));
    let help = match fits {
        Some(mass) => format!("take {mass} or less at this radius"),
        None => "take less mass or a smaller radius".to_owned(),
    };
    let help = if setup.block.field("tolerance reads").is_some() {
        format!("{help}, or let `tolerance reads` be less")
    } else {
        help
    };
    let end_of = readout.block.field("full scale");
    let draft = draft.help(help);
    Some(match end_of {
        Some(field) => draft.about(field, format!("full scale of machine \"{}\"", machine_name(setup))),
        None => draft,
    })
}

/// The end of the scale that the sheet names, else of the whole readout.
fn end(readout: &ReadoutFacts<'_>, block: &EffectiveBlock<'_>) -> Option<(f64, String)> {
    if let Some(FieldValue::Reading(reading)) = block.field("reading").map(|field| &field.field.value)
        && let Some(name) = &reading.scale
    {
        let scale = readout.scales.iter().find(|scale| *scale.name == *name.text)?;
        return Some((scale.end()?, format!("scale {}", scale.name)));
    }
    let of_what = if readout.scales.is_empty() { "the readout's scale" } else { "the widest scale" };
    Some((readout.end()?, of_what.to_owned()))
}
