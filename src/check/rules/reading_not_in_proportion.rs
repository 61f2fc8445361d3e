use crate::check::amounts::{limit, percent};
use crate::check::{ItemContext, Sink};
use crate::vocabulary::linearity;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(proof) = context.setup().and_then(|setup| setup.proof.as_ref()) else { return };
    let accepted = context.book().rules().calibration_uncertainty.value();
    for linearity in &proof.linearities {
        let departure = linearity.departure.as_ref().and_then(|departure| departure.get());
        let Some(off) = departure.map(|departure| departure.value()).filter(|off| off.abs() > accepted) else {
            continue;
        };
        let side = if off < 0.0 { "too little" } else { "too much" };
        let message = format!(
            "the second mass in plane {} reads {} {side} beside the first, more than the {} that the shop accepts",
            linearity.plane,
            percent(off.abs()),
            limit(accepted)
        );
        sink.report(context.beside_first(&linearity.block, &[linearity::MASS.any()], message).help(
            "look for a readout near the end of its scale, a mass that slips, or a speed that sags; a sheet holds only \
             where readings grow with the unbalance",
        ));
    }
}
