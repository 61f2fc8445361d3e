use crate::check::{ItemContext, Rule, Run, Severity, Sink, rotors};
use crate::syntax::Kind;

pub static RULE: Rule = Rule {
    code: "method-contradicts-correct",
    severity: Severity::Error,
    title: "A plane is corrected by a method that does the opposite",
    page: include_str!("method_contradicts_correct.md"),
    run: Run::Item(&[Kind::Rotor], judge),
};

fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    for plane in &rotor.planes {
        let (Some(correct), Some(method)) = (plane.correct(), rotors::choice(&plane.block, "method")) else { continue };
        let does = match (correct, method) {
            ("add", "drilling" | "milling" | "grinding") => "takes material off",
            ("remove", "welding" | "putty" | "slot filler") => "puts material on",
            _ => continue,
        };
        let message = format!(
            "{} is to {correct} material, but {method} \
            {does}",
            rotors::heading(context, &plane.block)
        );
        let other = if correct == "add" { "remove" } else { "add" };
        sink.report(
            context
                .draft(rotors::span_of(&plane.block, &["method"]), message)
                .help(format!("write `correct: {other}`, or the method that is meant")),
        );
    }
}
