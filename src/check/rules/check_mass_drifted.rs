use crate::book::CheckMassResults;
use crate::check::amounts::{amount, percent, shown};
use crate::check::{ItemContext, Sink};
use crate::units::{Amount, Indication};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(check) = context.setup().and_then(|setup| setup.check_mass.as_ref()) else { return };
    let Some((message, latest)) = outside(check).zip(check.checked.last()) else { return };
    let help = "do not use the sheet: find out what has moved, calibrate and prove it again";
    sink.report(context.beside(latest.field, message).help(help));
}

/// What is said of a check mass that read outside its band when it was last put on.
pub fn outside(check: &CheckMassResults<'_>) -> Option<String> {
    let latest = check.checked.last().filter(|latest| check.is_outside(latest))?;
    let (band, must) = (check.band()?, check.reading.get()?);
    let end = |by: f64| amount(Indication::new(must.raw() + by), check.reading.unit);
    Some(format!(
        "on {} the check mass read {}, {} off; it should read {} to {}",
        latest.day,
        shown(&latest.reading),
        percent(latest.drift.get().map_or(0.0, |drift| drift.value())),
        end(-band.raw()),
        end(band.raw())
    ))
}
