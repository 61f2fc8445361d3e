use crate::check::{ItemContext, Rule, Run, Severity, Sink, names, registry};
use crate::syntax::Kind;

pub static RULE: Rule = Rule {
    code: "unknown-code",
    severity: Severity::Warning,
    title: "A diagnostic is ranked that does not exist",
    page: include_str!("unknown_code.md"),
    run: Run::Item(&[Kind::Shop], judge),
};

fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let codes: Vec<&str> = registry::rules().iter().map(|rule| rule.code).collect();
    for name in context.block.inner(Kind::Severity).filter_map(|block| block.name.as_ref()) {
        if codes.contains(&&*name.text) {
            continue;
        }
        let draft = context.draft(name.span, format!("there is no diagnostic `{}`, so nothing is ranked", name.text));
        sink.report(names::did_you_mean(draft, name, &codes.iter().copied().collect(), |_| {
            "the code of a diagnostic stands beside each message, such as `unknown-key`".to_owned()
        }));
    }
}
