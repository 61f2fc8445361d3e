use crate::check::{Draft, Slip};
use crate::units::Unit;

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    let reads = slip.edit().map(|edit| slip.found_with(&edit).unwrap_or_default());
    let known = reads.as_ref().is_some_and(|unit| Unit::parse(unit.trim()).is_ok());
    if reads.is_some() && !known {
        let draft = slip.draft(format!("`{}` is not a unit", slip.shown()));
        let wanted = slip.wanted().unwrap_or_else(|| FORMS.to_owned());
        return draft.help(format!("{wanted}; a remark after it begins with `#`"));
    }
    slip.say(format!("`{}` is not how a unit is written", slip.shown()), if known { "" } else { FORMS })
}

const FORMS: &str = "`·`, `*` or `.` joins units, one `/` divides, and `²` or `^2` raises, as in `kg·m²` and `g/cm³`";
