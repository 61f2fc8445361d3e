/** Where the editor begins and ends the extension. */

import * as vscode from "vscode";

import { registerCommands } from "./commands";
import { Preview } from "./preview";
import { Server } from "./server";

let server: Server | undefined;

export async function activate(context: vscode.ExtensionContext): Promise<void> {
  const log = vscode.window.createOutputChannel("Rotorbook", { log: true });
  server = new Server(context, log);
  const preview = new Preview(server);
  context.subscriptions.push(log, preview, ...registerCommands(server, preview, log));
  context.subscriptions.push(
    vscode.workspace.onDidChangeConfiguration(async (change) => {
      if (change.affectsConfiguration("rotorbook.server.path")) {
        await server?.restart();
      }
    }),
  );
  await server.start();
}

export async function deactivate(): Promise<void> {
  await server?.stop();
}
