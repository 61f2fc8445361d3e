use crate::check::{Draft, Rule, Run, Severity, Slip, wording};
use crate::syntax::SyntaxErrorKind;

pub static RULE: Rule = Rule {
    code: "hidden-character",
    severity: Severity::Error,
    title: "A text or remark holds a character that cannot be seen",
    page: include_str!("hidden_character.md"),
    run: Run::Syntax(SyntaxErrorKind::HiddenCharacter, say),
};

fn say(slip: &Slip<'_>) -> Draft {
    let character = slip.found().chars().next().unwrap_or(' ');
    let message = format!("this text holds {}, which cannot be seen", wording::character(character));
    slip.say(message, "")
}
