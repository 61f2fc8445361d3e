use crate::book::{EffectiveBlock, EffectiveField, ReadoutFacts, suits_readout};
use crate::check::machine_limits::machine_name;
use crate::check::readings::{self, all, readout};
use crate::check::{Draft, ItemContext, Sink, wording};
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::units::Dimension;
use crate::vocabulary::{as_run, calibrate, check_mass, proven_with, setup};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let (Some(setup), Some(readout)) = (readings::setup(context), readout(context)) else { return };
    // What the readout shows decides its unit.
    if readout.shows.is_none() {
        return;
    }
    for (field, reading) in all(context) {
        let dimension = reading.amount.dimension();
        // Marks on a dial without scales are reported as such.
        if dimension != Dimension::MARK && !suits_readout(dimension, readout) {
            sink.report(draft(context, readout, field, dimension));
        }
    }
    for field in limits(context.effective()) {
        let FieldValue::Quantity(stated) = &field.field.value else { continue };
        if !suits_readout(stated.dimension(), readout) {
            sink.report(draft(context, readout, field, stated.dimension()));
        }
    }
    // The facts of the setup are judged there.
    if context.setup().is_none() {
        return;
    }
    let within = setup.block.inner(Kind::CheckMass).filter_map(|block| block.field(check_mass::WITHIN));
    let residual =
        setup.block.inner(Kind::Calibrate).filter_map(|block| block.field(calibrate::RESIDUAL_AT_CALIBRATION));
    for field in within.chain(residual) {
        let FieldValue::Quantity(stated) = &field.field.value else { continue };
        let dimension = stated.dimension();
        // A share of the reading, and an unbalance, need no readout.
        let free = dimension == Dimension::NONE
            || !field.field.key.is(check_mass::WITHIN) && dimension == Dimension::UNBALANCE;
        if !free && dimension != Dimension::MARK && !suits_readout(dimension, readout) {
            sink.report(draft(context, readout, field, dimension));
        }
    }
}

/// What channels may read, by the sheet and by what proofs and records have kept of it.
fn limits<'b>(block: &EffectiveBlock<'b>) -> Vec<EffectiveField<'b>> {
    let kept = [setup::VIBRATION_LIMIT.any(), proven_with::LIMIT_ON.any(), as_run::LIMIT_ON.any()];
    let own = block.fields.iter().copied().filter(|field| kept.iter().any(|limit| field.field.key.is(*limit)));
    own.chain(block.blocks.iter().flat_map(limits)).collect()
}

fn draft<'b>(
    context: &ItemContext<'b, '_>,
    readout: &ReadoutFacts<'_>,
    field: EffectiveField<'b>,
    found: Dimension,
) -> Draft {
    let name = readings::setup(context).map_or("", machine_name);
    let message = format!(
        "{} is {}, but the readout of machine \"{name}\" shows {}",
        context.line(field),
        wording::a_dimension(&[found]),
        readout.unit
    );
    context.beside(field, message).help(format!("write what is read, in {}", readout.unit))
}
