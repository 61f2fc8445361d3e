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
    let counted = view.client.shows_places.then(|| {
        let mut all = ide::lenses(file.book(), file.file);
        all.extend(ide::progress(file.book(), file.file));
        all
    });
    let lenses = counted.into_iter().flatten().map(|lens| {
        let range = places.range(lens.span);
        let named: Vec<Location> = lens.places.iter().filter_map(|place| locator.location(*place)).collect();
        CodeLens { range, command: Some(commands::show_places(lens.title, url, range.start, &named)), data: None }
    });
    let mut lenses: Vec<CodeLens> = lenses.collect();
    if let Some(moves) = file.moves().filter(|_| view.client.shows_places) {
        lenses.extend(ide::since(file.book(), file.file, moves).into_iter().map(|since| {
            let range = places.range(since.span);
            let reached: Vec<Location> = since.places.iter().filter_map(|place| locator.location(*place)).collect();
            let command = match view.client.opens_consequences {
                true => commands::open_consequences(since.title, url, range.start),
                false => commands::show_places(since.title, url, range.start, &reached),
            };
            CodeLens { range, command: Some(command), data: None }
        }));
    }
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
