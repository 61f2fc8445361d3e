//! What the client can do, as far as it changes what the server does.

use serde::Deserialize;
use serde_json::Value;

use super::commands::{FILL_IN, OPEN_CARD, OPEN_CONSEQUENCES, OPEN_PAGE, SHOW_PLACES};
use super::convert::Encoding;
use super::protocol::{ClientCapabilities, MarkupKind, PositionEncodingKind, ResourceOperationKind};

/// The client's abilities, read once.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Client {
    pub encoding: Encoding,
    /// It asks for diagnostics by itself, and again when it is told to; then none are pushed.
    pub pulls_diagnostics: bool,
    pub related_information: bool,
    pub refreshes: Refreshes,
    /// It shows the progress of long work.
    pub progress: bool,
    /// It watches files for the server when asked to.
    pub watches_files: bool,
    /// It can be asked for settings.
    pub has_configuration: bool,
    /// It tells of changed settings when asked to.
    pub registers_configuration: bool,
    pub snippets: bool,
    pub markdown_hover: bool,
    pub markdown_completion: bool,
    pub markdown_signature: bool,
    /// It takes the place of a part of a signature as offsets of the label.
    pub label_offsets: bool,
    /// What it strikes out as no longer in use.
    pub tags: Tags,
    /// Parts of an inlay hint that it asks for only when they are shown.
    pub resolves_hints: ResolvesHints,
    pub location_links: bool,
    pub nested_symbols: bool,
    pub folds_whole_lines: bool,
    pub document_changes: bool,
    /// It shows hierarchies of types once it has been told that there are some.
    pub registers_type_hierarchy: bool,
    /// It makes files that an edit asks for.
    pub creates_files: bool,
    pub code_action_literals: bool,
    pub preferred_actions: bool,
    /// It shows cards, which a lens leads to.
    pub opens_card: bool,
    /// It shows what an edit moves, which a lens leads to.
    pub opens_consequences: bool,
    /// It shows the page of a diagnostic.
    pub opens_page: bool,
    /// It shows places, which a lens counts.
    pub shows_places: bool,
    /// It writes a text with stops.
    pub fills_in: bool,
    /// It knows the command that asks for completion once more.
    pub completes_again: bool,
}

/// What the client can be told to ask for again.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Refreshes {
    pub diagnostics: bool,
    pub inlay_hints: bool,
    pub semantic_tokens: bool,
    pub code_lenses: bool,
}

/// Where the client takes the tag of what is no longer in use.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Tags {
    pub diagnostics: bool,
    pub completions: bool,
    pub symbols: bool,
}

#[derive(Clone, Copy, Debug, Default)]
pub(super) struct ResolvesHints {
    pub tooltip: bool,
    pub text_edits: bool,
}

impl Tags {
    fn of(said: &Value) -> Self {
        let takes = |path: &str, tag: u32| {
            let set = said.pointer(&format!("/textDocument/{path}/tagSupport/valueSet")).and_then(Value::as_array);
            set.is_some_and(|tags| tags.contains(&Value::from(tag)))
        };
        // The protocol numbers the tags of diagnostics otherwise.
        Self {
            diagnostics: takes("publishDiagnostics", 2),
            completions: takes("completion/completionItem", 1),
            symbols: takes("documentSymbol", 1),
        }
    }
}

impl Client {
    /// Reads what a client says of itself when the session begins. What it says in a way of its own it is taken not to
    /// be able to do. `name` is what it calls itself.
    pub fn of(said: &Value, name: &str) -> Self {
        let capabilities = ClientCapabilities::deserialize(said).unwrap_or_default();
        let mut client = Self::default();
        client.general(&capabilities);
        client.workspace(&capabilities);
        client.text(&capabilities);
        client.tags = Tags::of(said);
        // The library reads this under another name than the protocol has for it.
        let refreshes = said.pointer("/workspace/diagnostics/refreshSupport");
        client.refreshes.diagnostics = refreshes.and_then(Value::as_bool).unwrap_or(false);
        let types = said.pointer("/textDocument/typeHierarchy/dynamicRegistration");
        client.registers_type_hierarchy = types.and_then(Value::as_bool).unwrap_or(false);
        // What is said of a sheet changes with other sheets. Who asks but cannot be told to ask again would not see it.
        client.pulls_diagnostics &= client.refreshes.diagnostics;
        // The protocol has no such command, and others complain of one that they do not know.
        client.completes_again = ["code", "codium"].iter().any(|part| name.to_lowercase().contains(part));
        client
    }

