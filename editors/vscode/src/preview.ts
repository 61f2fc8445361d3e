/** Panels beside a sheet: all results of the item at the cursor, its bench card, what an edit of it moves. */

import * as vscode from "vscode";

import { page } from "./page";
import type { Server } from "./server";

export type Shown = "results" | "card" | "consequences";

/** Milliseconds without a key pressed before the panel is drawn again. */
const REST = 150;

const COMMANDS: Record<Shown, string> = {
  results: "rotorbook.show",
  card: "rotorbook.card",
  consequences: "rotorbook.consequences",
};
const TITLES: Record<Shown, string> = { results: "Results", card: "Bench card", consequences: "What this moves" };
const EMPTY: Record<Shown, string> = {
  results: "This sheet has no item yet.",
  card: "This sheet has no rotor, setup or record.",
  consequences: "Nothing has moved since the last commit or save.",
};

/** One panel of each kind, so that results and card stand side by side. */
export class Previews implements vscode.Disposable {
  private readonly panels: Record<Shown, Preview>;

  constructor(server: Server) {
    const panel = (shown: Shown) => new Preview(server, shown);
    this.panels = { results: panel("results"), card: panel("card"), consequences: panel("consequences") };
  }

  async open(shown: Shown, asked?: vscode.Position): Promise<void> {
    await this.panels[shown].open(asked);
  }

  dispose(): void {
    Object.values(this.panels).forEach((panel) => panel.dispose());
  }
}

class Preview implements vscode.Disposable {
  private panel: vscode.WebviewPanel | undefined;
  private sheet: vscode.TextEditor | undefined;
  /** Where a lens asked for its item; the cursor's place from its next move on. */
  private asked: vscode.Position | undefined;
  private body = "";
  private waiting: NodeJS.Timeout | undefined;
  private readonly listeners: vscode.Disposable[];

  constructor(
    private readonly server: Server,
    private readonly shown: Shown,
  ) {
    this.listeners = [
      vscode.window.onDidChangeTextEditorSelection(({ textEditor }) => {
        this.asked = undefined;
        this.follow(textEditor);
      }),
      vscode.window.onDidChangeActiveTextEditor((editor) => this.follow(editor)),
      vscode.workspace.onDidChangeTextDocument(() => this.follow(this.sheet)),
      server.onChange(() => this.follow(this.sheet)),
    ];
  }

  /** Shows the item nearest to the cursor of the sheet in front, or to `asked` in it. */
  async open(asked?: vscode.Position): Promise<void> {
    const editor = vscode.window.activeTextEditor;
    if (editor?.document.languageId !== "rotorbook") {
      return;
    }
    this.sheet = editor;
    this.asked = asked;
    this.body = "";
    this.panel ??= this.create();
    this.panel.reveal(vscode.ViewColumn.Beside, true);
    await this.draw();
  }

  dispose(): void {
    clearTimeout(this.waiting);
    this.panel?.dispose();
    this.listeners.forEach((listener) => listener.dispose());
  }

  private create(): vscode.WebviewPanel {
    const where = { viewColumn: vscode.ViewColumn.Beside, preserveFocus: true };
    const panel = vscode.window.createWebviewPanel("rotorbook.preview", TITLES[this.shown], where, {
      enableScripts: false,
      enableFindWidget: true,
      localResourceRoots: [],
    });
    panel.onDidDispose(() => (this.panel = undefined));
    return panel;
  }

  private follow(editor: vscode.TextEditor | undefined): void {
    if (this.panel === undefined || editor?.document.languageId !== "rotorbook") {
      return;
    }
    this.sheet = editor;
    clearTimeout(this.waiting);
    this.waiting = setTimeout(() => void this.draw(), REST);
  }

  private async draw(): Promise<void> {
    const body = await this.text();
    if (this.panel !== undefined && body !== this.body) {
      this.body = body;
      this.panel.webview.html = body;
    }
  }

  private async text(): Promise<string> {
    const editor = this.sheet;
    if (editor === undefined || this.server.running === undefined) {
      return page("<p>No language server runs; see the log.</p>");
    }
    const place = this.server.running.code2ProtocolConverter.asPosition(this.asked ?? editor.selection.active);
    const answer = await this.server.ask(COMMANDS[this.shown], editor.document.uri.toString(), place).catch(String);
    if (typeof answer !== "string") {
      return page(`<p>${EMPTY[this.shown]}</p>`);
    }
    return this.shown === "card" ? beside(answer) : page(await rendered(answer));
  }
}

/** The card is made for a sheet of paper; a panel is about three quarters as wide. */
function beside(card: string): string {
  return card.replace("</head>", "<style>@media screen { html { zoom: 0.72; } }</style></head>");
}

/** Markdown by the editor's own renderer, or as it stands where that is switched off. */
async function rendered(markdown: string): Promise<string> {
  try {
    return await vscode.commands.executeCommand<string>("markdown.api.render", markdown);
  } catch {
    return `<pre>${escaped(markdown)}</pre>`;
  }
}

function escaped(text: string): string {
  return text.replaceAll("&", "&amp;").replaceAll("<", "&lt;");
}
