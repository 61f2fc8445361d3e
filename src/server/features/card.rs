//! The bench card of the text as it stands, for a preview beside it.

use crate::book::{Computing, FileId, ItemId};
use crate::card::{self, Fonts, Paper, Printed, Sides, Words};
use crate::check::{self, Diagnostic};
use crate::disk;
use crate::ide;
use crate::server::snapshot::FileView;
use crate::server::ticket::is_wanted;
use crate::syntax::Kind;

/// The page of the rotor, setup or record nearest to an offset; `None` where there is none.
pub(in crate::server) fn page(file: FileView<'_>, offset: u32) -> Option<String> {
    let book = file.book();
    let has_card = |kind: Kind| matches!(kind, Kind::Rotor | Kind::Setup | Kind::Record);
    let id = ide::item_near(book, file.file, offset, has_card)?;
    let computing = Computing::new(book);
    let state = "an editor, whose texts may not be saved".to_owned();
    let printed = Printed { on: disk::today(), state, committed: false, preview: true };
    let mut card = card::card(&computing, id, &found(file, id), &printed, Sides::Both)?;
    if let Some(progress) = ide::progress_of(book, id) {
        card.sides.iter_mut().for_each(|side| side.under.insert(0, Words::stated(progress.clone())));
    }
    let title = card.name.clone();
    Some(card::html(&title, &[card], &printed, Paper::A4, &Fonts::default()))
}

/// What a check finds in all that an item rests on.
fn found(file: FileView<'_>, id: ItemId) -> Vec<Diagnostic> {
    let book = file.book();
    let mut files: Vec<FileId> = card::rests_on(book, id).into_iter().map(|item| item.file).collect();
    files.sort();
    files.dedup();
    let computing = Computing::without_explanations(book);
    let of_files = files.iter().filter_map(|file| check::check_file(&computing, *file, is_wanted));
    let mut found: Vec<Diagnostic> = of_files.flatten().collect();
    found.extend(check::check_book(book).into_iter().filter(|said| files.contains(&said.place.file)));
    check::sort(&mut found);
    found
}
