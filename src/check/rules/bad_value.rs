use crate::check::lapse::shown;
use crate::check::{Draft, Rule, Run, Severity, Lapse};
use crate::syntax::SyntaxErrorKind;
use crate::text::Edit;

pub static RULE: Rule = Rule {
    code: "bad-value",
    severity: Severity::Error,
    title: "A value has no form that the format knows",
    page: include_str!("bad_value.md"),
    run: Run::Syntax(SyntaxErrorKind::BadValue, say),
};

fn say(lapse: &Lapse<'_>) -> Draft {
    let found = lapse.found();
    if lapse.edit().is_none() {
        return unclear(lapse);
    }
    let number = found[found.find(|c: char| c.is_ascii_digit()).unwrap_or(0)..].trim();
    let key = lapse.fact().map_or("", |fact| fact.key.name);
    let whole = |text: String| Edit::replace(lapse.span(), text);
    if DIAMETERS.iter().any(|sign| found.to_lowercase().starts_with(sign)) {
        let message = format!("`{}` has a sign for a diameter before its number", lapse.shown());
        return match matches!(key, "r1" | "r2") || key.contains("radius") {
            true => lapse.say_with(message, "a radius is half of it", whole(format!("{number} / 2"))),
            false => lapse.say(message, ""),
        };
    }
    if found.starts_with(['r', 'R']) && key.contains("diameter") {
        let message = format!("`{}` is a radius, and `{key}` takes a diameter", lapse.shown());
        return lapse.say_with(message, "a diameter is twice that", whole(format!("{number} * 2")));
    }
    if lapse.edit().is_some_and(|edit| edit.text.starts_with('"')) {
        return lapse.say(format!("`{}` is the name of a scale", lapse.shown()), "a name that begins with a digit stands in quotes");
    }
    if found.contains('°') {
        return lapse.say(format!("`{}` is in degrees and minutes", lapse.shown()), "angles have decimals");
    }
    match found.starts_with(['[', '(', '{']) {
        true => lapse.say("this list stands in brackets", "a list has a comma and a space between its values"),
        false => lapse.say(format!("`{}` has more than a number and its unit", lapse.shown()), ""),
    }
}

const DIAMETERS: [&str; 4] = ["ø", "⌀", "∅", "dia"];

fn unclear(lapse: &Lapse<'_>) -> Draft {
    let found = lapse.found();
    if let Some(at) = found.find(|c: char| c.is_ascii_digit()).filter(|_| found.starts_with(|c: char| c.is_alphabetic() || "~≈".contains(c))) {
        let draft = lapse.draft(format!("`{}` does not say how near it is", lapse.shown()));
        let number = shown(&found[at..]);
        return draft.help(format!("write what was found with its limits, `{number} ± …`, or the number alone"));
    }
    let wanted = lapse.wanted().unwrap_or_else(|| "a value is a number with its unit, words, or a text in quotes".to_owned());
    lapse.draft(format!("`{}` is no value", lapse.shown())).help(wanted)
}
