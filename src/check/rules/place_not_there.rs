use crate::check::{ItemContext, Rule, Run, Severity, Sink, rotors};
use crate::sheet::FieldValue;
use crate::syntax::Kind;

pub static RULE: Rule = Rule {
    code: "place-not-there",
    severity: Severity::Error,
    title: "A place is used that the plane does not have",
    page: include_str!("place_not_there.md"),
    run: Run::Item(&[Kind::Rotor], judge),
};

fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    for plane in &rotor.planes {
        let value = |key: &str| plane.block.field(key).map(|field| &field.field.value);
        let (Some(FieldValue::Places { count, .. }), Some(FieldValue::Names(used))) =
            (value("places"), value("places used"))
        else {
            continue;
        };
        for name in used {
            let Ok(number) = name.text.parse::<u32>() else { continue };
            if (1..=*count).contains(&number) {
                continue;
            }
            let heading = rotors::heading(context, &plane.block);
            let message = format!("place {number} is said to be taken, but {heading} has places 1 to {count}");
            sink.report(context.draft(name.span, message).help(
                "places are numbered from 1, beginning at the \
                angle in `places`",
            ));
        }
    }
}
