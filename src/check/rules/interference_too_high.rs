use crate::check::amounts::{limit, percent};
use crate::check::{ItemContext, Rule, Run, Severity, Sink};
use crate::syntax::Kind;

pub static RULE: Rule = Rule {
    code: "interference-too-high",
    severity: Severity::Warning,
    title: "A mass in one plane shows in the other",
    page: include_str!("interference_too_high.md"),
    run: Run::Item(&[Kind::Setup], judge),
};

fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(proof) = context.setup().and_then(|setup| setup.proof.as_ref()) else { return };
    let accepted = context.book().rules().interference;
    for separation in &proof.separations {
        let ratio = separation.interference.as_ref().and_then(|ratio| ratio.get());
        let Some(ratio) = ratio.filter(|ratio| *ratio > accepted) else { continue };
        let message = format!(
            "the mass in plane {} shows {} of itself in the other plane, more than the {} that the shop accepts",
            separation.plane,
            percent(ratio.value()),
            limit(accepted.value())
        );
        sink.report(context.beside_first(&separation.block, &["mass"], message).help(
            "set the separation again, until the mass leaves the other plane's reading where it was; then calibrate and \
             prove anew",
        ));
    }
}
