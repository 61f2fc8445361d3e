//! `textDocument/codeAction`

use super::file;
use crate::book::Computing;
use crate::check::{self, Diagnostic};
use crate::ide::{self, Action, ActionKind};
use crate::server::capabilities::FIX_ALL;
use crate::server::commands;
use crate::server::convert::{self, Elsewhere};
use crate::server::protocol::{CodeAction, CodeActionKind, CodeActionOrCommand, CodeActionParams, CodeActionResponse};
use crate::server::snapshot::{FileView, View};
use crate::server::ticket::is_wanted;

pub(in crate::server) fn actions(view: &View, params: &CodeActionParams) -> Option<CodeActionResponse> {
    let file = file(view, &params.text_document.uri)?;
    let span = file.places().span(params.range);
    let diagnostics = said(file);
    let computing = Computing::new(file.book());
    let mut found = ide::actions(&computing, file.file, span, &diagnostics);
    found.extend(fix_all(file, &diagnostics));
    let wanted = |kind: &CodeActionKind| match &params.context.only {
        Some(only) => only.iter().any(|only| holds(only, kind)),
        // Everything at once is done on demand alone.
        None => *kind != FIX_ALL,
    };
    let actions = found.into_iter().map(|action| (kind(&action), action));
    let wanted = actions.filter(|(kind, _)| wanted(kind));
    Some(wanted.filter_map(|(kind, action)| offered(file, kind, action, &diagnostics)).collect())
}

/// What the check says of a file as it stands.
fn said(file: FileView<'_>) -> Vec<Diagnostic> {
    let computing = Computing::without_explanations(file.book());
    let mut found = check::check_file(&computing, file.file, is_wanted).unwrap_or_default();
    found.extend(check::check_book(file.book()).into_iter().filter(|said| said.place.file == file.file));
    check::sort(&mut found);
    found
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
        ActionKind::QuickFix => CodeActionKind::QUICKFIX,
        ActionKind::Rewrite | ActionKind::Insert => CodeActionKind::REFACTOR_REWRITE,
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
    let mends = mends.map(|found| vec![convert::diagnostic(found, &file.places(), related)]);
    Some(CodeActionOrCommand::CodeAction(CodeAction {
        title: action.title,
        kind: Some(kind),
        diagnostics: mends,
        edit: Some(edit),
        is_preferred: (client.preferred_actions && action.preferred).then_some(true),
        ..CodeAction::default()
    }))
}
