//! Where names lead and where they stand.

use super::at;
use crate::check::Place;
use crate::ide::{self, HighlightKind};
use crate::server::convert::Elsewhere;
use crate::server::protocol::{
    DocumentHighlight, DocumentHighlightKind, DocumentHighlightParams, GotoDefinitionParams, GotoDefinitionResponse,
    Location, LocationLink, ReferenceParams,
};
use crate::server::snapshot::View;

pub(in crate::server) fn definition(view: &View, params: &GotoDefinitionParams) -> Option<GotoDefinitionResponse> {
    let (file, offset) = at(view, &params.text_document_position_params)?;
    let found = ide::definition(file.book(), file.file, offset)?;
    if !view.client.location_links {
        let places = found.targets.iter().map(|target| Place { file: target.file, span: target.name });
        let locator = file.locator();
        return Some(GotoDefinitionResponse::Array(places.filter_map(|place| locator.location(place)).collect()));
    }
    let origin = Some(file.places().range(found.origin));
    let links = found.targets.iter().filter_map(|target| {
        let places = file.places_of(target.file);
        Some(LocationLink {
            origin_selection_range: origin,
            target_uri: file.url(target.file)?,
            target_range: places.range(target.whole),
            target_selection_range: places.range(target.name),
        })
    });
    Some(GotoDefinitionResponse::Link(links.collect()))
}

pub(in crate::server) fn references(view: &View, params: &ReferenceParams) -> Option<Vec<Location>> {
    let (file, offset) = at(view, &params.text_document_position)?;
    let found = ide::references(file.book(), file.file, offset, params.context.include_declaration);
    let locator = file.locator();
    Some(found.into_iter().filter_map(|place| locator.location(place)).collect())
}

pub(in crate::server) fn highlights(view: &View, params: &DocumentHighlightParams) -> Option<Vec<DocumentHighlight>> {
    let (file, offset) = at(view, &params.text_document_position_params)?;
    let places = file.places();
    let found = ide::highlights(file.book(), file.file, offset).into_iter().map(|highlight| DocumentHighlight {
        range: places.range(highlight.span),
        kind: Some(match highlight.kind {
            HighlightKind::Described => DocumentHighlightKind::WRITE,
            HighlightKind::Named => DocumentHighlightKind::READ,
        }),
    });
    Some(found.collect())
}
