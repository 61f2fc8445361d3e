use crate::check::wording::one_dimension;
use crate::check::{ItemContext, Sink};
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::vocabulary::control;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    if !context.is_read_whole() {
        return;
    }
    for control in context.effective().inner(Kind::Control) {
        let (Some(taken), Some(field)) = (control.choice(control::TAKES), control.field(control::TAKES)) else {
            continue;
        };
        let Some(dimension) = taken.dimension() else { continue };
        let takes = format!("control \"{}\" takes `{taken}`, {}", control.name_text(), one_dimension(dimension));
        let unit = dimension.usual_units().first().copied().unwrap_or_default();
        let mut help = format!("write what it moves by, such as `step: 0.5 {unit}`: its setting is rounded to that");
        let mut instead = "?".to_owned();
        let (message, step) = match control.field(control::STEP) {
            None => (format!("{takes}, but has no `step`"), None),
            Some(step) => {
                let written = context.written(step);
                match &step.field.value {
                    FieldValue::Quantity(stated) if stated.dimension() == dimension => continue,
                    FieldValue::Quantity(_) => (format!("{takes}, but moves by {written}"), Some(step)),
                    FieldValue::Number(_) => {
                        help = format!("write its unit, such as `step: {written} {unit}`");
                        instead = format!("{written} {unit}");
                        (format!("{takes}, but its step {written} has no unit"), Some(step))
                    }
                    _ => continue,
                }
            }
        };
        let draft = context.beside(step.unwrap_or(field), message).help(help);
        sink.report(match step {
            Some(step) => draft.offer_value(context, step, &instead),
            None => draft.offer_in(context.book(), control.place(), &["step: ?"]),
        });
    }
}
