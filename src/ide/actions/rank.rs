//! What is said weighs otherwise in this shop: a block in the shop's rules, whose reason is left to be written.

use super::{Action, ActionKind};
use crate::book::{Book, FileId};
use crate::check::{Diagnostic, FileEdit, Run, Severity};
use crate::ide::lines;
use crate::syntax::Kind;
use crate::text::Span;
use crate::vocabulary::severity;

/// The actions for what is said at a range; none where the shop ranks the code already, and none for what cannot be read.
pub(super) fn at(book: &Book, file: FileId, range: Span, diagnostics: &[Diagnostic]) -> Vec<Action> {
    let Some(id) = book.shop_id().filter(|id| book.file(id.file).problem.is_none()) else { return Vec::new() };
    let shop = book.item(id);
    let mut codes: Vec<&str> = Vec::new();
    let mut found = Vec::new();
    for (index, said) in diagnostics.iter().enumerate() {
        let code = said.rule.code;
        let is_here = said.place.file == file && said.place.span.touches(range);
        let is_ranked = shop.inner(Kind::Severity).any(|block| block.name_text() == code);
        if !is_here || is_ranked || !matches!(said.rule.run, Run::Item(..)) || codes.contains(&code) {
            continue;
        }
        codes.push(code);
        let level = match said.severity {
            Severity::Error => Severity::Warning,
            _ => Severity::Note,
        };
        let block = [
            format!("{} {code} {{", Kind::Severity),
            format!("  {}: {}", severity::LEVEL, level.word()),
            format!("  {}: ?", severity::BECAUSE),
            "}".to_owned(),
        ];
        let edit = FileEdit { file: id.file, edit: lines::block_into(book.file(id.file), shop, &block) };
        found.push(Action {
            title: format!("Rank `{code}` otherwise in this shop, with a reason"),
            kind: ActionKind::Rank,
            edits: vec![edit],
            diagnostic: Some(index),
            preferred: false,
        });
    }
    found
}
