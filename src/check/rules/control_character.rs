use crate::check::{Draft, Rule, Run, Severity, Lapse, wording};
use crate::syntax::SyntaxErrorKind;

pub static RULE: Rule = Rule {
    code: "control-character",
    severity: Severity::Error,
    title: "A line holds a character that only looks like a space",
    page: include_str!("control_character.md"),
    run: Run::Syntax(SyntaxErrorKind::ControlCharacter, say),
};

fn say(lapse: &Lapse<'_>) -> Draft {
    let character = lapse.found().chars().next().unwrap_or(' ');
    let message = format!("this line holds {} where only a plain space parts words", wording::character(character));
    lapse.say(message, "such characters come along when text is copied from elsewhere")
}