    /// Reads which commands of its own a client has for lenses: `{ "commands": ["rotorbook.openCard"] }` in the options
    /// that it begins the session with.
    pub fn with_commands(mut self, options: Option<&Value>) -> Self {
        let commands = options.and_then(|options| options.get("commands")?.as_array());
        let has = |command: &str| commands.is_some_and(|all| all.iter().any(|one| one == command));
        self.opens_card = has(OPEN_CARD);
        self.opens_consequences = has(OPEN_CONSEQUENCES);
        self.opens_page = has(OPEN_PAGE);
        self.shows_places = has(SHOW_PLACES);
        self.fills_in = has(FILL_IN);
        self
    }

    fn general(&mut self, capabilities: &ClientCapabilities) {
        let offered = capabilities.general.as_ref().and_then(|general| general.position_encodings.as_ref());
        let utf8 = offered.is_some_and(|offered| offered.contains(&PositionEncodingKind::UTF8));
        self.encoding = if utf8 { Encoding::Utf8 } else { Encoding::Utf16 };
        let window = capabilities.window.as_ref();
        self.progress = window.and_then(|window| window.work_done_progress).unwrap_or(false);
    }

    fn workspace(&mut self, capabilities: &ClientCapabilities) {
        let Some(workspace) = &capabilities.workspace else { return };
        let watched = workspace.did_change_watched_files.as_ref();
        self.watches_files = watched.and_then(|watched| watched.dynamic_registration).unwrap_or(false);
        self.has_configuration = workspace.configuration.unwrap_or(false);
        let configuration = workspace.did_change_configuration.as_ref();
        self.registers_configuration = configuration.and_then(|able| able.dynamic_registration).unwrap_or(false);
        let edits = workspace.workspace_edit.as_ref();
        self.document_changes = edits.and_then(|edits| edits.document_changes).unwrap_or(false);
        let operations = edits.and_then(|edits| edits.resource_operations.as_ref());
        self.creates_files = operations.is_some_and(|all| all.contains(&ResourceOperationKind::Create));
        self.refreshes = Refreshes {
            diagnostics: false,
            inlay_hints: workspace.inlay_hint.as_ref().and_then(|able| able.refresh_support).unwrap_or(false),
            semantic_tokens: workspace.semantic_tokens.as_ref().and_then(|able| able.refresh_support).unwrap_or(false),
            code_lenses: workspace.code_lens.as_ref().and_then(|able| able.refresh_support).unwrap_or(false),
        };
    }

    fn text(&mut self, capabilities: &ClientCapabilities) {
        let Some(text) = &capabilities.text_document else { return };
        self.pulls_diagnostics = text.diagnostic.is_some();
        let published = text.publish_diagnostics.as_ref();
        self.related_information = published.and_then(|able| able.related_information).unwrap_or(false);
        let markdown =
            |formats: Option<&Vec<MarkupKind>>| formats.is_some_and(|all| all.contains(&MarkupKind::Markdown));
        self.markdown_hover = markdown(text.hover.as_ref().and_then(|hover| hover.content_format.as_ref()));
        let item = text.completion.as_ref().and_then(|completion| completion.completion_item.as_ref());
        self.snippets = item.and_then(|item| item.snippet_support).unwrap_or(false);
        self.markdown_completion = markdown(item.and_then(|item| item.documentation_format.as_ref()));
        let signature = text.signature_help.as_ref().and_then(|able| able.signature_information.as_ref());
        self.markdown_signature = markdown(signature.and_then(|able| able.documentation_format.as_ref()));
        let parameters = signature.and_then(|able| able.parameter_information.as_ref());
        self.label_offsets = parameters.and_then(|able| able.label_offset_support).unwrap_or(false);
        let resolved = text.inlay_hint.as_ref().and_then(|hint| hint.resolve_support.as_ref());
        let resolves =
            |what: &str| resolved.is_some_and(|able| able.properties.iter().any(|property| property == what));
        self.resolves_hints = ResolvesHints { tooltip: resolves("tooltip"), text_edits: resolves("textEdits") };
        self.location_links = text.definition.as_ref().and_then(|able| able.link_support).unwrap_or(false);
        let symbols = text.document_symbol.as_ref();
        self.nested_symbols = symbols.and_then(|able| able.hierarchical_document_symbol_support).unwrap_or(false);
        let folding = text.folding_range.as_ref();
        self.folds_whole_lines = folding.and_then(|able| able.line_folding_only).unwrap_or(false);
        self.actions(capabilities);
    }

    fn actions(&mut self, capabilities: &ClientCapabilities) {
        let actions = capabilities.text_document.as_ref().and_then(|text| text.code_action.as_ref());
        let Some(actions) = actions else { return };
        self.code_action_literals = actions.code_action_literal_support.is_some();
        self.preferred_actions = actions.is_preferred_support.unwrap_or(false);
    }
}
