use crate::check::{Draft, Rule, Run, Severity, Slip};
use crate::syntax::{Kind, SyntaxErrorKind};

pub static RULE: Rule = Rule {
    code: "misplaced-block",
    severity: Severity::Error,
    title: "A block stands where its kind may not",
    page: include_str!("misplaced_block.md"),
    run: Run::Syntax(SyntaxErrorKind::MisplacedBlock, say),
};

fn say(slip: &Slip<'_>) -> Draft {
    let kind = Kind::ALL.into_iter().find(|kind| kind.words().split(' ').eq(slip.found().split_whitespace()));
    let Some((kind, parent)) = kind.and_then(|kind| Some((kind, kind.parent()?))) else {
        return slip
            .draft(format!("`{}` may not stand here", slip.shown()))
            .help("move it into the block it belongs to");
    };
    let draft = slip.draft(match slip.block().filter(|block| block.span.start < slip.span().start) {
        Some(block) => format!("a `{kind}` block stands in a `{}`", block.kind),
        None => format!("a `{kind}` block stands outside every `{parent}`"),
    });
    let above = if slip.closed_before() { "; is there a `}` too many above?" } else { "" };
    draft.help(format!("move it between the braces of the `{parent}` it belongs to{above}"))
}
