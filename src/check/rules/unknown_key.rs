use crate::check::{Draft, FileContext, Rule, Run, Severity, wording};
use crate::sheet::schema;
use crate::sheet::{FactProblem, FactProblemKind};
use crate::text::Edit;

pub static RULE: Rule = Rule {
    code: "unknown-key",
    severity: Severity::Error,
    title: "A block has no fact of this name",
    page: include_str!("unknown_key.md"),
    run: Run::Fact(say),
};

fn say(context: &FileContext<'_>, problem: &FactProblem) -> Option<Draft> {
    let FactProblemKind::UnknownKey { block, suggestion } = problem.kind else { return None };
    let found = context.text(problem.span);
    let draft = context.draft(problem.span, format!("{} has no `{found}`", wording::with_article(block.words())));
    Some(match suggestion {
        Some(key) => draft
            .help(format!("did you mean `{key}`?"))
            .fix(format!("Write `{key}`"), Edit::replace(problem.span, key)),
        None => {
            let keys: Vec<&str> = schema::block(block).keys.iter().map(|key| key.name).collect();
            draft.help(format!("it may have {}", wording::or_list(&keys)))
        }
    })
}
