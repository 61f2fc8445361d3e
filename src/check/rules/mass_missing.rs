use crate::book::ToleranceRule;
use crate::check::{ItemContext, Rule, Run, Severity, Sink, rotors};
use crate::syntax::Kind;

pub static RULE: Rule = Rule {
    code: "mass-missing",
    severity: Severity::Error,
    title: "A tolerance needs the mass of the rotor, and it is missing",
    page: include_str!("mass_missing.md"),
    run: Run::Item(&[Kind::Rotor], judge),
};

fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    let Some(tolerance) = rotor.tolerance_block() else { return };
    if !rotor.mass.is_left_out() || !rotors::is_read_whole(context) {
        return;
    }
    let needs_mass = |rule: &ToleranceRule| {
        use ToleranceRule as R;
        matches!(rule, R::Grade | R::WholeWeight | R::ScaledFrom | R::SimilarPart)
    };
    let Some((rule, _)) = rotor.rules.iter().find(|(rule, _)| needs_mass(rule)) else { return };
    let span = rule.field(tolerance).map_or(tolerance.written.heading, |field| field.field.value_span);
    let message = format!("a tolerance by `{}` needs the rotor's mass, which is not given", rule.words());
    sink.report(
        context
            .draft(span, message)
            .help("add `mass: … kg`, or `weighed: … kg at … mm, … kg at … mm`, which gives the mass centre with it"),
    );
}
