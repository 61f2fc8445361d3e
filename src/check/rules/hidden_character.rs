use crate::check::{Draft, Slip, wording};

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    let character = slip.found().chars().next().unwrap_or(' ');
    let message = format!("this text holds {}, which cannot be seen", wording::character(character));
    // In a comment the line without its comment, which `say` repeats, would show nothing of it.
    match slip.edit().filter(|edit| slip.reads(edit).is_none_or(|line| line.is_empty() || slip.is_in_comment())) {
        Some(edit) => {
            let help = if edit.text.is_empty() { "take it out" } else { "write a plain space in its place" };
            slip.offer(slip.draft(message).help(help), edit)
        }
        None => slip.say(message, ""),
    }
}
