/** What the palette, the menus and the server's own lenses call. */

import * as vscode from "vscode";
import type { Location, Position, Range } from "vscode-languageclient/node";

import type { Previews, Shown } from "./preview";
import type { Server } from "./server";

export function registerCommands(server: Server, previews: Previews, log: vscode.LogOutputChannel): vscode.Disposable[] {
  const register = vscode.commands.registerCommand;
  return [
    register("rotorbook.openResults", () => previews.open("results")),
    register("rotorbook.openCard", (_uri?: string, place?: Position) => openBeside(previews, "card", place)),
    register("rotorbook.openConsequences", (_uri?: string, place?: Position) =>
      openBeside(previews, "consequences", place),
    ),
    register("rotorbook.pinResults", () => onSheet(server, "rotorbook.pinAll")),
    register("rotorbook.fixSheet", () => onSheet(server, "rotorbook.fixAll")),
    register("rotorbook.restart", () => server.restart()),
    register("rotorbook.openLog", () => log.show()),
    register("rotorbook.newSheet", () => newSheet(server)),
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
    // The snippet is indented already, and the editor indents each line of one by as much as the line it begins in.
    const before = editor.document.lineAt(range.start.line).text.slice(0, range.start.character);
    const indent = /^\s*/.exec(before)?.[0] ?? "";
    const text = snippet.replaceAll(`\n${indent}`, "\n");
    await editor.insertSnippet(new vscode.SnippetString(text), convert.asRange(range));
  }
}

/** From the palette for the item at the cursor, from a lens for the item below it. */
async function openBeside(previews: Previews, shown: Shown, place?: Position): Promise<void> {
  await previews.open(shown, place && new vscode.Position(place.line, place.character));
}

/** A command of the server for the sheet in front; its edits come back as a request of the server. */
async function onSheet(server: Server, command: string): Promise<void> {
  const document = vscode.window.activeTextEditor?.document;
  if (document?.languageId === "rotorbook") {
    await server.ask(command, document.uri.toString());
  }
}

/** A sheet that the server can begin. */
interface Beginning {
  title: string;
  from: string;
  uri: string;
  text: string;
  snippet: string | null;
}

/** A sheet begun from a rotor or a setup of the book in front, chosen from a list. */
async function newSheet(server: Server): Promise<void> {
  const document = vscode.window.activeTextEditor?.document;
  if (document?.languageId !== "rotorbook") {
    return;
  }
  const all = (await server.ask("rotorbook.beginnings", document.uri.toString())) as Beginning[];
  const items = all.map((one) => ({ label: one.title, description: one.from, one }));
  const chosen = await vscode.window.showQuickPick(items, { placeHolder: "Begin a sheet", matchOnDescription: true });
  if (chosen !== undefined) {
    const uri = vscode.Uri.parse(chosen.one.uri);
    const edit = new vscode.WorkspaceEdit();
    edit.createFile(uri, { ignoreIfExists: true });
    await vscode.workspace.applyEdit(edit);
    const start = { line: 0, character: 0 };
    await fillIn(server, chosen.one.uri, { start, end: start }, chosen.one.snippet ?? chosen.one.text);
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
