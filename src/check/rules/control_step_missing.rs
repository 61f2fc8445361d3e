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
        let named = control.name_text();
        let (message, step) = match control.field(control::STEP) {
            None => (format!("control \"{named}\" takes the {taken}, but has no `step`"), None),
            Some(step) => match &step.field.value {
                FieldValue::Quantity(stated) if stated.dimension() == dimension => continue,
                FieldValue::Quantity(_) | FieldValue::Number(_) => {
                    let written = context.written(step);
                    (format!("control \"{named}\" takes the {taken}, but moves by {written}"), Some(step))
                }
                _ => continue,
            },
        };
        let help =
            "write what it moves by, such as `step: 0.5 mm`: what is worked out is rounded to it and has its unit";
        sink.report(context.beside(step.unwrap_or(field), message).help(help));
    }
}
