use crate::check::{ItemContext, Rule, Run, Severity, Sink};
use crate::sheet::FieldValue;
use crate::syntax::Kind;

pub static RULE: Rule = Rule {
    code: "two-channels-expected",
    severity: Severity::Error,
    title: "A machine has more than two channels, or two of one name",
    page: include_str!("two_channels_expected.md"),
    run: Run::Item(&[Kind::Machine], judge),
};

fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(field) = context.effective().field("channels") else { return };
    let FieldValue::Names(names) = &field.field.value else { return };
    if names.len() > 2 {
        let message = format!("the machine has {} channels, where two supports have two", names.len());
        sink.report(context.beside(field, message).help("name the two that measure at the supports, left first"));
    }
    for (n, name) in names.iter().enumerate() {
        if names[..n].iter().any(|other| other.text == name.text) {
            let message = format!("two channels are called {}", name.text);
            sink.report(context.draft(name.span, message).help("give each its own name, as the panel does"));
        }
    }
}
