use crate::check::facts;
use crate::check::{Draft, FileContext, amounts, wording};
use crate::sheet::{FactProblem, FactProblemKind, Form};
use crate::text::Edit;
use crate::units::{Dimension as D, Unit};
use crate::vocabulary::ValueType as T;

pub(super) fn say(context: &FileContext<'_>, problem: &FactProblem) -> Option<Draft> {
    let FactProblemKind::WrongForm { expected, found } = problem.kind else { return None };
    let written = context.text(problem.span);
    let subject = facts::subject(context, problem.span);
    let found_as = found.words();
    let wants = wording::expected_briefly(expected);
    let message = format!("{} is {found_as}, and {subject} wants {wants}", wording::shown(written));
    let draft = context.draft(problem.span, message);
    let draft = match help(expected, found, written) {
        Some(help) => draft.help(help),
        None => draft.help(format!("write {}", wording::expected(expected))),
    };
    Some(match instead(expected, found, written) {
        Some(text) => draft.fix(format!("Write `{text}`"), Edit::replace(problem.span, text)),
        None => draft,
    })
}

/// What to write instead, where the value itself says it.
fn instead(expected: T, found: Form, written: &str) -> Option<String> {
    let (number, unit) = written.split_once(' ').unwrap_or((written, ""));
    let one_number = number.parse::<f64>().is_ok_and(|number| number > 0.0) && !unit.contains(' ');
    match (expected, found) {
        (T::Grade, Form::OneAmount | Form::PlainNumber) if one_number && matches!(unit, "" | "mm/s") => {
            Some(format!("G {number}"))
        }
        (T::Range(_), Form::OneAmount) if written.contains(" - ") => amounts::dash_as_range(written),
        (T::Range(_), Form::OneAmount | Form::PlainNumber) if one_number && !unit.is_empty() => {
            Some(format!("up to {written}"))
        }
        (T::Grade, Form::OneAmount) if unit.eq_ignore_ascii_case("g") && number.parse::<f64>().is_ok() => {
            Some(format!("G {number}"))
        }
        (T::Reading | T::Readings | T::UnbalanceVector | T::UnbalanceOrPercentage, Form::AmountAtPlace) => {
            angle_behind_at(written)
        }
        (T::Weighing, Form::Reading | Form::List) if written.contains(" @ ") => Some(written.replace(" @ ", " at ")),
        (T::Clock, Form::PlainNumber) => amounts::clock_with_point(written),
        (T::UnitName(_) | T::UnitNames(_), Form::Quoted) => Some(written.trim_matches('"').to_owned()),
        (T::Places, Form::AmountAtPlace) => Some(written.replacen(" at ", " from ", 1)),
        (T::Count | T::Number, Form::Words) => number_word(written),
        _ => None,
    }
}

/// `10 div at 90 deg` as `10 div @ 90 deg`.
fn angle_behind_at(written: &str) -> Option<String> {
    let (amount, angle) = written.split_once(" at ")?;
    let unit = Unit::parse(angle.rsplit(' ').next()?).ok()?;
    (unit.dimension() == D::ANGLE).then(|| format!("{amount} @ {angle}"))
}

fn number_word(written: &str) -> Option<String> {
    const WORDS: &str = "one two three four five six seven eight nine ten eleven twelve";
    let index = WORDS.split(' ').position(|word| word.eq_ignore_ascii_case(written))?;
    Some((index + 1).to_string())
}

fn help(expected: T, found: Form, written: &str) -> Option<String> {
    if found == Form::Clock && expected.dimensions() == [D::ANGLE] {
        let help = "a place of the clock is where something is seen in the machine's frame; an angle on the rotor \
                    counts from its zero mark, such as `135 deg`";
        return Some(help.to_owned());
    }
    Some(match (expected, found) {
        (T::Grade, Form::OneAmount | Form::PlainNumber) => {
            "a balance quality grade is written with its letter, such as `G 6.3`; the number is e·Ω in mm/s".to_owned()
        }
        (T::Reading | T::Readings | T::UnbalanceVector | T::UnbalanceOrPercentage, Form::AmountAtPlace) => {
            "`at` names a place along the axis; the angle comes after `@`, as in `14.2 div @ 310 deg`".to_owned()
        }
        (T::Clock, Form::OneAmount | Form::PlainNumber) => {
            "state where it is seen, as on the face of a clock: `3:00` on the right, `6:00` below".to_owned()
        }
        (T::Range(_), _) if written.contains(" - ") => {
            let range = amounts::dash_as_range(written).unwrap_or_else(|| "400 rpm to 6000 rpm".to_owned());
            format!("write `to`, not a dash, between the two ends of a range: `{range}`")
        }
        (T::Range(_), Form::OneAmount) => {
            format!("one value is one end of the range: write `up to {written}`")
        }
        (T::Quantity(_) | T::Percentage, Form::Range) => "state one value; limits are written `± …` after it".to_owned(),
        (T::Quantity(_) | T::Percentage, Form::List) => "state one value on this line".to_owned(),
        (T::Quantity(_), Form::Reading) => "state the amount alone, without `@` and angle".to_owned(),
        (T::Quantity(_), Form::Quoted) => {
            "a quantity has no quotes: its number, a space, its unit".to_owned()
        }
        (T::Weighing, _) => {
            "write what each scale shows with the axial place under which it stands: `2.73 kg at 0 mm, 2.09 kg at 164 mm`"
                .to_owned()
        }
        (T::Places, Form::OneAmount | Form::PlainNumber) => {
            "say too at which angle the first of them lies, such as `8 from 0 deg`".to_owned()
        }
        (T::Date, _) => "a date is written year-month-day, such as `2026-11-12`".to_owned(),
        (T::Text, Form::List) => "put the whole of it in one pair of quotes".to_owned(),
        (T::Reference(_) | T::Name(_), Form::List) => "one name stands here".to_owned(),
        (T::NumberRange, Form::OneAmount | Form::PlainNumber) => "state both ends, such as `5 to 20`".to_owned(),
        (T::DialRange, Form::OneAmount | Form::PlainNumber) => {
            format!("state both ends, such as `0 to {written}`")
        }
        (T::Positions | T::Names(_), _) => "write the names separated by a comma and a space".to_owned(),
        _ => return None,
    })
}
