//! The style of the page, for paper first: A4 and Letter, black and white, read at arm's length.

/// Sizes in points: a card is paper.
pub(super) const STYLE: &str = include_str!("style.css");

/// A string of the style sheet; every character but letters and digits as its number, so that none can end it.
pub(super) fn string(text: &str) -> String {
    let escaped = text.chars().map(|character| match character {
        character if character.is_ascii_alphanumeric() || character == ' ' => character.to_string(),
        character => format!("\\{:06x} ", u32::from(character)),
    });
    format!("\"{}\"", escaped.collect::<String>())
}

/// What stands at the foot of every sheet of paper of one card.
pub(super) fn sheet_of_paper(page: &str, left: &str, right: &str) -> String {
    let right = if right.is_empty() { String::new() } else { format!("{right}, ") };
    format!(
        "@page {page} {{ @bottom-left {{ content: {}; }} @bottom-right {{ content: {} \"page \" counter(page) \" of \" \
         counter(pages); }} }}\n",
        string(left),
        string(&right)
    )
}
