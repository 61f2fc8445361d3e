use crate::check::amounts::{ranges, shown};
use crate::check::machine_limits::{carried, machine_fact, machine_name};
use crate::check::{ItemContext, Sink};
use crate::units::Amount;
use crate::vocabulary::{machine, setup};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some((setup, range)) = machine_fact(context, machine::ROTOR_MASS) else { return };
    let Some(mass) = setup.mass_on_machine.get() else { return };
    let low = ranges(&range.field.value).iter().map(|[low, _]| *low).fold(f64::NAN, f64::min);
    if mass.raw() >= low * (1.0 - 1e-9) || !low.is_finite() {
        return;
    }
    let message = format!(
        "{} {}, less than machine \"{}\" is made for: {}",
        carried(setup),
        shown(&setup.mass_on_machine),
        machine_name(setup),
        context.written(range)
    );
    sink.report(
        context
            .beside_first(&setup.block, &[setup::ARBOR.any(), setup::ROTOR.any()], message)
            .help("take a lighter machine, or prove by a mass of one tolerance that this one still shows it")
            .about(range, "what the machine takes"),
    );
}
