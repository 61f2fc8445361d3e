use crate::vocabulary::{readout, scale};
use crate::book::{EffectiveBlock, EffectiveField};
use crate::check::amounts::choice;
use crate::check::{Draft, ItemContext, Rule, Run, Severity, Sink, wording};
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::units::Dimension;

pub static RULE: Rule = Rule {
    code: "readout-unit-mismatch",
    severity: Severity::Error,
    title: "The readout shows one thing and has the unit of another",
    page: include_str!("readout_unit_mismatch.md"),
    run: Run::Item(&[Kind::Machine], judge),
};

fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    for readout in context.effective().inner(Kind::Readout) {
        let Some(shows) = choice(readout, "shows") else { continue };
        let dimension = dimension_of(shows);
        let of_readout = ["unit", "full scale", "smallest step"].map(|key| readout.field(key));
        let of_scales = readout.inner(Kind::Scale).map(|scale| scale.field(scale::ONE_MARK_IS));
        for field in of_readout.into_iter().chain(of_scales).flatten() {
            sink.drafts.extend(judge_one(context, readout, shows, dimension, field));
        }
    }
}

fn judge_one<'b>(
    context: &ItemContext<'b, '_>,
    readout: &EffectiveBlock<'b>,
    shows: &str,
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
    let message = format!("the readout shows {shows}, but {} is {what}", context.line(field));
    let help = format!("write it in {}, or put right what the readout shows", wording::usual_units(&[dimension]));
    Some(context.beside(field, message).help(help).about(readout.field(readout::SHOWS)?, "what it shows"))
}

fn dimension_of(shows: &str) -> Dimension {
    match shows {
        "unbalance" => Dimension::UNBALANCE,
        "mass at set radius" => Dimension::MASS,
        "displacement" => Dimension::LENGTH,
        "velocity" => Dimension::VELOCITY,
        _ => Dimension::DIVISION,
    }
}
