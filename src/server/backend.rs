//! The requests of the protocol. Each works with the state at its turn, which its ticket holds.

use std::sync::{Arc, OnceLock};

use serde_json::Value;

use super::client::Client;
use super::desk::Pulled;
use super::features::{
    actions, completion, folding, formatting, hierarchy, hints, hover, lenses, links, moved, names, rename, selection,
    signature, symbols, tokens,
};
use super::protocol::LanguageServer;
use super::protocol::jsonrpc::Result;
use super::protocol::{
    CallHierarchyIncomingCall, CallHierarchyIncomingCallsParams, CallHierarchyItem, CallHierarchyOutgoingCall,
    CallHierarchyOutgoingCallsParams, CallHierarchyPrepareParams, CodeActionParams, CodeActionResponse, CodeLens,
    CodeLensParams, CompletionParams, CompletionResponse, DocumentDiagnosticParams, DocumentDiagnosticReport,
    DocumentDiagnosticReportResult, DocumentFormattingParams, DocumentHighlight, DocumentHighlightParams, DocumentLink,
    DocumentLinkParams, DocumentOnTypeFormattingParams, DocumentRangeFormattingParams, DocumentSymbolParams,
    DocumentSymbolResponse, ExecuteCommandParams, FoldingRange, FoldingRangeParams, FullDocumentDiagnosticReport,
    GotoDefinitionParams, GotoDefinitionResponse, Hover, HoverParams, InitializeParams, InitializeResult, InlayHint,
    InlayHintParams, Location, PrepareRenameResponse, ReferenceParams, RelatedFullDocumentDiagnosticReport,
    RelatedUnchangedDocumentDiagnosticReport, RenameFilesParams, RenameParams, SelectionRange, SelectionRangeParams,
    SemanticTokensParams, SemanticTokensRangeParams, SemanticTokensRangeResult, SemanticTokensResult, ServerInfo,
    SignatureHelp, SignatureHelpParams, SymbolInformation, TextDocumentPositionParams, TextEdit, TypeHierarchyItem,
    TypeHierarchyPrepareParams, TypeHierarchySubtypesParams, TypeHierarchySupertypesParams,
    UnchangedDocumentDiagnosticReport, WorkspaceDiagnosticParams, WorkspaceDiagnosticReport,
    WorkspaceDiagnosticReportResult, WorkspaceDocumentDiagnosticReport, WorkspaceEdit,
    WorkspaceFullDocumentDiagnosticReport, WorkspaceSymbolParams,
};
use super::ticket::{self, with_state};
use super::voice::{Say, Voice};
use super::{capabilities, commands};
use crate::vocabulary;

pub(super) struct Backend {
    pub voice: Voice,
    /// The client, once it has begun the session.
    pub client: Arc<OnceLock<Client>>,
}

#[super::protocol::async_trait]
impl LanguageServer for Backend {
    async fn initialize(&self, _: InitializeParams) -> Result<InitializeResult> {
        let client = self.client.get().copied().unwrap_or_default();
        let version = Some(vocabulary::version().to_owned());
        Ok(InitializeResult {
            capabilities: capabilities::offered(&client),
            server_info: Some(ServerInfo { name: "rotorbook".to_owned(), version }),
        })
    }

    async fn shutdown(&self) -> Result<()> {
        Ok(())
    }

    async fn hover(&self, params: HoverParams) -> Result<Option<Hover>> {
        with_state(move |view| hover::hover(view, &params)).await
    }

    async fn completion(&self, params: CompletionParams) -> Result<Option<CompletionResponse>> {
        with_state(move |view| completion::completion(view, &params)).await
    }

    async fn signature_help(&self, params: SignatureHelpParams) -> Result<Option<SignatureHelp>> {
        with_state(move |view| signature::help(view, &params)).await
    }

    async fn prepare_call_hierarchy(
        &self,
        params: CallHierarchyPrepareParams,
    ) -> Result<Option<Vec<CallHierarchyItem>>> {
        with_state(move |view| hierarchy::calls(view, &params)).await
    }

    async fn incoming_calls(
        &self,
        params: CallHierarchyIncomingCallsParams,
    ) -> Result<Option<Vec<CallHierarchyIncomingCall>>> {
        with_state(move |view| hierarchy::incoming(view, &params)).await
    }

    async fn outgoing_calls(
        &self,
        params: CallHierarchyOutgoingCallsParams,
    ) -> Result<Option<Vec<CallHierarchyOutgoingCall>>> {
        with_state(move |view| hierarchy::outgoing(view, &params)).await
    }

    async fn prepare_type_hierarchy(
        &self,
        params: TypeHierarchyPrepareParams,
    ) -> Result<Option<Vec<TypeHierarchyItem>>> {
        with_state(move |view| hierarchy::types(view, &params)).await
    }

    async fn supertypes(&self, params: TypeHierarchySupertypesParams) -> Result<Option<Vec<TypeHierarchyItem>>> {
        with_state(move |view| hierarchy::supertypes(view, &params.item)).await
    }

    async fn subtypes(&self, params: TypeHierarchySubtypesParams) -> Result<Option<Vec<TypeHierarchyItem>>> {
        with_state(move |view| hierarchy::subtypes(view, &params.item)).await
    }

    async fn goto_definition(&self, params: GotoDefinitionParams) -> Result<Option<GotoDefinitionResponse>> {
        with_state(move |view| names::definition(view, &params)).await
    }

