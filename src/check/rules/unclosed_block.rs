use crate::check::slip::shown;
use crate::check::{Draft, Rule, Run, Severity, Slip};
use crate::syntax::SyntaxErrorKind;

pub static RULE: Rule = Rule {
    code: "unclosed-block",
    severity: Severity::Error,
    title: "A block is opened and never closed",
    page: include_str!("unclosed_block.md"),
    run: Run::Syntax(SyntaxErrorKind::UnclosedBlock, say),
};

fn say(slip: &Slip<'_>) -> Draft {
    let opened = slip.line_number(slip.span().start);
    let draft = slip.draft(format!("`{}` has no `}}` that closes it", shown(slip.line())));
    let Some(edit) = slip.edit() else {
        return draft.help(format!("it was opened on line {opened}: write `}}` on a line of its own where it ends"));
    };
    let last = slip.line_number(edit.span.start);
    let help = format!("it was opened on line {opened}: write `}}` on a line of its own below line {last}");
    draft.help(help).fix(format!("Close it below line {last}"), edit)
}
