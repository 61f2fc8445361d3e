use crate::check::{Draft, Rule, Run, Severity, Slip};
use crate::sheet::schema::ValueType;
use crate::syntax::SyntaxErrorKind;
use crate::text::{Edit, Span};
use crate::units::Unit;

pub static RULE: Rule = Rule {
    code: "text-after-value",
    severity: Severity::Error,
    title: "More stands behind a value that was complete",
    page: include_str!("text_after_value.md"),
    run: Run::Syntax(SyntaxErrorKind::TextAfterValue, say),
};

fn say(slip: &Slip<'_>) -> Draft {
    let found = slip.found();
    let draft = slip.draft(format!("`{}` stands behind a value that was complete", slip.shown()));
    if matches!(found, ";" | "." | "," | "]" | "}") {
        let edit = Edit::delete(slip.span());
        return slip.offer(draft.help("a line ends with its value"), edit);
    }
    if let Some(comma) = next_of_list(slip) {
        return slip.say_with(draft.message, "values of a list are parted by a comma and a space", comma);
    }
    if let Some(sum) = sum_of_units(slip) {
        return slip.say_with(draft.message, "amounts in two units are added", sum);
    }
    if slip.edit().is_some() {
        return slip.say(draft.message, "");
    }
    let remark = !found.starts_with(|c: char| c.is_ascii_digit()) && slip.behind().trim().is_empty();
    let wanted = slip.wanted().unwrap_or_else(|| "a line has one value".to_owned());
    let draft = draft.help(format!("{wanted}; a remark behind it begins with `#`"));
    if remark { slip.offer(draft, as_remark(slip)) } else { draft }
}

/// `3 g (with wax)`, `3 g // with wax`: the rest of the line as a remark.
fn as_remark(slip: &Slip<'_>) -> Edit {
    let found = slip.found();
    let bare = found.trim_start_matches(['/', '*', '-', ';', ' ']);
    let marker = if bare.is_empty() { 0 } else { found.len() - bare.len() } as u32;
    Edit::replace(Span::new(slip.span().start, slip.span().start + marker), "# ")
}

/// `0 mm 164 mm`, `0 mm; 164 mm`, `0 mm and 164 mm`: where the key takes a list, a comma is missing.
fn next_of_list(slip: &Slip<'_>) -> Option<Edit> {
    use ValueType as T;
    let list = matches!(
        slip.fact()?.key.value,
        T::Quantities(..) | T::Ranges(_) | T::Names(_) | T::Readings | T::Weighing | T::Positions | T::LineHeads
    );
    let found = slip.found();
    let sign = ["and ", "& ", "; ", "/ ", "| ", "+ "].into_iter().find(|sign| found.starts_with(sign));
    let next = &found[sign.map_or(0, str::len)..];
    let value = next.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '"' | '-'));
    let before = slip.span().start - slip.blanks_before();
    let place = Span::new(before, slip.span().start + (found.len() - next.len()) as u32);
    (list && value).then(|| Edit::replace(place, ", "))
}

/// `12 lb 4 oz`: a sum, when the two units differ and are of one dimension.
fn sum_of_units(slip: &Slip<'_>) -> Option<Edit> {
    let (_, second) = slip.found().split_once(' ')?;
    let first = slip.value()?.strip_suffix(slip.found())?.trim_end().rsplit(' ').next()?;
    let (one, other) = (Unit::parse(first).ok()?, Unit::parse(second.trim()).ok()?);
    let sum =
        one != other && one.dimension() == other.dimension() && slip.found().starts_with(|c: char| c.is_ascii_digit());
    sum.then(|| Edit::insert(slip.span().start, "+ "))
}
