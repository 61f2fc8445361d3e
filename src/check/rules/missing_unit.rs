use crate::check::facts::{self, expected_at};
use crate::check::{Draft, FileContext, FileEdit, amounts, wording};
use crate::sheet::{FactProblem, FactProblemKind};
use crate::text::{Edit, Span};
use crate::units::{Dimension, Unit};
use crate::vocabulary::ValueType;

pub(super) fn say(context: &FileContext<'_>, problem: &FactProblem) -> Option<Draft> {
    let FactProblemKind::MissingUnit { expected, from } = problem.kind else { return None };
    let written = context.text(problem.span);
    let expected = match expected.is_empty() {
        true => expected_at(context.source, problem.span).map_or(expected, crate::vocabulary::ValueType::dimensions),
        false => expected,
    };
    let message = match from {
        Some(unit) => {
            format!("{} has no unit, and the value beside it is in `{}`", wording::shown(written), context.text(unit))
        }
        None => {
            let subject = facts::subject(context, problem.span);
            format!("{} has no unit, and {subject} wants {}", wording::shown(written), wording::a_dimension(expected))
        }
    };
    let draft = context.draft(problem.span, message);
    let wants = expected_at(context.source, problem.span);
    if let (Some(ValueType::ClockOrAngle), Some(clock)) = (wants, amounts::clock_with_point(written)) {
        let help =
            format!("as a place of the clock it is `{clock}`, as an angle `{written} deg`: write which is meant");
        return Some(draft.help(help));
    }
    let only = from.map(|unit| context.text(unit)).or_else(|| only_unit(expected, written));
    Some(match only {
        // A sum of bare numbers may need its unit at one place or at all of them.
        Some(unit) if written.parse::<f64>().is_ok() => draft
            .help(format!("every number has its unit: write `{written} {unit}`"))
            .fix(format!("Write `{written} {unit}`"), Edit::insert(problem.span.end, format!(" {unit}"))),
        _ => units(draft.help(help(expected, written)), problem.span, expected, written),
    })
}

/// Offers the units that are usual for what is expected; of a share of one also what it is as a percentage.
fn units(draft: Draft, span: Span, expected: &[Dimension], written: &str) -> Draft {
    let Ok(number) = written.parse::<f64>() else { return draft };
    let file = draft.place.file;
    let offer = |draft: Draft, value: String| {
        let edit = FileEdit { file, edit: Edit::replace(span, value.clone()) };
        draft.choice(format!("Write `{value}`"), vec![edit])
    };
    let draft = match expected {
        [Dimension::NONE] => {
            let percent = crate::units::plainly(Unit::PERCENT.from_base(number));
            offer(draft, format!("{percent} {}", Unit::PERCENT))
        }
        _ => draft,
    };
    wording::few_units(expected).into_iter().fold(draft, |draft, unit| offer(draft, format!("{written} {unit}")))
}

/// The unit, where only one can be meant.
fn only_unit<'a>(expected: &[Dimension], written: &str) -> Option<&'a str> {
    let number: f64 = written.parse().ok()?;
    match expected {
        [Dimension::DIVISION] => Some("div"),
        [Dimension::MARK] => Some("mark"),
        // 0.05 may be five percent or a twentieth of one.
        [Dimension::NONE] if number >= 1.0 => Some("%"),
        // No angle in radians is larger than a turn.
        [Dimension::ANGLE] if number == 0.0 || number.abs() > std::f64::consts::TAU => Some("deg"),
        _ => None,
    }
}

fn help(expected: &[Dimension], written: &str) -> String {
    if let ([Dimension::NONE], Ok(number)) = (expected, written.parse::<f64>()) {
        let percent = Unit::PERCENT.from_base(number);
        return format!(
            "as a share of one it is `{} %`, as a percentage `{written} %`: write which of them is meant",
            crate::units::plainly(percent)
        );
    }
    if written.contains([' ', '(']) {
        return "every number that is measured has its unit, as in `268.4 mm / 2`; a plain number only multiplies or \
                divides"
            .to_owned();
    }
    match expected {
        [] => "write its unit after it, with a space between".to_owned(),
        _ => format!("write its unit after it: {}", wording::usual_units(expected)),
    }
}
