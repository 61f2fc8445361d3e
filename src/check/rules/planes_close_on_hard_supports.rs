use crate::book::SetupResults;
use crate::check::agreement::Reckoned;
use crate::check::amounts::{amount, ratio};
use crate::check::{ItemContext, Sink};
use crate::mechanics::hard_supports::Dimensions;
use crate::sheet::FieldValue;
use crate::units::{Length, Typed, Unit};
use crate::vocabulary::{Fact, ResultSpec, result, setup};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(setup) = context.setup() else { return };
    let [Some(d1), Some(d), Some(d2)] = [
        (setup::LEFT_SUPPORT_TO_LEFT_PLANE, &result::LEFT_SUPPORT_TO_LEFT_PLANE),
        (setup::BETWEEN_PLANES, &result::BETWEEN_PLANES),
        (setup::RIGHT_PLANE_TO_RIGHT_SUPPORT, &result::RIGHT_PLANE_TO_RIGHT_SUPPORT),
    ]
    .map(|(fact, result)| distance(setup, fact, result)) else {
        return;
    };
    let dimensions =
        Dimensions { left_support_to_left_plane: d1.0, between_planes: d.0, right_plane_to_right_support: d2.0 };
    if !dimensions.closely_spaced() || d.0.base() <= 0.0 || dimensions.span().base() <= 0.0 {
        return;
    }
    let times = dimensions.span().base() / d.0.base();
    let message = format!(
        "the planes are {} apart and the supports {} apart: an error in the measured forces appears {} times as large in \
         each plane",
        amount(d.0, d.1),
        amount(dimensions.span(), d.1),
        ratio(times)
    );
    let draft = context.beside_first(&setup.block, &[setup::SUPPORTS_AT.any(), setup::BETWEEN_PLANES.any()], message);
    sink.report(
        draft.help("judge such a rotor by its static and its couple unbalance, or move the supports closer together"),
    );
}

/// One of the distances: as worked out, else as stated.
fn distance(setup: &SetupResults<'_>, fact: Fact<Length>, result: &'static ResultSpec) -> Option<(Length, Unit)> {
    if let Some(reckoned) = Reckoned::entry(&setup.entries, result) {
        return Some((Length::from_base(reckoned.base), reckoned.unit));
    }
    match &setup.block.field(fact)?.field.value {
        FieldValue::Quantity(stated) => Some((Length::from_base(stated.base), stated.unit)),
        _ => None,
    }
}
