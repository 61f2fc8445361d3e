use crate::check::{Draft, Slip};

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    let found = slip.shown();
    slip.say(
        format!("`{found}` ends with a point"),
        &format!("or write the decimals that were read, such as `{found}0`"),
    )
}
