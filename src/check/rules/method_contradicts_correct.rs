use crate::vocabulary::Choice;
use crate::vocabulary::plane::{CorrectBy, Method};
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
        let (Some(correct), Some(method)) = (plane.correct(), plane.method) else { continue };
        let does = match (correct, method) {
            (CorrectBy::Add, Method::Drilling | Method::Milling | Method::Grinding) => "takes material off",
            (CorrectBy::Remove, Method::Welding | Method::Putty | Method::SlotFiller) => "puts material on",
            _ => continue,
        };
        let other = if correct == CorrectBy::Add { CorrectBy::Remove } else { CorrectBy::Add };
        let (other, correct, method) = (other.words(), correct.words(), method.words());
        let message = format!(
            "{} is to {correct} material, but {method} \
            {does}",
            rotors::heading(context, &plane.block)
        );
        sink.report(
            context
                .draft(rotors::span_of(&plane.block, &["method"]), message)
                .help(format!("write `correct: {other}`, or the method that is meant")),
        );
    }
}
