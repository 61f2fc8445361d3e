use crate::check::slip::shown;
use crate::check::{Draft, Slip};
use crate::text::Edit;

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    let found = slip.found();
    let first = found.lines().next().unwrap_or(found);
    if !found.contains('\n') {
        let draft = slip.draft(format!("`{}` is a mark of a conflict between two versions", shown(first)));
        return draft.help("take the line out once the lines around it are as they should be");
    }
    let draft = slip.draft("two versions of these lines are here, and only the upper one is read");
    let help =
        "keep the right lines, take the others out and the lines of `<<<<<<<`, `=======` and `>>>>>>>` with them";
    match upper_side(found).filter(|_| only_pins(found)) {
        Some(upper) => {
            let edit = Edit::replace(slip.span(), upper);
            draft
                .help("both sides hold results alone: keep either, they are worked out again")
                .fix("Keep the upper side", edit)
        }
        None => draft.help(help),
    }
}

fn is_marker(line: &str) -> bool {
    ["<<<<<<<", "|||||||", "=======", ">>>>>>>"].iter().any(|marker| line.starts_with(marker))
}

/// Whether every line of either side is a pinned result.
fn only_pins(conflict: &str) -> bool {
    conflict.lines().filter(|line| !is_marker(line) && !line.trim().is_empty()).all(|line| line.contains("=>"))
}

/// The lines above the first divider.
fn upper_side(conflict: &str) -> Option<String> {
    let lines: Vec<&str> = conflict.lines().skip(1).take_while(|line| !is_marker(line)).collect();
    (!lines.is_empty()).then(|| lines.join("\n"))
}
