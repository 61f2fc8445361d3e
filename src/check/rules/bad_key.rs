use crate::check::{Draft, Rule, Run, Severity, Slip};
use crate::syntax::SyntaxErrorKind;

pub static RULE: Rule = Rule {
    code: "bad-key",
    severity: Severity::Error,
    title: "What stands before the colon is no name of a fact",
    page: include_str!("bad_key.md"),
    run: Run::Syntax(SyntaxErrorKind::BadKey, say),
};

fn say(slip: &Slip<'_>) -> Draft {
    if matches!(slip.found(), ":" | "=>") {
        let message = format!("nothing stands before this `{}`", slip.found());
        return slip.draft(message).help("a fact begins with its name, as in `mass: 4.82 kg`");
    }
    let message = format!("`{}` is no name of a fact", slip.shown());
    let quotes = slip.edit().is_some_and(|edit| edit.text.starts_with('"'));
    let named = slip.block().is_some_and(|block| block.spec().named_facts.is_some());
    match quotes && !named {
        true => slip
            .draft(message)
            .help("a name is made of words: letters, digits, `-` and `_`, each beginning with a letter"),
        false => slip.say(message, if quotes { "a name that is more than one word stands in quotes" } else { "" }),
    }
}
