use crate::check::slip::shown;
use crate::check::{Draft, Slip};

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    let exponent = slip.found().split(['e', 'E']).nth(1).unwrap_or("");
    let message = format!("`{}` has an exponent of {}, beyond ± 30", slip.shown(), shown(exponent));
    slip.draft(message).help("write the amount in the unit that fits it, such as `0.4 mg` or `12 kg`")
}
