use crate::check::{Draft, Rule, Run, Severity, Slip};
use crate::syntax::SyntaxErrorKind;
use crate::text::Edit;
use crate::units;

pub static RULE: Rule = Rule {
    code: "inch-mark",
    severity: Severity::Error,
    title: "A length is given with a mark for its unit",
    page: include_str!("inch_mark.md"),
    run: Run::Syntax(SyntaxErrorKind::InchMark, say),
};

fn say(slip: &Slip<'_>) -> Draft {
    let found = slip.found();
    let message = format!("`{}` has a mark for its unit", slip.shown());
    if slip.edit().is_some() {
        return slip.say(message, "inches are `in`");
    }
    match found.trim_end_matches(['\'', '’', '′']).parse::<f64>() {
        Ok(feet) => {
            let edit = Edit::replace(slip.span(), format!("{} in", units::plainly(feet * 12.0)));
            slip.say_with(message, "feet are written as inches, twelve to the foot", edit)
        }
        Err(_) => slip.draft(message).help("lengths are written in mm, m, µm, in or mil"),
    }
}
