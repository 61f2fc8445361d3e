use crate::check::machine_limits::machine_name;
use crate::check::settings;
use crate::check::wording::or_list;
use crate::check::{ItemContext, Rule, Run, Severity, Sink};
use crate::sheet::nearest;
use crate::syntax::Kind;
use crate::text::Edit;

pub static RULE: Rule = Rule {
    code: "control-unknown",
    severity: Severity::Warning,
    title: "A control is set that the machine does not declare",
    page: include_str!("control_unknown.md"),
    run: Run::Item(&[Kind::Setup], judge),
};

fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let (Some(setup), Some(controls)) = (context.setup(), settings::controls(context)) else { return };
    let names: Vec<&str> = controls.iter().map(|control| control.name_text()).collect();
    for setting in settings::all(context) {
        if settings::control_of(context, &setting).is_some() {
            continue;
        }
        let own = setting.field.item == context.id;
        let span = if own { setting.name.span } else { context.place_of(setting.field) };
        let message = format!("machine \"{}\" has no control \"{}\"", machine_name(setup), setting.name.text);
        let draft = context.draft(span, message);
        sink.report(match nearest(&setting.name.text, names.iter().copied()) {
            Some(name) if own => draft
                .help(format!("did you mean \"{name}\"?"))
                .fix(format!("Write \"{name}\""), Edit::replace(span, format!("\"{name}\""))),
            Some(name) => draft.help(format!("did you mean \"{name}\"?")),
            None if names.is_empty() => draft
                .help(format!("declare it in the machine: `control \"{}\" {{ range: 0 to 999 }}`", setting.name.text)),
            None => {
                draft.help(format!("it has {}; a control that is missing is declared in the machine", or_list(&names)))
            }
        });
    }
}
