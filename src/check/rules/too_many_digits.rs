use crate::check::{Draft, Slip};

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    let digits = slip.found().split(['e', 'E']).next().unwrap_or("").bytes().filter(u8::is_ascii_digit).count();
    let message = format!("`{}` has {digits} digits, and a number may have 40", slip.shown());
    slip.draft(message).help("write the digits that the instrument showed")
}
