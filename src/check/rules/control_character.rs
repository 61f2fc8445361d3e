use crate::check::{Draft, Rule, Run, Severity, Slip, wording};
use crate::syntax::SyntaxErrorKind;

pub static RULE: Rule = Rule {
    code: "control-character",
    severity: Severity::Error,
    title: "A line holds a character that only looks like a space",
    page: include_str!("control_character.md"),
    run: Run::Syntax(SyntaxErrorKind::ControlCharacter, say),
};

fn say(slip: &Slip<'_>) -> Draft {
    let character = slip.found().chars().next().unwrap_or(' ');
    let message = format!("this line holds {} where only a plain space parts words", wording::character(character));
    slip.say(message, "such characters come along when text is copied from elsewhere")
}
