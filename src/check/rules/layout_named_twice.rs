use crate::check::{ItemContext, Sink};
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::vocabulary::control;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    for control in context.effective().inner(Kind::Control) {
        let positions: Vec<_> = control.named(control::POSITION).collect();
        for (n, (name, field)) in positions.iter().enumerate() {
            let FieldValue::Choice(layout) = field.field.value else { continue };
            let same = |(_, other): &&(_, crate::book::EffectiveField<'_>)| other.field.value == field.field.value;
            let Some((first, other)) = positions[..n].iter().find(same) else { continue };
            let message = format!(
                "position {} of control \"{}\" means {layout}, as position {} does",
                name.text,
                control.name_text(),
                first.text
            );
            let help = "say of each position which layout it means: the one to set is found by it";
            sink.report(context.beside(*field, message).about(*other, "named here").help(help));
        }
    }
}
