use crate::check::amounts::{ranges, shown};
use crate::check::machine_limits::{carried, machine_fact, machine_name};
use crate::check::{ItemContext, Sink};
use crate::units::Amount;
use crate::vocabulary::{machine, setup};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some((setup, range)) = machine_fact(context, machine::ROTOR_MASS) else { return };
    let Some(mass) = setup.mass_on_machine.get() else { return };
    let high = ranges(&range.field.value).iter().map(|[_, high]| *high).fold(f64::NAN, f64::max);
    // A range that cannot be read has no end, and nothing is above it.
    if mass.raw() <= high * (1.0 + 1e-9) || high.is_nan() {
        return;
    }
    let message = format!(
        "{} {}, more than machine \"{}\" takes: {}",
        carried(setup),
        shown(&setup.mass_on_machine),
        machine_name(setup),
        context.written(range)
    );
    sink.report(
        context
            .beside_first(&setup.block, &[setup::ARBOR.any(), setup::ROTOR.any()], message)
            .help("set it up on a machine that takes this mass, arbor included")
            .about(range, "what the machine takes"),
    );
}
