//! The protocol as this server speaks it: the only file that names the library after it.

pub(super) use tower_lsp::lsp_types::{
    ApplyWorkspaceEditParams, CallHierarchyIncomingCall, CallHierarchyIncomingCallsParams, CallHierarchyItem,
    CallHierarchyOutgoingCall, CallHierarchyOutgoingCallsParams, CallHierarchyPrepareParams,
    CallHierarchyServerCapability, ClientCapabilities, CodeAction, CodeActionKind, CodeActionOptions,
    CodeActionOrCommand, CodeActionParams, CodeActionProviderCapability, CodeActionResponse, CodeDescription, CodeLens,
    CodeLensOptions, CodeLensParams, Command, CompletionItem, CompletionItemKind, CompletionItemTag, CompletionOptions,
    CompletionOptionsCompletionItem, CompletionParams, CompletionResponse, CompletionTextEdit, ConfigurationItem,
    ConfigurationParams, CreateFile, Diagnostic, DiagnosticOptions, DiagnosticRelatedInformation,
    DiagnosticServerCapabilities, DiagnosticSeverity, DiagnosticTag, DidChangeConfigurationParams,
    DidChangeTextDocumentParams, DidChangeWatchedFilesParams, DidChangeWorkspaceFoldersParams,
    DidCloseTextDocumentParams, DidOpenTextDocumentParams, DidSaveTextDocumentParams, DocumentChangeOperation,
    DocumentChanges, DocumentDiagnosticParams, DocumentDiagnosticReport, DocumentDiagnosticReportResult,
    DocumentFormattingParams, DocumentHighlight, DocumentHighlightKind, DocumentHighlightParams, DocumentLink,
    DocumentLinkOptions, DocumentLinkParams, DocumentOnTypeFormattingOptions, DocumentOnTypeFormattingParams,
    DocumentRangeFormattingParams, DocumentSymbol, DocumentSymbolParams, DocumentSymbolResponse, Documentation,
    ExecuteCommandOptions, ExecuteCommandParams, FileOperationFilter, FileOperationPattern, FileOperationPatternKind,
    FileOperationRegistrationOptions, FoldingRange, FoldingRangeKind, FoldingRangeParams,
    FoldingRangeProviderCapability, FullDocumentDiagnosticReport, GotoDefinitionParams, GotoDefinitionResponse, Hover,
    HoverContents, HoverParams, HoverProviderCapability, InitializeParams, InitializeResult, InlayHint, InlayHintKind,
    InlayHintLabel, InlayHintLabelPart, InlayHintOptions, InlayHintParams, InlayHintServerCapabilities,
    InlayHintTooltip, InsertTextFormat, Location, LocationLink, MarkupContent, MarkupKind, MessageType, NumberOrString,
    OneOf, OptionalVersionedTextDocumentIdentifier, ParameterInformation, ParameterLabel, Position,
    PositionEncodingKind, PrepareRenameResponse, ProgressParams, ProgressParamsValue, PublishDiagnosticsParams, Range,
    ReferenceParams, Registration, RegistrationParams, RelatedFullDocumentDiagnosticReport,
    RelatedUnchangedDocumentDiagnosticReport, RenameFilesParams, RenameOptions, RenameParams, ResourceOp,
    ResourceOperationKind, SelectionRange, SelectionRangeParams, SelectionRangeProviderCapability, SemanticToken,
    SemanticTokenModifier, SemanticTokenType, SemanticTokens, SemanticTokensFullOptions, SemanticTokensLegend,
    SemanticTokensOptions, SemanticTokensParams, SemanticTokensRangeParams, SemanticTokensRangeResult,
    SemanticTokensResult, ServerCapabilities, ServerInfo, SignatureHelp, SignatureHelpOptions, SignatureHelpParams,
    SignatureInformation, SymbolInformation, SymbolKind, SymbolTag, TextDocumentContentChangeEvent, TextDocumentEdit,
    TextDocumentPositionParams, TextDocumentSyncCapability, TextDocumentSyncKind, TextDocumentSyncOptions,
    TextDocumentSyncSaveOptions, TextEdit, TypeHierarchyItem, TypeHierarchyPrepareParams, TypeHierarchySubtypesParams,
    TypeHierarchySupertypesParams, UnchangedDocumentDiagnosticReport, Url, WatchKind, WorkDoneProgress,
    WorkDoneProgressBegin, WorkDoneProgressCreateParams, WorkDoneProgressEnd, WorkDoneProgressOptions,
    WorkDoneProgressReport, WorkspaceDiagnosticParams, WorkspaceDiagnosticReport, WorkspaceDiagnosticReportResult,
    WorkspaceDocumentDiagnosticReport, WorkspaceEdit, WorkspaceFileOperationsServerCapabilities, WorkspaceFolder,
    WorkspaceFoldersServerCapabilities, WorkspaceFullDocumentDiagnosticReport, WorkspaceServerCapabilities,
    WorkspaceSymbolParams,
};
pub(super) use tower_lsp::{Client as Wire, ExitedError, LanguageServer, LspService, Server, async_trait};

/// Messages as they go over the wire.
pub(super) mod jsonrpc {
    pub(in crate::server) use tower_lsp::jsonrpc::{Error, ErrorCode, Id, Request, Response, Result};
}

/// What is told without an answer.
pub(super) mod notification {
    pub(in crate::server) use tower_lsp::lsp_types::notification::{Notification, Progress, PublishDiagnostics};
}

/// What the client is asked.
pub(super) mod request {
    pub(in crate::server) use tower_lsp::lsp_types::request::{
        ApplyWorkspaceEdit, CodeLensRefresh, InlayHintRefreshRequest, RegisterCapability, Request,
        SemanticTokensRefresh, WorkDoneProgressCreate, WorkspaceConfiguration, WorkspaceDiagnosticRefresh,
    };
}
