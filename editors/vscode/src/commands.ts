/** What the palette, the menus and the server's own lenses call. */

import * as vscode from "vscode";
import type { Location, Position } from "vscode-languageclient/node";

import type { Preview } from "./preview";
import type { Server } from "./server";

export function registerCommands(server: Server, preview: Preview, log: vscode.LogOutputChannel): vscode.Disposable[] {
  const register = vscode.commands.registerCommand;
  return [
    register("rotorbook.openResults", () => preview.open("results")),
    register("rotorbook.openCard", (_uri?: string, place?: Position) => openCard(preview, place)),
    register("rotorbook.pinResults", () => onSheet(server, "rotorbook.pinAll")),
    register("rotorbook.fixSheet", () => onSheet(server, "rotorbook.fixAll")),
    register("rotorbook.restart", () => server.restart()),
    register("rotorbook.openLog", () => log.show()),
    register("rotorbook.showPlaces", (uri, position, places) => showPlaces(server, uri, position, places)),
  ];
}

/** From the palette for the item at the cursor, from a lens for the item below it. */
async function openCard(preview: Preview, place?: Position): Promise<void> {
  await preview.open("card", place && new vscode.Position(place.line, place.character));
}

/** A command of the server for the sheet in front; its edits come back as a request of the server. */
async function onSheet(server: Server, command: string): Promise<void> {
  const document = vscode.window.activeTextEditor?.document;
  if (document?.languageId === "rotorbook") {
    await server.ask(command, document.uri.toString());
  }
}

/** Behind a lens that counts where an item is used. */
async function showPlaces(server: Server, uri: string, position: Position, places: Location[]): Promise<void> {
  const convert = server.running?.protocol2CodeConverter;
  if (convert !== undefined) {
    await vscode.commands.executeCommand(
      "editor.action.showReferences",
      vscode.Uri.parse(uri),
      convert.asPosition(position),
      places.map((place) => convert.asLocation(place)),
    );
  }
}
