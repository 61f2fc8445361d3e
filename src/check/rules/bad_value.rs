use crate::check::slip::shown;
use crate::check::{Draft, Slip};
use crate::text::Edit;
use crate::vocabulary::plane;

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    let found = slip.found();
    if slip.edit().is_none() {
        return unclear(slip);
    }
    let number = found[found.find(|c: char| c.is_ascii_digit()).unwrap_or(0)..].trim();
    let key = slip.fact().map_or("", |fact| fact.key.name);
    let is_radius = key.contains(plane::RADIUS.words());
    let whole = |text: String| Edit::replace(slip.span(), text);
    if DIAMETERS.iter().any(|sign| found.to_lowercase().starts_with(sign)) {
        let message = format!("`{}` has a sign for a diameter before its number", slip.shown());
        return match is_radius {
            true if !number.contains(char::is_alphabetic) => {
                slip.draft(message).help("write `diameter: …` with its unit, or half of it")
            }
            true => slip.say_with(message, "a radius is half of it", whole(format!("{number} / 2"))),
            false => slip.say(message, ""),
        };
    }
    if found.starts_with(['r', 'R']) && key.contains(plane::DIAMETER.words()) {
        let message = format!("`{}` is a radius, and `{key}` takes a diameter", slip.shown());
        return slip.say_with(message, "a diameter is twice that", whole(format!("{number} * 2")));
    }
    if slip.edit().is_some_and(|edit| edit.text.starts_with('"')) {
        return slip.say(
            format!("`{}` is the name of a scale", slip.shown()),
            "a name that begins with a digit goes in quotes",
        );
    }
    if found.contains('°') {
        return slip.say(format!("`{}` is in degrees and minutes", slip.shown()), "angles have decimals");
    }
    match found.starts_with(['[', '(', '{']) {
        true => slip.say("this list is in brackets", "a list has a comma and a space between its values"),
        false => slip.say(format!("`{}` has more than a number and its unit", slip.shown()), ""),
    }
}

const DIAMETERS: [&str; 4] = ["ø", "⌀", "∅", "dia"];

fn unclear(slip: &Slip<'_>) -> Draft {
    let found = slip.found();
    if let Some(at) = found
        .find(|c: char| c.is_ascii_digit())
        .filter(|_| found.starts_with(|c: char| c.is_alphabetic() || "~≈".contains(c)))
    {
        let draft = slip.draft(format!("`{}` does not say how near it is", slip.shown()));
        let number = shown(&found[at..]);
        return draft.help(format!("write what was found with its limits, `{number} ± …`, or the number alone"));
    }
    let wanted =
        slip.wanted().unwrap_or_else(|| "a value is a number with its unit, words, or a text in quotes".to_owned());
    slip.draft(format!("`{}` is not a value", slip.shown())).help(wanted)
}
