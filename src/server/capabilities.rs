//! What the server offers, as far as the client can make use of it.

use serde_json::json;

use super::client::Client;
use super::commands;
use super::features::tokens;
use super::protocol as lsp;
use super::protocol::{
    CallHierarchyServerCapability, CodeActionKind, CodeActionOptions, CodeActionProviderCapability, CodeLensOptions,
    CompletionOptions, CompletionOptionsCompletionItem, DiagnosticOptions, DiagnosticServerCapabilities,
    DocumentLinkOptions, DocumentOnTypeFormattingOptions, ExecuteCommandOptions, FileOperationFilter,
    FileOperationPattern, FileOperationPatternKind, FileOperationRegistrationOptions, FoldingRangeProviderCapability,
    HoverProviderCapability, InlayHintOptions, InlayHintServerCapabilities, OneOf, Registration, RenameOptions,
    SelectionRangeProviderCapability, SemanticTokensFullOptions, SemanticTokensOptions, ServerCapabilities,
    SignatureHelpOptions, TextDocumentSyncCapability, TextDocumentSyncKind, TextDocumentSyncOptions,
    TextDocumentSyncSaveOptions, WorkDoneProgressOptions, WorkspaceFileOperationsServerCapabilities,
    WorkspaceFoldersServerCapabilities, WorkspaceServerCapabilities,
};
use super::settings::SECTION;

/// The kind of action that puts right whatever has one obvious fix.
pub(super) const FIX_ALL: CodeActionKind = CodeActionKind::new("source.fixAll.rotorbook");

pub(super) fn offered(client: &Client) -> ServerCapabilities {
    ServerCapabilities {
        position_encoding: Some(client.encoding.kind()),
        text_document_sync: Some(text_sync()),
        hover_provider: Some(HoverProviderCapability::Simple(true)),
        completion_provider: Some(completion()),
        signature_help_provider: Some(signatures()),
        definition_provider: Some(OneOf::Left(true)),
        references_provider: Some(OneOf::Left(true)),
        document_highlight_provider: Some(OneOf::Left(true)),
        call_hierarchy_provider: Some(CallHierarchyServerCapability::Simple(true)),
        document_symbol_provider: Some(OneOf::Left(true)),
        workspace_symbol_provider: Some(OneOf::Left(true)),
        code_action_provider: Some(code_actions(client)),
        code_lens_provider: Some(CodeLensOptions { resolve_provider: Some(false) }),
        document_formatting_provider: Some(OneOf::Left(true)),
        document_range_formatting_provider: Some(OneOf::Left(true)),
        document_on_type_formatting_provider: Some(DocumentOnTypeFormattingOptions {
            first_trigger_character: "}".to_owned(),
            more_trigger_character: Some(vec!["\n".to_owned()]),
        }),
        rename_provider: Some(OneOf::Right(RenameOptions {
            prepare_provider: Some(true),
            work_done_progress_options: WorkDoneProgressOptions::default(),
        })),
        document_link_provider: Some(DocumentLinkOptions {
            resolve_provider: Some(false),
            work_done_progress_options: WorkDoneProgressOptions::default(),
        }),
        folding_range_provider: Some(FoldingRangeProviderCapability::Simple(true)),
        selection_range_provider: Some(SelectionRangeProviderCapability::Simple(true)),
        semantic_tokens_provider: Some(semantic_tokens().into()),
        inlay_hint_provider: Some(OneOf::Right(InlayHintServerCapabilities::Options(InlayHintOptions {
            resolve_provider: Some(client.resolves_hints.tooltip || client.resolves_hints.text_edits),
            work_done_progress_options: WorkDoneProgressOptions::default(),
        }))),
        diagnostic_provider: client.pulls_diagnostics.then(diagnostics),
        execute_command_provider: Some(ExecuteCommandOptions {
            commands: commands::NAMES.map(str::to_owned).to_vec(),
            work_done_progress_options: WorkDoneProgressOptions::default(),
        }),
        workspace: Some(workspace()),
        ..ServerCapabilities::default()
    }
}

fn text_sync() -> TextDocumentSyncCapability {
    TextDocumentSyncCapability::Options(TextDocumentSyncOptions {
        open_close: Some(true),
        change: Some(TextDocumentSyncKind::INCREMENTAL),
        will_save: None,
        will_save_wait_until: None,
        save: Some(TextDocumentSyncSaveOptions::Supported(true)),
    })
}

