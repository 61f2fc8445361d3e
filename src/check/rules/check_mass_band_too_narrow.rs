use crate::check::amounts::with_uncertainty;
use crate::check::solving::{Bound, keeping};
use crate::check::{ItemContext, Sink};
use crate::units;
use crate::vocabulary::check_mass;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(check) = context.setup().and_then(|setup| setup.check_mass.as_ref()) else { return };
    let (Some(band), Some(field)) = (check.band(), check.block.field(check_mass::WITHIN)) else { return };
    let expanded = check.reading.expanded_uncertainty();
    if expanded <= band.value() {
        return;
    }
    let message = format!(
        "the check mass must read within {}, but its reading is only known to {}",
        context.written(field),
        with_uncertainty(&check.reading)
    );
    let least = keeping(expanded, Bound::AtLeast, units::Unit::DIVISION);
    let help = match check.reading.unit == units::Unit::DIVISION {
        true => format!("weigh the mass and measure its radius more finely, or allow {least} or more"),
        false => "weigh the mass and measure its radius more finely, or allow more".to_owned(),
    };
    let draft = context.beside(field, message).help(help);
    sink.report(match check.reading.unit == units::Unit::DIVISION {
        true => draft.offer_value(context, field, &least),
        false => draft,
    });
}
