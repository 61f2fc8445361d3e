use crate::check::lapse::shown;
use crate::check::{Draft, Rule, Run, Severity, Lapse};
use crate::syntax::SyntaxErrorKind;
use crate::text::Edit;

pub static RULE: Rule = Rule {
    code: "unclosed-block",
    severity: Severity::Error,
    title: "A block is opened and never closed",
    page: include_str!("unclosed_block.md"),
    run: Run::Syntax(SyntaxErrorKind::UnclosedBlock, say),
};

fn say(lapse: &Lapse<'_>) -> Draft {
    let opened = lapse.line_number(lapse.span().start);
    let block = lapse.block().filter(|block| block.heading.start <= lapse.span().start && block.body >= lapse.span().end);
    let place = block.filter(|_| lapse.span().is_empty()).map_or(lapse.span(), |block| block.heading);
    let draft = lapse.context().draft(place, format!("`{}` has no `}}` that closes it", shown(lapse.line())));
    let Some(block) = block else {
        return draft.help(format!("it was opened on line {opened}: write `}}` on a line of its own where it ends"));
    };
    let last = lapse.line_number(block.span.end);
    let help = format!("it was opened on line {opened}: write `}}` on a line of its own below line {last}");
    let closing = Edit::insert(block.span.end, format!("\n{}}}", lapse.indent()));
    draft.help(help).fix(format!("Close it below line {last}"), closing)
}
