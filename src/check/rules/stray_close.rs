use crate::check::{Draft, Slip};
use crate::text::Edit;

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    let draft = slip.draft("this `}` closes nothing: no block is open here");
    let edit = slip.edit().unwrap_or_else(|| Edit::delete(slip.span()));
    let help = match slip.closed_before() {
        true => "take it out, unless another `}` above is the one too many",
        false => "take it out, or write the heading of the block above its facts",
    };
    draft.help(help).fix("Take it out", edit)
}
