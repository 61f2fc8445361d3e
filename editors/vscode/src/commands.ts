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

/** A sheet that the server has begun. */
interface Begun {
  uri: string | null;
  text: string;
  snippet: string | null;
}

/** What can be begun: a sheet of a kind, once it has a name, or one that is begun already. */
type Beginning = { title: string } & ({ start: string } | ({ from: string } & Begun));

/** A sheet of a kind, or one from a rotor or a setup of the book, chosen from a list. */
async function newSheet(server: Server): Promise<void> {
  const document = vscode.window.activeTextEditor?.document;
  const sheet = document?.languageId === "rotorbook" ? document : undefined;
  const asked = sheet?.uri.toString() ?? null;
  const all = await server.ask("rotorbook.beginnings", asked).catch(() => undefined);
  if (!Array.isArray(all)) {
    void vscode.window.showInformationMessage("Open a sheet, or a folder with a book, to begin a sheet in it.");
    return;
  }
  const items = (all as Beginning[]).map((one) => ({
    label: one.title,
    description: "from" in one ? one.from : "",
    one,
  }));
  const chosen = await vscode.window.showQuickPick(items, { placeHolder: "Begin a sheet", matchOnDescription: true });
  const begun = chosen && ("start" in chosen.one ? await named(server, asked, chosen.one.start) : chosen.one);
  if (begun !== undefined) {
    await write(server, sheet, begun);
  }
}

/** A sheet of a kind under a name that is asked for; `undefined` where nobody gives one. */
async function named(server: Server, asked: string | null, start: string): Promise<Begun | undefined> {
  const name = await vscode.window.showInputBox({ prompt: `Name of the new ${start}` });
  return name === undefined ? undefined : ((await server.ask("rotorbook.begin", asked, start, name)) as Begun);
}

/** Fills the sheet in front if it is empty, else creates a file; without a book it writes no file. */
async function write(server: Server, sheet: vscode.TextDocument | undefined, begun: Begun): Promise<void> {
  const start = { line: 0, character: 0 };
  let uri = sheet?.getText().trim() === "" ? sheet.uri : undefined;
  if (uri === undefined && begun.uri !== null) {
    uri = vscode.Uri.parse(begun.uri);
    const edit = new vscode.WorkspaceEdit();
    edit.createFile(uri, { ignoreIfExists: true });
    await vscode.workspace.applyEdit(edit);
  }
  uri ??= (await vscode.workspace.openTextDocument({ language: "rotorbook" })).uri;
  await fillIn(server, uri.toString(), { start, end: start }, begun.snippet ?? begun.text);
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
