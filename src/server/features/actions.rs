//! `textDocument/codeAction`

use super::file;
use crate::book::Computing;
use crate::check::{self, Diagnostic, FileEdit};
use crate::ide::{self, Action, ActionKind, Beginning};
use crate::server::capabilities::FIX_ALL;
use crate::server::commands;
use crate::server::convert::{self, Elsewhere};
use crate::server::protocol::{
    CodeAction, CodeActionKind, CodeActionOrCommand, CodeActionParams, CodeActionResponse, Command, Range,
};
use crate::server::snapshot::{FileView, View};
use crate::server::ticket::is_wanted;
use crate::text::{Edit, Span};

pub(in crate::server) fn actions(view: &View, params: &CodeActionParams) -> Option<CodeActionResponse> {
    let file = file(view, &params.text_document.uri)?;
    let span = file.places().span(params.range);
    let diagnostics = said(file);
    let computing = Computing::new(file.book());
    let mut found = ide::actions(&computing, file.file, span, &diagnostics);
    found.extend(file.moves().map(|moves| ide::revisions(file.book(), file.file, span, moves)).into_iter().flatten());
    found.extend(fix_all(file, &diagnostics));
    let wanted = |kind: &CodeActionKind| match &params.context.only {
        Some(only) => only.iter().any(|only| holds(only, kind)),
        // Everything at once is done on demand alone.
        None => *kind != FIX_ALL,
    };
    let (fixes, others): (Vec<Action>, Vec<Action>) =
        found.into_iter().filter(|action| wanted(&kind(action))).partition(|action| action.diagnostic.is_some());
    let offered = |action: Action| offered(file, kind(&action), action, &diagnostics);
    let mut response: CodeActionResponse = fixes.into_iter().filter_map(offered).collect();
    if wanted(&CodeActionKind::QUICKFIX) {
        response.extend(pages(file, span, &diagnostics));
    }
    response.extend(others.into_iter().filter_map(offered));
    if wanted(&CodeActionKind::REFACTOR) {
        response.extend(begun(file, span));
        response.extend(begun_here(file, span));
    }
    Some(response)
}

/// What the check says of a file as it stands.
pub(super) fn said(file: FileView<'_>) -> Vec<Diagnostic> {
    let computing = Computing::without_explanations(file.book());
    let mut found = check::check_file(&computing, file.file, is_wanted).unwrap_or_default();
    found.extend(check::check_book(file.book()).into_iter().filter(|said| said.place.file == file.file));
    check::sort(&mut found);
    found
}

/// For each code at a range, the way to its page.
fn pages(file: FileView<'_>, range: Span, diagnostics: &[Diagnostic]) -> Vec<CodeActionOrCommand> {
    let client = &file.view.client;
    if !client.opens_page {
        return Vec::new();
    }
    let here = diagnostics.iter().filter(|said| said.place.file == file.file && said.place.span.touches(range));
    let mut codes: Vec<&str> = here.map(|said| said.rule.code).collect();
    codes.sort_unstable();
    codes.dedup();
    let page = |code: &str| {
        let title = format!("What `{code}` means");
        let command = commands::open_page(title.clone(), code);
        match client.code_action_literals {
            false => CodeActionOrCommand::Command(command),
            true => CodeActionOrCommand::CodeAction(CodeAction {
                title,
                kind: Some(CodeActionKind::QUICKFIX),
                command: Some(command),
                ..CodeAction::default()
            }),
        }
    };
    codes.into_iter().map(page).collect()
}

/// One action that puts right whatever has one obvious fix.
fn fix_all(file: FileView<'_>, diagnostics: &[Diagnostic]) -> Option<Action> {
    let edits = ide::fix_all(diagnostics, file.file, None);
    let title = "Fix everything that has one obvious fix".to_owned();
    let action = Action { title, kind: ActionKind::FixAll, edits, diagnostic: None, preferred: false };
    (!action.edits.is_empty()).then_some(action)
}

