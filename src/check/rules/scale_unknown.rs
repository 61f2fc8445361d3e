use crate::check::machine_limits::machine_name;
use crate::check::readings::{all, readout};
use crate::check::wording::or_list;
use crate::check::{ItemContext, Rule, Run, Severity, Sink};
use crate::sheet::nearest;
use crate::syntax::Kind;
use crate::text::Edit;

pub static RULE: Rule = Rule {
    code: "scale-unknown",
    severity: Severity::Error,
    title: "A reading is given on a scale that the dial lacks",
    page: include_str!("scale_unknown.md"),
    run: Run::Item(&[Kind::Setup], judge),
};

fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let (Some(setup), Some(readout)) = (context.setup(), readout(context)) else { return };
    let names: Vec<&str> = readout.scales.iter().map(|scale| scale.name).collect();
    for (field, reading) in all(context) {
        let Some(scale) = reading.scale.as_ref().filter(|scale| !names.contains(&&*scale.text)) else { continue };
        let own = field.item == context.id;
        let span = if own { scale.span } else { context.place_of(field) };
        let draft = context
            .draft(span, format!("the readout of machine \"{}\" has no scale {}", machine_name(setup), scale.text));
        sink.report(match nearest(&scale.text, names.iter().copied()) {
            Some(name) if own => draft
                .help(format!("did you mean {name}?"))
                .fix(format!("Write {name}"), Edit::replace(span, crate::check::pin_text::words(name, scale.quoted))),
            _ if names.is_empty() => draft.help("it has one scale and no names for it: write the amount alone"),
            _ => draft.help(format!("its scales are {}", or_list(&names))),
        });
    }
}
