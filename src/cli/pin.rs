//! `pin`: results that are in the text, refreshed.

use std::path::{Path, PathBuf};

use clap::Args;
use rayon::prelude::*;

use super::find;
use super::load::{self, Loaded};
use super::report::counted;
use super::report::places::Places;
use super::terminal::harmless;
use super::{Exit, Failure, Outcome, Session, paths, write};
use crate::book::{Computing, FileId, ItemId, SourceFile};
use crate::check::{self, ItemContext, PinState};
use crate::sheet::{Pin, nearest};
use crate::syntax::SyntaxErrorKind;
use crate::text::{self, Edit};

/// Refresh pinned results: write what is computed now
///
/// A pin is stale when it differs from what is computed by more than half a step of its last digit. It keeps its unit
/// and its decimals, and gets more where fewer than two significant digits would stand. Where `?` stands, the result is
/// written with the decimals of the readout, or as many as its uncertainty calls for. A file without UTF-8 text is left
/// alone and named. While a conflict of a merge stands anywhere in the book, no pin is written.
#[derive(Args)]
#[command(after_help = "Examples:\n  rotorbook pin\n  rotorbook pin --check setups/fan-wheel-315.rotor")]
pub(super) struct PinArguments {
    /// Files and folders
    #[arg(value_name = "PATH")]
    paths: Vec<PathBuf>,

    /// Change nothing; name the pins that are stale, and exit with 1 when there is one
    #[arg(long)]
    check: bool,
}

/// How the pins of one file stand.
struct FilePins<'b> {
    file: FileId,
    pins: Vec<(&'b Pin, PinState)>,
}

/// What is said in the end.
#[derive(Default)]
struct Tally {
    pins: usize,
    stale: usize,
    /// Pins without a result, and files that are left alone.
    trouble: usize,
}

pub(super) fn run(session: &mut Session, arguments: &PinArguments) -> Outcome {
    let targets = paths::targets(&arguments.paths, session.book.as_deref()).map_err(|failure| {
        let missing = arguments.paths.iter().find(|path| !path.exists());
        match missing.and_then(|path| meant(session, path)) {
            Some(help) => failure.help(help),
            None => failure,
        }
    })?;
    let books: Vec<Loaded> = targets.iter().map(load::load).collect();
    if books.iter().all(|loaded| loaded.count_asked() == 0) {
        return Err(Failure::new("there is no `.rotor` file to look for pins in"));
    }
    let mut tally = Tally::default();
    if let Some(refused) = books.iter().find_map(conflict) {
        return Err(refused);
    }
    for loaded in &books {
        refresh(session, loaded, arguments.check, &mut tally);
    }
    let what = if arguments.check { "stale" } else { "refreshed" };
    session.terminal.say(&format!("{} of {} {what}", tally.stale, counted(tally.pins, "pinned result")));
    let found = tally.trouble > 0 || (arguments.check && tally.stale > 0);
    Ok(if found { Exit::Findings } else { Exit::Clean })
}

/// The file of the item that somebody names in place of a path, as far as it can be told.
fn meant(session: &Session, path: &Path) -> Option<String> {
    let books = find::books(session).ok()?;
    let named = path.to_str()?;
    let names: Vec<(&str, String)> =
        find::all(&books).map(|(loaded, id)| (loaded.book.item(id).name_text(), loaded.shown(id.file))).collect();
    if let Some((name, file)) = names.iter().find(|(name, _)| *name == named) {
        return Some(format!("give a path, not a name: \"{name}\" is in {file}"));
    }
    let near = nearest(named, names.iter().flat_map(|(name, file)| [*name, file.as_str()]))?;
    Some(format!("did you mean {}?", check::quoted(near)))
}

