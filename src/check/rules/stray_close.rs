use crate::check::{Draft, Rule, Run, Severity, Slip};
use crate::syntax::SyntaxErrorKind;
use crate::text::Edit;

pub static RULE: Rule = Rule {
    code: "stray-close",
    severity: Severity::Error,
    title: "A brace closes nothing",
    page: include_str!("stray_close.md"),
    run: Run::Syntax(SyntaxErrorKind::StrayClose, say),
};

fn say(slip: &Slip<'_>) -> Draft {
    let draft = slip.draft("this `}` closes nothing: no block is open here");
    let edit = slip.edit().unwrap_or_else(|| Edit::delete(slip.span()));
    let help = match slip.closed_before() {
        true => "take it out, unless another `}` above is the one too many",
        false => "take it out, or write the heading of the block above its facts",
    };
    draft.help(help).fix("Take it out", edit)
}
