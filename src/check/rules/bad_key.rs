use crate::check::{Draft, Slip, wording};
use crate::text::{Edit, Span};
use crate::units::Unit;

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    if matches!(slip.found(), ":" | "=>") {
        let message = format!("nothing comes before this `{}`", slip.found());
        return slip.draft(message).help("a fact begins with its name, as in `mass: 4.82 kg`");
    }
    let message = format!("`{}` is not a name of a fact", slip.shown());
    let meant = [
        (without_bullet(slip), "facts have no bullets and no numbers before them"),
        (unit_behind_value(slip), "the unit comes after the number"),
        (remark_behind_value(slip), "a remark begins with `#`"),
        (key_alone(slip), ""),
        (number_as_name(slip), "a name that begins with a digit goes in quotes"),
    ];
    if let Some((edit, advice)) = meant.into_iter().find_map(|(edit, advice)| Some((edit?, advice))) {
        return slip.say_with(message, advice, edit);
    }
    match slip.edit() {
        Some(edit) if !edit.text.starts_with('"') => slip.say(message, "the unit comes after the number"),
        Some(_) if slip.block().is_some_and(|block| block.spec().named_facts.is_some()) => {
            slip.say(message, "a name that is more than one word goes in quotes")
        }
        _ => slip
            .draft(message)
            .help("the name of a fact is words of letters, digits, `-` and `_` that begin with a letter"),
    }
}

/// `'mass'`, `mass?`: a key of the block between other signs.
fn key_alone(slip: &Slip<'_>) -> Option<Edit> {
    let key = slip.found().trim_matches(|c: char| !c.is_alphanumeric());
    slip.block()?.spec().key(key)?;
    Some(Edit::replace(slip.span(), key))
}

/// `place 6: 0.27 g`
fn number_as_name(slip: &Slip<'_>) -> Option<Edit> {
    let (words, name) = slip.found().rsplit_once([' ', '\t'])?;
    let named = slip.block()?.spec().key(words.trim_end())?.head_name.is_some();
    let plain = name.starts_with(|c: char| c.is_ascii_digit()) && !name.contains('"');
    let place = Span::new(slip.span().end - name.len() as u32, slip.span().end);
    (named && plain).then(|| Edit::replace(place, wording::quoted(name)))
}

/// `mass (with wax): 3 g`
fn remark_behind_value(slip: &Slip<'_>) -> Option<Edit> {
    let (name, remark) = slip.found().strip_suffix([')', ']'])?.split_once(['(', '['])?;
    let behind = slip.behind().trim_end();
    slip.block()?.spec().key(name.trim())?;
    let place = Span::new(slip.span().start, slip.span().end + behind.len() as u32);
    let unit = Unit::parse(remark.trim()).is_ok();
    (!unit).then(|| Edit::replace(place, format!("{}{behind} # {}", name.trim(), remark.trim())))
}

/// `- mass`, `1. mass`
fn without_bullet(slip: &Slip<'_>) -> Option<Edit> {
    let found = slip.found();
    let behind_digits = found.trim_start_matches(|c: char| c.is_ascii_digit());
    let rest = match behind_digits.len() < found.len() {
        true => behind_digits.strip_prefix(['.', ')'])?,
        false => found.strip_prefix(['-', '*', '•', '–', '·', '+', '>', '▪'])?,
    };
    let name = rest.trim_start();
    let bullet = Span::new(slip.span().start, slip.span().end - name.len() as u32);
    are_words(name).then(|| Edit::delete(bullet))
}

/// `mass / g: 3`, `mass, g: 3`
fn unit_behind_value(slip: &Slip<'_>) -> Option<Edit> {
    let (name, unit) = slip.found().rsplit_once(['/', ','])?;
    let (name, unit) = (name.trim(), unit.trim());
    let behind = slip.behind().trim_end();
    let (sign, number) = behind.trim_start().split_once([' ', '\t'])?;
    let plain = number.trim().parse::<f64>().is_ok() && Unit::parse(unit).is_ok() && are_words(name);
    let place = Span::new(slip.span().start, slip.span().end + behind.len() as u32);
    plain.then(|| Edit::replace(place, format!("{name}{sign} {} {unit}", number.trim())))
}

fn are_words(text: &str) -> bool {
    let word = |word: &str| word.starts_with(char::is_alphabetic) && !word.contains(['(', '[', '"', '/', ',', '.']);
    !text.is_empty() && text.split_whitespace().all(word)
}
