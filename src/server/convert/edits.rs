//! Edits of several files at once.

use std::collections::HashMap;

use crate::book::FileId;
use crate::check::FileEdit;
use crate::server::protocol::{
    CreateFile, DocumentChangeOperation, DocumentChanges, OneOf, OptionalVersionedTextDocumentIdentifier, Range,
    ResourceOp, TextDocumentEdit, TextEdit, Url, WorkspaceEdit,
};
use crate::server::snapshot::FileView;

/// The edits, file by file; `None` when a file has no address. Clients that know versions get them, so that an edit of
/// a text that has changed since is refused.
pub(in crate::server) fn workspace_edit(file: FileView<'_>, edits: &[FileEdit]) -> Option<WorkspaceEdit> {
    let mut files: Vec<FileId> = edits.iter().map(|edit| edit.file).collect();
    files.sort();
    files.dedup();
    let each = files.into_iter().map(|id| {
        let places = file.places_of(id);
        let of_file = edits.iter().filter(|edit| edit.file == id);
        let edits: Vec<TextEdit> = of_file.map(|edit| places.edit(&edit.edit)).collect();
        Some((file.url(id)?, file.version(id), edits))
    });
    let each: Option<Vec<OfFile>> = each.collect();
    Some(match file.view.client.document_changes {
        true => versioned(each?),
        false => {
            let changes: HashMap<Url, Vec<TextEdit>> = each?.into_iter().map(|(url, _, edits)| (url, edits)).collect();
            WorkspaceEdit { changes: Some(changes), ..WorkspaceEdit::default() }
        }
    })
}

/// Makes a file with a text in it; an empty one where the text is written by other means.
pub(in crate::server) fn new_file(url: &Url, text: Option<String>) -> WorkspaceEdit {
    let create = CreateFile { uri: url.clone(), options: None, annotation_id: None };
    let mut operations = vec![DocumentChangeOperation::Op(ResourceOp::Create(create))];
    if let Some(text) = text {
        operations.push(DocumentChangeOperation::Edit(TextDocumentEdit {
            text_document: OptionalVersionedTextDocumentIdentifier { uri: url.clone(), version: None },
            edits: vec![OneOf::Left(TextEdit::new(Range::default(), text))],
        }));
    }
    let document_changes = Some(DocumentChanges::Operations(operations));
    WorkspaceEdit { document_changes, ..WorkspaceEdit::default() }
}

/// A file, its version where it is open, and its edits.
type OfFile = (Url, Option<i32>, Vec<TextEdit>);

fn versioned(files: Vec<OfFile>) -> WorkspaceEdit {
    let edits = files.into_iter().map(|(uri, version, edits)| TextDocumentEdit {
        text_document: OptionalVersionedTextDocumentIdentifier { uri, version },
        edits: edits.into_iter().map(OneOf::Left).collect(),
    });
    WorkspaceEdit { document_changes: Some(DocumentChanges::Edits(edits.collect())), ..WorkspaceEdit::default() }
}
