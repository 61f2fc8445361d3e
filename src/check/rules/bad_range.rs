use crate::check::lapse::shown;
use crate::check::{Draft, Rule, Run, Severity, Lapse};
use crate::syntax::SyntaxErrorKind;
use crate::text::Edit;

pub static RULE: Rule = Rule {
    code: "bad-range",
    severity: Severity::Error,
    title: "A range is written in another way, or lacks an end",
    page: include_str!("bad_range.md"),
    run: Run::Syntax(SyntaxErrorKind::BadRange, say),
};

fn say(lapse: &Lapse<'_>) -> Draft {
    let value = lapse.value().unwrap_or_else(|| lapse.found());
    if !lapse.takes_range() {
        let wanted = lapse.wanted().unwrap_or_else(|| FORMS.to_owned());
        return lapse.draft(format!("`{}` is a range", shown(value))).help(wanted);
    }
    let Some(edit) = lapse.edit() else {
        return lapse.draft(match value.matches(" to ").count() > 1 {
            true => "a range has two ends, and here a third follows".to_owned(),
            false => format!("nothing follows `{}`", lapse.shown()),
        })
        .help(FORMS);
    };
    let message = match lapse.found() {
        "from" => "a range with two ends has no `from`".to_owned(),
        word if word.starts_with("to ") => "this range has no lower end".to_owned(),
        _ => format!("`{}` is not how a range is written", shown(value)),
    };
    lapse.say_with(message, FORMS, both_with_unit(lapse, &edit).unwrap_or(edit))
}

const FORMS: &str = "a range is `low to high`, `up to high` or `from low`";

/// `3-5 mm`: the unit belongs to both ends.
fn both_with_unit(lapse: &Lapse<'_>, edit: &Edit) -> Option<Edit> {
    let reads = lapse.value_reads(edit)?;
    let (low, high) = reads.split_once(" to ")?;
    let (_, unit) = high.trim().split_once(' ')?;
    let bare = low.parse::<f64>().is_ok() && !unit.contains([' ', ',']);
    let value = lapse.fact()?.value_span;
    bare.then(|| Edit::replace(value, format!("{low} {unit} to {high}")))
}
