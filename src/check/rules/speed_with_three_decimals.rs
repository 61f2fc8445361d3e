use crate::check::{ItemContext, Sink};
use crate::sheet::{Block, Field};
use crate::text::{Edit, Span};
use crate::units::{Dimension, Unit};

/// Below this a speed with three decimals is more likely one with its thousands set apart. Common practice, no source.
const SLOW: f64 = 100.0;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    judge_block(context, context.block, sink);
}

fn judge_block(context: &ItemContext<'_, '_>, block: &Block, sink: &mut Sink) {
    for field in block.fields.iter().filter(|field| field.key.value.dimensions().contains(&Dimension::SPEED)) {
        for (span, written) in doubtful(context.text(context.id.file, field.value_span), field) {
            let (thousands, decimals) = (written.replace('.', ""), decimals(written));
            let message = format!("`{written}` may be {thousands} with a point that sets its thousands apart");
            let help = format!("write `{thousands}` if it is that, `{decimals}` if the point marks decimals");
            let draft = context.draft(span, message).help(help);
            let fix = |text: &str| (format!("Write {text}"), Edit::replace(span, text.to_owned()));
            let [one, other] = [fix(&thousands), fix(&decimals)];
            sink.report(draft.fix(one.0, one.1).fix(other.0, other.1));
        }
    }
    block.blocks.iter().for_each(|inner| judge_block(context, inner, sink));
}

/// Whether a fact holds a speed that is written so.
pub(super) fn is_doubtful(context: &ItemContext<'_, '_>, field: &Field) -> bool {
    !doubtful(context.text(context.id.file, field.value_span), field).is_empty()
}

/// Slow speeds of a fact that are written with a point and three digits after it.
fn doubtful<'t>(text: &'t str, field: &Field) -> Vec<(Span, &'t str)> {
    let mut found = Vec::new();
    let mut rest = 0;
    while let Some(at) = text[rest..].find(|c: char| c.is_ascii_digit()) {
        let start = rest + at;
        let length = text[start..].find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(text.len() - start);
        let number = &text[start..start + length];
        rest = start + length;
        let unit = text[rest..].trim_start();
        let unit = unit.split([' ', ',', ')', '\t']).next().and_then(|unit| Unit::parse(unit).ok());
        let three = number.split_once('.').is_some_and(|(_, decimals)| decimals.len() == 3);
        let rpm = Unit::parse("rpm").map_or(1.0, Unit::factor);
        let slow = |unit: Unit| {
            unit.dimension() == Dimension::SPEED
                && number.parse::<f64>().is_ok_and(|number| number * unit.factor() < SLOW * rpm)
        };
        if three && unit.is_some_and(slow) {
            let from = field.value_span.start + start as u32;
            found.push((Span::new(from, from + length as u32), number));
        }
    }
    found
}

/// The same number with other than three decimals.
fn decimals(written: &str) -> String {
    match written.strip_suffix('0') {
        Some(shorter) => shorter.trim_end_matches('0').trim_end_matches('.').to_owned(),
        None => format!("{written}0"),
    }
}
