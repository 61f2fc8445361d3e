use crate::check::{Draft, Rule, Run, Severity, Slip};
use crate::sheet::schema::ValueType;
use crate::syntax::SyntaxErrorKind;

pub static RULE: Rule = Rule {
    code: "bad-range",
    severity: Severity::Error,
    title: "A range is written in another way, or lacks an end",
    page: include_str!("bad_range.md"),
    run: Run::Syntax(SyntaxErrorKind::BadRange, say),
};

fn say(slip: &Slip<'_>) -> Draft {
    let found = slip.found();
    let message = match (found, slip.edit()) {
        (_, None) => return unfinished(slip),
        ("from", _) => "a range with two ends has no `from`".to_owned(),
        (word, _) if word.starts_with("to ") => "this range has no lower end".to_owned(),
        _ => format!("`{}` is not how a range is written", slip.shown()),
    };
    let single = slip.fact().is_some_and(|fact| !takes_range(fact.key.value));
    match slip.wanted().filter(|_| single) {
        Some(wanted) => slip.draft(format!("`{}` makes a range", slip.shown())).help(wanted),
        None => slip.say(message, "a range is `low to high`, `up to high` or `from low`"),
    }
}

fn unfinished(slip: &Slip<'_>) -> Draft {
    let value = slip.value().unwrap_or("");
    let twice = value.matches(" to ").count() > 1;
    let draft = slip.draft(match twice {
        true => "a range has two ends, and here a third follows".to_owned(),
        false => format!("nothing follows `{}`", slip.shown()),
    });
    draft.help("a range is `low to high`, `up to high` or `from low`")
}

fn takes_range(value: ValueType) -> bool {
    use ValueType as T;
    matches!(value, T::Range(_) | T::QuantityOrRange(_) | T::Ranges(_) | T::NumberRange | T::DialRange)
}
