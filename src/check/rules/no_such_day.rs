use crate::check::{Draft, FileContext};
use crate::sheet::FactProblem;

pub(super) fn say(context: &FileContext<'_>, problem: &FactProblem) -> Option<Draft> {
    let written = context.text(problem.span);
    let message = match days(written) {
        Some((month, days)) => format!("`{written}` is not a day: {month} has {days} days"),
        None => format!("`{written}` is not a day: the months of a year are 01 to 12"),
    };
    Some(context.draft(problem.span, message).help("a date is written year-month-day, such as `2026-11-12`"))
}

/// The month that was written, and how many days it has; `None` when there is no such month.
fn days(written: &str) -> Option<(String, i8)> {
    let (month, _) = written.rsplit_once('-')?;
    let first: jiff::civil::Date = format!("{month}-01").parse().ok()?;
    Some((first.strftime("%B %Y").to_string(), first.days_in_month()))
}