fn refresh(session: &mut Session, loaded: &Loaded, only_look: bool, tally: &mut Tally) {
    let terminal = &mut session.terminal;
    let places = Places::new(&loaded.book);
    for FilePins { file, pins } in pins_by_file(loaded) {
        if let Some(why) = reason_to_leave(loaded, file) {
            tally.trouble += 1;
            terminal.warn(&format!("{} is left as it is: {why}", harmless(&loaded.shown(file))));
            continue;
        }
        let written = if only_look { Ok(()) } else { write(loaded, file, &pins) };
        if let Err(why) = &written {
            tally.trouble += 1;
            terminal.warn(&format!("{} is left as it is: {why}", harmless(&loaded.shown(file))));
        }
        for (pin, state) in &pins {
            tally.pins += 1;
            let place = places.point(file, pin.head.start);
            let place = format!("{}:{}:{}: {}", loaded.shown(file), place.line, place.column, pin.name);
            match (state, refreshed(state)) {
                (PinState::Unknown { block, .. }, _) => {
                    tally.trouble += 1;
                    terminal.warn(&harmless(&format!("{place} is not a result of {block}")));
                }
                (PinState::NotComputed { why, .. }, _) => {
                    tally.trouble += 1;
                    terminal.warn(&harmless(&format!("{place} is not computed: {why}")));
                }
                (_, Some(new)) if written.is_ok() => {
                    tally.stale += 1;
                    let old = pin.value_span.of(&loaded.book.file(file).text);
                    terminal.line(&harmless(&format!("{place}: {old} → {new}")));
                }
                _ => {}
            }
        }
    }
}

/// The pins of the files that are asked for.
fn pins_by_file(loaded: &Loaded) -> Vec<FilePins<'_>> {
    let computing = Computing::new(&loaded.book);
    let files: Vec<FileId> = loaded.asked().collect();
    let pins_of = |file: FileId| {
        let items = 0..loaded.book.file(file).sheet.items.len() as u32;
        let pins = items.flat_map(|index| item_pins(&computing, ItemId { file, index })).collect();
        FilePins { file, pins }
    };
    files.into_par_iter().map(pins_of).collect()
}

fn item_pins<'b>(computing: &Computing<'b>, id: ItemId) -> Vec<(&'b Pin, PinState)> {
    let computed = computing.item(id);
    check::pins(&ItemContext { computing, id, block: computing.book().item(id), computed: &computed })
}

/// Why a file is not to be written: it is no text.
fn reason_to_leave(loaded: &Loaded, file: FileId) -> Option<String> {
    let source = loaded.book.file(file);
    source.problem.as_ref().map(|problem| load::problem(problem, source.text.as_bytes()))
}

/// While a conflict stands anywhere in a book, what is computed from it is computed from one of its sides.
fn conflict(loaded: &Loaded) -> Option<Failure> {
    let of = |(file, source): (FileId, &SourceFile)| {
        let conflict = source.errors.iter().find(|error| error.kind == SyntaxErrorKind::ConflictMarkers)?;
        let line = source.line_index().line_of(conflict.span.start) + 1;
        let place = harmless(&format!("{}:{line}", loaded.shown(file)));
        Some(
            Failure::new(format!("a conflict is not resolved: {place}"))
                .help("settle it first; no pin is written until then"),
        )
    };
    loaded.book.files().find_map(of)
}

fn write(loaded: &Loaded, file: FileId, pins: &[(&Pin, PinState)]) -> Result<(), String> {
    let edits: Vec<Edit> =
        pins.iter().filter_map(|(pin, state)| Some(Edit::replace(pin.value_span, refreshed(state)?))).collect();
    if edits.is_empty() {
        return Ok(());
    }
    let old = &loaded.book.file(file).text;
    let new = text::apply(old, &edits).map_err(|_| "two pins are in one place".to_owned())?;
    write::replace(loaded.path(file), old, &new)
}

/// What a pin that is not fresh should say.
fn refreshed(state: &PinState) -> Option<&str> {
    match state {
        PinState::Stale { refreshed, .. } | PinState::WrongDimension { refreshed, .. } => Some(refreshed),
        PinState::Open { filled } => Some(filled),
        PinState::Fresh | PinState::Hole | PinState::Unknown { .. } | PinState::NotComputed { .. } => None,
    }
}
