//! `textDocument/selectionRange`

use super::file;
use crate::ide;
use crate::server::protocol::{Range, SelectionRange, SelectionRangeParams};
use crate::server::snapshot::View;

pub(in crate::server) fn selections(view: &View, params: &SelectionRangeParams) -> Option<Vec<SelectionRange>> {
    let file = file(view, &params.text_document.uri)?;
    let places = file.places();
    let each = params.positions.iter().map(|position| {
        let spans = ide::selections(file.book().file(file.file), places.offset(*position));
        let ranges = spans.iter().rev().map(|span| places.range(*span));
        let innermost = ranges.fold(None, |parent: Option<SelectionRange>, range| {
            Some(SelectionRange { range, parent: parent.map(Box::new) })
        });
        innermost.unwrap_or(SelectionRange { range: Range::new(*position, *position), parent: None })
    });
    Some(each.collect())
}
