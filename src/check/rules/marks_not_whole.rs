use crate::check::{ItemContext, Rule, Run, Severity, Sink};
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::units;
use crate::vocabulary::scale;

pub static RULE: Rule = Rule {
    code: "marks-not-whole",
    severity: Severity::Warning,
    title: "A scale has a part of a mark",
    page: include_str!("marks_not_whole.md"),
    run: Run::Item(&[Kind::Machine], judge),
};

fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let readouts = context.effective().inner(Kind::Readout);
    for scale in readouts.flat_map(|readout| readout.inner(Kind::Scale)) {
        let Some(field) = scale.field(scale::MARKS) else { continue };
        let FieldValue::Number(marks) = field.field.value else { continue };
        if marks.fract() == 0.0 {
            continue;
        }
        let message = format!("scale {} has {} marks", scale.name_text(), units::plainly(marks));
        let help = "count the printed marks from zero to the end; what one stands for is `one mark is`, how finely it \
                    can be read is `smallest step`";
        sink.report(context.beside(field, message).help(help));
    }
}