    async fn references(&self, params: ReferenceParams) -> Result<Option<Vec<Location>>> {
        with_state(move |view| names::references(view, &params)).await
    }

    async fn document_highlight(&self, params: DocumentHighlightParams) -> Result<Option<Vec<DocumentHighlight>>> {
        with_state(move |view| names::highlights(view, &params)).await
    }

    async fn document_symbol(&self, params: DocumentSymbolParams) -> Result<Option<DocumentSymbolResponse>> {
        with_state(move |view| symbols::of_document(view, &params)).await
    }

    async fn symbol(&self, params: WorkspaceSymbolParams) -> Result<Option<Vec<SymbolInformation>>> {
        with_state(move |view| symbols::of_books(view, &params)).await
    }

    async fn code_action(&self, params: CodeActionParams) -> Result<Option<CodeActionResponse>> {
        with_state(move |view| actions::actions(view, &params)).await
    }

    async fn code_lens(&self, params: CodeLensParams) -> Result<Option<Vec<CodeLens>>> {
        with_state(move |view| lenses::lenses(view, &params)).await
    }

    async fn formatting(&self, params: DocumentFormattingParams) -> Result<Option<Vec<TextEdit>>> {
        with_state(move |view| formatting::document(view, &params)).await
    }

    async fn range_formatting(&self, params: DocumentRangeFormattingParams) -> Result<Option<Vec<TextEdit>>> {
        with_state(move |view| formatting::range(view, &params)).await
    }

    async fn on_type_formatting(&self, params: DocumentOnTypeFormattingParams) -> Result<Option<Vec<TextEdit>>> {
        with_state(move |view| formatting::on_type(view, &params)).await
    }

    async fn prepare_rename(&self, params: TextDocumentPositionParams) -> Result<Option<PrepareRenameResponse>> {
        with_state(move |view| rename::prepare(view, &params)).await?
    }

    async fn rename(&self, params: RenameParams) -> Result<Option<WorkspaceEdit>> {
        with_state(move |view| rename::rename(view, &params)).await?
    }

    async fn will_rename_files(&self, params: RenameFilesParams) -> Result<Option<WorkspaceEdit>> {
        with_state(move |view| moved::will_move(view, &params)).await
    }

    async fn folding_range(&self, params: FoldingRangeParams) -> Result<Option<Vec<FoldingRange>>> {
        with_state(move |view| folding::folds(view, &params)).await
    }

    async fn selection_range(&self, params: SelectionRangeParams) -> Result<Option<Vec<SelectionRange>>> {
        with_state(move |view| selection::selections(view, &params)).await
    }

    async fn semantic_tokens_full(&self, params: SemanticTokensParams) -> Result<Option<SemanticTokensResult>> {
        Ok(with_state(move |view| tokens::full(view, &params)).await?.map(SemanticTokensResult::Tokens))
    }

    async fn semantic_tokens_range(
        &self,
        params: SemanticTokensRangeParams,
    ) -> Result<Option<SemanticTokensRangeResult>> {
        Ok(with_state(move |view| tokens::range(view, &params)).await?.map(SemanticTokensRangeResult::Tokens))
    }

    async fn inlay_hint(&self, params: InlayHintParams) -> Result<Option<Vec<InlayHint>>> {
        with_state(move |view| hints::hints(view, &params)).await
    }

    async fn inlay_hint_resolve(&self, hint: InlayHint) -> Result<InlayHint> {
        with_state(move |view| hints::resolve(view, hint)).await
    }

    async fn document_link(&self, params: DocumentLinkParams) -> Result<Option<Vec<DocumentLink>>> {
        with_state(move |view| links::links(view, &params)).await
    }

    async fn diagnostic(&self, params: DocumentDiagnosticParams) -> Result<DocumentDiagnosticReportResult> {
        let Pulled { items, id } = ticket::diagnostics().await?;
        let report = match params.previous_result_id == Some(id.clone()) {
            true => DocumentDiagnosticReport::Unchanged(RelatedUnchangedDocumentDiagnosticReport {
                related_documents: None,
                unchanged_document_diagnostic_report: UnchangedDocumentDiagnosticReport { result_id: id },
            }),
            false => DocumentDiagnosticReport::Full(RelatedFullDocumentDiagnosticReport {
                related_documents: None,
                full_document_diagnostic_report: FullDocumentDiagnosticReport { result_id: Some(id), items },
            }),
        };
        Ok(DocumentDiagnosticReportResult::Report(report))
    }

    async fn workspace_diagnostic(&self, _: WorkspaceDiagnosticParams) -> Result<WorkspaceDiagnosticReportResult> {
        let news = ticket::all_diagnostics().await?;
        let items = news.into_iter().map(|(uri, version, Pulled { items, id })| {
            WorkspaceDocumentDiagnosticReport::Full(WorkspaceFullDocumentDiagnosticReport {
                uri,
                version: version.map(i64::from),
                full_document_diagnostic_report: FullDocumentDiagnosticReport { result_id: Some(id), items },
            })
        });
        let report = WorkspaceDiagnosticReport { items: items.collect() };
        Ok(WorkspaceDiagnosticReportResult::Report(report))
    }

    async fn execute_command(&self, params: ExecuteCommandParams) -> Result<Option<Value>> {
        let done = with_state(move |view| commands::execute(view, &params)).await??;
        if let Some((label, edit)) = done.edit {
            // The editor's answer is not waited for: it may well come only after this one.
            self.voice.say(Say::Edit(label, edit));
        }
        Ok(done.answer)
    }
}
