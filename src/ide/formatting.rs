//! The canonical layout, of a whole file or of a part of it.

use crate::book::SourceFile;
use crate::format;
use crate::text::{Edit, Span};

/// What has to change for the file to be in its canonical layout. Nothing in a file with a conflict in it, and nothing
/// in one that is not text all through.
pub fn format(source: &SourceFile) -> Vec<Edit> {
    if source.problem.is_some() {
        return Vec::new();
    }
    format::edits_of(&source.text, source.tree()).unwrap_or_default()
}

/// The same for the lines that `range` touches; what is between them and their neighbours stays.
pub fn format_range(source: &SourceFile, range: Span) -> Vec<Edit> {
    let touched = source.tree().lines.iter().filter(|line| line.span.touches(range));
    let Some(lines) = touched.map(|line| line.span).reduce(Span::to) else { return Vec::new() };
    format(source).into_iter().filter_map(|edit| within(&source.text, edit, lines)).collect()
}

/// The part of an edit that lies in these lines. An edit of the blanks before a line begins at the end of the line
/// before it: of one that reaches in from above, the indentation is left.
fn within(text: &str, edit: Edit, lines: Span) -> Option<Edit> {
    if edit.span.start >= lines.start && edit.span.end <= lines.end {
        return Some(edit);
    }
    let reaches_in = edit.span.start < lines.start && (lines.start..=lines.end).contains(&edit.span.end);
    let indent = edit.text.rfind('\n').map_or(&*edit.text, |at| &edit.text[at + 1..]);
    let edit = Edit::replace(Span::new(lines.start, edit.span.end), indent);
    let blank = |span: Span| span.of(text).trim().is_empty() && !span.of(text).contains('\n');
    (reaches_in && blank(edit.span) && edit.span.of(text) != edit.text).then_some(edit)
}

/// What changes when `typed`, a closing brace or a new line, has just been put before `offset`: the brace's line, or
/// the line that was finished.
pub fn format_on_type(source: &SourceFile, offset: u32, typed: char) -> Vec<Edit> {
    let Some(before) = offset.checked_sub(1) else { return Vec::new() };
    match typed {
        '}' => format_range(source, Span::at(before)),
        '\n' => {
            let tree = source.tree();
            // The new line may have its indentation already.
            let here = tree.lines.partition_point(|line| line.span.start <= offset);
            let Some(finished) = here.checked_sub(2).map(|index| tree.lines[index].span) else { return Vec::new() };
            format_range(source, Span::at(finished.start))
        }
        _ => Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ide::testing::fixture;

    #[test]
    fn a_range_changes_its_lines_alone() {
        let fixture = fixture("rotor a {\nmass:  3 kg\n$0datum:   \"x\"\nplane  hub {$0\nat:  3 mm\n}\n}\n");
        let edits = format_range(fixture.book.file(fixture.file), fixture.range);
        let expected = "rotor a {\nmass:  3 kg\n  datum: \"x\"\n\n  plane hub {\nat:  3 mm\n}\n}\n";
        assert_eq!(fixture.edited(&edits), expected);
    }

    #[test]
    fn the_whole_file_as_the_command_line_does_it() {
        let fixture = fixture("rotor a {\nmass:  3 kg\n\n\n\n }\n");
        let edits = format(fixture.book.file(fixture.file));
        assert_eq!(fixture.edited(&edits), "rotor a {\n  mass: 3 kg\n}\n");
    }

    #[test]
    fn a_brace_that_was_typed_goes_to_its_place() {
        let fixture = fixture("rotor a {\n  plane hub {\n    at:  3 mm\n    }$0\n}\n");
        let edits = format_on_type(fixture.book.file(fixture.file), fixture.offset, '}');
        assert_eq!(fixture.edited(&edits), "rotor a {\n  plane hub {\n    at:  3 mm\n  }\n}\n");
    }

    #[test]
    fn a_line_that_was_finished_is_laid_out() {
        let fixture = fixture("rotor a {\n  plane hub {\nat:3  mm#c\n    $0\n  }\n}\n");
        let edits = format_on_type(fixture.book.file(fixture.file), fixture.offset, '\n');
        assert_eq!(fixture.edited(&edits), "rotor a {\n  plane hub {\n    at: 3 mm #c\n    \n  }\n}\n");
    }

    #[test]
    fn a_file_in_conflict_is_left_alone() {
        let fixture = fixture("rotor a {\n<<<<<<< ours\nmass: 3 kg\n=======\nmass: 4 kg\n>>>>>>> theirs\n}\n");
        assert_eq!(format(fixture.book.file(fixture.file)), []);
    }
}
