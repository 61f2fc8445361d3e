//! Tells the editor how the language server is started: the program that is set, else the one on PATH.

use zed_extension_api::settings::LspSettings;
use zed_extension_api::{self as zed, serde_json, Command, LanguageServerId, Result, Worktree};

struct Rotorbook;

impl zed::Extension for Rotorbook {
    fn new() -> Self {
        Rotorbook
    }

    fn language_server_command(&mut self, server: &LanguageServerId, worktree: &Worktree) -> Result<Command> {
        let set = LspSettings::for_worktree(server.as_ref(), worktree)?.binary;
        let (path, arguments) = set.map_or((None, None), |binary| (binary.path, binary.arguments));
        let program = path.or_else(|| worktree.which("rotorbook"));
        let command = program.ok_or("there is no rotorbook on PATH; `cargo install --path .` in its folder brings it")?;
        let args = arguments.unwrap_or_else(|| vec!["lsp".to_owned()]);
        Ok(Command { command, args, env: worktree.shell_env() })
    }

    fn language_server_workspace_configuration(
        &mut self,
        server: &LanguageServerId,
        worktree: &Worktree,
    ) -> Result<Option<serde_json::Value>> {
        Ok(LspSettings::for_worktree(server.as_ref(), worktree)?.settings)
    }
}

zed::register_extension!(Rotorbook);
