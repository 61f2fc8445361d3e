//! `textDocument/completion`

use super::at;
use crate::book::Computing;
use crate::ide::{self, Completion, CompletionKind};
use crate::server::client::Client;
use crate::server::convert::{Places, plain};
use crate::server::protocol::{
    Command, CompletionItem, CompletionItemKind, CompletionItemTag, CompletionParams, CompletionResponse,
    CompletionTextEdit, Documentation, InsertTextFormat, MarkupContent, MarkupKind, TextEdit,
};
use crate::server::snapshot::View;

pub(in crate::server) fn completion(view: &View, params: &CompletionParams) -> Option<CompletionResponse> {
    let (file, offset) = at(view, &params.text_document_position)?;
    let places = file.places();
    let found = ide::completions(&Computing::new(file.book()), file.file, offset);
    let items = found.into_iter().enumerate().map(|(n, found)| item(n, found, &places, &view.client));
    Some(CompletionResponse::Array(items.collect()))
}

fn item(n: usize, found: Completion, places: &Places<'_>, client: &Client) -> CompletionItem {
    // A text with a blank goes as a snippet even without stops: some editors cut plain text at its first blank.
    let whole = || found.text.contains(char::is_whitespace).then(|| ide::as_snippet(&found.text));
    let snippet = found.snippet.or_else(whole).filter(|_| client.snippets);
    let format = if snippet.is_some() { InsertTextFormat::SNIPPET } else { InsertTextFormat::PLAIN_TEXT };
    let plain = match found.kind {
        CompletionKind::Block => heading_alone(&found.text),
        _ => found.text,
    };
    let edit = TextEdit::new(places.range(found.replace), snippet.unwrap_or(plain));
    // Some editors compare with the text they replace, quotes included.
    let filter = found.filter.or_else(|| Some(found.label.clone()));
    CompletionItem {
        kind: Some(kind(found.kind)),
        detail: found.detail,
        documentation: found.documentation.map(|markdown| documentation(markdown, client)),
        sort_text: Some(format!("{:03}{n:05}", found.rank)),
        filter_text: filter,
        insert_text_format: Some(format),
        text_edit: Some(CompletionTextEdit::Edit(edit)),
        command: (found.goes_on && client.completes_again).then(go_on),
        tags: (found.is_obsolete && client.tags.completions).then(|| vec![CompletionItemTag::DEPRECATED]),
        label: found.label,
        ..CompletionItem::default()
    }
}

/// The beginning of a block up to where its name is to be written, for editors that would leave the cursor after the brace.
fn heading_alone(block: &str) -> String {
    let first = block.lines().next().unwrap_or(block);
    match first.find("\"\"").or_else(|| first.find("  {")) {
        Some(name) => format!("{} ", first[..name].trim_end()),
        None => first.to_owned(),
    }
}

/// Asks for completion once more.
fn go_on() -> Command {
    Command::new("Complete".to_owned(), "editor.action.triggerSuggest".to_owned(), None)
}

fn documentation(markdown: String, client: &Client) -> Documentation {
    let (kind, value) = match client.markdown_completion {
        true => (MarkupKind::Markdown, markdown),
        false => (MarkupKind::PlainText, plain(&markdown)),
    };
    Documentation::MarkupContent(MarkupContent { kind, value })
}

fn kind(kind: CompletionKind) -> CompletionItemKind {
    match kind {
        CompletionKind::Block => CompletionItemKind::CLASS,
        CompletionKind::Key => CompletionItemKind::PROPERTY,
        CompletionKind::Choice => CompletionItemKind::ENUM_MEMBER,
        CompletionKind::Unit => CompletionItemKind::UNIT,
        CompletionKind::Name => CompletionItemKind::REFERENCE,
        CompletionKind::Grade => CompletionItemKind::CONSTANT,
        CompletionKind::Result => CompletionItemKind::FIELD,
        CompletionKind::Value => CompletionItemKind::VALUE,
    }
}
