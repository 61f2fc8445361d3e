//! `textDocument/codeLens`

use super::file;
use crate::ide;
use crate::server::commands;
use crate::server::convert::Elsewhere;
use crate::server::protocol::{CodeLens, CodeLensParams, Location};
use crate::server::snapshot::View;
use crate::syntax::Kind;

pub(in crate::server) fn lenses(view: &View, params: &CodeLensParams) -> Option<Vec<CodeLens>> {
    let url = &params.text_document.uri;
    let file = file(view, url)?;
    let (places, locator) = (file.places(), file.locator());
    // What nobody could follow is not counted.
    let counted = view.client.shows_places.then(|| ide::lenses(file.book(), file.file));
    let lenses = counted.into_iter().flatten().map(|lens| {
        let range = places.range(lens.span);
        let named: Vec<Location> = lens.places.iter().filter_map(|place| locator.location(*place)).collect();
        CodeLens { range, command: Some(commands::show_places(lens.title, url, range.start, &named)), data: None }
    });
    let mut lenses: Vec<CodeLens> = lenses.collect();
    if view.client.opens_card {
        let items = file.book().file(file.file).sheet.items.iter();
        let printed = items.filter(|item| matches!(item.kind, Kind::Rotor | Kind::Setup | Kind::Record));
        lenses.extend(printed.map(|item| {
            let range = places.range(item.heading);
            CodeLens { range, command: Some(commands::open_card(url, range.start)), data: None }
        }));
    }
    Some(lenses)
}
