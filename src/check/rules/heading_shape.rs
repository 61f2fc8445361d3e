use crate::check::{Draft, Rule, Run, Severity, Slip};
use crate::syntax::SyntaxErrorKind;

pub static RULE: Rule = Rule {
    code: "heading-shape",
    severity: Severity::Error,
    title: "A heading is written as other notations write it",
    page: include_str!("heading_shape.md"),
    run: Run::Syntax(SyntaxErrorKind::HeadingShape, say),
};

fn say(slip: &Slip<'_>) -> Draft {
    let message = match slip.found() {
        "{" => "the `{` stands on the line below its heading".to_owned(),
        ":" => "a colon stands in the heading of a block".to_owned(),
        _ => format!("`{}` has facts below it but no `{{`", slip.shown()),
    };
    slip.say(message, "a heading is the kind of block, its name and `{`, on one line")
}