fn completion() -> CompletionOptions {
    CompletionOptions {
        resolve_provider: Some(false),
        trigger_characters: Some([":", " ", "\"", "@"].map(str::to_owned).to_vec()),
        completion_item: Some(CompletionOptionsCompletionItem { label_details_support: Some(true) }),
        ..CompletionOptions::default()
    }
}

/// Beside the colon all that joins the parts of a value.
fn signatures() -> SignatureHelpOptions {
    let triggers = |signs: &[&str]| Some(signs.iter().map(|sign| (*sign).to_owned()).collect());
    SignatureHelpOptions {
        trigger_characters: triggers(&[":", "@", ","]),
        retrigger_characters: triggers(&[" "]),
        work_done_progress_options: WorkDoneProgressOptions::default(),
    }
}

fn code_actions(client: &Client) -> CodeActionProviderCapability {
    if !client.code_action_literals {
        return CodeActionProviderCapability::Simple(true);
    }
    let kinds = [
        CodeActionKind::QUICKFIX,
        CodeActionKind::REFACTOR,
        CodeActionKind::REFACTOR_REWRITE,
        CodeActionKind::SOURCE,
        CodeActionKind::SOURCE_FIX_ALL,
        FIX_ALL,
    ];
    CodeActionProviderCapability::Options(CodeActionOptions {
        code_action_kinds: Some(kinds.to_vec()),
        resolve_provider: Some(false),
        work_done_progress_options: WorkDoneProgressOptions::default(),
    })
}

fn semantic_tokens() -> SemanticTokensOptions {
    SemanticTokensOptions {
        legend: tokens::legend(),
        range: Some(true),
        full: Some(SemanticTokensFullOptions::Bool(true)),
        work_done_progress_options: WorkDoneProgressOptions::default(),
    }
}

fn diagnostics() -> DiagnosticServerCapabilities {
    DiagnosticServerCapabilities::Options(DiagnosticOptions {
        identifier: Some(SECTION.to_owned()),
        inter_file_dependencies: true,
        workspace_diagnostics: true,
        work_done_progress_options: WorkDoneProgressOptions::default(),
    })
}

fn workspace() -> WorkspaceServerCapabilities {
    let files = || Some(FileOperationRegistrationOptions { filters: vec![sheets(), folders()] });
    WorkspaceServerCapabilities {
        workspace_folders: Some(WorkspaceFoldersServerCapabilities {
            supported: Some(true),
            change_notifications: Some(OneOf::Left(true)),
        }),
        file_operations: Some(WorkspaceFileOperationsServerCapabilities {
            did_create: files(),
            did_rename: files(),
            did_delete: files(),
            // Drawings too: sheets say where they lie.
            will_rename: Some(FileOperationRegistrationOptions { filters: vec![any_file(), folders()] }),
            ..WorkspaceFileOperationsServerCapabilities::default()
        }),
    }
}

fn sheets() -> FileOperationFilter {
    filter("**/*.rotor", FileOperationPatternKind::File)
}

fn any_file() -> FileOperationFilter {
    filter("**", FileOperationPatternKind::File)
}

fn folders() -> FileOperationFilter {
    filter("**", FileOperationPatternKind::Folder)
}

fn filter(glob: &str, matches: FileOperationPatternKind) -> FileOperationFilter {
    let pattern = FileOperationPattern { glob: glob.to_owned(), matches: Some(matches), options: None };
    FileOperationFilter { scheme: Some("file".to_owned()), pattern }
}

/// What is asked of the client once it is ready.
pub(super) fn registrations(client: &Client) -> Vec<Registration> {
    let mut registrations = Vec::new();
    if client.watches_files {
        // Of a folder that is gone, only the folder is told.
        let watchers = json!({ "watchers": [
            { "globPattern": "**/*.rotor" },
            { "globPattern": "**", "kind": lsp::WatchKind::Delete.bits() },
        ]});
        registrations.push(registration("workspace/didChangeWatchedFiles", Some(watchers)));
    }
    if client.registers_type_hierarchy {
        // The library's answer to `initialize` has no place for it.
        let selector = json!({ "documentSelector": [{ "pattern": "**/*.rotor" }] });
        registrations.push(registration("textDocument/prepareTypeHierarchy", Some(selector)));
    }
    if client.registers_configuration {
        let section = json!({ "section": SECTION });
        registrations.push(registration("workspace/didChangeConfiguration", Some(section)));
    }
    registrations
}

fn registration(method: &str, options: Option<serde_json::Value>) -> Registration {
    let id = format!("rotorbook {method}");
    Registration { id, method: method.to_owned(), register_options: options }
}
