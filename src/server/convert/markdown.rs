//! Markdown for clients that show plain text.

/// The text without the marks that only a renderer makes sense of.
pub(in crate::server) fn plain(markdown: &str) -> String {
    let lines = markdown.lines().filter(|line| !line.starts_with("```") && !is_rule_of_table(line));
    lines.map(|line| line.replace("**", "").replace(['`', '\\'], "")).collect::<Vec<_>>().join("\n")
}

/// `| --- | --- |`
fn is_rule_of_table(line: &str) -> bool {
    line.starts_with('|') && line.chars().all(|character| matches!(character, '|' | '-' | ':' | ' '))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_are_left_out() {
        let markdown = "**reading**\n\n| a | b |\n| --- | :-: |\n| 1 | `2` |\n```rotor\nmass: 3 kg\n```\n5 \\* 3";
        assert_eq!(plain(markdown), "reading\n\n| a | b |\n| 1 | 2 |\nmass: 3 kg\n5 * 3");
    }
}
