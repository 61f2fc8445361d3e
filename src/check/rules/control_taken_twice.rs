use crate::check::{ItemContext, Sink};
use crate::syntax::Kind;
use crate::vocabulary::control;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let controls: Vec<_> = context.effective().inner(Kind::Control).collect();
    for (n, control) in controls.iter().enumerate() {
        let Some((taken, field)) = control.choice(control::TAKES).zip(control.field(control::TAKES)) else { continue };
        let Some(first) = controls[..n].iter().find(|other| other.choice(control::TAKES) == Some(taken)) else {
            continue;
        };
        let message = format!("control \"{}\" takes `{taken}`, as \"{}\" does", control.name_text(), first.name_text());
        let draft = context.beside(field, message).help("one thing is set by one control: say what this one takes");
        sink.report(match first.field(control::TAKES) {
            Some(other) => draft.about(other, "taken here"),
            None => draft,
        });
    }
}
