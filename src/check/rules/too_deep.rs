use crate::check::{Draft, Slip};

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    match slip.found() {
        "(" => {
            let draft = slip.draft("this is the 33rd parenthesis open at once, and a value may have 32");
            draft.help("work the value out in steps, and write the amount that was measured")
        }
        "+" | "-" | "*" | "/" => {
            let draft = slip.draft("this is the 101st operator of the value, and it may have 100");
            draft.help("write the sum itself, and how it came about in a `note`")
        }
        _ => {
            let draft = slip.draft(format!("`{}` is the 65th block open at once, and 64 may be", slip.shown()));
            draft.help("close the blocks above with `}`: no valid block is nested more than three deep")
        }
    }
}
