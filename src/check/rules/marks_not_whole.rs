use crate::check::{ItemContext, Sink};
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::units;
use crate::vocabulary::scale;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let readouts = context.effective().inner(Kind::Readout);
    for scale in readouts.flat_map(|readout| readout.inner(Kind::Scale)) {
        let Some(field) = scale.field(scale::MARKS) else { continue };
        let FieldValue::Number(marks) = field.field.value else { continue };
        if marks.fract() == 0.0 {
            continue;
        }
        let message = format!("scale {} has {} marks", scale.name_text(), units::plainly(marks));
        let help = "count the printed marks from zero to the end; what one means is `one mark is`, how finely it \
                    can be read is `smallest step`";
        sink.report(context.beside(field, message).help(help));
    }
}
