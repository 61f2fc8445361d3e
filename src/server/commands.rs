//! `workspace/executeCommand`, and the commands that the server hands out.

use serde::de::DeserializeOwned;
use serde_json::{Value, json};

use super::convert;
use super::features::card;
use super::protocol::jsonrpc::{Error, Result};
use super::protocol::{Command, ExecuteCommandParams, Location, Position, Range, Url, WorkspaceEdit};
use super::snapshot::{BookKey, BookView, FileView, View, url_of};
use crate::book::Computing;
use crate::check::{self, FileEdit};
use crate::ide::{self, Beginning};

/// What can be asked for; the documentation of each is at its function.
pub(super) const NAMES: [&str; 9] = [SHOW, CARD, BEGINNINGS, BEGIN, CONSEQUENCES, EXPLAIN, PIN_ALL, FIX_ALL, APPLY];

const SHOW: &str = "rotorbook.show";
const CARD: &str = "rotorbook.card";
const BEGINNINGS: &str = "rotorbook.beginnings";
const BEGIN: &str = "rotorbook.begin";
const CONSEQUENCES: &str = "rotorbook.consequences";
const EXPLAIN: &str = "rotorbook.explain";
const PIN_ALL: &str = "rotorbook.pinAll";
const FIX_ALL: &str = "rotorbook.fixAll";
const APPLY: &str = "rotorbook.apply";

/// Known to some editors: shows a list of places.
pub(super) const SHOW_PLACES: &str = "rotorbook.showPlaces";

/// Known to some editors: shows the card of the item at a place.
pub(super) const OPEN_CARD: &str = "rotorbook.openCard";

/// Known to some editors: shows what the item at a place moves.
pub(super) const OPEN_CONSEQUENCES: &str = "rotorbook.openConsequences";

/// Known to some editors: shows the page of a diagnostic.
pub(super) const OPEN_PAGE: &str = "rotorbook.openPage";

/// Known to some editors: puts a text with stops in place of another.
pub(super) const FILL_IN: &str = "rotorbook.fillIn";

/// What comes of a command: its answer, and an edit that the editor is asked to make.
#[derive(Debug, Default)]
pub(super) struct Done {
    pub answer: Option<Value>,
    pub edit: Option<(String, WorkspaceEdit)>,
}

pub(super) fn execute(view: &View, params: &ExecuteCommandParams) -> Result<Done> {
    match &*params.command {
        SHOW => show(view, &params.arguments),
        CARD => card(view, &params.arguments),
        BEGINNINGS => beginnings(view, &params.arguments),
        BEGIN => begin(view, &params.arguments),
        CONSEQUENCES => consequences(view, &params.arguments),
        EXPLAIN => explain(&params.arguments),
        PIN_ALL => pin_all(view, &params.arguments),
        FIX_ALL => fix_all(view, &params.arguments),
        APPLY => apply_edit(&params.arguments),
        other => Err(Error::invalid_params(format!("there is no command `{other}`"))),
    }
}

/// `[uri, position]` → Markdown: everything computed of the item there.
fn show(view: &View, arguments: &[Value]) -> Result<Done> {
    let (file, offset) = place(view, arguments)?;
    let shown = ide::show(&Computing::new(file.book()), file.file, offset);
    Ok(Done { answer: shown.map(Value::from), edit: None })
}

/// `[uri, position]` → HTML: the bench card of the item there, a page that needs nothing else.
fn card(view: &View, arguments: &[Value]) -> Result<Done> {
    let (file, offset) = place(view, arguments)?;
    Ok(Done { answer: card::page(file, offset).map(Value::from), edit: None })
}

/// `[uri, position]` → Markdown: before and after of all that an edit of the item there moves, and of what moved it.
fn consequences(view: &View, arguments: &[Value]) -> Result<Done> {
    let (file, offset) = place(view, arguments)?;
    let moved = file.moves().and_then(|moves| ide::consequences(file.book(), file.file, offset, moves));
    Ok(Done { answer: moved.map(Value::from), edit: None })
}

/// `[uri | null]` → `[{ title, from, uri, text, snippet } | { title, start }]`: the sheets that can be begun in the book of a
/// file, or in the one that is open. Those with a `start` are begun by `rotorbook.begin`, once they have a name.
fn beginnings(view: &View, arguments: &[Value]) -> Result<Done> {
    let in_book = book(view, arguments)?;
    let begun = ide::all_beginnings(&in_book.book).into_iter().filter_map(|(from, one)| {
        let uri = new_file(view, in_book, &one)?;
        let snippet = ide::with_stops(&one.text);
        Some(json!({ "title": one.title, "from": from, "uri": uri, "text": one.text, "snippet": snippet }))
    });
    let plain = ide::starts(&in_book.book);
    let plain = plain.map(|start| json!({ "title": format!("New {}", start.words()), "start": start.words() }));
    Ok(Done { answer: Some(plain.chain(begun).collect()), edit: None })
}

/// `[uri | null, start, name]` → `{ uri, text, snippet }`: a sheet of a kind; without a `uri` where there is no book for it
/// to lie in.
fn begin(view: &View, arguments: &[Value]) -> Result<Done> {
    let in_book = book(view, arguments)?;
    let words: String = argument(arguments, 1)?;
    let start = ide::starts(&in_book.book).find(|start| start.words() == words);
    let start = start.ok_or_else(|| Error::invalid_params(format!("no `{words}` can be begun")))?;
    let name: Option<String> = arguments.get(2).and_then(|name| serde_json::from_value(name.clone()).ok());
    let one = ide::begin_named(&in_book.book, start, name.as_deref()).map_err(Error::invalid_params)?;
    let uri = new_file(view, in_book, &one);
    let answer = json!({ "uri": uri, "text": one.text, "snippet": ide::with_stops(&one.text) });
    Ok(Done { answer: Some(answer), edit: None })
}

