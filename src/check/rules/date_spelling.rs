use crate::check::{Draft, Slip};
use crate::text::Edit;

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    let found = slip.found();
    let message = format!("`{}` is not how a date is written", slip.shown());
    if slip.edit().is_some() {
        return slip.say(message, "dates are year, month, day");
    }
    let draft = slip.draft(message);
    let dates = readings(found);
    match &dates[..] {
        [] => draft.help("a date is year, month and day, such as `2026-11-12`"),
        [one] => slip.offer(draft.help(format!("write `{one}`")), Edit::replace(slip.span(), one.clone())),
        [first, second, ..] => {
            let help = format!("write `{first}` if the day comes first, `{second}` if the month does");
            let draft = slip.offer(draft.help(help), Edit::replace(slip.span(), first.clone()));
            slip.offer(draft, Edit::replace(slip.span(), second.clone()))
        }
    }
}

/// `12/11/2026` with the day first, then with the month first, where either can be.
fn readings(written: &str) -> Vec<String> {
    let parts: Vec<&str> = written.split(['/', '.', '-']).collect();
    let &[first, second, year] = &parts[..] else { return Vec::new() };
    if year.len() != 4 {
        return Vec::new();
    }
    let date = |day: &str, month: &str| {
        let fits = day.parse::<u8>().is_ok_and(|day| (1..=31).contains(&day))
            && month.parse::<u8>().is_ok_and(|month| (1..=12).contains(&month));
        fits.then(|| format!("{year}-{month:0>2}-{day:0>2}"))
    };
    let mut dates: Vec<String> = [date(first, second), date(second, first)].into_iter().flatten().collect();
    dates.dedup();
    dates
}
