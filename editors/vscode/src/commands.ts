/** What the palette, the menus and the server's own lenses call. */

import * as vscode from "vscode";
import type { Location, Position, Range } from "vscode-languageclient/node";

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
    register("rotorbook.openPage", (code: string) => openPage(code)),
    register("rotorbook.fillIn", (uri, range, snippet) => fillIn(server, uri, range, snippet)),
    vscode.workspace.registerTextDocumentContentProvider(PAGES, { provideTextDocumentContent: (uri) => pageOf(server, uri) }),
    register("rotorbook.showPlaces", (uri, position, places) => showPlaces(server, uri, position, places)),
  ];
}

/** Where the pages of diagnostics are, for the links behind their codes. */
const PAGES = "rotorbook-page";

async function openPage(code: string): Promise<void> {
  await vscode.commands.executeCommand("markdown.showPreview", vscode.Uri.from({ scheme: PAGES, path: `/${code}.md` }));
}

async function pageOf(server: Server, uri: vscode.Uri): Promise<string> {
  const page = await server.ask("rotorbook.explain", uri.path.replace(/^\/|\.md$/g, ""));
  return typeof page === "string" ? page : "No language server runs, or it knows no such code.";
}

/** A fix with places to fill, in the sheet that it changes. */
async function fillIn(server: Server, uri: string, range: Range, snippet: string): Promise<void> {
  const convert = server.running?.protocol2CodeConverter;
  if (convert !== undefined) {
    const editor = await vscode.window.showTextDocument(vscode.Uri.parse(uri));
    await editor.insertSnippet(new vscode.SnippetString(snippet), convert.asRange(range), {
      undoStopBefore: true,
      undoStopAfter: true,
      keepWhitespace: true,
    });
  }
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