/// Where a sheet that is begun is to lie; `None` where something lies there, and outside a folder.
pub(super) fn new_file(view: &View, in_book: &BookView, begun: &Beginning) -> Option<Url> {
    let BookKey::Folder(root) = &in_book.key else { return None };
    let path = root.join(&begun.path);
    url_of(&path, &view.folders).filter(|_| !path.exists())
}

/// The book of the file that is named; where none is, a book that is open.
fn book<'v>(view: &'v View, arguments: &[Value]) -> Result<&'v BookView> {
    match arguments.first() {
        Some(Value::Null) | None => {
            let folder = view.books.iter().find(|book| matches!(book.key, BookKey::Folder(_)));
            folder.or(view.books.first()).ok_or_else(|| Error::invalid_params("no book is open"))
        }
        Some(_) => Ok(file(view, arguments)?.in_book),
    }
}

/// `[code]` → Markdown: the page of a diagnostic.
fn explain(arguments: &[Value]) -> Result<Done> {
    let code: String = argument(arguments, 0)?;
    Ok(Done { answer: ide::page(&code).map(Value::from), edit: None })
}

/// `[uri]`: refreshes the pinned results of a file.
fn pin_all(view: &View, arguments: &[Value]) -> Result<Done> {
    let file = file(view, arguments)?;
    let edits = ide::pin_all(&Computing::new(file.book()), file.file);
    let edits = edits.into_iter().map(|edit| FileEdit { file: file.file, edit }).collect();
    Ok(edited(file, "Pin all results", edits))
}

/// `[uri, code?]`: applies the fixes of a file that leave no choice, of one code alone where it is given.
fn fix_all(view: &View, arguments: &[Value]) -> Result<Done> {
    let file = file(view, arguments)?;
    let code: Option<String> = arguments.get(1).and_then(|code| serde_json::from_value(code.clone()).ok());
    let computing = Computing::without_explanations(file.book());
    let found = check::check_file(&computing, file.file, || true).unwrap_or_default();
    let edits = ide::fix_all(&found, file.file, code.as_deref());
    Ok(edited(file, "Fix everything that has one obvious fix", edits))
}

fn edited(file: FileView<'_>, label: &str, edits: Vec<FileEdit>) -> Done {
    let edit = if edits.is_empty() { None } else { convert::workspace_edit(file, &edits) };
    Done { answer: None, edit: edit.map(|edit| (label.to_owned(), edit)) }
}

/// `[edit]`: hands an edit back to the editor, for those that take commands alone as actions.
fn apply_edit(arguments: &[Value]) -> Result<Done> {
    let edit: WorkspaceEdit = argument(arguments, 0)?;
    Ok(Done { answer: None, edit: Some(("Rotorbook".to_owned(), edit)) })
}

fn file<'v>(view: &'v View, arguments: &[Value]) -> Result<FileView<'v>> {
    let url: Url = argument(arguments, 0)?;
    view.file(&url).ok_or_else(|| Error::invalid_params(format!("`{url}` is not in a book that is open")))
}

fn place<'v>(view: &'v View, arguments: &[Value]) -> Result<(FileView<'v>, u32)> {
    let file = file(view, arguments)?;
    let position: Position = argument(arguments, 1)?;
    Ok((file, file.places().offset(position)))
}

fn argument<T: DeserializeOwned>(arguments: &[Value], n: usize) -> Result<T> {
    let argument = arguments.get(n).and_then(|argument| T::deserialize(argument).ok());
    argument.ok_or_else(|| Error::invalid_params(format!("argument {} is missing or cannot be read", n + 1)))
}

/// The command that makes an edit.
pub(super) fn apply(title: String, edit: &WorkspaceEdit) -> Option<Command> {
    let edit = serde_json::to_value(edit).ok()?;
    Some(Command::new(title, APPLY.to_owned(), Some(vec![edit])))
}

/// The command that shows what the item at a position moves.
pub(super) fn open_consequences(title: String, url: &Url, position: Position) -> Command {
    Command::new(title, OPEN_CONSEQUENCES.to_owned(), Some(vec![json!(url), json!(position)]))
}

/// The command that shows the page of a diagnostic.
pub(super) fn open_page(title: String, code: &str) -> Command {
    Command::new(title, OPEN_PAGE.to_owned(), Some(vec![json!(code)]))
}

/// The command that puts a snippet in place of what is in a range.
pub(super) fn fill_in(title: String, url: &Url, range: Range, snippet: &str) -> Command {
    Command::new(title, FILL_IN.to_owned(), Some(vec![json!(url), json!(range), json!(snippet)]))
}

/// The command that shows places in the editor.
pub(super) fn show_places(title: String, url: &Url, position: Position, places: &[Location]) -> Command {
    let arguments = vec![json!(url), json!(position), json!(places)];
    Command::new(title, SHOW_PLACES.to_owned(), Some(arguments))
}

/// The command that shows the card of the item at a position.
pub(super) fn open_card(url: &Url, position: Position) -> Command {
    Command::new("bench card".to_owned(), OPEN_CARD.to_owned(), Some(vec![json!(url), json!(position)]))
}
