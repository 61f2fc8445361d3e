use crate::book::Stands;
use crate::check::machine_limits::machine_name;
use crate::check::{ItemContext, Sink, readings};
use crate::vocabulary::{calibrate, readout, readout::AngleDisplay, setup};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(setup) = context.setup() else { return };
    let readout = setup.machine.as_ref().and_then(|machine| machine.readout.as_ref());
    let shows_angles = readout
        .and_then(|readout| readout.block.choice(readout::ANGLES))
        .is_some_and(|angles| angles != AngleDisplay::NotShown);
    let is_unsaid = setup.heavy_spots.iter().any(|spot| matches!(spot.stands, Stands::Unsaid));
    if !shows_angles || !is_unsaid || !context.is_read_whole() {
        return;
    }
    // Amounts alone are read: where the machine points is of no use to this sheet.
    let readings = readings::all(context);
    let by_angle = setup.block.blocks.iter().flat_map(|block| &block.fields);
    let by_angle =
        by_angle.filter(|field| field.field.key.is(calibrate::SHOWS) || field.field.key.is(calibrate::ANGLE)).count()
            > 0;
    if !by_angle && !readings.is_empty() && readings.iter().all(|(_, reading)| reading.angle.is_none()) {
        return;
    }
    let message = format!(
        "machine \"{}\" shows angles, but nothing says whether they point at the heavy spot or the light spot",
        machine_name(setup)
    );
    let help = "put a mass on at a known angle and see where the machine points: at the mass is `indicates: heavy \
                spot`, opposite is `indicates: light spot`";
    sink.report(
        context
            .beside_first(&setup.block, &[setup::MACHINE.any()], message)
            .help(help)
            .offer(context, &["indicates: heavy spot"])
            .offer(context, &["indicates: light spot"]),
    );
}
