use crate::check::{Draft, Rule, Run, Severity, Slip};
use crate::syntax::SyntaxErrorKind;

pub static RULE: Rule = Rule {
    code: "bad-block-name",
    severity: Severity::Error,
    title: "What follows the kind of a block is no name",
    page: include_str!("bad_block_name.md"),
    run: Run::Syntax(SyntaxErrorKind::BadBlockName, say),
};

fn say(slip: &Slip<'_>) -> Draft {
    let found = slip.shown();
    let Some(kind) = slip.kind_of_heading() else {
        return slip.say(format!("`{found}` is no name"), ADVICE);
    };
    if !kind.takes_name() {
        let draft = slip.draft(format!("a `{kind}` block has no name, and here it is `{found}`"));
        return draft.help(format!("write `{kind} {{`"));
    }
    if slip.edit().is_none() {
        let draft = slip.draft(format!("`{found}` is one name too many: a block has one"));
        return draft.help(format!("write one name behind `{kind}`, in quotes when it is more than one word"));
    }
    slip.say(format!("`{found}` behind `{kind}` is no name"), ADVICE)
}

const ADVICE: &str = "a name is one word that begins with a letter, or stands in quotes";
