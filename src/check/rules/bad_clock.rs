use crate::check::{Draft, Slip};
use crate::text::{Edit, Span};

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    let found = slip.found();
    let otherwise = format!("`{}` is not how a place of the clock is written", slip.shown());
    let nowhere = format!("`{}` is not a place on a face of twelve hours", slip.shown());
    match (slip.edit(), found.split_once(' ')) {
        (Some(edit), _) if edit.text.contains("o'clock") => return slip.say(otherwise, ""),
        (Some(_), _) => return slip.say(nowhere, "the hours run from 1 to 12"),
        // `10:30 o'clock`
        (None, Some((place, _))) if place.contains(':') => {
            return slip.say_with(otherwise, "", Edit::replace(slip.span(), place));
        }
        _ => {}
    }
    let digits = found.bytes().take_while(u8::is_ascii_digit).count();
    let hour = found[..digits].parse::<u32>().ok().filter(|hour| (13..=24).contains(hour));
    match hour {
        Some(hour) => {
            let place = Span::new(slip.span().start, slip.span().start + digits as u32);
            slip.say_with(nowhere, "the hours run from 1 to 12", Edit::replace(place, (hour - 12).to_string()))
        }
        None => {
            let help = "hours run from 1 to 12 and minutes from 00 to 59, as in `4:30` and `6 o'clock`";
            slip.draft(nowhere).help(help)
        }
    }
}
