//! `textDocument/inlayHint`, and its tooltip for clients that ask for it when it is shown.

use serde::{Deserialize, Serialize};

use super::file;
use crate::book::Computing;
use crate::ide::{self, Hint, HintKind};
use crate::server::client::Client;
use crate::server::convert::{Elsewhere, Places};
use crate::server::protocol::{
    InlayHint, InlayHintKind, InlayHintLabel, InlayHintLabelPart, InlayHintParams, InlayHintTooltip, MarkupContent,
    MarkupKind, TextEdit, Url,
};
use crate::server::snapshot::{Locator, View};
use crate::text::Span;

/// What leads from a hint back to where it came from.
#[derive(Serialize, Deserialize)]
struct Origin {
    uri: Url,
    at: u32,
    label: String,
}

pub(in crate::server) fn hints(view: &View, params: &InlayHintParams) -> Option<Vec<InlayHint>> {
    let url = &params.text_document.uri;
    let file = file(view, url)?;
    let range = file.places().span(params.range);
    let computing = Computing::new(file.book());
    let mut found = ide::hints(&computing, file.file, range, view.settings.hints);
    let moved = file.moves().map(|moves| ide::consequence_hints(file.book(), file.file, moves, file.written()));
    found.extend(moved.into_iter().flatten().filter(|hint| range.start <= hint.at && hint.at <= range.end));
    let (places, locator) = (file.places(), file.locator());
    Some(found.into_iter().map(|hint| shown(&view.client, &places, &locator, url, hint)).collect())
}

/// The hint with all that was left out.
pub(in crate::server) fn resolve(view: &View, hint: InlayHint) -> InlayHint {
    let found = hint.data.clone().and_then(|data| {
        let origin: Origin = serde_json::from_value(data).ok()?;
        let file = file(view, &origin.uri)?;
        let text = &file.book().file(file.file).text;
        let at = Span::at(origin.at.min(text.len() as u32));
        let found = ide::hints(&Computing::new(file.book()), file.file, at, view.settings.hints);
        let moved = file.moves().map(|moves| ide::consequence_hints(file.book(), file.file, moves, file.written()));
        let mut all = found.into_iter().chain(moved.into_iter().flatten());
        let hint = all.find(|hint| hint.at == origin.at && hint.label == origin.label)?;
        Some((file, hint))
    });
    let Some((file, found)) = found else { return hint };
    InlayHint { tooltip: Some(tooltip(&found)), text_edits: edits(&file.places(), &found), ..hint }
}

fn shown(client: &Client, places: &Places<'_>, locator: &Locator<'_>, url: &Url, hint: Hint) -> InlayHint {
    let later = client.resolves_hints;
    let data = Origin { uri: url.clone(), at: hint.at, label: hint.label.clone() };
    let resolvable = later.tooltip || later.text_edits;
    InlayHint {
        position: places.position(hint.at),
        label: label(locator, &hint),
        kind: (hint.kind == HintKind::Inherited).then_some(InlayHintKind::PARAMETER),
        text_edits: if later.text_edits { None } else { edits(places, &hint) },
        tooltip: (!later.tooltip).then(|| tooltip(&hint)),
        padding_left: Some(true),
        padding_right: Some(false),
        data: if resolvable { serde_json::to_value(data).ok() } else { None },
    }
}

/// A label that leads somewhere is a part of its own.
fn label(locator: &Locator<'_>, hint: &Hint) -> InlayHintLabel {
    let Some(location) = hint.target.and_then(|target| locator.location(target)) else {
        return InlayHintLabel::String(hint.label.clone());
    };
    let part = InlayHintLabelPart { value: hint.label.clone(), location: Some(location), ..Default::default() };
    InlayHintLabel::LabelParts(vec![part])
}

fn tooltip(hint: &Hint) -> InlayHintTooltip {
    InlayHintTooltip::MarkupContent(MarkupContent { kind: MarkupKind::Markdown, value: hint.tooltip.clone() })
}

fn edits(places: &Places<'_>, hint: &Hint) -> Option<Vec<TextEdit>> {
    (!hint.edits.is_empty()).then(|| places.edits(&hint.edits))
}
