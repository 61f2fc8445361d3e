//! The Markdown of the pages on a terminal: headings, paragraphs, code, and words in bold.

use super::layout::{WIDTH, hanging, wrapped};
use super::terminal::Paint;

/// A page with its paragraphs broken into lines, its code indented and its marks turned into type.
pub(super) fn rendered(page: &str, paint: Paint) -> String {
    let mut out = String::new();
    let mut paragraph: Vec<&str> = Vec::new();
    let mut in_code = false;
    for line in page.lines() {
        if line.starts_with("```") {
            flush(&mut paragraph, &mut out, paint);
            in_code = !in_code;
        } else if in_code {
            out.push_str(&format!("    {}\n", paint.cyan(line)));
        } else if line.trim().is_empty() {
            flush(&mut paragraph, &mut out, paint);
            out.push('\n');
        } else if let Some(heading) = line.strip_prefix('#') {
            flush(&mut paragraph, &mut out, paint);
            out.push_str(&format!("{}\n", paint.bold(heading.trim_start_matches('#').trim())));
        } else if line.starts_with("- ") || line.starts_with("| ") {
            flush(&mut paragraph, &mut out, paint);
            paragraph.push(line);
        } else {
            paragraph.push(line.trim());
        }
    }
    flush(&mut paragraph, &mut out, paint);
    out
}

fn flush(paragraph: &mut Vec<&str>, out: &mut String, paint: Paint) {
    if paragraph.is_empty() {
        return;
    }
    let text = paragraph.join(" ");
    let text = match text.strip_prefix("- ") {
        Some(item) => hanging("- ", item, WIDTH),
        None => wrapped(&text, WIDTH).join("\n"),
    };
    out.push_str(&typed(&text, paint));
    out.push('\n');
    paragraph.clear();
}

/// `**bold**` in bold without its stars, and `code` in colour; where there are no colours, code keeps its marks.
fn typed(text: &str, paint: Paint) -> String {
    let mut out = String::new();
    for (n, piece) in text.split("**").enumerate() {
        if n % 2 == 1 {
            out.push_str(&paint.bold(piece));
            continue;
        }
        for (n, piece) in piece.split('`').enumerate() {
            match (n % 2 == 1, paint.0) {
                (true, true) => out.push_str(&paint.cyan(piece)),
                (true, false) => out.push_str(&format!("`{piece}`")),
                (false, _) => out.push_str(piece),
            }
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    const PAGE: &str = "# A title\n\n**What.** A `key`\nof two.\n\n```rotor\nmass: 3 g\n```\n\n- one\n- two\n";

    #[test]
    fn without_colours_the_text_is_plain() {
        assert_eq!(rendered(PAGE, Paint(false)), "A title\n\nWhat. A `key` of two.\n\n    mass: 3 g\n\n- one\n- two\n");
    }

    #[test]
    fn with_colours_marks_become_type() {
        let text = rendered(PAGE, Paint(true));
        assert!(text.contains("\u{1b}[1mWhat.\u{1b}[0m A \u{1b}[36mkey\u{1b}[0m of two."), "{text:?}");
    }
}
