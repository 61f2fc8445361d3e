use crate::check::facts::expected_at;
use crate::check::{Draft, FileContext, FileEdit, wording};
use crate::sheet::{FactProblem, FactProblemKind, nearest};
use crate::text::{Edit, Span};
use crate::units::{Dimension, UnitError};
use crate::vocabulary::ValueType as T;

pub(super) fn say(context: &FileContext<'_>, problem: &FactProblem) -> Option<Draft> {
    let FactProblemKind::UnknownUnit { error } = &problem.kind else { return None };
    let whole = wording::shown(context.text(problem.span));
    let range = error.range();
    let place = Span::new(range.start as u32, range.end as u32).shifted(problem.span.start);
    let part = wording::shown(context.text(place));
    let of_whole = if place == problem.span { String::new() } else { format!(" in {whole}") };
    let draft = |message: String| context.draft(if place.is_empty() { problem.span } else { place }, message);
    Some(match error {
        UnitError::Unknown { suggestion, .. } => {
            let draft = draft(format!("{part}{of_whole} is not a unit"));
            let value = expected_at(context.source, problem.span);
            match value {
                Some(T::Number | T::Count | T::NumberRange) => {
                    return Some(uncounted(context, draft, problem.span, "this is a plain number: write it alone"));
                }
                Some(T::DialRange | T::Setting) if suggestion.is_none() => {
                    let help = "a dial that shows another unit is stated in plain numbers, such as `0 to 10`";
                    return Some(uncounted(context, draft, problem.span, help));
                }
                _ => {}
            }
            let expected = value.map_or(&[][..], T::dimensions);
            return Some(unknown(draft, context.text(place), place, *suggestion, expected));
        }
        UnitError::TwoSlashes { .. } => draft(format!("{whole} has a second `/`")).help(
            "a unit has one `/`, with one symbol after it; divide by the rest with an operator, as in `3 g / 2 mm`",
        ),
        UnitError::JoinerAfterSlash { .. } => {
            draft(format!("in {whole} it cannot be told whether what follows {part} multiplies or divides"))
                .help("put what multiplies before the `/`, as in `g·mm/kg`; one symbol comes after it")
        }
        UnitError::EmptyAtom { .. } => draft(format!("a symbol is missing in {whole}"))
            .help("one `·` goes between two symbols, as in `g·mm`, and none at the ends"),
        UnitError::BadExponent { .. } => draft(format!("{part}{of_whole} is not an exponent"))
            .help("an exponent is one digit from 2 to 9, as in `mm²`, `mm^2` or `mm2`; what divides comes after a `/`"),
        UnitError::Repeated { .. } => draft(format!("{part} appears twice in {whole}"))
            .help("raise a symbol that multiplies itself, as in `mm²`; one that divides itself drops out"),
        UnitError::TooLong { .. } => draft(format!("{whole} has more symbols than any unit needs"))
            .help("a unit is made up of a few symbols, such as `g·mm/kg`"),
    })
}

/// `2 pieces`: what is counted needs no unit.
fn uncounted(context: &FileContext<'_>, draft: Draft, unit: Span, help: &str) -> Draft {
    let before = context.source.text[..unit.start as usize].trim_end().len() as u32;
    let written = wording::shown(context.text(unit));
    draft.help(help).fix(format!("Take {written} out"), Edit::delete(Span::new(before, unit.end)))
}

fn unknown(
    draft: Draft,
    written: &str,
    place: Span,
    suggestion: Option<&'static str>,
    expected: &[Dimension],
) -> Draft {
    if ["gr", "grain", "grains"].contains(&written) {
        // NIST SP 811, appendix B.8 (from memory): a grain is 64.798 91 mg.
        let edits = vec![FileEdit { file: draft.place.file, edit: Edit::replace(place, "g") }];
        return draft.help("write `g` where grams are meant; a grain is `64.79891 mg`").choice("Write `g`", edits);
    }
    let usual = expected.iter().flat_map(|dimension| dimension.usual_units().iter().copied());
    match suggestion.or_else(|| nearest(written, usual)) {
        Some(unit) => draft.help(format!("write `{unit}`")).fix(format!("Write `{unit}`"), Edit::replace(place, unit)),
        None if expected.is_empty() => draft.help("the reference lists all units, under their symbols"),
        None => draft.help(format!(
            "the unit of {} is one such as {}",
            wording::a_dimension(expected),
            wording::usual_units(expected)
        )),
    }
}
