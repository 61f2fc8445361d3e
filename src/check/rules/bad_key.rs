use crate::check::{Draft, Rule, Run, Severity, Lapse};
use crate::syntax::SyntaxErrorKind;
use crate::text::{Edit, Span};
use crate::units::Unit;

pub static RULE: Rule = Rule {
    code: "bad-key",
    severity: Severity::Error,
    title: "What stands before the colon is no name of a fact",
    page: include_str!("bad_key.md"),
    run: Run::Syntax(SyntaxErrorKind::BadKey, say),
};

fn say(lapse: &Lapse<'_>) -> Draft {
    if matches!(lapse.found(), ":" | "=>") {
        let message = format!("nothing stands before this `{}`", lapse.found());
        return lapse.draft(message).help("a fact begins with its name, as in `mass: 4.82 kg`");
    }
    let message = format!("`{}` is no name of a fact", lapse.shown());
    let meant = [
        (without_bullet(lapse), "facts have no bullets and no numbers before them"),
        (unit_behind_value(lapse), "the unit stands behind the number"),
        (remark_behind_value(lapse), "a remark begins with `#`"),
        (key_alone(lapse), ""),
    ];
    if let Some((edit, advice)) = meant.into_iter().find_map(|(edit, advice)| Some((edit?, advice))) {
        return lapse.say_with(message, advice, edit);
    }
    match lapse.edit() {
        Some(edit) if !edit.text.starts_with('"') => lapse.say(message, "the unit stands behind the number"),
        Some(_) if lapse.block().is_some_and(|block| block.spec().named_facts.is_some()) => {
            lapse.say(message, "a name that is more than one word stands in quotes")
        }
        _ => lapse
            .draft(message)
            .help("the name of a fact is words of letters, digits, `-` and `_` that begin with a letter"),
    }
}

/// `'mass'`, `mass?`: a key of the block between other signs.
fn key_alone(lapse: &Lapse<'_>) -> Option<Edit> {
    let key = lapse.found().trim_matches(|c: char| !c.is_alphanumeric());
    lapse.block()?.spec().key(key)?;
    Some(Edit::replace(lapse.span(), key))
}

/// `mass (with wax): 3 g`
fn remark_behind_value(lapse: &Lapse<'_>) -> Option<Edit> {
    let (name, remark) = lapse.found().strip_suffix([')', ']'])?.split_once(['(', '['])?;
    let behind = lapse.behind().trim_end();
    lapse.block()?.spec().key(name.trim())?;
    let place = Span::new(lapse.span().start, lapse.span().end + behind.len() as u32);
    let unit = Unit::parse(remark.trim()).is_ok();
    (!unit).then(|| Edit::replace(place, format!("{}{behind} # {}", name.trim(), remark.trim())))
}

/// `- mass`, `1. mass`
fn without_bullet(lapse: &Lapse<'_>) -> Option<Edit> {
    let found = lapse.found();
    let behind_digits = found.trim_start_matches(|c: char| c.is_ascii_digit());
    let rest = match behind_digits.len() < found.len() {
        true => behind_digits.strip_prefix(['.', ')'])?,
        false => found.strip_prefix(['-', '*', '•', '–', '·', '+', '>', '▪'])?,
    };
    let name = rest.trim_start();
    let bullet = Span::new(lapse.span().start, lapse.span().end - name.len() as u32);
    are_words(name).then(|| Edit::delete(bullet))
}

/// `mass / g: 3`, `mass, g: 3`
fn unit_behind_value(lapse: &Lapse<'_>) -> Option<Edit> {
    let (name, unit) = lapse.found().rsplit_once(['/', ','])?;
    let (name, unit) = (name.trim(), unit.trim());
    let behind = lapse.behind().trim_end();
    let (sign, number) = behind.trim_start().split_once([' ', '\t'])?;
    let plain = number.trim().parse::<f64>().is_ok() && Unit::parse(unit).is_ok() && are_words(name);
    let place = Span::new(lapse.span().start, lapse.span().end + behind.len() as u32);
    plain.then(|| Edit::replace(place, format!("{name}{sign} {} {unit}", number.trim())))
}

fn are_words(text: &str) -> bool {
    let word = |word: &str| word.starts_with(char::is_alphabetic) && !word.contains(['(', '[', '"', '/', ',', '.']);
    !text.is_empty() && text.split_whitespace().all(word)
}
