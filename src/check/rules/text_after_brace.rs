use crate::check::{Draft, Rule, Run, Severity, Lapse};
use crate::syntax::SyntaxErrorKind;

pub static RULE: Rule = Rule {
    code: "text-after-brace",
    severity: Severity::Error,
    title: "Something stands behind the brace that opens a block",
    page: include_str!("text_after_brace.md"),
    run: Run::Syntax(SyntaxErrorKind::TextAfterBrace, say),
};

fn say(lapse: &Lapse<'_>) -> Draft {
    let message = format!("`{}` stands on the line that opens the block", lapse.shown());
    lapse.say(message, "the line ends with its `{`: facts and `}` stand below, one a line")
}
