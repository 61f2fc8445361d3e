/** Where the editor begins and ends the extension. */

import * as vscode from "vscode";

import { registerCommands } from "./commands";
import { Previews } from "./preview";
import { Server } from "./server";
import { StatusItem } from "./status";

let server: Server | undefined;

export async function activate(context: vscode.ExtensionContext): Promise<void> {
  const log = vscode.window.createOutputChannel("Rotorbook", { log: true });
  server = new Server(context, log);
  const previews = new Previews(server);
  context.subscriptions.push(log, previews, new StatusItem(server), ...registerCommands(server, previews, log));
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
