use crate::book::{EffectiveBlock, EffectiveField};
use crate::check::{Draft, ItemContext, Sink, wording};
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::units::Dimension;
use crate::vocabulary::{Choice, readout, readout::Shown, scale};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    for readout in context.effective().inner(Kind::Readout) {
        let Some(shows) = readout.choice(readout::SHOWS) else { continue };
        let dimension = dimension_of(shows);
        let amounts = [readout::FULL_SCALE, readout::SMALLEST_STEP, readout::SCATTER].map(|fact| readout.field(fact));
        let of_readout = [readout.field(readout::UNIT)].into_iter().chain(amounts);
        let of_scales = readout.inner(Kind::Scale).map(|scale| scale.field(scale::ONE_MARK_IS));
        for field in of_readout.chain(of_scales).flatten() {
            sink.drafts.extend(judge_one(context, readout, shows, dimension, field));
        }
    }
}

fn judge_one<'b>(
    context: &ItemContext<'b, '_>,
    readout: &EffectiveBlock<'b>,
    shows: Shown,
    dimension: Dimension,
    field: EffectiveField<'b>,
) -> Option<Draft> {
    let found = match &field.field.value {
        FieldValue::Unit(unit) => unit.dimension(),
        FieldValue::Quantity(stated) => stated.dimension(),
        _ => return None,
    };
    if found == dimension {
        return None;
    }
    let what = match &field.field.value {
        FieldValue::Unit(_) if found != Dimension::DIVISION => format!("a unit of {}", found.name()),
        _ => wording::a_dimension(&[found]),
    };
    let message = format!("the readout shows {}, but {} is {what}", shows.words(), context.line(field));
    let help = format!("write it in {}, or put right what the readout shows", wording::usual_units(&[dimension]));
    Some(context.beside(field, message).help(help).about(readout.field(readout::SHOWS)?, "what it shows"))
}

fn dimension_of(shows: Shown) -> Dimension {
    match shows {
        Shown::Unbalance => Dimension::UNBALANCE,
        Shown::MassAtSetRadius => Dimension::MASS,
        Shown::Displacement => Dimension::LENGTH,
        Shown::Velocity => Dimension::VELOCITY,
        Shown::Divisions => Dimension::DIVISION,
    }
}
