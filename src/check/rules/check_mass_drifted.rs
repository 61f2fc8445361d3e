use crate::check::amounts::{amount, percent, shown};
use crate::check::{ItemContext, Sink};
use crate::units::{Amount, Indication};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(check) = context.setup().and_then(|setup| setup.check_mass.as_ref()) else { return };
    let Some(latest) = check.checked.last() else { return };
    let (Some(band), Some(must), true) = (check.band(), check.reading.get(), check.is_outside(latest)) else { return };
    let end = |by: f64| amount(Indication::new(must.raw() + by), check.reading.unit);
    let message = format!(
        "on {} the check mass read {}, {} off; it should read {} to {}",
        latest.day,
        shown(&latest.reading),
        percent(latest.drift.get().map_or(0.0, |drift| drift.value())),
        end(-band.raw()),
        end(band.raw())
    );
    let help = "do not use the sheet: find out what has moved, calibrate and prove it again";
    sink.report(context.beside(latest.field, message).help(help));
}
