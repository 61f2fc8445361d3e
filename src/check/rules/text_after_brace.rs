use crate::check::{Draft, Rule, Run, Severity, Slip};
use crate::syntax::SyntaxErrorKind;

pub static RULE: Rule = Rule {
    code: "text-after-brace",
    severity: Severity::Error,
    title: "Something stands behind the brace that opens a block",
    page: include_str!("text_after_brace.md"),
    run: Run::Syntax(SyntaxErrorKind::TextAfterBrace, say),
};

fn say(slip: &Slip<'_>) -> Draft {
    let message = format!("`{}` stands on the line that opens the block", slip.shown());
    slip.say(message, "the line ends with its `{`: facts and `}` stand below, one a line")
}
