use crate::check::{Draft, Rule, Run, Severity, Slip};
use crate::syntax::SyntaxErrorKind;
use crate::text::{Edit, Span};

pub static RULE: Rule = Rule {
    code: "bad-clock",
    severity: Severity::Error,
    title: "A place of the clock that no clock face has",
    page: include_str!("bad_clock.md"),
    run: Run::Syntax(SyntaxErrorKind::BadClock, say),
};

fn say(slip: &Slip<'_>) -> Draft {
    let found = slip.found();
    let message = format!("`{}` is no place on a face of twelve hours", slip.shown());
    if slip.edit().is_some() {
        return slip.say(message, "");
    }
    let digits = found.bytes().take_while(u8::is_ascii_digit).count();
    let hour = found[..digits].parse::<u32>().ok().filter(|hour| (13..=24).contains(hour));
    match hour {
        Some(hour) => {
            let place = Span::new(slip.span().start, slip.span().start + digits as u32);
            slip.say_with(message, "the hours run from 1 to 12", Edit::replace(place, (hour - 12).to_string()))
        }
        None => {
            slip.draft(message).help("hours run from 1 to 12 and minutes from 00 to 59, as in `4:30` and `6 o'clock`")
        }
    }
}
