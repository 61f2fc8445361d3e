//! Lines put into a sheet and taken out of it.

use crate::book::SourceFile;
use crate::sheet::Block;
use crate::text::{Edit, Span};

/// How the lines of the text end.
pub(super) fn line_end(text: &str) -> &'static str {
    match text.find('\n') {
        Some(at) if text[..at].ends_with('\r') => "\r\n",
        _ => "\n",
    }
}

/// The blanks at the start of the line that holds `at`.
fn indent(text: &str, at: u32) -> &str {
    let start = text[..at as usize].rfind('\n').map_or(0, |at| at + 1);
    let blanks = text[start..].bytes().take_while(|byte| matches!(byte, b' ' | b'\t')).count();
    &text[start..start + blanks]
}

/// The end of the line that holds `at`, without its line end.
fn end_of_line(text: &str, at: u32) -> u32 {
    let end = text[at as usize..].find('\n').map_or(text.len(), |end| at as usize + end);
    text[..end].trim_end_matches('\r').len().max(at as usize) as u32
}

/// Lines below the one that holds `at`, indented as that is.
pub(super) fn below(source: &SourceFile, at: u32, lines: &[String]) -> Edit {
    let text = &source.text;
    let start = format!("{}{}", line_end(text), indent(text, at));
    Edit::insert(end_of_line(text, at), lines.iter().map(|line| format!("{start}{line}")).collect::<String>())
}

/// Lines after the last fact of a block, or after its heading when it has none.
pub(super) fn into_block(source: &SourceFile, block: &Block, lines: &[String]) -> Edit {
    let facts = block.fields.iter().map(|field| field.value_span.end.max(field.head.end));
    let last = facts.chain(block.pins.iter().map(|pin| pin.value_span.end.max(pin.head.end))).max();
    if let Some(last) = last {
        return below(source, last, lines);
    }
    let text = &source.text;
    let start = format!("{}{}  ", line_end(text), indent(text, block.heading.start));
    Edit::insert(block.body, lines.iter().map(|line| format!("{start}{line}")).collect::<String>())
}

/// The lines of a block after all that another block holds, with an empty line before them.
pub(super) fn block_into(source: &SourceFile, block: &Block, lines: &[String]) -> Edit {
    let (text, end) = (&source.text, line_end(&source.text));
    let indent = format!("{}  ", indent(text, block.heading.start));
    let start = text[..block.end as usize].rfind('\n').map_or(0, |at| at + 1);
    let lines: String = lines.iter().map(|line| format!("{indent}{line}{end}")).collect();
    match text[start..block.end as usize].trim().is_empty() {
        true => Edit::insert(start as u32, format!("{end}{lines}")),
        // The block was never closed, or its brace comes after a fact.
        false => Edit::insert(block.end, format!("{end}{end}{}", lines.trim_end())),
    }
}

/// Takes the fact or pin at `span` out, with its line when nothing but a comment stands there too.
pub(super) fn without(source: &SourceFile, span: Span) -> Edit {
    let text = &source.text;
    let start = text[..span.start as usize].rfind('\n').map_or(0, |at| at + 1);
    let end = text[span.end as usize..].find('\n').map_or(text.len(), |at| span.end as usize + at + 1);
    let behind = text[span.end as usize..end].trim();
    let alone = text[start..span.start as usize].trim().is_empty() && (behind.is_empty() || behind.starts_with('#'));
    Edit::delete(if alone { Span::new(start as u32, end as u32) } else { span })
}
