/** The language server: where it is, its start and its end. */

import * as fs from "node:fs";
import * as path from "node:path";
import * as vscode from "vscode";
import { LanguageClient, type LanguageClientOptions, type ServerOptions } from "vscode-languageclient/node";

const PROGRAM = process.platform === "win32" ? "rotorbook.exe" : "rotorbook";

export class Server {
  private client: LanguageClient | undefined;
  private readonly changed = new vscode.EventEmitter<void>();

  /** After each start and stop. */
  readonly onChange = this.changed.event;

  constructor(
    private readonly context: vscode.ExtensionContext,
    private readonly log: vscode.LogOutputChannel,
  ) {}

  async start(): Promise<void> {
    const program = this.program();
    if (program === undefined) {
      void this.explainMissing();
      return;
    }
    this.log.info(`Starting ${program}`);
    const client = new LanguageClient("rotorbook", "Rotorbook", launch(program), this.options());
    try {
      await client.start();
    } catch (error) {
      this.log.error(`${program} did not start: ${String(error)}`);
      void this.explainFailure(program);
      return;
    }
    this.client = client;
    await vscode.commands.executeCommand("setContext", "rotorbook.hasCard", this.offers("rotorbook.card"));
    await vscode.commands.executeCommand("setContext", "rotorbook.runs", true);
    this.changed.fire();
  }

  async stop(): Promise<void> {
    const client = this.client;
    this.client = undefined;
    await vscode.commands.executeCommand("setContext", "rotorbook.runs", false);
    if (client?.needsStop()) {
      await client.stop();
    }
    await client?.dispose();
  }

  async restart(): Promise<void> {
    await this.stop();
    await this.start();
  }

  /** Whether the server that runs knows a command. */
  offers(command: string): boolean {
    return this.client?.initializeResult?.capabilities.executeCommandProvider?.commands.includes(command) ?? false;
  }

  /** Asks the server for a command; `undefined` where no server runs. */
  async ask(command: string, ...given: unknown[]): Promise<unknown> {
    return this.client?.sendRequest("workspace/executeCommand", { command, arguments: given });
  }

  get running(): LanguageClient | undefined {
    return this.client;
  }

  private options(): LanguageClientOptions {
    return {
      documentSelector: [
        { scheme: "file", language: "rotorbook" },
        { scheme: "untitled", language: "rotorbook" },
      ],
      outputChannel: this.log,
      synchronize: { configurationSection: "rotorbook" },
      initializationOptions: {
        ...settings(),
        // What leads to a card, a page, places or a text with stops is offered to those alone that know how.
        commands: ["rotorbook.openCard", "rotorbook.openConsequences", "rotorbook.openPage", "rotorbook.showPlaces", "rotorbook.fillIn"],
      },
    };
  }

  /** The program that is set, else the one in the extension's own folder, else the one on `PATH`. */
  private program(): string | undefined {
    const set = vscode.workspace.getConfiguration("rotorbook").get<string>("server.path", "").trim();
    if (set !== "") {
      return set.includes("/") || set.includes(path.sep) ? set : onPath(set);
    }
    const bundled = this.context.asAbsolutePath(path.join("server", PROGRAM));
    return fs.existsSync(bundled) ? bundled : onPath(PROGRAM);
  }

  private async explainMissing(): Promise<void> {
    this.log.warn(`There is no ${PROGRAM} in the extension, on PATH (${process.env.PATH ?? ""}) or in cargo's folder`);
    await this.explain(
      "The program `rotorbook` is not on PATH, so sheets are coloured but not checked. " +
        "Install it with `cargo install --path .` in the project's folder, or set where it is.",
    );
  }

  private async explainFailure(program: string): Promise<void> {
    await this.explain(`${program} did not start, so sheets are coloured but not checked.`);
  }

  private async explain(message: string): Promise<void> {
    const [open, retry, log] = ["Set Path", "Try Again", "Show Log"];
    const chosen = await vscode.window.showWarningMessage(message, open, retry, log);
    if (chosen === open) {
      await vscode.commands.executeCommand("workbench.action.openSettings", "rotorbook.server.path");
    } else if (chosen === retry) {
      await this.restart();
    } else if (chosen === log) {
      this.log.show();
    }
  }
}

/** What the server reads of the settings when the session begins; later changes it is told of. */
function settings(): Record<string, unknown> {
  const set = vscode.workspace.getConfiguration("rotorbook");
  return Object.fromEntries(["inlayHints", "errorDelay", "consequences"].map((name) => [name, set.get(name)]));
}

function launch(program: string): ServerOptions {
  return { command: program, args: ["lsp"] };
}

function onPath(name: string): string | undefined {
  const folders = (process.env.PATH ?? "").split(path.delimiter).filter((folder) => folder !== "");
  const cargo = path.join(process.env.CARGO_HOME ?? path.join(home(), ".cargo"), "bin");
  return [...folders, cargo].map((folder) => path.join(folder, name)).find(isProgram);
}

function home(): string {
  return process.env.HOME ?? process.env.USERPROFILE ?? "";
}

function isProgram(file: string): boolean {
  try {
    fs.accessSync(file, fs.constants.X_OK);
    return fs.statSync(file).isFile();
  } catch {
    return false;
  }
}