/// `source.fixAll.rotorbook` for the whole file; what fixes all of one kind is a quick fix, where people look for it.
fn kind(action: &Action) -> CodeActionKind {
    match action.kind {
        ActionKind::QuickFix | ActionKind::Rank => CodeActionKind::QUICKFIX,
        ActionKind::Rewrite | ActionKind::Insert => CodeActionKind::REFACTOR_REWRITE,
        ActionKind::Begin => CodeActionKind::REFACTOR,
        ActionKind::FixAll if action.diagnostic.is_some() => CodeActionKind::QUICKFIX,
        ActionKind::FixAll => FIX_ALL,
    }
}

/// Whether a kind is another or one below it.
fn holds(outer: &CodeActionKind, kind: &CodeActionKind) -> bool {
    let rest = kind.as_str().strip_prefix(outer.as_str());
    outer.as_str().is_empty() || rest.is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
}

fn offered(
    file: FileView<'_>,
    kind: CodeActionKind,
    action: Action,
    diagnostics: &[Diagnostic],
) -> Option<CodeActionOrCommand> {
    let client = &file.view.client;
    let edit = convert::workspace_edit(file, &action.edits)?;
    if !client.code_action_literals {
        let command = commands::apply(action.title, &edit)?;
        return Some(CodeActionOrCommand::Command(command));
    }
    let locator = file.locator();
    let related = client.related_information.then_some(&locator as &dyn Elsewhere);
    let mends = action.diagnostic.and_then(|n| diagnostics.get(n));
    let mends = mends.map(|found| vec![convert::diagnostic(found, &file.places(), client, related)]);
    let command = filled_in(file, &action);
    Some(CodeActionOrCommand::CodeAction(CodeAction {
        edit: command.is_none().then_some(edit),
        title: action.title,
        kind: Some(kind),
        diagnostics: mends,
        command,
        is_preferred: (client.preferred_actions && action.preferred).then_some(true),
        ..CodeAction::default()
    }))
}

/// The command that writes what has places to fill, for editors that stop at each of them.
fn filled_in(file: FileView<'_>, action: &Action) -> Option<Command> {
    let [one] = &action.edits[..] else { return None };
    let snippet = match action.kind {
        ActionKind::Begin => ide::sheet_with_stops(&one.edit.text),
        _ => ide::with_stops(&one.edit.text),
    };
    let snippet = snippet.filter(|_| file.view.client.fills_in)?;
    let range = file.places_of(one.file).range(one.edit.span);
    Some(commands::fill_in(action.title.clone(), &file.url(one.file)?, range, &snippet))
}

/// Sheets that can be begun on an empty line, in the file that it is in.
fn begun_here(file: FileView<'_>, range: Span) -> Vec<CodeActionOrCommand> {
    let begin = |one: Beginning| {
        let edit = FileEdit { file: file.file, edit: Edit::insert(range.start, one.text.clone()) };
        let (title, kind) = (one.title, ActionKind::Begin);
        let action = Action { title, kind, edits: vec![edit], diagnostic: None, preferred: false };
        offered(file, self::kind(&action), action, &[])
    };
    ide::beginnings_here(file.book(), file.file, range.start).into_iter().filter_map(begin).collect()
}

/// Sheets that can be begun at a heading, each in a file of its own.
fn begun(file: FileView<'_>, range: Span) -> Vec<CodeActionOrCommand> {
    let client = &file.view.client;
    if !client.creates_files || !client.code_action_literals {
        return Vec::new();
    }
    let begin = |one: Beginning| {
        let url = commands::new_file(file.view, file.in_book, &one)?;
        let snippet = ide::with_stops(&one.text).filter(|_| client.fills_in);
        let command = snippet.map(|text| commands::fill_in(one.title.clone(), &url, Range::default(), &text));
        let text = command.is_none().then_some(one.text);
        Some(CodeActionOrCommand::CodeAction(CodeAction {
            title: one.title,
            kind: Some(CodeActionKind::REFACTOR),
            edit: Some(convert::new_file(&url, text)),
            command,
            ..CodeAction::default()
        }))
    };
    ide::beginnings(file.book(), file.file, range).into_iter().filter_map(begin).collect()
}
