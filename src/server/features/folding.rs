//! `textDocument/foldingRange`

use super::file;
use crate::ide::{self, FoldKind};
use crate::server::protocol::{FoldingRange, FoldingRangeKind, FoldingRangeParams};
use crate::server::snapshot::View;

pub(in crate::server) fn folds(view: &View, params: &FoldingRangeParams) -> Option<Vec<FoldingRange>> {
    let file = file(view, &params.text_document.uri)?;
    let places = file.places();
    let folds = ide::folds(file.book().file(file.file)).into_iter().map(|fold| {
        let range = places.range(fold.span);
        let character = |at: u32| (!view.client.folds_whole_lines).then_some(at);
        FoldingRange {
            start_line: range.start.line,
            start_character: character(range.start.character),
            end_line: range.end.line,
            end_character: character(range.end.character),
            kind: match fold.kind {
                FoldKind::Block => Some(FoldingRangeKind::Region),
                FoldKind::Comment => Some(FoldingRangeKind::Comment),
            },
            collapsed_text: None,
        }
    });
    Some(folds.collect())
}
